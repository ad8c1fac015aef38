package projectfile

import (
	"errors"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// finishIn is finish for something new inside collection c, which stands at the trail's end.
func (s *source) finishIn(pieces []piece, perr error, want *yaml.Node, trail []spot, c *yaml.Node) (*source, error) {
	return s.finish(pieces, perr, want, append(slices.Clone(trail), spot{c, -1}))
}

// finish splices, parses, and proves that the tree is exactly the wanted one. When the splice can't be
// proved, the smallest collection around the change is written anew, comments kept. The last spot of the
// trail is the entry that changes; the comments inside it may go.
func (s *source) finish(pieces []piece, perr error, want *yaml.Node, trail []spot) (*source, error) {
	if perr == nil {
		if out, ok := s.proved(pieces, want); ok {
			return out, nil
		}
		// A text of many lines at the end of the file says its last newline only when one is there.
		end := piece{len(s.src), len(s.src), "\n"}
		if out, ok := s.proved(append(slices.Clone(pieces), end), want); ok {
			return out, nil
		}
	}
	for depth := len(trail) - 1; depth > 0; depth-- {
		target := want
		for _, p := range trail[:depth] {
			target = (spot{target, p.at}).value()
		}
		bare := *target
		bare.HeadComment, bare.LineComment, bare.FootComment = "", "", ""
		for _, n := range []*yaml.Node{target, &bare} {
			if out, err := s.rewrite(trail[:depth], n, want); err == nil && s.keepsComments(out, trail[len(trail)-1]) {
				return out, nil
			}
		}
	}
	return nil, errPlace
}

// proved puts the pieces in, parses the result, and reports whether it says exactly what is wanted.
func (s *source) proved(pieces []piece, want *yaml.Node) (*source, bool) {
	text := s.spliced(pieces)
	if out, ok := s.local(pieces, text); ok && sameTree(out.root, want) {
		return out, true
	}
	out, err := readSource(text)
	if err != nil || out.root == nil || !sameTree(out.root, want) {
		return nil, false
	}
	return out, true
}

// rewrite encodes a collection anew, in place of the one at a trail's end.
func (s *source) rewrite(trail []spot, target, want *yaml.Node) (*source, error) {
	var text strings.Builder
	enc := yaml.NewEncoder(&text)
	enc.SetIndent(2)
	if err := errors.Join(enc.Encode(target), enc.Close()); err != nil {
		return nil, err
	}
	sn, err := readSnippet(text.String())
	if err != nil {
		return nil, err
	}
	pieces, err := s.replace(trail, sn)
	if err != nil {
		return nil, err
	}
	if out, ok := s.proved(pieces, want); ok {
		return out, nil
	}
	return nil, errPlace
}

// keepsComments reports whether all comments are there, once and in their order, but for those of the entry
// that changed.
func (s *source) keepsComments(out *source, changed spot) bool {
	before, err := s.comments()
	if err != nil {
		return false
	}
	after, err := out.comments()
	if err != nil {
		return false
	}
	var mayGo []string
	if changed.at >= 0 {
		mayGo = s.commentsOf(changed)
	}
	for _, c := range before {
		if len(after) > 0 && after[0] == c {
			after = after[1:]
		} else if !slices.Contains(mayGo, c) {
			return false
		}
	}
	return len(after) == 0
}

// commentsOf are the comments inside an entry and those that go with it.
func (s *source) commentsOf(p spot) []string {
	from, err := s.entryStart(p.node, p.at)
	if err != nil && p.node.Kind == yaml.MappingNode {
		from, err = s.pos(p.node.Content[2*p.at])
	}
	if err != nil {
		return nil
	}
	to, err := s.entryEnd(p.node, p.at)
	if err != nil {
		return nil
	}
	from, to = s.ownLines(from), s.lineEnd(to)
	var out []string
	for i := from; i < to; i++ {
		if s.src[i] == '#' {
			out = append(out, string(s.src[i:s.lineEnd(i)]))
		}
	}
	return out
}
