package projectfile

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// inFlow reports whether the entry at the end of a trail stands inside a flow collection.
func inFlow(trail []spot) bool {
	for _, p := range trail {
		if p.node.Style&yaml.FlowStyle != 0 {
			return true
		}
	}
	return false
}

// isBlockNode reports a collection written over lines.
func isBlockNode(n *yaml.Node) bool {
	return (n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode) && n.Style&yaml.FlowStyle == 0
}

// replace puts a new value where the old one of a trail's last entry stands.
func (s *source) replace(trail []spot, sn snippet) ([]piece, error) {
	p := trail[len(trail)-1]
	old := p.value()
	if inFlow(trail) {
		return s.replaceInline(p, keepQuotes(old, sn.flow(), sn.node))
	}
	switch {
	case isBlockNode(old) && sn.isBlock():
		return s.blockForBlock(p, sn)
	case isBlockNode(old):
		return s.inlineForBlock(p, sn)
	case sn.isBlock():
		return s.blockForInline(p, sn)
	}
	text := sn.inline()
	if strings.Contains(text, "\n") {
		text = indent(text, s.indentUnder(p), false)
	}
	if sn.isText() {
		return s.replaceByText(p, text)
	}
	return s.replaceInline(p, keepQuotes(old, text, sn.node))
}

// replaceByText writes a `|` or `>` text; a comment after the old value goes behind its first line.
func (s *source) replaceByText(p spot, text string) ([]piece, error) {
	mark, err := s.afterMark(p.node, p.at)
	if err != nil {
		return nil, err
	}
	start, end, err := s.span(p.value(), p.node.Column-1)
	if err != nil {
		return nil, err
	}
	eol := s.lineEnd(end)
	note := strings.TrimSpace(string(s.src[end:eol]))
	if note != "" {
		head, body, _ := strings.Cut(text, "\n")
		text = head + " " + note + "\n" + body
	}
	if start == end {
		return []piece{{mark, eol, " " + text}}, nil
	}
	return []piece{{start, eol, text}}, nil
}

// indentUnder is the column of what stands under an entry of a block.
func (s *source) indentUnder(p spot) int {
	col := p.node.Column - 1
	if at, err := s.entryStart(p.node, p.at); err == nil {
		col = s.column(at)
	}
	if p.node.Kind == yaml.SequenceNode {
		return col + 2
	}
	return col + s.shape().inMap
}

