package ribbon

import (
	"fmt"
	"math"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// Day is what a ribbon shows.
type Day struct {
	Periods  []model.Period
	Circuits []model.Circuit
	Sun      Sun
	Cursor   int  // period that is marked, -1 for none
	Rise     int  // rows of a track at full level, 1 or more
	Most     int  // tracks at most, 0 for all
	Air      bool // a blank line between tracks
	Units    q.System
}

// Columns is the width of the ribbon that fits into w cells: whole cells an hour, so that hours stand
// where the axis says.
func Columns(w int) int {
	for _, perHour := range []int{4, 3, 2, 1} {
		if w >= 24*perHour {
			return 24 * perHour
		}
	}
	return max(w, 0)
}

// Ribbon draws a day in at most width cells: the sun, the marked period, one track for each group of
// circuits that do the same (name, level as height, numbers below), and the hours. Without line drawing
// a track is written in digits: 4 is forty percent and more, # is full.
func Ribbon(d Day, width int, th theme.Theme) []string {
	cols := Columns(width)
	if cols == 0 {
		return nil
	}
	p := &pen{th: th, inks: newInks(th), cols: cols, units: d.Units}
	ss := stretches(d.Periods, d.Sun)
	out := []string{p.sun(d.Sun), p.rail(d, ss)}
	ts := tracks(d.Periods, d.Circuits, ss)
	for i, t := range ts {
		if d.Air && i > 0 {
			out = append(out, "")
		}
		if d.Most > 0 && i == d.Most && len(ts) > d.Most {
			out = append(out, th.Faint.Render(fmt.Sprintf("and %d more, which fit on a taller screen", len(ts)-d.Most)))
			break
		}
		out = append(out, th.Strong.Render(layout.Cut(names(t.circuits), cols, th.Glyphs.More)))
		out = append(out, p.track(t, ss, max(d.Rise, 1))...)
		out = append(out, p.numbers(t, ss))
	}
	return append(out, p.hours())
}

// names of circuits in words.
func names(ids []string) string {
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = draw.Plain(id)
	}
	return english.List(words)
}

type pen struct {
	th    theme.Theme
	inks  *inks
	cols  int
	units q.System
}

func (p *pen) column(minute int) int { return minute * p.cols / day }

func (p *pen) blank() []draw.Cell {
	cells := make([]draw.Cell, p.cols)
	for i := range cells {
		cells[i].Glyph = " "
	}
	return cells
}

func (p *pen) ink(cells []draw.Cell) string { return draw.Inked(cells, p.inks.styles) }

// write puts text of one-cell characters at a column; what hangs over the edge is lost.
func write(cells []draw.Cell, at int, text string, ink int) {
	for _, r := range text {
		if at >= 0 && at < len(cells) {
			cells[at] = draw.Cell{Glyph: string(r), Ink: ink}
		}
		at++
	}
}

// fill draws a glyph over [from, to) columns.
func fill(cells []draw.Cell, from, to int, glyph string, ink int) {
	for i := max(from, 0); i < min(to, len(cells)); i++ {
		cells[i] = draw.Cell{Glyph: glyph, Ink: ink}
	}
}

// sun marks when it rises and sets, and draws a hair between them.
func (p *pen) sun(s Sun) string {
	cells, g, ink := p.blank(), p.th.Glyphs, p.inks.of(inkFaint)
	if s.Rise == Never || s.Set == Never {
		text := "sun down all day"
		if s.Up {
			text = "sun up all day"
			fill(cells, 0, p.cols, g.Hair, p.inks.of(inkHair))
		}
		write(cells, 1, " "+text+" ", ink)
		return p.ink(cells)
	}
	a, b := p.column(s.Rise), p.column(s.Set)
	if a <= b {
		fill(cells, a, b, g.Hair, p.inks.of(inkHair))
	} else {
		fill(cells, a, p.cols, g.Hair, p.inks.of(inkHair))
		fill(cells, 0, b, g.Hair, p.inks.of(inkHair))
	}
	p.sunTimes(cells, a, b, s)
	return p.ink(cells)
}

// sunTimes stand outside the daylight, with as many words as there is room for.
func (p *pen) sunTimes(cells []draw.Cell, a, b int, s Sun) {
	ink, g := p.inks.of(inkFaint), p.th.Glyphs
	for _, up := range []string{"sunrise " + p.clock(s.Rise) + " ", p.clock(s.Rise) + " ", ""} {
		if w := layout.Width(up); w <= a && a < b || w <= a-b {
			write(cells, a-w, up+g.Sunrise, ink)
			break
		}
	}
	for _, down := range []string{" " + p.clock(s.Set) + " sunset", " " + p.clock(s.Set), ""} {
		if w := layout.Width(down); b+w < p.cols && a < b || w < a-b {
			write(cells, b, g.Sunset+down, ink)
			break
		}
	}
}

// rail marks the period that the cursor is on.
func (p *pen) rail(d Day, ss []stretch) string {
	cells, g, ink := p.blank(), p.th.Glyphs, p.inks.of(inkAccent)
	for _, s := range ss {
		if s.period != d.Cursor {
			continue
		}
		a, b := p.column(s.from), p.column(s.to)
		fill(cells, a, b, g.Hair, ink)
		fill(cells, 0, b-p.cols, g.Hair, ink)
		text := g.Here + p.clock(s.from)
		if a+layout.Width(text) > p.cols {
			text = p.clock(s.from) + g.Here
			write(cells, a-layout.Width(text)+1, text, ink)
			continue
		}
		write(cells, a, text, ink)
	}
	return p.ink(cells)
}

