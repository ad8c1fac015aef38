package reading

import (
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// mostDepth of lists and keys; a project needs a dozen.
const mostDepth = 40

// Check finds what YAML allows and a file that people share should not hold: aliases and anchors (a few
// lines of them can stand for gigabytes), tags, merge keys, the same key twice, keys that are not text,
// and nesting without end.
func Check(root *yaml.Node) []Problem {
	var l List
	check(root, nil, 1, &l)
	return l.Sorted()
}

func check(n *yaml.Node, path *step, depth int, l *List) {
	if depth > mostDepth {
		l.At(n, path.String(), "lists and keys are nested deeper than "+strconv.Itoa(mostDepth)+" levels here", "a project needs a dozen")
		return
	}
	if n.Kind == yaml.AliasNode {
		l.At(n, path.String(), "an alias (*"+clip(n.Value)+") stands here", "write the value out: aliases are not followed")
		return
	}
	if n.Anchor != "" {
		l.At(n, path.String(), "an anchor (&"+clip(n.Anchor)+") stands here", "remove it: anchors and aliases are not used in this file")
	}
	if n.Style&yaml.TaggedStyle != 0 {
		l.At(n, path.String(), "a tag ("+clip(n.Tag)+") stands here", "remove it: write the value plainly")
	}
	switch n.Kind {
	case yaml.MappingNode:
		checkKeys(n, path, depth, l)
	case yaml.SequenceNode:
		for i, item := range n.Content {
			check(item, path.item(item, i), depth+1, l)
		}
	}
}

func checkKeys(n *yaml.Node, path *step, depth int, l *List) {
	var seen map[string]*yaml.Node
	const few = 12
	if len(n.Content)/2 > few {
		seen = make(map[string]*yaml.Node, len(n.Content)/2)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if k.Kind != yaml.ScalarNode {
			l.At(k, path.String(), "a key is not plain text", "write `key: value`")
			continue
		}
		here := path.key(k.Value)
		if k.Anchor != "" || k.Style&yaml.TaggedStyle != 0 {
			l.At(k, here.String(), "an anchor or tag stands before a key", "remove it")
		}
		if k.Tag == "!!merge" {
			l.At(k, path.String(), "a merge key (<<) stands here", "write the keys out; a room that repeats another says `like: room`")
			continue
		}
		if first := earlier(n, k, i, seen); first != nil {
			l.At(k, here.String(), "the key "+Quote(k.Value)+" is here for the second time", "it already stands in line "+strconv.Itoa(first.Line)+"; keep one of them")
		}
		check(v, here, depth+1, l)
	}
}

// earlier finds the same key before the i-th node; many keys go through a map, few are compared.
func earlier(n, k *yaml.Node, i int, seen map[string]*yaml.Node) *yaml.Node {
	if seen != nil {
		first := seen[k.Value]
		if first == nil {
			seen[k.Value] = k
		}
		return first
	}
	for j := 0; j < i; j += 2 {
		if n.Content[j].Kind == yaml.ScalarNode && n.Content[j].Value == k.Value {
			return n.Content[j]
		}
	}
	return nil
}

func clip(s string) string {
	s = strings.Trim(Quote(s), `"`)
	return s
}

// step is a place in the file, innermost first; nil is the top. The words are only made when they are needed.
type step struct {
	up    *step
	name  string
	index int // of a list item without a name
}

func (s *step) key(name string) *step { return &step{up: s, name: name, index: -1} }

// item names a list item by its id when it has a good one.
func (s *step) item(n *yaml.Node, index int) *step {
	if n.Kind == yaml.MappingNode {
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == "id" && IsID(n.Content[i+1].Value) {
				return &step{up: s, name: n.Content[i+1].Value, index: -1}
			}
		}
	}
	return &step{up: s, index: index}
}

func (s *step) String() string {
	var parts []string
	for ; s != nil; s = s.up {
		switch {
		case s.index >= 0:
			parts = append(parts, strconv.Itoa(s.index))
		case strings.ContainsAny(s.name, "/{}") || s.name == "":
			parts = append(parts, "{"+s.name+"}")
		default:
			parts = append(parts, s.name)
		}
	}
	for i, j := 0, len(parts)-1; i < j; i, j = i+1, j-1 {
		parts[i], parts[j] = parts[j], parts[i]
	}
	return strings.Join(parts, "/")
}

// IsID reports whether s is kebab-case: lower-case letters and digits in groups joined by single dashes.
func IsID(s string) bool {
	if s == "" || len(s) > 64 || s[0] == '-' || s[len(s)-1] == '-' || strings.Contains(s, "--") {
		return false
	}
	for _, c := range []byte(s) {
		if c != '-' && (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}

// ToID makes an id of a name: letters and digits stay, all else becomes single dashes.
func ToID(name string) string {
	var b strings.Builder
	for _, c := range []byte(strings.ToLower(name)) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			b.WriteByte(c)
		} else if b.Len() > 0 && !strings.HasSuffix(b.String(), "-") {
			b.WriteByte('-')
		}
	}
	s := b.String()
	if len(s) > 64 {
		s = s[:64]
	}
	return strings.Trim(s, "-")
}
