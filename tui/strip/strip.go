// Package strip draws a story as a strip chart: one track for each thing, time from left to right, the moment
// of breaking marked. It is a pure drawing, the same with and without colour.
package strip

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/roombrief/planner/story"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// None is a cursor that stands nowhere.
const None = -1

// extra rows of a chart around its tracks: the cursor, the axis, its times, the breaking.
const extra = 4

// Height is how many rows a chart of a story has.
func Height(s story.Story) int { return len(s.Tracks) + extra }

// chart is a story being drawn.
type chart struct {
	theme       theme.Theme
	story       story.Story
	at          int
	places      places
	names, room int // cells of the names, and of the chart
	values      int // cells of the values at the cursor
}

// set lays a chart out over w cells.
func set(t theme.Theme, s story.Story, at, w int) chart {
	c := chart{theme: t, story: s, at: at}
	for _, x := range s.Tracks {
		c.names = max(c.names, layout.Width(x.Name))
		for _, v := range x.Values {
			c.values = max(c.values, layout.Width(v.Text))
		}
	}
	c.names = min(c.names, max(w*3/10, 6))
	c.values = min(c.values, max(w/6, 4))
	c.room = max(w-c.names-c.values-4, 1)
	times := make([]int, len(s.Lines))
	for i, l := range s.Lines {
		times[i] = l.At
	}
	c.places = place(times, c.room)
	return c
}

// At is the line of a story that stands nearest to column x of its chart of w cells.
func At(s story.Story, w, x int) (line int, ok bool) {
	c := set(theme.Theme{}, s, None, w)
	x -= c.names + 2
	if x < 0 || x >= c.places.width {
		return 0, false
	}
	for i, at := range c.places.x {
		if line, ok = i, true; i+1 == len(c.places.x) || x < (at+c.places.x[i+1]+1)/2 {
			break
		}
	}
	return line, ok
}

// Draw is a chart of w cells and at most h lines. The cursor stands on line at of the story, or nowhere; the
// values at the right are those under it, or else those at the end.
func Draw(t theme.Theme, s story.Story, at, w, h int) []string {
	c := set(t, s, at, w)
	tracks, more := s.Tracks, 0
	if most := max(h-extra, 1); len(tracks) > most {
		tracks, more = tracks[:most-1], len(tracks)-most+1
	}
	out := []string{c.cursor()}
	for _, x := range tracks {
		out = append(out, c.track(x))
	}
	if more > 0 {
		out = append(out, t.Faint.Render(fmt.Sprintf("and %d more tracks, in a taller window", more)))
	}
	out = append(out, c.axis(), c.times(), c.breaking())
	for i := range out {
		out[i] = layout.Cut(strings.TrimRight(out[i], " "), w, t.Glyphs.More)
	}
	return out[:min(len(out), max(h, 0))]
}

const (
	inkNone = iota
	inkHair
	inkAccent
	inkDanger
	inkFaint
)

func (c chart) inks() []lipgloss.Style {
	return []lipgloss.Style{c.theme.Hair, c.theme.Accent, c.theme.Danger, c.theme.Faint}
}

// indent is the cells before the chart itself.
func (c chart) indent() string { return draw.Spaces(c.names + 2) }

// column under the cursor, -1 for none.
func (c chart) column() int {
	if c.at >= 0 && c.at < len(c.places.x) {
		return c.places.x[c.at]
	}
	return -1
}

func (c chart) cursor() string {
	x := c.column()
	if x < 0 {
		return ""
	}
	return c.indent() + draw.Spaces(x) + c.theme.Accent.Render(c.theme.Glyphs.Down)
}

func (c chart) track(x story.Track) string {
	g := c.glyphs()
	row := make([]draw.Cell, c.places.width)
	line, was := 0, -1 // line is how many lines have come
	for i := range row {
		v := x.Values[min(line, len(x.Values)-1)].N
		for first := true; line < len(c.places.x) && c.places.x[line] == i; first = false {
			line++
			next := x.Values[min(line, len(x.Values)-1)].N
			if first || next > v { // of several lines in one cell the highest shows
				v = next
			}
		}
		here := i > 0 && line > 0 && c.places.x[line-1] == i
		glyph, ink := g.cell(x, v, v != was, here)
		row[i] = draw.Cell{Glyph: glyph, Ink: ink}
		was = v
		if i == c.column() {
			row[i].Ink = inkAccent
		}
	}
	for _, l := range c.places.leaps {
		mid := (l.from + l.to) / 2
		for i := mid - 1; i <= mid && i < len(row); i++ {
			row[i] = draw.Cell{Glyph: g.leap, Ink: inkHair}
		}
	}
	at := len(c.story.Lines)
	if c.at >= 0 {
		at = c.at + 1
	}
	text := x.Values[min(at, len(x.Values)-1)].Text
	return layout.Fit(x.Name, c.names, c.theme.Glyphs.More) + "  " + draw.Inked(row, c.inks()) +
		draw.Spaces(c.room-c.places.width+2) + c.theme.Faint.Render(layout.Cut(text, c.values, c.theme.Glyphs.More))
}

