package floorpage

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// drawn is a floor in characters with one of its rooms chosen.
func drawn(s *sheet, chosen string, t theme.Theme) *canvas {
	c := newCanvas(max(s.cols, 1), max(s.rows, 1), t)
	at := -1
	for i := range s.boxes {
		if s.floor.Rooms[i].ID == chosen {
			at = i
			continue
		}
		c.wall(s.boxes[i], false)
	}
	if at >= 0 {
		c.wall(s.boxes[at], true)
	}
	c.ink()
	for i := range s.boxes {
		c.doors(s, i)
		c.cover(s, i)
	}
	if at >= 0 {
		c.ways(s, at)
	}
	for i, r := range s.floor.Rooms {
		for _, d := range r.Devices {
			for _, at := range d.At {
				if b := s.boxes[i]; b.width() >= padded {
					dx, dy := b.inside(s.spot(at.Spot))
					c.mark(dx, dy, string(d.Mark))
				}
			}
		}
		for _, x := range r.Controllers {
			cx, cy := s.boxes[i].inside(s.spot(x.Spot))
			c.mark(cx, cy, "C")
		}
		c.label(s, i, i == at, t)
	}
	return c
}

// doorWide is how much of a wall a door takes, in m.
const doorWide = 0.9

// doors are marked in the walls: shut, open, or a gap without a door. A corner is never drawn over.
func (c *canvas) doors(s *sheet, i int) {
	b := s.boxes[i]
	for _, d := range s.floor.Rooms[i].Doors {
		if !d.Placed {
			continue
		}
		upright := d.Upright != s.turned
		x, y := b.cell(s.spot(d.Spot))
		dx, dy, n := 1, 0, int(math.Round(doorWide/s.perCol))
		if upright {
			x, dx, dy, n = nearer(x, b.x0, b.x1), 0, 1, int(math.Round(doorWide/s.perCol/2))
		} else {
			y = nearer(y, b.y0, b.y1)
		}
		n = max(n, 1)
		x, y = x-dx*(n/2), y-dy*(n/2)
		for k := range n {
			if at := c.in(x, y) && c.straight(x, y, upright); at {
				c.put(x, y, c.door(d.Usually, upright, k), inkStrong)
			}
			x, y = x+dx, y+dy
		}
	}
}

func nearer(v, a, b int) int {
	if v-a < b-v {
		return a
	}
	return b
}

func (c *canvas) door(usually string, upright bool, k int) string {
	switch {
	case usually == "none", usually == "open" && k > 0:
		return " "
	case usually == "open":
		return c.glyph.open
	case upright:
		return c.glyph.shutUp
	}
	return c.glyph.shut
}

// cover dots what the sensors of people see, every other cell of it.
func (c *canvas) cover(s *sheet, i int) {
	b, r := s.boxes[i], s.floor.Rooms[i]
	if len(r.Cover) == 0 {
		return
	}
	for y := b.y0 + 1; y < b.y1; y++ {
		for x := b.x0 + 1; x < b.x1; x++ {
			if (x+y)%2 == 0 && saw(r.Cover, s.back(b.place(x, y))) {
				c.put(x, y, c.glyph.seen, inkFaint)
			}
		}
	}
	if b.width() < padded {
		return // the mark would stand in the way of the name
	}
	for _, v := range r.Cover {
		x, y := b.inside(s.spot(v.Spot))
		mark := "m"
		if v.Still {
			mark = "s"
		}
		c.mark(x, y, mark)
	}
}

func saw(cover []floorplan.Cover, p floorplan.Spot) bool {
	for _, v := range cover {
		if v.Sees(p) {
			return true
		}
	}
	return false
}

// ways draws the radio links of the chosen room as far as they lie on this floor.
func (c *canvas) ways(s *sheet, at int) {
	from := s.floor.Rooms[at]
	for _, l := range from.Links {
		points := s.floor.Path(l)
		glyph := c.glyph.way
		if l.State == floorplan.Weak || l.State == floorplan.Dead {
			glyph = c.glyph.lost
		}
		for i := 1; i < len(points); i++ {
			x0, y0 := s.cellOf(points[i-1])
			x1, y1 := s.cellOf(points[i])
			c.line(x0, y0, x1, y1, glyph)
		}
	}
}

// cellOf is the cell of a place of the survey: inside its room where it lies in one.
func (s *sheet) cellOf(p floorplan.Spot) (x, y int) {
	for i, r := range s.floor.Rooms {
		if p.X >= r.X && p.X <= r.X+r.W && p.Y >= r.Y && p.Y <= r.Y+r.D {
			return s.boxes[i].inside(s.spot(p))
		}
	}
	q := s.spot(p)
	return int(math.Round(q.X / s.perCol)), int(math.Round(q.Y / s.perCol / 2))
}

