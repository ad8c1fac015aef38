package projectfile

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// piece replaces the bytes from..to by text. Pieces of one edit are in order and don't overlap.
type piece struct {
	from, to int
	text     string
}

// spliced is src with the pieces put in; their LFs become the line ends of the file.
func (s *source) spliced(pieces []piece) []byte {
	var out strings.Builder
	at := 0
	for _, p := range pieces {
		out.Write(s.src[at:p.from])
		text := p.text
		if s.eol != "\n" {
			text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", s.eol)
		}
		out.WriteString(text)
		at = p.to
	}
	out.Write(s.src[at:])
	return []byte(out.String())
}

// entryStart is the byte at which an entry begins: its key, or its dash in a block list.
func (s *source) entryStart(c *yaml.Node, i int) (int, error) {
	if c.Kind == yaml.MappingNode {
		at, err := s.pos(c.Content[2*i])
		if err != nil {
			return 0, err
		}
		j := at - 1
		for j >= 0 && isBlank(s.src[j]) {
			j--
		}
		if j >= 0 && s.src[j] == '?' {
			return 0, errPlace // an explicit key
		}
		return at, nil
	}
	if c.Style&yaml.FlowStyle != 0 {
		return s.pos(c.Content[i])
	}
	var at int
	var err error
	if i == 0 {
		if at, err = s.pos(c); err == nil {
			at = s.skipProps(at)
		}
	} else {
		at, err = s.entryEnd(c, i-1)
	}
	if err != nil {
		return 0, err
	}
	if at = s.skipTrivia(at, ""); at >= len(s.src) || s.src[at] != '-' {
		return 0, errPlace
	}
	return at, nil
}

func (s *source) entryEnd(c *yaml.Node, i int) (int, error) {
	_, end, err := s.span(spot{c, i}.value(), c.Column-1)
	return end, err
}

// entryEnds are where an entry starts and ends.
func (s *source) entryEnds(c *yaml.Node, i int) (start, end int, err error) {
	if start, err = s.entryStart(c, i); err != nil {
		return 0, 0, err
	}
	end, err = s.entryEnd(c, i)
	return start, end, err
}

// afterMark is the byte after an entry's colon or dash.
func (s *source) afterMark(c *yaml.Node, i int) (int, error) {
	if c.Kind == yaml.SequenceNode {
		at, err := s.entryStart(c, i)
		return at + 1, err
	}
	_, end, err := s.span(c.Content[2*i], c.Column-1)
	if err != nil {
		return 0, err
	}
	if end = s.skipSpaces(end); end >= len(s.src) || s.src[end] != ':' {
		return 0, errPlace
	}
	return end + 1, nil
}

// chunk is an entry of a block with the lines and comments that are its own.
type chunk struct {
	top  int  // start of its first line, comments right above included
	at   int  // its key or dash
	end  int  // end of its last line, deeper comments beneath included
	next int  // start of the line after
	own  bool // nothing else stands on its first line
	col  int  // column of its key or dash
}

func (s *source) chunk(c *yaml.Node, i int) (chunk, error) {
	at, end, err := s.entryEnds(c, i)
	if err != nil {
		return chunk{}, err
	}
	k := chunk{at: at, col: s.column(at), top: s.lineStart(at)}
	k.own = s.skipSpaces(k.top) == at
	if tail := s.skipSpaces(end); tail < len(s.src) && breakWidth(s.src, tail) == 0 && s.src[tail] != '#' {
		return chunk{}, errPlace
	}
	k.end = s.lineEnd(end)
	// Comments that are indented deeper than the entry belong to its inside.
	for line := s.nextLine(k.end); line < len(s.src); line = s.nextLine(line) {
		text := s.skipSpaces(line)
		if text < len(s.src) && s.src[text] == '#' && s.column(text) > k.col {
			k.end = s.lineEnd(text)
		} else if text < len(s.src) && breakWidth(s.src, text) == 0 {
			break
		}
	}
	k.next = s.nextLine(k.end)
	if k.own {
		k.top = s.commentsAbove(c, i, k)
	}
	return k, nil
}

