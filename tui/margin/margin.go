// Package margin draws what follows from a page at its right: notes, each beside the line that it belongs
// to, as in the margin of a notebook.
package margin

import (
	"strings"

	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// Note is one remark.
type Note struct {
	At    int    // the line of the page that it stands beside; a note pushed down keeps its order
	Head  string // a word or two, may be empty
	Text  string // sentences; line breaks are kept
	Alarm bool   // danger and broken promises only
}

// Lines sets notes into h lines of w cells.
func Lines(t theme.Theme, w, h int, notes []Note) []string {
	var out []string
	for _, n := range notes {
		for len(out) < n.At {
			out = append(out, "")
		}
		if len(out) > 0 && out[len(out)-1] != "" {
			out = append(out, "")
		}
		out = append(out, set(t, w, n)...)
	}
	return layout.Fill(out, w, h, t.Glyphs.More)
}

func set(t theme.Theme, w int, n Note) []string {
	var out []string
	head, text := t.Strong, t.Faint
	if n.Alarm {
		head = t.Danger
	}
	if n.Head != "" {
		mark := ""
		if n.Alarm {
			mark = t.Glyphs.Broken + " "
		}
		out = append(out, head.Render(layout.Cut(mark+n.Head, w, t.Glyphs.More)))
	}
	if n.Text == "" {
		return out
	}
	for _, p := range strings.Split(n.Text, "\n") {
		for _, l := range layout.Wrap(p, w) {
			out = append(out, text.Render(l))
		}
	}
	return out
}

// Page sets a page of w by h cells: body lines at the left, notes beside them, a hair line between. Below
// layout.MarginFrom cells the notes are left out; the page then says what matters in its own lines.
func Page(t theme.Theme, w, h int, body []string, notes []Note) string {
	bw, mw := layout.Columns(w)
	left := layout.Fill(body, bw, h, t.Glyphs.More)
	if mw == 0 {
		return strings.Join(left, "\n")
	}
	bar := " " + t.Hair.Render(t.Glyphs.Bar) + " "
	right := Lines(t, mw, h, notes)
	for i := range left {
		left[i] = layout.Fit(left[i], bw, t.Glyphs.More) + bar + right[i]
	}
	return strings.Join(left, "\n")
}
