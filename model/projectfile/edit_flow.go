package projectfile

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// open is where a flow collection's bracket is.
func (s *source) open(c *yaml.Node) (int, error) {
	at, err := s.pos(c)
	if err != nil {
		return 0, err
	}
	if at = s.flowOpen(c, at); at < 0 {
		return 0, errPlace
	}
	return at, nil
}

// comma is the byte of the comma after an entry, -1 when there is none.
func (s *source) comma(end int) int {
	if i := s.skipTrivia(end, ""); i < len(s.src) && s.src[i] == ',' {
		return i
	}
	return -1
}

// startsLine reports whether only spaces stand before i on its line.
func (s *source) startsLine(i int) bool { return s.skipSpaces(s.lineStart(i)) == i }

// endsLine reports whether only spaces and a comment stand after i on its line.
func (s *source) endsLine(i int) bool {
	i = s.skipSpaces(i)
	return i >= len(s.src) || s.src[i] == '#' || breakWidth(s.src, i) > 0
}

// insertFlow puts an entry's text after entry i of a flow collection, before all others when i is -1.
func (s *source) insertFlow(c *yaml.Node, i int, text string) ([]piece, error) {
	open, err := s.open(c)
	if err != nil {
		return nil, err
	}
	if i < 0 && entries(c) > 0 {
		return s.insertFirstFlow(c, open, text)
	}
	if i < 0 {
		if end := s.skipSpaces(open + 1); s.src[end] == '}' || s.src[end] == ']' {
			return []piece{{open + 1, end, text}}, nil
		}
		return []piece{{open + 1, open + 1, text}}, nil
	}
	start, end, err := s.entryEnds(c, i)
	if err != nil {
		return nil, err
	}
	if v := (spot{c, i}).value(); v.Value == "" && v.Kind == yaml.ScalarNode && end < len(s.src) && s.src[end] == ' ' {
		end++
	}
	comma := s.comma(end)
	tail := max(end, comma+1)
	if s.startsLine(start) && s.lineStart(start) > open {
		pad := string(s.src[s.lineStart(start):start])
		switch {
		case comma >= 0 && s.endsLine(tail):
			at := s.lineEnd(tail)
			return []piece{{at, at, "\n" + pad + text + ","}}, nil
		case comma < 0 && s.endsLine(end):
			at := s.lineEnd(end)
			return []piece{{end, end, ","}, {at, at, "\n" + pad + text}}, nil
		case comma < 0:
			return []piece{{end, end, ",\n" + pad + text}}, nil
		}
	}
	if comma >= 0 {
		return []piece{{tail, tail, " " + text + ","}}, nil
	}
	return []piece{{end, end, ", " + text}}, nil
}

func (s *source) insertFirstFlow(c *yaml.Node, open int, text string) ([]piece, error) {
	at, err := s.entryStart(c, 0)
	if err != nil {
		return nil, err
	}
	between := " "
	if s.startsLine(at) && s.lineStart(at) > open {
		between = "\n" + string(s.src[s.lineStart(at):at])
	}
	return []piece{{at, at, text + "," + between}}, nil
}

// removeFlow takes an entry with its comma away; others remain.
func (s *source) removeFlow(c *yaml.Node, i int) ([]piece, error) {
	if _, err := s.open(c); err != nil {
		return nil, err
	}
	start, end, err := s.entryEnds(c, i)
	if err != nil {
		return nil, err
	}
	comma := s.comma(end)
	tail := max(end, comma+1)
	last := i == entries(c)-1
	if last && comma < 0 {
		return s.removeLastFlow(c, i, start, end)
	}
	switch {
	case s.startsLine(start) && s.endsLine(tail):
		from := s.ownLines(start)
		return []piece{{from, s.nextLine(tail), ""}}, nil
	case s.endsLine(tail):
		for start > 0 && isBlank(s.src[start-1]) {
			start--
		}
		return []piece{{start, tail, ""}}, nil
	}
	return []piece{{start, s.skipSpaces(tail), ""}}, nil
}

// removeLastFlow also takes the comma before the entry, which would be left over.
func (s *source) removeLastFlow(c *yaml.Node, i, start, end int) ([]piece, error) {
	if i == 0 {
		if s.startsLine(start) && s.endsLine(end) {
			return []piece{{s.ownLines(start), s.nextLine(end), ""}}, nil
		}
		return []piece{{start, end, ""}}, nil
	}
	before, err := s.entryEnd(c, i-1)
	if err != nil {
		return nil, err
	}
	comma := s.comma(before)
	if comma < 0 {
		return nil, errPlace
	}
	gap := string(s.src[comma+1 : start])
	if strings.Trim(gap, " \t\r\n") == "" && !s.endsLine(end) {
		return []piece{{comma, end, ""}}, nil
	}
	if s.startsLine(start) && s.endsLine(end) {
		return []piece{{comma, comma + 1, ""}, {s.ownLines(start), s.nextLine(end), ""}}, nil
	}
	if strings.Trim(gap, " \t\r\n") == "" {
		return []piece{{comma, end, ""}}, nil
	}
	return []piece{{comma, comma + 1, ""}, {start, end, ""}}, nil
}

// ownLines is the start of an entry's line, or of the comment lines right above it.
func (s *source) ownLines(start int) int {
	top, col := s.lineStart(start), s.column(start)
	for top > 0 {
		line := s.lineStart(top - 1)
		text := s.skipSpaces(line)
		if text >= len(s.src) || s.src[text] != '#' || s.column(text) != col {
			break
		}
		top = line
	}
	return top
}

// moveFlow reorders entries; a comment at the end of an entry's line goes with it.
func (s *source) moveFlow(c *yaml.Node, order []int) ([]piece, error) {
	if _, err := s.open(c); err != nil {
		return nil, err
	}
	type part struct{ start, end, comma, note, noteEnd int }
	parts := make([]part, len(order))
	for i := range parts {
		start, end, err := s.entryEnds(c, i)
		if err != nil {
			return nil, err
		}
		p := part{start: start, end: end, comma: s.comma(end)}
		p.note = max(end, p.comma+1)
		p.noteEnd = p.note
		if s.endsLine(p.note) {
			p.noteEnd = s.lineEnd(p.note)
		}
		parts[i] = p
	}
	var pieces []piece
	for i, j := range order {
		if i == j {
			continue
		}
		here, there := parts[i], parts[j]
		pieces = append(pieces, piece{here.start, here.end, string(s.src[there.start:there.end])})
		if a, b := string(s.src[here.note:here.noteEnd]), string(s.src[there.note:there.noteEnd]); a != b {
			pieces = append(pieces, piece{here.note, here.noteEnd, b})
		}
	}
	return pieces, nil
}
