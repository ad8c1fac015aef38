package projectfile

import (
	"bytes"
	"slices"
	"sort"

	"gopkg.in/yaml.v3"
)

// local parses a changed file by parsing only the lines of one top-level key, or of items next to each other
// in a list right under it, in which all the pieces lie. Lines above keep their nodes; lines below keep them
// too, copied to their new place when the number of lines changed. It gives up where the parts of a file
// might hang together in another way than by their lines.
func (s *source) local(pieces []piece, text []byte) (*source, bool) {
	if s.root == nil || s.root.Kind != yaml.MappingNode || !isBlockNode(s.root) || len(pieces) == 0 ||
		s.root.Line != s.root.Content[0].Line || s.root.Column != s.root.Content[0].Column || keepsNewlines(s.src) {
		return nil, false
	}
	from, to := pieces[0].from, pieces[len(pieces)-1].to
	if from == len(s.src) && s.endsClean() {
		if out, ok := s.regrown(text, place{a: from, b: from, key: entries(s.root), lo: -1}); ok {
			return out, true
		}
	}
	r := s.lastAbove(s.root, from)
	for _, key := range []int{r, r + 1} {
		if key < 0 || key >= entries(s.root) {
			continue
		}
		a, b, ok := s.region(s.root, key, len(s.src))
		if !ok || from < a || to > b {
			continue
		}
		if p, ok := s.inItems(key, from, to, b); ok {
			return s.regrown(text, p)
		}
		return s.regrown(text, place{a: a, b: b, key: key, lo: -1})
	}
	return nil, false
}

// place is the lines a..b of a key of the root, or of the items lo..hi-1 of the list under it when lo is not
// below 0. A key after the last one has no lines yet.
type place struct{ a, b, key, lo, hi int }

// inItems is the place of the items in which the bytes from..to lie, under a key that ends at end.
func (s *source) inItems(key, from, to, end int) (place, bool) {
	list := s.root.Content[2*key+1]
	if list.Kind != yaml.SequenceNode || !isBlockNode(list) || !s.dashAt(list) {
		return place{}, false
	}
	i := s.lastAbove(list, from)
	for _, lo := range []int{i, i + 1} {
		if lo < 0 || lo >= entries(list) {
			continue
		}
		a, b, ok := s.region(list, lo, end)
		if !ok || from < a {
			continue
		}
		hi := lo
		if to > b {
			hi = max(lo, s.lastAbove(list, to-1))
			if _, b, ok = s.region(list, hi, end); !ok || to > b {
				continue
			}
		}
		return place{a, b, key, lo, hi + 1}, true
	}
	return place{}, false
}

// endsClean reports a file whose last line is whole, with nothing after the last value that would keep
// another key away.
func (s *source) endsClean() bool {
	last := s.root.Content[len(s.root.Content)-1]
	_, end, err := s.span(last, s.root.Column-1)
	return err == nil && s.skipTrivia(end, "") == len(s.src) && s.lines[len(s.lines)-1] == len(s.src)
}

// dashAt reports a list whose place is its first dash: no tag or anchor stands before it.
func (s *source) dashAt(list *yaml.Node) bool {
	at, err := s.pos(list)
	return err == nil && at < len(s.src) && s.src[at] == '-'
}

// lastAbove is the last entry whose value or key begins on or above the line of a byte; -1 when none does.
func (s *source) lastAbove(c *yaml.Node, at int) int {
	line := sort.SearchInts(s.lines, at+1) // lines count from 1
	w := len(c.Content) / entries(c)
	return sort.Search(entries(c), func(i int) bool { return c.Content[w*i].Line > line }) - 1
}

// region is the lines of an entry: from its own comments to those of the next, or to the end.
func (s *source) region(c *yaml.Node, i, end int) (a, b int, ok bool) {
	k, err := s.chunk(c, i)
	if err != nil || !k.own {
		return 0, 0, false
	}
	if i+1 < entries(c) {
		next, err := s.chunk(c, i+1)
		if err != nil || !next.own {
			return 0, 0, false
		}
		end = next.top
	}
	return k.top, end, true
}

