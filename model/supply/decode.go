package supply

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Encodings that a list may be in, by the names that are shown and taken.
const (
	UTF8        = "UTF-8"
	UTF16LE     = "UTF-16 LE"
	UTF16BE     = "UTF-16 BE"
	Windows1252 = "Windows-1252"
	Latin1      = "Latin-1"
)

// Encodings are all of them.
var Encodings = []string{UTF8, UTF16LE, UTF16BE, Windows1252, Latin1}

var errNotText = errors.New("is not a text file; export the list as CSV and import that")

// decode makes text of a list. as is an encoding, or "" to guess: a mark at the start decides, then zero bytes in every
// other place, then whether it is valid UTF-8; else it is Windows-1252, or Latin-1 where bytes occur that
// the former leaves empty.
func decode(src []byte, as string) (text, found string, err error) {
	if len(bytes.TrimSpace(src)) == 0 {
		return "", "", errors.New("is empty")
	}
	found = as
	if as == "" {
		found = guessEncoding(src)
	}
	var from encoding.Encoding
	switch found {
	case UTF8:
		from = encoding.Nop
		src = bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	case UTF16LE:
		from = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case UTF16BE:
		from = unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	case Windows1252:
		from = charmap.Windows1252
	case Latin1:
		from = charmap.ISO8859_1
	default:
		return "", "", fmt.Errorf("can't be read as %q; encodings are %s", as, strings.Join(Encodings, ", "))
	}
	out, err := from.NewDecoder().Bytes(src)
	if err != nil {
		return "", found, fmt.Errorf("can't be read as %s: %w", found, err)
	}
	if binary(out) {
		return "", found, errNotText
	}
	if !utf8.Valid(out) || bytes.ContainsRune(out, utf8.RuneError) {
		return "", found, fmt.Errorf("has bytes that %s doesn't know; say which encoding it is in (--encoding)", found)
	}
	return string(out), found, nil
}

func guessEncoding(src []byte) string {
	switch {
	case bytes.HasPrefix(src, []byte("\xef\xbb\xbf")):
		return UTF8
	case bytes.HasPrefix(src, []byte("\xff\xfe")):
		return UTF16LE
	case bytes.HasPrefix(src, []byte("\xfe\xff")):
		return UTF16BE
	}
	var zeros [2]int
	for i, b := range src[:min(len(src), 4096)] {
		if b == 0 {
			zeros[i%2]++
		}
	}
	switch n := min(len(src), 4096); {
	case zeros[1] > n/4 && zeros[0] == 0:
		return UTF16LE
	case zeros[0] > n/4 && zeros[1] == 0:
		return UTF16BE
	case utf8.Valid(src):
		return UTF8
	}
	for _, b := range src {
		if b == 0x81 || b == 0x8d || b == 0x8f || b == 0x90 || b == 0x9d {
			return Latin1
		}
	}
	return Windows1252
}

// binary reports whether text holds what no list has: a zero, or many control characters.
func binary(text []byte) bool {
	control := 0
	for _, b := range text {
		switch {
		case b == 0:
			return true
		case b < ' ' && b != '\t' && b != '\n' && b != '\r' && b != '\f':
			control++
		}
	}
	return control > 2+len(text)/200
}
