package projectfile

import (
	"slices"

	"gopkg.in/yaml.v3"
)

// sameTree compares what two trees say, not how they are written. Aliases compare by name, so that a
// tree which holds itself can't trap the walk.
func sameTree(a, b *yaml.Node) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a == b {
		return true
	}
	if a.Kind != b.Kind || a.Value != b.Value || a.Anchor != b.Anchor || len(a.Content) != len(b.Content) {
		return false
	}
	if a.Kind != yaml.AliasNode && a.ShortTag() != b.ShortTag() {
		return false
	}
	for i := range a.Content {
		if !sameTree(a.Content[i], b.Content[i]) {
			return false
		}
	}
	return true
}

// sameMeaning is sameTree with the order of keys left aside.
func sameMeaning(a, b *yaml.Node) bool {
	if a.Kind != yaml.MappingNode || b.Kind != yaml.MappingNode {
		if a.Kind == yaml.SequenceNode && b.Kind == a.Kind && len(a.Content) == len(b.Content) && a.Anchor == b.Anchor {
			for i := range a.Content {
				if !sameMeaning(a.Content[i], b.Content[i]) {
					return false
				}
			}
			return a.ShortTag() == b.ShortTag()
		}
		return sameTree(a, b)
	}
	if len(a.Content) != len(b.Content) || a.ShortTag() != b.ShortTag() || a.Anchor != b.Anchor {
		return false
	}
	for i := 0; i+1 < len(a.Content); i += 2 {
		if a.Content[i].Kind != yaml.ScalarNode {
			return sameTree(a, b)
		}
		j := entry(b, a.Content[i].Value)
		if j < 0 || !sameTree(a.Content[i], b.Content[2*j]) || !sameMeaning(a.Content[i+1], b.Content[2*j+1]) {
			return false
		}
	}
	return true
}

// graft is the tree with change applied to the node at the end of a trail; only the way there is copied.
func graft(root *yaml.Node, trail []spot, change func(*yaml.Node) *yaml.Node) *yaml.Node {
	if len(trail) == 0 {
		return change(root)
	}
	p := trail[0]
	out := *p.node
	out.Content = slices.Clone(out.Content)
	i := p.at
	if out.Kind == yaml.MappingNode {
		i = 2*i + 1
	}
	out.Content[i] = graft(out.Content[i], trail[1:], change)
	return &out
}

// with is a copy of a collection with entry i replaced by nodes (a key and a value for a map), or nodes
// put before it, or the entry taken away.
func with(n *yaml.Node, i, drop int, nodes ...*yaml.Node) *yaml.Node {
	out := *n
	w := 1
	if n.Kind == yaml.MappingNode {
		w = 2
	}
	out.Content = slices.Concat(n.Content[:i*w], nodes, n.Content[(i+drop)*w:])
	return &out
}

// comments are the comments of a file in their order, found in the gaps between its values.
func (s *source) comments() ([]string, error) {
	var out []string
	at := 0
	gap := func(to int) {
		for i := at; i < to; i++ {
			if s.src[i] != '#' || i > 0 && !isBlank(s.src[i-1]) && breakWidth(s.src, i-1) == 0 && i != s.lineStart(i) {
				continue
			}
			end := s.lineEnd(i)
			out = append(out, string(s.src[i:end]))
			i = end
		}
	}
	var walk func(n *yaml.Node, within int) error
	walk = func(n *yaml.Node, within int) error {
		if n.Kind == yaml.ScalarNode || n.Kind == yaml.AliasNode {
			start, end, err := s.span(n, within)
			if err != nil {
				return err
			}
			if start >= at {
				gap(start)
				at = end
			}
			return nil
		}
		for _, c := range n.Content {
			if err := walk(c, n.Column-1); err != nil {
				return err
			}
		}
		return nil
	}
	if s.root != nil {
		if err := walk(s.root, -1); err != nil {
			return nil, err
		}
	}
	gap(len(s.src))
	return out, nil
}
