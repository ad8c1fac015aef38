package layout

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	q "example.org/roombrief/model/quantity"
)

// Width is the cells that s takes, colours aside.
func Width(s string) int { return ansi.StringWidth(s) }

// Cut shortens s to w cells, ending it in more when something was cut off.
func Cut(s string, w int, more string) string {
	if w <= 0 {
		return ""
	}
	return ansi.Truncate(s, w, more)
}

// Fit makes s exactly w cells wide: cut, or filled with spaces.
func Fit(s string, w int, more string) string {
	s = Cut(s, w, more)
	if n := w - Width(s); n > 0 {
		s += strings.Repeat(" ", n)
	}
	return s
}

// Ends puts left and right at the two ends of w cells; the left one gives way.
func Ends(left, right string, w int, more string) string {
	rw := Width(right)
	if rw >= w {
		return Fit(right, w, more)
	}
	if rw == 0 {
		return Fit(left, w, more)
	}
	if lw := w - rw - 2; lw > 0 {
		return Fit(left, lw, more) + "  " + right
	}
	return Fit("", w-rw, more) + right
}

// Wrap breaks s into lines of at most w cells, between words where it can, and never between a figure and its unit
// unless one line is too short for both.
func Wrap(s string, w int) []string {
	if w < 1 {
		w = 1
	}
	if s == "" {
		return []string{""}
	}
	return strings.Split(q.Apart(ansi.Wrap(q.Together(s), w, "")), "\n")
}

// Indent puts n spaces before every line.
func Indent(lines []string, n int) []string {
	pad := strings.Repeat(" ", n)
	out := make([]string, len(lines))
	for i, l := range lines {
		if l != "" {
			l = pad + l
		}
		out[i] = l
	}
	return out
}

// Fill makes lines exactly h lines of at most w cells; what is too much is left off.
func Fill(lines []string, w, h int, more string) []string {
	out := make([]string, 0, max(h, 0))
	for _, l := range lines {
		if len(out) >= h {
			break
		}
		if Width(l) > w {
			l = Cut(l, w, more)
		}
		out = append(out, l)
	}
	for len(out) < h {
		out = append(out, "")
	}
	return out
}

// Scroll is the first line to draw so that line at is among the n that are seen of total. It
// moves from the old first line no more than it must.
func Scroll(first, at, n, total int) int {
	if n <= 0 || total <= n {
		return 0
	}
	if at < first {
		first = at
	}
	if at >= first+n {
		first = at - n + 1
	}
	return min(max(first, 0), total-n)
}

// plain are the ASCII letters for the signs that texts of ours use, each as wide as the sign.
var plain = map[rune]rune{
	'“': '"', '”': '"', '‘': '\'', '’': '\'', '–': '-', '—': '-', '·': '-', '•': '*', '…': '~', '×': 'x', '−': '-',
	'→': '>', '←': '<', '↑': '^', '↓': 'v', '─': '-', '━': '=', '│': '|', '▸': '>', '✓': '+', '✗': 'x', '°': 'o', '²': '2',
	'³': '3', '£': 'L', '€': 'E', '½': '~', '≥': '>', '≤': '<', 'á': 'a', 'à': 'a', 'â': 'a', 'ä': 'a', 'å': 'a', 'ç': 'c',
	'é': 'e', 'è': 'e', 'ê': 'e', 'ë': 'e', 'í': 'i', 'ì': 'i', 'î': 'i', 'ï': 'i', 'ñ': 'n', 'ó': 'o', 'ò': 'o', 'ô': 'o',
	'ö': 'o', 'ø': 'o', 'ú': 'u', 'ù': 'u', 'û': 'u', 'ü': 'u', 'ß': 's', 'Ä': 'A', 'Å': 'A', 'É': 'E', 'Ö': 'O', 'Ü': 'U',
}

// ASCII writes a frame in letters that every terminal has. What has no likeness becomes question marks, as
// many as it was wide.
func ASCII(s string) string {
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range s {
		switch {
		case r < 0x80:
			b.WriteRune(r)
		case plain[r] != 0:
			b.WriteRune(plain[r])
		default:
			b.WriteString(strings.Repeat("?", Width(string(r))))
		}
	}
	return b.String()
}