// axis is a hair line with a tick for each line of the story.
func (c chart) axis() string {
	g := c.glyphs()
	row := make([]draw.Cell, c.places.width)
	for i := range row {
		row[i] = draw.Cell{Glyph: c.theme.Glyphs.Hair, Ink: inkHair}
	}
	for _, l := range c.places.leaps {
		mid := (l.from + l.to) / 2
		row[mid-1].Glyph, row[mid].Glyph = g.leap, g.leap
	}
	for i, x := range c.places.x {
		row[x].Glyph = g.tick
		if i == len(c.places.x)-1 {
			row[x] = draw.Cell{Glyph: g.tick, Ink: inkDanger}
		}
	}
	if x := c.column(); x >= 0 && x < len(row) {
		row[x].Ink = inkAccent
	}
	return c.indent() + draw.Inked(row, c.inks())
}

// times under the axis, since the beginning; the first and the last always, of the others those that fit.
func (c chart) times() string {
	n := len(c.places.x)
	if n == 0 {
		return ""
	}
	label := func(i int) string { return story.Since(c.story.Lines[i].At) }
	last := label(n - 1)
	lastAt := min(c.places.x[n-1], c.room-layout.Width(last))
	row := ""
	for i, x := range c.places.x[:n-1] {
		s := label(i)
		used := layout.Width(row)
		if i > 0 && c.story.Lines[i].At == c.story.Lines[i-1].At || used > 0 && x < used+1 || x+layout.Width(s)+1 > lastAt {
			continue
		}
		row += draw.Spaces(x-used) + s
	}
	row += draw.Spaces(lastAt-layout.Width(row)) + last
	return c.indent() + c.theme.Faint.Render(row)
}

// breaking marks the last line of the story by a glyph and a word.
func (c chart) breaking() string {
	n := len(c.places.x)
	if n == 0 {
		return ""
	}
	text := c.theme.Glyphs.Broken + " broken"
	x := min(c.places.x[n-1], max(c.room+c.values-layout.Width(text), 0))
	return c.indent() + draw.Spaces(x) + c.theme.Danger.Render(text)
}

// glyphs of a chart.
type glyphs struct {
	theme               theme.Theme
	on, off, leap, tick string
	running, pressed    string
}

func (c chart) glyphs() glyphs {
	t := c.theme
	if t.Glyphs.Line {
		return glyphs{theme: t, on: "━", off: "·", leap: "/", tick: "┬", running: "─", pressed: "•"}
	}
	return glyphs{theme: t, on: "#", off: ".", leap: "/", tick: "+", running: "-", pressed: "*"}
}

// cell is the glyph of a track at a value; turned where the value has just changed, here where a line of the
// story stands.
func (g glyphs) cell(x story.Track, v int, turned, here bool) (string, int) {
	switch x.Shape {
	case story.Count:
		switch {
		case v == 0:
			return g.off, inkHair
		case turned:
			return fmt.Sprint(min(v, 9)), inkNone
		}
		return g.running, inkNone
	case story.Wait:
		if v == 0 {
			return " ", inkNone
		}
		return g.running, inkNone
	case story.Mark:
		if v == 0 || !here {
			return " ", inkNone
		}
		return g.pressed, inkNone
	case story.Level:
		if v > 0 {
			return g.height(v, x.Most), inkNone
		}
	case story.Switch:
		if v > 0 {
			return g.on, inkNone
		}
	}
	return g.off, inkHair
}

// height is a level as a block, or as a digit from 1 to 9; never nothing.
func (g glyphs) height(v, most int) string {
	most = max(most, 1)
	if !g.theme.Glyphs.Line {
		return fmt.Sprint(min(max(v*9/most, 1), 9))
	}
	e := g.theme.Glyphs.Eighths
	n := len(e) - 2 // the fullest would touch the track above
	return e[min(max((v*n+most-1)/most, 1), n)]
}