// line marks every other cell between two, so that what lies under it is still read.
func (c *canvas) line(x0, y0, x1, y1 int, glyph string) {
	n := max(abs(x1-x0), abs(y1-y0))
	for k := 0; k <= n; k++ {
		if k%2 == 1 && n > 3 {
			continue
		}
		x := x0 + int(math.Round(float64(k*(x1-x0))/float64(max(n, 1))))
		y := y0 + int(math.Round(float64(k*(y1-y0))/float64(max(n, 1))))
		if c.in(x, y) && c.arms[y*c.w+x] == 0 {
			c.put(x, y, glyph, inkHere)
		}
	}
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// padded is how wide a room is on the page, in cells, that has white around its text.
const padded = 9

// label writes into a room its name, how its radio is heard, and the letters of its devices, as far as there is room.
func (c *canvas) label(s *sheet, i int, chosen bool, t theme.Theme) {
	b, r := s.boxes[i], &s.floor.Rooms[i]
	w, h, pad := b.width(), b.height(), 0
	if w >= padded {
		w, pad = w-2, 1
	}
	if w < 1 || h < 1 {
		return
	}
	ink, mark := inkText, ""
	if chosen {
		ink, mark = inkHere, c.glyph.here
	}
	link := linkText(r, w, t)
	if trouble := troubled(r); trouble && h == 1 {
		mark += "!"
	}
	title := r.Title()
	if _, own, ok := strings.Cut(title, ", "); ok && layout.Width(mark+title) > w {
		title = own // rooms of one flat share what stands before, and the notes have the whole name
	}
	name := layout.Wrap(title, max(w-layout.Width(mark), 1))
	most := 1
	if h >= 4 {
		most = 2
	}
	if len(name) > most {
		name = append(name[:most-1], strings.Join(name[most-1:], " "))
	}
	if strings.Join(name, " ") != title { // a word was broken, which reads as two
		name = []string{title}
	}
	y := b.y0 + 1
	if h >= len(name)+4 && s.hangsAbove(i) {
		y++ // a mark would read as a letter of the name
	}
	write := func(text string, ink int) {
		if y < b.y1 {
			x, room := b.x0+1+pad, w
			if c.marked(x, y) || c.marked(x-1, y) {
				x, room = x+1, room-1
			}
			text = layout.Cut(text, room, t.Glyphs.More)
			c.clear(b, x-1, y, layout.Width(text)+2)
			c.write(x, y, text, ink)
			y++
		}
	}
	for k, line := range name {
		if k > 0 {
			mark = strings.Repeat(" ", layout.Width(mark))
		}
		write(layout.Cut(mark+line, w, t.Glyphs.More), ink)
	}
	if link != "" {
		write(link, inkText)
	}
	for _, line := range deviceLines(r, w) {
		write(line, inkFaint)
	}
}

// hangsAbove tells whether a sensor or a controller is drawn in the first row of a room.
func (s *sheet) hangsAbove(i int) bool {
	var at []floorplan.Spot
	for _, v := range s.floor.Rooms[i].Cover {
		at = append(at, v.Spot)
	}
	for _, c := range s.floor.Rooms[i].Controllers {
		at = append(at, c.Spot)
	}
	for _, d := range s.floor.Rooms[i].Devices {
		for _, p := range d.At {
			at = append(at, p.Spot)
		}
	}
	return slices.ContainsFunc(at, func(p floorplan.Spot) bool {
		_, y := s.boxes[i].inside(s.spot(p))
		return y == s.boxes[i].y0+1
	})
}

// clear leaves white around a text inside a box.
func (c *canvas) clear(b box, x, y, n int) {
	for k := range n {
		if x+k > b.x0 && x+k < b.x1 && !c.marked(x+k, y) {
			c.put(x+k, y, " ", inkText)
		}
	}
}

func troubled(r *floorplan.Room) bool {
	l, ok := r.Worst()
	return ok && l.State >= floorplan.Weak
}

// linkText is how the room's radio is heard, as long as there is room for it.
func linkText(r *floorplan.Room, w int, t theme.Theme) string {
	l, ok := r.Worst()
	if !ok {
		return ""
	}
	db := fmt.Sprintf("%.0f dB", math.Floor(l.Spare))
	var ways []string
	switch l.State {
	case floorplan.Taken:
		return ""
	case floorplan.Good:
		ways = []string{db, strings.TrimSuffix(db, " dB")}
	case floorplan.Passed:
		ways = []string{db + " passed on", db, strings.TrimSuffix(db, " dB")}
	case floorplan.Weak:
		ways = []string{"! weak " + db, "! weak", "!"}
	case floorplan.Dead:
		ways = []string{t.Glyphs.Broken + " not heard", t.Glyphs.Broken + " dead", t.Glyphs.Broken}
	}
	for _, s := range ways {
		if layout.Width(s) <= w {
			return s
		}
	}
	return ""
}

// deviceLines are the letters of a room's devices with how many there are of each.
func deviceLines(r *floorplan.Room, w int) []string {
	letters := r.Letters()
	if letters == "" {
		return nil
	}
	return layout.Wrap(letters, w)
}
