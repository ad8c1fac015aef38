package floorpage

import (
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// Inks of a plan, as draw.Inked counts them; 0 is plain text.
const (
	inkText = iota
	inkHair
	inkHere
	inkStrong
	inkFaint
)

func inks(t theme.Theme) []lipgloss.Style {
	return []lipgloss.Style{t.Hair, t.Accent, t.Strong, t.Faint}
}

// Arms of a piece of wall.
const (
	north = 1 << iota
	east
	south
	west
)

// canvas is cells with walls under them.
type canvas struct {
	w, h  int
	cells []draw.Cell
	arms  []uint8
	heavy []bool // walls of the room that is chosen
	marks []bool // cells with the mark of a sensor or controller, which no text covers
	glyph glyphs
}

func newCanvas(w, h int, t theme.Theme) *canvas {
	c := &canvas{w: w, h: h, cells: make([]draw.Cell, w*h), arms: make([]uint8, w*h), heavy: make([]bool, w*h), marks: make([]bool, w*h), glyph: glyphsOf(t)}
	for i := range c.cells {
		c.cells[i].Glyph = " "
	}
	return c
}

func (c *canvas) in(x, y int) bool { return x >= 0 && y >= 0 && x < c.w && y < c.h }

func (c *canvas) put(x, y int, glyph string, ink int) {
	if c.in(x, y) {
		c.cells[y*c.w+x] = draw.Cell{Glyph: glyph, Ink: ink}
	}
}

// mark puts the letter of a sensor or controller.
func (c *canvas) mark(x, y int, letter string) {
	if c.in(x, y) {
		c.put(x, y, letter, inkStrong)
		c.marks[y*c.w+x] = true
	}
}

func (c *canvas) marked(x, y int) bool { return c.in(x, y) && c.marks[y*c.w+x] }

// write puts a text, beside marks. A letter that is not one cell wide becomes a question mark.
func (c *canvas) write(x, y int, text string, ink int) {
	for _, r := range text {
		if layout.Width(string(r)) != 1 {
			r = '?'
		}
		if !c.marked(x, y) {
			c.put(x, y, string(r), ink)
		}
		x++
	}
}

// wall draws the lines around a box; heavy ones are those of the room that is chosen.
func (c *canvas) wall(b box, heavy bool) {
	arm := func(x, y int, a uint8) {
		if c.in(x, y) {
			c.arms[y*c.w+x] |= a
			c.heavy[y*c.w+x] = c.heavy[y*c.w+x] || heavy
		}
	}
	for x := b.x0; x <= b.x1; x++ {
		a := uint8(east | west)
		switch x {
		case b.x0:
			a = east
		case b.x1:
			a = west
		}
		arm(x, b.y0, a)
		arm(x, b.y1, a)
	}
	for y := b.y0; y <= b.y1; y++ {
		a := uint8(north | south)
		switch y {
		case b.y0:
			a = south
		case b.y1:
			a = north
		}
		arm(b.x0, y, a)
		arm(b.x1, y, a)
	}
}

// ink writes the walls down.
func (c *canvas) ink() {
	for i, a := range c.arms {
		switch {
		case a == 0:
		case c.heavy[i]:
			c.cells[i] = draw.Cell{Glyph: c.glyph.heavy[a], Ink: inkHere}
		default:
			c.cells[i] = draw.Cell{Glyph: c.glyph.light[a], Ink: inkFaint} // walls carry the drawing, and a hair rule is for less
		}
	}
}

// straight tells whether a cell is a piece of wall without a corner.
func (c *canvas) straight(x, y int, upright bool) bool {
	want := uint8(east | west)
	if upright {
		want = north | south
	}
	return c.in(x, y) && c.arms[y*c.w+x] == want
}

// lines are the rows as text, from a column on.
func (c *canvas) lines(t theme.Theme, from, top, w, h int) []string {
	var out []string
	styles := inks(t)
	for y := top; y < min(top+h, c.h); y++ {
		row := c.cells[y*c.w+from : y*c.w+min(from+w, c.w)]
		out = append(out, strings.TrimRight(draw.Inked(row, styles), " "))
	}
	return out
}

// glyphs are one cell wide each.
type glyphs struct {
	light, heavy          [16]string
	shut, shutUp, open    string // doors in a wall along and up
	seen, way, lost, here string
}

func glyphsOf(t theme.Theme) glyphs {
	g := glyphs{shut: "═", shutUp: "║", open: "╱", seen: "·", way: "•", lost: "×", here: t.Glyphs.Here}
	light, heavy := []rune(" ╵╶└╷│┌├╴┘─┴┐┤┬┼"), []rune(" ╹╺┗╻┃┏┣╸┛━┻┓┫┳╋")
	if !t.Glyphs.Line {
		g = glyphs{shut: "=", shutUp: "=", open: "/", seen: ".", way: "*", lost: "x", here: t.Glyphs.Here}
		light, heavy = []rune(" |-+||++-+-+++++"), []rune(" ###############")
	}
	for i := range 16 {
		g.light[i], g.heavy[i] = string(light[i]), string(heavy[i])
	}
	return g
}