// regrown is the changed file with the lines of a place parsed anew.
func (s *source) regrown(text []byte, p place) (*source, bool) {
	grown := len(text) - len(s.src)
	lines := text[p.a : p.b+grown]
	if hasMarker(lines) {
		return nil, false
	}
	part, err := readSource(lines)
	if err != nil {
		return nil, false
	}
	next := min(2*p.key+2, len(s.root.Content))
	old, gone := s.root, s.root.Content[2*p.key:next]
	if p.lo >= 0 {
		old = s.root.Content[2*p.key+1]
		gone = old.Content[p.lo:p.hi]
	}
	if slices.ContainsFunc(gone, hasAnchor) {
		return nil, false // an alias further down may need it
	}
	var fresh []*yaml.Node
	if part.root != nil {
		if part.root.Kind != old.Kind || !isBlockNode(part.root) || part.root.Column != old.Column {
			return nil, false
		}
		fresh = part.root.Content
	} else if part.skipTrivia(0, "") != len(lines) {
		return nil, false
	}
	out := &source{src: text, lines: lineStarts(text), eol: s.eol}
	above := sort.SearchInts(s.lines, p.a)
	more := len(out.lines) - len(s.lines)
	for _, n := range fresh {
		moveLines(n, above)
	}
	root := *s.root
	if p.lo < 0 {
		root.Content = slices.Concat(root.Content[:2*p.key], fresh, shifted(root.Content[next:], more))
		out.root = &root
		if len(root.Content) == 0 {
			return nil, false
		}
		root.Line = root.Content[0].Line
		return out, true
	}
	list := *old
	list.Content = slices.Concat(old.Content[:p.lo], fresh, shifted(old.Content[p.hi:], more))
	if len(list.Content) == 0 {
		return nil, false
	}
	if p.lo == 0 {
		list.Line = old.Line
		if len(fresh) == 0 || part.root.Line+above != list.Line {
			return nil, false
		}
	}
	root.Content = slices.Concat(root.Content[:2*p.key+1], []*yaml.Node{&list}, shifted(root.Content[next:], more))
	out.root = &root
	return out, true
}

// keepsNewlines reports a `|+` text, which takes the empty lines after it whosever they are.
func keepsNewlines(text []byte) bool {
	for i := bytes.IndexByte(text, '+'); i > 0; {
		before := text[i-1]
		if i > 1 && before >= '1' && before <= '9' {
			before = text[i-2]
		}
		if before == '|' || before == '>' {
			return true
		}
		next := bytes.IndexByte(text[i+1:], '+')
		if next < 0 {
			return false
		}
		i += 1 + next
	}
	return false
}

// hasMarker reports a line that ends a document or gives a directive.
func hasMarker(text []byte) bool {
	for len(text) > 0 {
		if bytes.HasPrefix(text, []byte("---")) || bytes.HasPrefix(text, []byte("...")) || text[0] == '%' {
			return true
		}
		i := bytes.IndexAny(text, "\n\r\u0085\u2028\u2029")
		if i < 0 {
			return false
		}
		text = text[i+max(1, breakWidth(text, i)):]
	}
	return false
}

func hasAnchor(n *yaml.Node) bool {
	return n.Anchor != "" || slices.ContainsFunc(n.Content, hasAnchor)
}

// hasTag reports a type that is written out.
func hasTag(n *yaml.Node) bool {
	return n.Style&yaml.TaggedStyle != 0 || slices.ContainsFunc(n.Content, hasTag)
}

// moveLines puts a tree that is nobody else's yet so many lines further down.
func moveLines(n *yaml.Node, by int) {
	n.Line += by
	for _, c := range n.Content {
		moveLines(c, by)
	}
}

// shifted are the nodes so many lines further down; they are copied, because another file holds them too.
func shifted(nodes []*yaml.Node, by int) []*yaml.Node {
	if by == 0 || len(nodes) == 0 {
		return nodes
	}
	out := make([]*yaml.Node, len(nodes))
	block := make([]yaml.Node, len(nodes))
	for i, n := range nodes {
		block[i] = *n
		block[i].Line += by
		block[i].Content = shifted(n.Content, by)
		out[i] = &block[i]
	}
	return out
}
