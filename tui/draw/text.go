// Package draw holds the small drawing helpers that pages share: text cut and padded by cells,
// columns aligned on their decimals, runs of one style, and the leaf, a page with a margin.
package draw

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// Right makes s exactly w cells wide, ending at the right.
func Right(s string, w int, more string) string {
	s = layout.Cut(s, w, more)
	return spaces(w-ansi.StringWidth(s)) + s
}

// Wrap breaks a paragraph into lines of at most w cells, between words where it can, and never between
// a number and its short unit.
func Wrap(s string, w int) []string {
	if w <= 0 || s == "" {
		return nil
	}
	lines := strings.Split(ansi.Wrap(glue(s), w, " "), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(strings.ReplaceAll(lines[i], tie, " "), " ")
	}
	return lines
}

const tie = "\u00a0" // a space that does not break

// glue ties numbers to the unit after them: 35 mm, 90 %, 18 l/s.
func glue(s string) string {
	words := strings.Split(s, " ")
	var b strings.Builder
	for i, word := range words {
		if i > 0 {
			before := words[i-1]
			unit := strings.TrimRight(word, ".,;:)")
			if before != "" && before[len(before)-1] >= '0' && before[len(before)-1] <= '9' && unit != "" && len(unit) <= 3 && (unit[0] < '0' || unit[0] > '9') {
				b.WriteString(tie)
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(word)
	}
	return b.String()
}

// Hang wraps s behind a mark; its later lines stand under the first.
func Hang(mark, s string, w int) []string {
	in := ansi.StringWidth(mark)
	lines := Wrap(s, w-in)
	for i := range lines {
		if i == 0 {
			lines[i] = mark + lines[i]
		} else {
			lines[i] = spaces(in) + lines[i]
		}
	}
	return lines
}

// Heading is a name on a hair rule, w cells wide.
func Heading(t theme.Theme, name string, w int) string {
	return t.Strong.Render(name) + " " + t.Hair.Render(strings.Repeat(t.Glyphs.Hair, max(w-layout.Width(name)-1, 0)))
}

// Paragraph is a text of a page that belongs to no item.
func Paragraph(text string, w int) []Row {
	var out []Row
	for _, s := range Wrap(text, w) {
		out = append(out, Row{Text: s, Item: -1})
	}
	return out
}

// Decimals pads the texts so that their decimal points stand under each other; a text without one
// ends where the others' whole part does. What follows the number, as a unit, stays with it.
func Decimals(col []string) []string {
	whole, rest := 0, 0
	for _, s := range col {
		w, r := splitNumber(s)
		whole, rest = max(whole, ansi.StringWidth(w)), max(rest, ansi.StringWidth(r))
	}
	out := make([]string, len(col))
	for i, s := range col {
		w, r := splitNumber(s)
		out[i] = spaces(whole-ansi.StringWidth(w)) + w + r + spaces(rest-ansi.StringWidth(r))
	}
	return out
}

func splitNumber(s string) (whole, rest string) {
	end := strings.IndexFunc(s, func(r rune) bool { return r == '.' || r == ' ' })
	if end < 0 {
		return s, ""
	}
	return s[:end], s[end:]
}

// Cell is one character cell with the number of its ink.
type Cell struct {
	Glyph string
	Ink   int
}

// Inked joins cells into text, one styled stretch for each run of one ink. Ink 0 is unstyled, ink n
// is inks[n-1].
func Inked(cells []Cell, inks []lipgloss.Style) string {
	var b, run strings.Builder
	flush := func(ink int) {
		if run.Len() == 0 {
			return
		}
		if ink == 0 {
			b.WriteString(run.String())
		} else {
			b.WriteString(inks[ink-1].Render(run.String()))
		}
		run.Reset()
	}
	for i, c := range cells {
		if i > 0 && c.Ink != cells[i-1].Ink {
			flush(cells[i-1].Ink)
		}
		run.WriteString(c.Glyph)
	}
	if n := len(cells); n > 0 {
		flush(cells[n-1].Ink)
	}
	return b.String()
}

const blank = "                                                                                "

func spaces(n int) string {
	if n <= 0 {
		return ""
	}
	if n <= len(blank) {
		return blank[:n]
	}
	return strings.Repeat(" ", n)
}

// Spaces is n blank cells; none when n is negative.
func Spaces(n int) string { return spaces(n) }