// commentsAbove is the first of the comment lines that stand right above an entry, at its indent.
// What opens the file speaks of the file, not of its first key.
func (s *source) commentsAbove(c *yaml.Node, i int, k chunk) int {
	floor := 0
	if i > 0 {
		end, err := s.entryEnd(c, i-1)
		if err != nil {
			return k.top
		}
		floor = s.nextLine(end)
	} else if c == s.root {
		return k.top
	}
	top := k.top
	for top > floor {
		line := s.lineStart(top - 1)
		text := s.skipSpaces(line)
		if line < floor || text >= len(s.src) || s.src[text] != '#' || s.column(text) != k.col {
			break
		}
		top = line
	}
	return top
}

// blankBefore reports an empty line right above a line start.
func (s *source) blankBefore(line int) bool {
	return line > 0 && s.foldAt(s.lineStart(line-1))
}

// airy reports whether the entries around i are kept apart by empty lines.
func (s *source) airy(c *yaml.Node, i int) bool {
	if i == 0 {
		i = 1
	}
	if i >= entries(c) {
		return false
	}
	k, err := s.chunk(c, i)
	return err == nil && s.blankBefore(k.top)
}

// insertBlock puts an entry's text after entry i of a block, before all others when i is -1. under is the column of the collection
// around it, -1 for the root.
func (s *source) insertBlock(c *yaml.Node, i int, text string, under int) ([]piece, error) {
	k, err := s.chunk(c, max(i, 0))
	if err != nil {
		return nil, err
	}
	if i < 0 {
		return []piece{s.linesAt(k.top, indent(text, k.col, true))}, nil
	}
	at := k.next
	if i == entries(c)-1 && k.col > under {
		// Comments that close the block at its own indent stay above the newcomer.
		for at < len(s.src) {
			t := s.skipSpaces(at)
			if t >= len(s.src) || s.src[t] != '#' || s.column(t) != k.col {
				break
			}
			at = s.nextLine(at)
		}
	}
	text = indent(text, k.col, true)
	if s.airy(c, i) {
		text = "\n" + text
	}
	return []piece{s.linesAt(at, text)}, nil
}

// linesAt puts whole lines in at a line start, or at the end of a file that ends in the middle of one.
func (s *source) linesAt(at int, text string) piece {
	if at == len(s.src) && at > 0 && s.lineStart(at) != at {
		return piece{at, at, "\n" + text}
	}
	return piece{at, at, text + "\n"}
}

// removeBlock takes an entry and its own comments away; others remain in the block.
func (s *source) removeBlock(c *yaml.Node, i int) ([]piece, error) {
	k, err := s.chunk(c, i)
	if err != nil {
		return nil, err
	}
	if !k.own {
		if i > 0 {
			return nil, errPlace
		}
		to := k.next
		for to < len(s.src) && (isBlank(s.src[to]) || breakWidth(s.src, to) > 0) {
			to++
		}
		return []piece{{k.at, to, ""}}, nil
	}
	from, to := k.top, k.next
	atEnd := to == len(s.src)
	if s.blankBefore(from) && atEnd {
		for s.blankBefore(from) {
			from = s.lineStart(from - 1)
		}
	} else if s.blankBefore(from) {
		for to < len(s.src) && s.foldAt(to) {
			to = s.nextLine(to)
		}
	}
	if atEnd && s.lineStart(to) != to && from > 0 {
		from = s.breakBefore(from)
	}
	return []piece{{from, to, ""}}, nil
}

// breakBefore is the start of the line break that ends just before a line start.
func (s *source) breakBefore(line int) int {
	return s.lineEnd(s.lineStart(line - 1))
}

// moveBlock reorders whole entries; what stands between them stays in its place.
func (s *source) moveBlock(c *yaml.Node, order []int) ([]piece, error) {
	chunks := make([]chunk, len(order))
	for i := range chunks {
		k, err := s.chunk(c, i)
		if err != nil {
			return nil, err
		}
		if !k.own {
			k.top = k.at // the first item of a list that hangs from a dash
		}
		chunks[i] = k
	}
	var pieces []piece
	for i, j := range order {
		if i == j {
			continue
		}
		here, there := chunks[i], chunks[j]
		text := string(s.src[there.top:there.end])
		if !there.own {
			text = strings.Repeat(" ", there.col) + text
		}
		if !here.own {
			text = strings.TrimLeft(text, " ")
		}
		pieces = append(pieces, piece{here.top, here.end, text})
	}
	return pieces, nil
}
