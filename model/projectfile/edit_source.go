package projectfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// source is a file's bytes beside the tree that they parse to, with the way from a node to its bytes.
// Edits splice the bytes; the tree says where, and afterwards proves that nothing else changed.
type source struct {
	src   []byte
	lines []int      // byte offset at which each line starts
	root  *yaml.Node // nil when the file holds nothing but comments
	eol   string     // how this file ends its lines
}

// errPlace means that a node couldn't be found in the bytes; the caller re-encodes the part instead.
var errPlace = errors.New("the way this is written is not one that can be edited in place")

// readSource parses src into nodes, without judging what they say.
func readSource(src []byte) (*source, error) {
	if !utf8.Valid(src) {
		return nil, errors.New("the file is not UTF-8 text")
	}
	doc, err := parseNodes(src)
	if err != nil {
		return nil, err
	}
	return newSource(src, doc), nil
}

// parseNodes turns a panic of the parser, which is still only bad input, into an error.
func parseNodes(src []byte) (doc *yaml.Node, err error) {
	defer func() {
		if r := recover(); r != nil {
			doc, err = nil, fmt.Errorf("unreadable: %v", r)
		}
	}()
	doc = new(yaml.Node)
	return doc, yaml.Unmarshal(src, doc)
}

// newSource joins bytes with a tree that was already parsed from them.
func newSource(src []byte, doc *yaml.Node) *source {
	s := &source{src: src, lines: lineStarts(src), eol: "\n"}
	if doc != nil && len(doc.Content) > 0 {
		s.root = doc.Content[0]
	}
	if i := bytes.IndexByte(src, '\n'); i > 0 && src[i-1] == '\r' {
		s.eol = "\r\n"
	}
	// An empty root (a comment-only file, or a bare `---`) is the same as no root.
	if s.root != nil && s.root.Kind == yaml.ScalarNode && s.root.Value == "" && s.root.Style == 0 {
		s.root = nil
	}
	return s
}

// lineStarts counts lines as yaml.v3 does: CR LF, CR, LF, NEL, LS and PS each end one.
func lineStarts(src []byte) []int {
	starts := append(make([]int, 0, bytes.Count(src, []byte("\n"))+1), 0)
	for i := 0; i < len(src); {
		if c := src[i]; c > '\r' && c < 0xC2 { // nearly all of them
			i++
			continue
		}
		w := breakWidth(src, i)
		if w == 0 {
			i++
			continue
		}
		i += w
		starts = append(starts, i)
	}
	return starts
}

// breakWidth is the length of the line break at i, 0 when there is none.
func breakWidth(src []byte, i int) int {
	switch src[i] {
	case '\n':
		return 1
	case '\r':
		if i+1 < len(src) && src[i+1] == '\n' {
			return 2
		}
		return 1
	case 0xC2:
		if bytes.HasPrefix(src[i:], []byte("\u0085")) {
			return 2
		}
	case 0xE2:
		if bytes.HasPrefix(src[i:], []byte("\u2028")) || bytes.HasPrefix(src[i:], []byte("\u2029")) {
			return 3
		}
	}
	return 0
}

// pos is the byte at which a node starts, its anchor or tag included. Columns count characters.
func (s *source) pos(n *yaml.Node) (int, error) {
	if n.Line < 1 || n.Line > len(s.lines) {
		return 0, errPlace
	}
	i := s.lines[n.Line-1]
	if i == 0 && bytes.HasPrefix(s.src, []byte("\ufeff")) {
		i = 3
	}
	for c := 1; c < n.Column; c++ {
		if i >= len(s.src) {
			return 0, errPlace
		}
		_, w := utf8.DecodeRune(s.src[i:])
		i += w
	}
	return i, nil
}

// column is how many characters stand before byte i on its line.
func (s *source) column(i int) int {
	start := s.lineStart(i)
	if start == 0 && bytes.HasPrefix(s.src, []byte("\ufeff")) && i >= 3 {
		start = 3
	}
	return utf8.RuneCount(s.src[start:i])
}

func (s *source) lineStart(i int) int {
	lo, hi := 0, len(s.lines)
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if s.lines[mid] <= i {
			lo = mid
		} else {
			hi = mid
		}
	}
	return s.lines[lo]
}

// lineEnd is the byte after the last one of i's line, its break not included.
func (s *source) lineEnd(i int) int {
	for i < len(s.src) && breakWidth(s.src, i) == 0 {
		i++
	}
	return i
}

// nextLine is the start of the line after i's, or the end of the file.
func (s *source) nextLine(i int) int {
	if i = s.lineEnd(i); i < len(s.src) {
		i += breakWidth(s.src, i)
	}
	return i
}

func isBlank(b byte) bool { return b == ' ' || b == '\t' }

func (s *source) skipSpaces(i int) int {
	for i < len(s.src) && isBlank(s.src[i]) {
		i++
	}
	return i
}

// skipTrivia passes spaces, line breaks, comments and any byte of also.
func (s *source) skipTrivia(i int, also string) int {
	for i < len(s.src) {
		switch w := breakWidth(s.src, i); {
		case w > 0:
			i += w
		case isBlank(s.src[i]) || strings.IndexByte(also, s.src[i]) >= 0:
			i++
		case s.src[i] == '#':
			i = s.lineEnd(i)
		default:
			return i
		}
	}
	return i
}

// skipProps passes an anchor and a tag.
func (s *source) skipProps(i int) int {
	for i < len(s.src) && (s.src[i] == '&' || s.src[i] == '!') {
		for i < len(s.src) && !isBlank(s.src[i]) && breakWidth(s.src, i) == 0 {
			i++
		}
		i = s.skipSpaces(i)
	}
	return i
}