// track draws the level of one group of circuits, two samples a cell where both can be drawn.
func (p *pen) track(t track, ss []stretch, rise int) []string {
	rows := make([][]draw.Cell, rise)
	for i := range rows {
		rows[i] = p.blank()
	}
	half := float64(day) / float64(2*p.cols)
	for c := range p.cols {
		from := float64(2*c) * half
		a, b := brightest(t, ss, from, from+half), brightest(t, ss, from+half, from+2*half)
		if !p.th.Glyphs.Line || !splits(a, b, rise) {
			if better(b, a) {
				a = b
			}
			b = a
		}
		for row := range rows {
			rows[row][c] = p.cell(a, b, rise-1-row, rise)
		}
	}
	out := make([]string, rise)
	for i := range rows {
		out[i] = p.ink(rows[i])
	}
	return out
}

// splits tells whether two samples can share a column of cells: in every row a half is full or empty.
func splits(a, b light, rise int) bool {
	for row := range rise {
		fa, fb := eighths(a, row, rise), eighths(b, row, rise)
		if fa != fb && (fa%8 != 0 || fb%8 != 0) {
			return false
		}
	}
	return true
}

// cell draws two samples in one row of a track, rows counted from the bottom.
func (p *pen) cell(a, b light, row, rise int) draw.Cell {
	if !p.th.Glyphs.Line {
		return p.digit(a, row, rise)
	}
	fa, fb := eighths(a, row, rise), eighths(b, row, rise)
	strong := a
	if fb > fa {
		strong = b
	}
	ink := p.inks.of(strong.colour)
	switch {
	case fa == 0 && fb == 0:
		if row == 0 && (a.alone || b.alone) {
			return draw.Cell{Glyph: p.th.Glyphs.Note, Ink: p.inks.of(inkFaint)}
		}
		return draw.Cell{Glyph: " "}
	case fa == 8 && fb == 0:
		return draw.Cell{Glyph: "▌", Ink: ink}
	case fa == 0 && fb == 8:
		return draw.Cell{Glyph: "▐", Ink: ink}
	}
	return draw.Cell{Glyph: p.th.Glyphs.Eighths[max(fa, fb)], Ink: ink}
}

// eighths of a row that a light fills; any light shows.
func eighths(l light, row, rise int) int {
	if l.level <= 0 {
		return 0
	}
	units := max(int(math.Round(l.level/100*float64(8*rise))), 1)
	return max(min(units-8*row, 8), 0)
}

func (p *pen) digit(l light, row, rise int) draw.Cell {
	if l.level <= 0 {
		if l.alone && row == 0 {
			return draw.Cell{Glyph: p.th.Glyphs.Note, Ink: p.inks.of(inkFaint)}
		}
		return draw.Cell{Glyph: " "}
	}
	if row > 0 && l.level/100*float64(rise) < float64(row)+0.5 {
		return draw.Cell{Glyph: " "}
	}
	glyph := "#"
	if l.level < 100 {
		glyph = string(rune('0' + int(l.level/10)))
	}
	return draw.Cell{Glyph: glyph, Ink: p.inks.of(l.colour)}
}

// numbers writes level and colour under each stretch, as much of it as fits.
func (p *pen) numbers(t track, ss []stretch) string {
	cells := p.blank()
	for i, s := range ss {
		a, b := p.column(s.from), p.column(s.to)
		if tail := b - p.cols; tail > p.cols-a {
			a, b = 0, tail
		}
		b = min(b, p.cols)
		for _, text := range wordings(t.lights[i]) {
			if layout.Width(text) < b-a || (b == p.cols && layout.Width(text) == b-a) {
				write(cells, a, text, p.inks.of(inkFaint))
				break
			}
		}
	}
	return p.ink(cells)
}

// wordings of a light, longest first.
func wordings(l light) []string {
	switch {
	case l.alone:
		return []string{"left as it is", "as is", "-"}
	case l.level <= 0:
		return []string{"dark", "-"}
	case l.colour == 0:
		return []string{percent(l.level) + " %", percent(l.level)}
	}
	k := fmt.Sprintf("%d K", l.colour)
	return []string{percent(l.level) + " % " + k, percent(l.level) + " %", percent(l.level)}
}

func percent(v float64) string {
	if v == math.Trunc(v) {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.1f", v)
}

// hours is the axis.
func (p *pen) hours() string {
	cells, every := p.blank(), 3
	if p.cols < 48 {
		every = 6
	}
	ink := p.inks.of(inkHair)
	fill(cells, 0, p.cols, p.th.Glyphs.Hair, ink)
	for h := 0; h < 24; h += every {
		write(cells, p.column(h*60), fmt.Sprintf("%02d", h), p.inks.of(inkFaint))
	}
	write(cells, p.cols-2, "24", p.inks.of(inkFaint))
	return p.ink(cells)
}

func (p *pen) clock(minute int) string { return clockIn(minute, p.units) }
