package papers

import (
	"fmt"
	"strings"

	"example.org/roombrief/planner/site"
)

// planNotes are what is to be done, what the signs mean, the rooms that could not be drawn, and the devices of each room, in two
// columns.
func (s source) planNotes(d *drawing, y float64) {
	left, right := column{d.svg, 0, y}, column{d.svg, columnWide + 8, y}
	todo := []string{}
	for _, r := range d.floor.All() {
		for _, x := range r.Says(s.project) {
			if !x.OK {
				todo = append(todo, r.Title()+". "+x.Text)
			}
		}
	}
	if len(todo) == 0 {
		todo = append(todo, "Nothing: every device is heard with enough to spare, and the sensors see their rooms.")
	}
	left.put("To do on this floor", todo...)
	right.put("Signs", s.signsMean(d)...)
	if care := d.floor.Cautions(); len(care) > 0 {
		right.put("Take care", care...)
	}
	if len(d.floor.Loose) > 0 {
		var names []string
		for _, r := range d.floor.Loose {
			names = append(names, r.Title())
		}
		right.put("Not drawn, for want of an outline", strings.Join(names, ", ")+".")
	}
	col := &left
	for i, r := range d.floor.All() {
		if len(r.Devices) == 0 {
			continue
		}
		var words []string
		for _, x := range r.Devices {
			words = append(words, fmt.Sprintf("%d %s%s", x.Count, x.Part.Name, x.Where(d.us)))
		}
		text := strings.Join(words, "; ") + "."
		if col == &left && !left.fits(text) {
			col = &right
		}
		if !col.fits(text) {
			col.put("", fmt.Sprintf("What stands in the other %d rooms, the shopping list says.", len(d.floor.All())-i))
			return
		}
		col.put(r.Title(), text)
	}
}

func (s source) signsMean(d *drawing) []string {
	out := []string{
		fmt.Sprintf("dB is what a room's radio has to spare on its way to the controller; under %.0f it is weak, under %.0f for an alarm on a battery. Dashes show the way, a cross one that fails. Figures are reckoned: walk the house with the devices before anything is fixed.", site.UsualMargin, site.AlarmMargin),
		"Dots are what the sensors of people see. Devices whose place is noted stand there, with what each has to spare from its place in the list; the others, and doors in their walls, are drawn where they usually are. A gap in a wall is a door, with a line across where it is usually shut and a leaf where it stands open.",
	}
	var letters []string
	for _, m := range d.floor.Legend() {
		letters = append(letters, fmt.Sprintf("%c %s", m.Letter, m.Means))
	}
	if len(letters) > 0 {
		out = append(out, strings.Join(letters, ", ")+".")
	}
	return out
}

const columnWide = (sheetW - 8) / 2 // mm

// column of notes, with where its next line stands.
type column struct {
	*svg
	x, y float64
}

// fits tells whether there is room for a heading and a text, and for one line more that says what is left out.
func (c *column) fits(text string) bool {
	lines := len(wrapped(text, columnWide, small)) + 2
	return c.y+hand*1.4+float64(lines)*small*1.3 <= sheetH
}

func (c *column) put(heading string, lines ...string) {
	if heading != "" && c.y+hand < sheetH {
		c.text(c.x, c.y, hand, heading, `font-style="italic"`)
		c.y += hand * 1.4
	}
	for _, line := range lines {
		c.y = c.paragraph(c.x, c.y, columnWide, small, sheetH-1, line)
	}
	c.y += 1.5
}
