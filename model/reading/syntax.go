package reading

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// sentences for what the YAML parser says, by a part of its words.
var sentences = []struct{ says, message, hint string }{
	{"mapping values are not allowed", "a colon stands where no key can be", "begin each key on its own line, and put text that holds a colon and a space in quotes"},
	{"did not find expected key", "this line does not fit the keys around it", "check its indentation, and put text that holds quotes or a colon in quotes"},
	{"did not find expected '-' indicator", "this line does not fit the list around it", "begin each item with a dash and a space, all with the same indentation"},
	{"did not find expected ',' or ']'", "a list in [ ] is not closed, or has no comma between two items", "write [a, b]"},
	{"did not find expected ',' or '}'", "keys in { } are not closed, or have no comma between two of them", "write {a: 1, b: 2}"},
	{"found unexpected end of stream", "a quote is opened here and never closed", "close it, or take it away"},
	{"found unexpected document indicator", "a line of --- stands inside a quoted text", "close the quote before it"},
	{"could not find expected ':'", "this line is neither a key with a colon nor part of the line above", "write `key: value`, with a space after the colon"},
	{"block sequence entries are not allowed", "a list item stands where none can be", "put the list on lines of its own below its key, each item with a dash and a space"},
	{"block collections are not allowed", "a list or keys stand where none can be", "put them on lines of their own below their key"},
	{"unknown anchor", "an alias (*name) stands here", "write the value out; a `*` that begins a text needs quotes around it"},
	{"did not find expected alphabetic or numeric character", "a text begins with & or *", "put it in quotes"},
	{"unknown escape character", "a backslash in double quotes is followed by a letter that means nothing", `write \\ for a backslash, or use single quotes`},
	{"hexdecimal", "a backslash in double quotes is followed by a wrong number", `write \\ for a backslash, or use single quotes`},
	{"Unicode character escape", "a backslash in double quotes is followed by a wrong number", `write \\ for a backslash, or use single quotes`},
	{"exceeded max depth", "lists and keys are nested far too deep here", "a project needs a dozen levels"},
	{"document start", "text stands after the end of the file's content", "begin every key at the same indentation"},
	{"did not find expected node content", "something is missing here, or there is a comma or bracket too many", "write [a, b] or {a: 1, b: 2}"},
	{"tag", "a tag (!name) stands here", "write the value plainly; a `!` that begins a text needs quotes around it"},
	{"URI", "a tag (!name) stands here", "write the value plainly; a `!` that begins a text needs quotes around it"},
	{"tab character", "a tab stands in the indentation", "indent with spaces"},
	{"block scalar", "a text block (| or >) has something wrong in its first line", "put nothing after the | or >, and the text on the next lines"},
	{"directive", "a line that begins with % stands here", "remove it, or put the text in quotes"},
}

var lineOf = regexp.MustCompile(`line ([0-9]+)`)

// syntax makes a problem of a parser's error: its place as exact as can be found, and a plain sentence.
func syntax(src []byte, err error) Problem {
	says := err.Error()
	at := failingLine(src, says)
	lines := bytes.Split(src, []byte("\n"))
	at = min(max(at, 1), len(lines))
	line := strings.TrimRight(string(lines[at-1]), "\r")
	p := Problem{Line: at, Column: indent(line) + 1, Message: "the file cannot be read as YAML from here on", Hint: "check the quotes, brackets and indentation of this line and the one above"}
	if i := strings.IndexByte(line[:indent(line)], '\t'); i >= 0 {
		p.Column, p.Message, p.Hint = i+1, "a tab stands in the indentation", "indent with spaces"
		return p
	}
	if strings.Contains(says, "cannot start any token") {
		start := indentOfStrange(line)
		r, _ := utf8.DecodeRuneInString(line[start:])
		p.Column = column(line, start)
		p.Message, p.Hint = fmt.Sprintf("a text begins with %q here", r), "put it in quotes"
		return p
	}
	for _, s := range sentences {
		if strings.Contains(says, s.says) {
			p.Message, p.Hint = s.message, s.hint
			p.Column = column(line, suspect(s.says, line))
			break
		}
	}
	return p
}

// failingLine looks for the shortest run of whole lines that fails with the same words: the parser itself
// often names the line where the surrounding keys began.
func failingLine(src []byte, says string) int {
	const most = 256 << 10
	if len(src) > most {
		return lineIn(says)
	}
	var ends []int
	for i, c := range src {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	if len(src) > 0 && src[len(src)-1] != '\n' {
		ends = append(ends, len(src))
	}
	low, high := 0, len(ends)-1
	for low < high {
		mid := (low + high) / 2
		_, _, err := documents(src[:ends[mid]])
		if err != nil && err.Error() == says {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low + 1
}

func lineIn(says string) int {
	m := lineOf.FindStringSubmatch(says)
	if m == nil {
		return 1
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		return 1
	}
	return n
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " \t")) }

func column(line string, at int) int { return utf8.RuneCountInString(line[:at]) + 1 }

// suspect is the byte of the line that most likely is the culprit.
func suspect(says, line string) int {
	at := -1
	switch {
	case strings.HasPrefix(says, "mapping values"):
		at = strings.LastIndex(line, ": ")
		if at < 0 && strings.HasSuffix(line, ":") {
			at = len(line) - 1
		}
	case strings.Contains(says, "end of stream"):
		at = strings.IndexAny(line, `"'`)
	case strings.Contains(says, "']'"):
		at = strings.IndexByte(line, '[')
	case strings.Contains(says, "'}'"):
		at = strings.IndexByte(line, '{')
	case strings.Contains(says, "anchor"):
		at = strings.IndexByte(line, '*')
	case strings.Contains(says, "escape"), strings.Contains(says, "hexdecimal"):
		at = strings.IndexByte(line, '\\')
	}
	if at < 0 {
		return indent(line)
	}
	return at
}

// indentOfStrange finds the character that no plain text may begin with.
func indentOfStrange(line string) int {
	for i := 0; i < len(line); i++ {
		if strings.IndexByte("@`%\t", line[i]) >= 0 && (i == 0 || strings.IndexByte(" [{,\t", line[i-1]) >= 0) {
			return i
		}
	}
	return min(indent(line), max(len(line)-1, 0))
}