// keepQuotes writes a new text in the quotes of the old one, unless quotes would change its kind.
func keepQuotes(old *yaml.Node, text string, node *yaml.Node) string {
	if old.Kind != yaml.ScalarNode || node.Kind != yaml.ScalarNode || node.Style != 0 ||
		node.ShortTag() != "!!str" || text != node.Value {
		return text
	}
	switch {
	case old.Style&yaml.DoubleQuotedStyle != 0:
		if q := `"` + text + `"`; !strings.ContainsAny(text, `"\`) {
			return q
		}
	case old.Style&yaml.SingleQuotedStyle != 0:
		return "'" + strings.ReplaceAll(text, "'", "''") + "'"
	}
	return text
}

// replaceInline swaps the bytes of a value; a comment after it keeps its column where there is room.
func (s *source) replaceInline(p spot, text string) ([]piece, error) {
	old := p.value()
	start, end, err := s.span(old, p.node.Column-1)
	if err != nil {
		return nil, err
	}
	if start == end {
		return s.fillEmpty(p, start, text)
	}
	out := []piece{{start, end, text}}
	gap := s.skipSpaces(end)
	if gap < len(s.src) && s.src[gap] == '#' && gap > end && !strings.Contains(text, "\n") && s.lineStart(start) == s.lineStart(end) {
		if s.isAligned(gap, gap-end) {
			grown := len([]rune(text)) - (s.column(end) - s.column(start))
			out = append(out, piece{end, gap, strings.Repeat(" ", max(1, gap-end-grown))})
		}
	}
	return out, nil
}

// isAligned guesses whether a comment's column means something: it is set off by more than one space,
// or a neighbour's comment stands in the same column.
func (s *source) isAligned(comment, gap int) bool {
	if strings.Contains(string(s.src[comment-gap:comment]), "\t") {
		return false
	}
	if gap > 1 {
		return true
	}
	col := s.column(comment)
	same := func(line int) bool {
		end := s.lineEnd(line)
		runes := []rune(string(s.src[line:end]))
		return col < len(runes) && runes[col] == '#' && runes[col-1] == ' '
	}
	start := s.lineStart(comment)
	next := s.nextLine(comment)
	return start > 0 && same(s.lineStart(start-1)) || next < len(s.src) && same(next)
}

// fillEmpty writes a value where a key or a dash has none.
func (s *source) fillEmpty(p spot, at int, text string) ([]piece, error) {
	if p.node.Kind == yaml.SequenceNode {
		mark, err := s.afterMark(p.node, p.at)
		if err != nil {
			return nil, err
		}
		return []piece{{mark, mark, " " + text}}, nil
	}
	mark, err := s.afterMark(p.node, p.at)
	if err != nil {
		if p.node.Style&yaml.FlowStyle == 0 {
			return nil, err
		}
		return []piece{{at, at, ": " + text}}, nil // `{key}` has no colon
	}
	return []piece{{mark, mark, " " + text}}, nil
}

// blockForBlock swaps the lines of a collection for those of another.
func (s *source) blockForBlock(p spot, sn snippet) ([]piece, error) {
	old := p.value()
	first, err := s.chunk(old, 0)
	if err != nil { // an explicit key; its question mark is where the map begins
		at, err := s.pos(old)
		if err != nil {
			return nil, err
		}
		first = chunk{top: s.lineStart(at), at: at, own: s.startsLine(at), col: s.column(at)}
	}
	last, err := s.chunk(p.node, p.at)
	if err != nil {
		return nil, err
	}
	if !first.own {
		return []piece{{first.at, last.end, indent(sn.text, first.col, false)}}, nil
	}
	col := first.col
	if sn.node.Kind != old.Kind {
		col = last.col + s.stepFor(sn.node)
	}
	return []piece{{first.top, last.end, indent(sn.text, col, true)}}, nil
}

func (s *source) stepFor(n *yaml.Node) int {
	if n.Kind == yaml.SequenceNode {
		return s.shape().inList
	}
	return s.shape().inMap
}

// inlineForBlock puts a value behind the colon or dash, and takes the lines beneath away.
func (s *source) inlineForBlock(p spot, sn snippet) ([]piece, error) {
	mark, err := s.afterMark(p.node, p.at)
	if err != nil {
		return nil, err
	}
	last, err := s.chunk(p.node, p.at)
	if err != nil {
		return nil, err
	}
	text := " " + indent(sn.inline(), s.indentUnder(p), false)
	if note := s.skipSpaces(mark); note < len(s.src) && s.src[note] == '#' && !sn.isText() {
		text += string(s.src[mark:s.lineEnd(note)])
	}
	return []piece{{mark, last.end, text}}, nil
}

// blockForInline writes lines beneath a key, or hanging from a dash; a comment after the old value
// stays on the line of the key.
func (s *source) blockForInline(p spot, sn snippet) ([]piece, error) {
	old := p.value()
	mark, err := s.afterMark(p.node, p.at)
	if err != nil {
		return nil, err
	}
	_, end, err := s.span(old, p.node.Column-1)
	if err != nil {
		return nil, err
	}
	end = max(end, mark)
	eol := s.lineEnd(end)
	note := ""
	if at := s.skipSpaces(end); at < len(s.src) && s.src[at] == '#' {
		note = " " + string(s.src[at:eol])
	}
	at, err := s.entryStart(p.node, p.at)
	if err != nil {
		return nil, err
	}
	col := s.column(at)
	if p.node.Kind == yaml.SequenceNode {
		if note == "" {
			return []piece{{mark, eol, " " + indent(sn.text, col+2, false)}}, nil
		}
		return []piece{{mark, eol, note + "\n" + indent(sn.text, col+2, true)}}, nil
	}
	return []piece{{mark, eol, note + "\n" + indent(sn.text, col+s.stepFor(sn.node), true)}}, nil
}

// shape is how this file indents, learnt from the first places that show it.
func (s *source) shape() shape {
	sh := shape{inMap: 2, inList: 2}
	mapSeen, listSeen := false, false
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		if mapSeen && listSeen || !isBlockNode(n) {
			return
		}
		for i := 0; i < entries(n); i++ {
			v := (spot{n, i}).value()
			if n.Kind == yaml.MappingNode && isBlockNode(v) && v.Anchor == "" && v.Line > n.Content[2*i].Line {
				step := v.Column - n.Content[2*i].Column
				if v.Kind == yaml.MappingNode && !mapSeen && step > 0 && step <= 8 {
					sh.inMap, mapSeen = step, true
				}
				if v.Kind == yaml.SequenceNode && !listSeen && step >= 0 && step <= 8 {
					sh.inList, listSeen = step, true
				}
			}
			walk(v)
		}
	}
	if s.root != nil {
		walk(s.root)
	}
	return sh
}
