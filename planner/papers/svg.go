package papers

import (
	"fmt"
	"html"
	"strings"
	"unicode"
)

// A sheet of paper that prints whole on A4 and on Letter with the margins that printers leave, in mm.
const (
	sheetW = 186.0
	sheetH = 252.0
)

// svg is a picture that is being written: no script, no fetched font, readable in one colour. Lengths are in mm.
type svg struct {
	b strings.Builder
}

// newSVG opens a picture of the given size with a title for whoever can't see it.
func newSVG(w, h float64, title string) *svg {
	s := &svg{}
	fmt.Fprintf(&s.b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img" font-family="Georgia, 'Times New Roman', serif" fill="#22201b">`+"\n",
		mm(w), mm(h), mm(w), mm(h))
	s.b.WriteString("<title>" + clean(title) + "</title>\n")
	return s
}

func (s *svg) done() []byte { return []byte(s.b.String() + "</svg>\n") }

// add writes an element as it is.
func (s *svg) add(format string, args ...any) { fmt.Fprintf(&s.b, format+"\n", args...) }

func (s *svg) line(x0, y0, x1, y1, wide float64, more string) {
	s.add(`<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="#22201b" stroke-width="%s"%s/>`, mm(x0), mm(y0), mm(x1), mm(y1), mm(wide), attr(more))
}

func (s *svg) rect(x, y, w, h float64, more string) {
	s.add(`<rect x="%s" y="%s" width="%s" height="%s"%s/>`, mm(x), mm(y), mm(w), mm(h), attr(more))
}

// text puts a line of text with its foot at y.
func (s *svg) text(x, y, size float64, text, more string) {
	s.add(`<text x="%s" y="%s" font-size="%s"%s>%s</text>`, mm(x), mm(y), mm(size), attr(more), clean(text))
}

// paragraph puts a text into a column and says where the next line would stand; it stops at bottom.
func (s *svg) paragraph(x, y, w, size, bottom float64, text string) float64 {
	for _, line := range wrapped(text, w, size) {
		if y > bottom {
			return y
		}
		s.text(x, y, size, line, "")
		y += size * 1.3
	}
	return y
}

func attr(more string) string {
	if more == "" {
		return ""
	}
	return " " + more
}

// mm prints a length with no more figures than a printer has use for.
func mm(v float64) string {
	t := strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".")
	if t == "-0" {
		return "0"
	}
	return t
}

// clean is a text that no reader of the picture takes for anything else.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == unicode.ReplacementChar || r == 0xfffe || r == 0xffff {
			return ' '
		}
		return r
	}, s)
	return html.EscapeString(s)
}

// textWide is about how wide a text is in a book face, in the unit of its size: nobody knows the reader's font.
func textWide(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("ijlftrI.,:;' |!()-", r):
			w += 0.33
		case unicode.IsUpper(r), strings.ContainsRune("mwMW%", r):
			w += 0.74
		case r > 0x2e80:
			w += 1
		default:
			w += 0.53
		}
	}
	return w * size
}

// wrapped breaks a text into lines that are about w wide.
func wrapped(s string, w, size float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		if next := strings.TrimSpace(line + " " + word); line == "" || textWide(next, size) <= w {
			line = next
			continue
		}
		out = append(out, line)
		line = word
	}
	return append(out, line)
}

// shortened is a text cut to about w.
func shortened(s string, w, size float64) string {
	if textWide(s, size) <= w {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && textWide(string(r)+"…", size) > w {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}
