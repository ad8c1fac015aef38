package projectfile

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// splitPath cuts a path into its steps. A step in braces may hold slashes: choices/use/{hall/lamp}.
func splitPath(path string) ([]string, error) {
	if !utf8.ValidString(path) {
		return nil, fmt.Errorf("path %q is not UTF-8", path)
	}
	var steps []string
	for rest := path; ; {
		var step string
		if strings.HasPrefix(rest, "{") {
			end := strings.IndexByte(rest, '}')
			if end < 0 {
				return nil, fmt.Errorf("path %q has an open brace", path)
			}
			step, rest = rest[1:end], rest[end+1:]
			if rest != "" && rest[0] != '/' {
				return nil, fmt.Errorf("path %q has text after a brace", path)
			}
		} else if i := strings.IndexByte(rest, '/'); i >= 0 {
			step, rest = rest[:i], rest[i:]
		} else {
			step, rest = rest, ""
		}
		if step == "" {
			return nil, fmt.Errorf("path %q has an empty step", path)
		}
		steps = append(steps, step)
		if rest == "" {
			return steps, nil
		}
		rest = rest[1:]
	}
}

// joinPath is the path of steps; splitPath takes it apart again.
func joinPath(steps []string) string {
	out := make([]string, len(steps))
	for i, s := range steps {
		if strings.ContainsAny(s, "/{}") {
			s = "{" + s + "}"
		}
		out[i] = s
	}
	return strings.Join(out, "/")
}

// spot is one entry of a collection: a key with its value, or an item.
type spot struct {
	node *yaml.Node
	at   int // entry, not index into Content
}

func (p spot) value() *yaml.Node {
	if p.node.Kind == yaml.MappingNode {
		return p.node.Content[2*p.at+1]
	}
	return p.node.Content[p.at]
}

// entries is how many keys or items a collection holds.
func entries(n *yaml.Node) int {
	if n.Kind == yaml.MappingNode {
		return len(n.Content) / 2
	}
	return len(n.Content)
}

// entry finds a key of a map, or an item of a list by its id or else by its index; -1 when absent.
func entry(n *yaml.Node, step string) int {
	if n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Kind == yaml.ScalarNode && n.Content[i].Value == step {
				return i / 2
			}
		}
		return -1
	}
	if n.Kind != yaml.SequenceNode {
		return -1
	}
	for i, item := range n.Content {
		if id := member(item, "id"); id != nil && id.Value == step {
			return i
		}
	}
	if i, err := strconv.Atoi(step); err == nil && i >= 0 && i < len(n.Content) && strconv.Itoa(i) == step {
		return i
	}
	return -1
}

// member is the value of a map's key, nil when absent.
func member(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	if i := entry(n, key); i >= 0 {
		return n.Content[2*i+1]
	}
	return nil
}

// follow walks as many steps as are written; the trail holds the entries taken.
func follow(root *yaml.Node, steps []string) (trail []spot, end *yaml.Node) {
	end = root
	for _, step := range steps {
		i := -1
		if end != nil {
			i = entry(end, step)
		}
		if i < 0 {
			break
		}
		trail = append(trail, spot{end, i})
		end = trail[len(trail)-1].value()
	}
	return trail, end
}

// isVoid reports a value that says nothing yet: an edit beneath it replaces it.
func isVoid(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0 {
		return false
	}
	switch n.Value {
	case "", "null", "~", "none", "unknown":
		return true
	}
	return false
}