// span is the bytes of a node: from its anchor or tag to its last character. within is the column of
// the collection around it, which a block scalar with an explicit indent counts from.
func (s *source) span(n *yaml.Node, within int) (start, end int, err error) {
	if start, err = s.pos(n); err != nil {
		return 0, 0, err
	}
	switch n.Kind {
	case yaml.AliasNode:
		end = start + 1 + len(n.Value)
		if end > len(s.src) || string(s.src[start:end]) != "*"+n.Value {
			return 0, 0, errPlace
		}
	case yaml.ScalarNode:
		end, err = s.scalarEnd(n, start, within)
	default:
		end, err = s.collectionEnd(n, start)
	}
	return start, end, err
}

func (s *source) collectionEnd(n *yaml.Node, start int) (int, error) {
	open := s.flowOpen(n, start)
	end := open + 1
	if len(n.Content) > 0 {
		var err error
		if _, end, err = s.span(n.Content[len(n.Content)-1], n.Column-1); err != nil {
			return 0, err
		}
	} else if open < 0 {
		return 0, errPlace
	}
	if open < 0 {
		return end, nil
	}
	end = s.skipTrivia(end, ",:")
	if end >= len(s.src) || (s.src[end] != '}' && s.src[end] != ']') {
		return 0, errPlace
	}
	return end + 1, nil
}

// flowOpen is where a flow collection's bracket is; -1 for a block, or for the bare pair of `[a: b]`.
func (s *source) flowOpen(n *yaml.Node, start int) int {
	if n.Style&yaml.FlowStyle == 0 {
		return -1
	}
	i := s.skipTrivia(s.skipProps(start), "")
	bracket := byte('{')
	if n.Kind == yaml.SequenceNode {
		bracket = '['
	}
	if i >= len(s.src) || s.src[i] != bracket {
		return -1
	}
	if len(n.Content) > 0 {
		if first, err := s.pos(n.Content[0]); err != nil || first == i {
			return -1
		}
	}
	return i
}

// scalarEnd finds a scalar's end and thereby proves that it is where the tree says.
func (s *source) scalarEnd(n *yaml.Node, start, within int) (int, error) {
	i := s.skipProps(start)
	if n.Value == "" && n.Style&^yaml.TaggedStyle == 0 {
		for i > start && isBlank(s.src[i-1]) {
			i--
		}
		return i, nil
	}
	if i != start {
		i = s.skipTrivia(i, "")
	}
	if i >= len(s.src) {
		return 0, errPlace
	}
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return s.doubleQuotedEnd(i)
	case n.Style&yaml.SingleQuotedStyle != 0:
		return s.singleQuotedEnd(i)
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return s.blockScalarEnd(i, within)
	}
	return s.plainEnd(i, n.Value)
}

func (s *source) doubleQuotedEnd(i int) (int, error) {
	if s.src[i] != '"' {
		return 0, errPlace
	}
	for i++; i < len(s.src); i++ {
		switch s.src[i] {
		case '\\':
			i++
		case '"':
			return i + 1, nil
		}
	}
	return 0, errPlace
}

func (s *source) singleQuotedEnd(i int) (int, error) {
	if s.src[i] != '\'' {
		return 0, errPlace
	}
	for i++; i < len(s.src); i++ {
		if s.src[i] != '\'' {
			continue
		}
		if i+1 < len(s.src) && s.src[i+1] == '\'' {
			i++
			continue
		}
		return i + 1, nil
	}
	return 0, errPlace
}

// plainEnd walks a plain scalar's text and its value together; in the text a fold may span lines.
func (s *source) plainEnd(i int, value string) (int, error) {
	for v := 0; v < len(value); {
		if i < len(s.src) && s.src[i] == value[v] && value[v] != '\n' {
			if value[v] != ' ' || !s.foldAt(i) {
				i, v = i+1, v+1
				continue
			}
		}
		// A space of the value may be a line break of the text, a newline two of them.
		if value[v] != ' ' && value[v] != '\n' {
			return 0, errPlace
		}
		breaks, j := 0, i
		for j < len(s.src) {
			if w := breakWidth(s.src, j); w > 0 {
				breaks, j = breaks+1, j+w
			} else if isBlank(s.src[j]) {
				j++
			} else {
				break
			}
		}
		want := 0
		for v < len(value) && value[v] == '\n' {
			want, v = want+1, v+1
		}
		if want == 0 {
			v++
		}
		if breaks != want+1 {
			return 0, errPlace
		}
		i = j
	}
	return i, nil
}

// foldAt reports whether only spaces stand between i and the end of its line.
func (s *source) foldAt(i int) bool {
	j := s.skipSpaces(i)
	return j >= len(s.src) || breakWidth(s.src, j) > 0
}

// blockScalarEnd is the end of the last line of a `|` or `>` text.
func (s *source) blockScalarEnd(i, within int) (int, error) {
	if s.src[i] != '|' && s.src[i] != '>' {
		return 0, errPlace
	}
	indent, keep := -1, false
	j := i + 1
	for ; j < len(s.src) && strings.IndexByte("+-123456789", s.src[j]) >= 0; j++ {
		switch s.src[j] {
		case '+':
			keep = true
		case '-':
		default:
			indent = max(within, 0) + int(s.src[j]-'0')
		}
	}
	end := j
	for at := s.nextLine(j); at < len(s.src); at = s.nextLine(at) {
		text := at
		for text < len(s.src) && s.src[text] == ' ' && (indent < 0 || text-at < indent) {
			text++
		}
		empty := text >= len(s.src) || breakWidth(s.src, text) > 0
		if empty {
			if keep {
				end = text
			}
			continue
		}
		if indent < 0 {
			if indent = text - at; indent <= within {
				break
			}
		}
		if text-at < indent {
			break
		}
		end = s.lineEnd(text)
	}
	return end, nil
}
