package reading

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Read parses one YAML document of at most so many bytes. The node is the top mapping; it is nil when the
// source is empty or nothing but comments, and when there are problems that leave nothing to read.
func Read(src []byte, most int) (*yaml.Node, []Problem) {
	if p, ok := unreadable(src, most); ok {
		return nil, []Problem{p}
	}
	doc, rest, err := documents(src)
	if err != nil {
		return nil, []Problem{syntax(src, err)}
	}
	if doc == nil || len(doc.Content) == 0 {
		return nil, nil
	}
	var l List
	if rest != nil {
		l.At(rest, "", "a second document begins here", "one file holds one document: remove the line --- and what follows it")
	}
	root := doc.Content[0]
	if root.Kind == yaml.ScalarNode && root.Tag == "!!null" && root.Value == "" {
		return nil, l.Sorted()
	}
	if root.Kind != yaml.MappingNode {
		l.At(root, "", found(root)+" at the top of the file", "the file begins with keys, each on its own line, as in `name: value`")
		return nil, l.Sorted()
	}
	return root, l.Sorted()
}

// documents parses the first document and looks whether there is another.
func documents(src []byte) (doc, rest *yaml.Node, err error) {
	defer func() {
		// The parser speaks by panics inside; one that it fails to catch is still only bad input.
		if r := recover(); r != nil {
			doc, rest, err = nil, nil, errors.New("unreadable")
		}
	}()
	dec := yaml.NewDecoder(bytes.NewReader(src))
	var first, second yaml.Node
	if err := dec.Decode(&first); err == io.EOF {
		return nil, nil, nil
	} else if err != nil {
		return nil, nil, err
	}
	switch err := dec.Decode(&second); err {
	case io.EOF:
		return &first, nil, nil
	case nil:
		return &first, &second, nil
	default:
		return nil, nil, err
	}
}

// unreadable finds what no YAML may hold.
func unreadable(src []byte, most int) (Problem, bool) {
	fail := func(at int, message, hint string) (Problem, bool) {
		line, column := place(src, at)
		return Problem{Line: line, Column: column, Message: message, Hint: hint}, true
	}
	switch {
	case len(src) > most:
		return fail(0, fmt.Sprintf("the file has %d bytes, and %s are the most that is read", len(src), size(most)),
			"a home of a thousand rooms needs less; is this the right file?")
	case bytes.HasPrefix(src, []byte("\xef\xbb\xbf")):
		return fail(0, "the file begins with a byte-order mark", "save it as plain UTF-8, without BOM")
	case bytes.HasPrefix(src, []byte("\xff\xfe")), bytes.HasPrefix(src, []byte("\xfe\xff")):
		return fail(0, "the file is UTF-16", "save it as UTF-8, without BOM")
	}
	for i := 0; i < len(src); {
		c := src[i]
		if c < utf8.RuneSelf {
			if c < 0x20 && c != '\t' && c != '\n' && c != '\r' || c == 0x7f {
				return fail(i, fmt.Sprintf("a control character (%#02x) stands here", c), "remove it; is this a text file?")
			}
			if c == '\r' && (i+1 == len(src) || src[i+1] != '\n') {
				return fail(i, "a carriage return stands here without its line feed", "end lines with a line feed")
			}
			i++
			continue
		}
		r, n := utf8.DecodeRune(src[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			return fail(i, fmt.Sprintf("the byte %#02x is not UTF-8", c), "save the file as UTF-8")
		case unicode.IsControl(r) || r == 0xfffe || r == 0xffff || r == 0xfeff || r == 0x2028 || r == 0x2029:
			return fail(i, fmt.Sprintf("a character that cannot be seen (%U) stands here", r), "remove it")
		}
		i += n
	}
	return Problem{}, false
}

func size(n int) string {
	if n%(1<<20) == 0 {
		return fmt.Sprintf("%d MiB", n>>20)
	}
	return fmt.Sprintf("%d bytes", n)
}

// place is the line and column, from 1, of a byte.
func place(src []byte, at int) (line, column int) {
	before := src[:at]
	line = bytes.Count(before, []byte("\n")) + 1
	return line, utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:]) + 1
}

// found says what kind of thing stands at n.
func found(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		if len(n.Content) == 0 {
			return "an empty { } stands"
		}
		return "keys stand"
	case yaml.SequenceNode:
		return "a list stands"
	case yaml.AliasNode:
		return "an alias stands"
	}
	if n.Tag == "!!null" {
		return "nothing stands"
	}
	return Quote(n.Value) + " stands"
}

// Quote puts what was found in quotes, short enough to read and safe to print.
func Quote(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
