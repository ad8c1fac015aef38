package papers

import (
	"math"

	"example.org/roombrief/planner/floorplan"
)

// sign is the mark of a sensor of people or of a controller: its middle, and half its size.
type sign struct {
	letter     string
	x, y, half float64
}

// over tells whether it would cover a line of text whose upper left corner is x, y.
func (m sign) over(x, y, w, size float64) bool {
	return m.x+m.half > x && m.x-m.half < x+w && m.y+m.half > y && m.y-m.half < y+size*1.25
}

// signs are those of a room, where the devices hang and stand.
func (d *drawing) signs(i int) []sign {
	r := d.floor.Rooms[i]
	x, y, w, h := d.box(r.Rect)
	at := func(letter string, p floorplan.Spot, half float64) sign {
		cx, cy := d.spot(p)
		return sign{letter, math.Min(math.Max(cx, x+half), x+w-half), math.Min(math.Max(cy, y+half), y+h-half), half}
	}
	var out []sign
	for _, v := range r.Cover {
		letter := "m"
		if v.Still {
			letter = "s"
		}
		out = append(out, at(letter, v.Spot, 1.5))
	}
	for _, v := range r.Devices {
		for _, p := range v.At {
			if v.Mark != 'm' && v.Mark != 's' { // their cover has them already
				out = append(out, at(string(v.Mark), p.Spot, 1.5))
			}
		}
	}
	for _, c := range r.Controllers {
		out = append(out, at("C", c.Spot, 1.6))
	}
	return out
}

func (d *drawing) marks(i int) {
	for _, m := range d.signs(i) {
		if m.letter == "C" {
			d.rect(m.x-m.half, m.y-m.half, 2*m.half, 2*m.half, "")
			d.text(m.x, m.y+0.9, 2.6, m.letter, `text-anchor="middle" fill="#fff"`)
			continue
		}
		d.add(`<circle cx="%s" cy="%s" r="%s" fill="#fff" stroke="#22201b" stroke-width="0.25"/>`, mm(m.x), mm(m.y), mm(m.half))
		d.text(m.x, m.y+0.7, 2.2, m.letter, `text-anchor="middle"`)
	}
}
