package papers

import (
	"fmt"
	"math"
	"strings"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/planner/physics"
)

// FloorPlan is the name of the paper of a floor: floor-plan-entrance-floor.svg, floor-plan-one-floor-up.svg, floor-plan-basement.svg.
func FloorPlan(number int) string {
	return "floor-plan-" + strings.ReplaceAll(strings.ToLower(floorplan.Name(number)), " ", "-") + ".svg"
}

// scales are what one of something on paper is in the house; a plan has the largest that it fits in.
var scales = []float64{20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 1000, 2000, 5000}

// Where a plan stands on its sheet, in mm.
const (
	planTop  = 22.0
	planDeep = 150.0
	hand     = 3.0 // size of the letters
	small    = 2.3
)

// drawing is a floor on paper.
type drawing struct {
	*svg
	floor  *floorplan.Floor
	scale  float64
	turned bool
	x, y   float64 // of the plan's upper left corner, in mm
	us     q.System
}

// floorPlans are the papers of the floors that have a room with an outline.
func (s source) floorPlans() []Paper {
	var out []Paper
	numbers := floorplan.Numbers(s.project)
	for i, n := range numbers {
		f := floorplan.Of(s.project, s.catalogue, &s.plan, n)
		if len(f.Rooms) == 0 {
			continue
		}
		which := floorplan.Name(n)
		if len(numbers) > 1 {
			which += fmt.Sprintf(", %d of %d", i+1, len(numbers))
		}
		out = append(out, Paper{FloorPlan(n), "whoever installs, and walks the house with the devices", s.floorPlan(&f, which)})
	}
	return out
}

func (s source) floorPlan(f *floorplan.Floor, which string) []byte {
	d := drawing{svg: newSVG(sheetW, sheetH, s.homeName()+", "+which), floor: f, us: physics.System(s.project)}
	d.fit()
	d.add(`<defs><pattern id="seen" width="1.6" height="1.6" patternUnits="userSpaceOnUse"><circle cx="0.4" cy="0.4" r="0.16"/><circle cx="1.2" cy="1.2" r="0.16"/></pattern></defs>`)
	d.rect(0, 0, sheetW, sheetH, `fill="#fff"`)
	d.text(0, 8, 7, shortened(s.homeName(), sheetW*0.7, 7), "")
	turned := ""
	if d.turned {
		turned = ", turned a quarter to the left"
	}
	d.text(0, 14, hand, which+fmt.Sprintf(", 1 : %.0f", d.scale)+turned, `font-style="italic"`)
	d.text(sheetW, 14, small, s.foot(), `text-anchor="end"`)
	d.line(0, 17, sheetW, 17, 0.2, "")
	d.walls()
	for i := range f.Rooms {
		d.cover(i)
	}
	d.doors()
	for i := range f.Rooms {
		d.links(i)
	}
	for i := range f.Rooms {
		d.label(i)
	}
	for i := range f.Rooms {
		d.marks(i)
	}
	_, deep := d.size()
	foot := d.bar(d.y + deep + 7)
	s.planNotes(&d, foot+7)
	return d.done()
}

// fit finds the scale, and whether the plan is turned for it.
func (d *drawing) fit() {
	best := scales[len(scales)-1]
	for _, turned := range []bool{false, true} {
		w, deep := d.floor.Bounds.W, d.floor.Bounds.D
		if turned {
			w, deep = deep, w
		}
		for _, s := range scales {
			if (w+0.4)*1000/s <= sheetW && (deep+0.4)*1000/s <= planDeep {
				if s < best {
					best, d.turned = s, turned
				}
				break
			}
		}
	}
	d.scale = best
	w, _ := d.size()
	d.x, d.y = (sheetW-w)/2, planTop+0.2*1000/d.scale
}

func (d *drawing) m(v float64) float64 { return v * 1000 / d.scale }

func (d *drawing) size() (w, deep float64) {
	w, deep = d.floor.Bounds.W, d.floor.Bounds.D
	if d.turned {
		w, deep = deep, w
	}
	return d.m(w), d.m(deep)
}

func (d *drawing) spot(p floorplan.Spot) (x, y float64) {
	b := d.floor.Bounds
	x, y = p.X-b.X, p.Y-b.Y
	if d.turned {
		x, y = y, b.W-x
	}
	return d.x + d.m(x), d.y + d.m(y)
}

// box is a room on paper.
func (d *drawing) box(r floorplan.Rect) (x, y, w, h float64) {
	x0, y0 := d.spot(floorplan.Spot{X: r.X, Y: r.Y})
	x1, y1 := d.spot(floorplan.Spot{X: r.X + r.W, Y: r.Y + r.D})
	return math.Min(x0, x1), math.Min(y0, y1), math.Abs(x1 - x0), math.Abs(y1 - y0)
}

// wallThick is what is drawn around a room, in m: half of an inner wall and a little.
const wallThick = 0.09

func (d *drawing) walls() {
	t := math.Max(d.m(wallThick), 0.3)
	for _, r := range d.floor.Rooms {
		x, y, w, h := d.box(r.Rect)
		d.rect(x-t, y-t, w+2*t, h+2*t, "")
	}
	for _, r := range d.floor.Rooms {
		x, y, w, h := d.box(r.Rect)
		d.rect(x, y, w, h, `fill="#fff"`)
	}
}

// cover dots what the sensors of people see of their room.
func (d *drawing) cover(i int) {
	r := d.floor.Rooms[i]
	if len(r.Cover) == 0 {
		return
	}
	x, y, w, h := d.box(r.Rect)
	d.add(`<clipPath id="room-%d"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`, i, mm(x), mm(y), mm(w), mm(h))
	for _, v := range r.Cover {
		cx, cy := d.spot(v.Spot)
		reach := d.m(v.Reach)
		if v.Round {
			d.add(`<circle cx="%s" cy="%s" r="%s" fill="url(#seen)" clip-path="url(#room-%d)"/>`, mm(cx), mm(cy), mm(reach), i)
			continue
		}
		facing := v.Facing
		if d.turned {
			facing -= math.Pi / 2
		}
		ax, ay := cx+reach*math.Cos(facing-v.Angle/2), cy+reach*math.Sin(facing-v.Angle/2)
		bx, by := cx+reach*math.Cos(facing+v.Angle/2), cy+reach*math.Sin(facing+v.Angle/2)
		d.add(`<path d="M%s %s L%s %s A%s %s 0 0 1 %s %s Z" fill="url(#seen)" clip-path="url(#room-%d)"/>`, mm(cx), mm(cy), mm(ax), mm(ay), mm(reach), mm(reach), mm(bx), mm(by), i)
	}
}

// doorWide is an inner door, in m.
const doorWide = 0.8

// doors are gaps in the walls: a line across where it is shut, a leaf that stands open, nothing where there is none.
func (d *drawing) doors() {
	deep, half := math.Max(d.m(0.3), 1), d.m(doorWide)/2
	for _, r := range d.floor.Rooms {
		for _, o := range r.Doors {
			if !o.Placed {
				continue
			}
			x, y := d.spot(o.Spot)
			dx, dy := half, 0.0
			if o.Upright != d.turned {
				dx, dy = 0, half
				d.rect(x-deep/2, y-half, deep, 2*half, `fill="#fff"`)
			} else {
				d.rect(x-half, y-deep/2, 2*half, deep, `fill="#fff"`)
			}
			switch o.Usually {
			case "none":
			case "open":
				d.line(x-dx, y-dy, x-dx+1.2*dx+dy, y-dy+1.2*dy+dx, 0.25, "")
			default:
				d.line(x-dx, y-dy, x+dx, y+dy, 0.25, "")
			}
		}
	}
}

// links are dashed from the middle of a room, or the worst noted place in it, to its controller as far as they lie on this floor; those that fail are crossed out.
func (d *drawing) links(i int) {
	r := &d.floor.Rooms[i]
	l, ok := r.Worst()
	if !ok {
		return
	}
	points := d.floor.Path(l)
	for k := 1; k < len(points); k++ {
		x0, y0 := d.spot(points[k-1])
		x1, y1 := d.spot(points[k])
		d.line(x0, y0, x1, y1, 0.15, `stroke-dasharray="0.8 1.2"`)
		if l.State >= floorplan.Weak {
			mx, my := (x0+x1)/2, (y0+y1)/2
			d.line(mx-1.4, my-1.4, mx+1.4, my+1.4, 0.4, "")
			d.line(mx-1.4, my+1.4, mx+1.4, my-1.4, 0.4, "")
		}
	}
}

// label writes the name of a room, how its radio is heard, and the letters of its devices, each on white.
func (d *drawing) label(i int) {
	r := &d.floor.Rooms[i]
	x, y, w, h := d.box(r.Rect)
	size := math.Min(hand, math.Max(1.5, w/8))
	pad := math.Min(3, w/10)
	title := r.Title()
	if l, ok := r.Worst(); ok && l.State >= floorplan.Weak && h < 5*size {
		title = "! " + title // there may be no room for more
	}
	lines := wrapped(title, w-2*pad, size)
	name := len(lines)
	if text := d.linkText(r); text != "" {
		lines = append(lines, wrapped(text, w-2*pad, size)...)
	}
	if letters := r.Letters(); letters != "" {
		lines = append(lines, wrapped(letters, w-2*pad, size)...)
	}
	top := y + math.Min(4, h/8)
	for k, line := range lines {
		line = shortened(line, w-2*pad, size)
		for _, m := range d.signs(i) {
			if below := m.y + m.half + 0.3; m.over(x+pad, top, textWide(line, size), size) && below+size*1.25 <= y+h {
				top = below
			}
		}
		if top+size*1.25 > y+h && k > 0 {
			return
		}
		left := x + pad - 0.4
		d.rect(left, top, math.Min(textWide(line, size)+0.8, sheetW-left), size*1.25, `fill="#fff"`) // of a sliver of a room at the edge no more than the sheet
		more := ""
		if k < name {
			more = `font-weight="bold"`
		}
		d.text(x+pad, top+size, size, line, more)
		top += size * 1.25
	}
}

func (d *drawing) linkText(r *floorplan.Room) string {
	l, ok := r.Worst()
	if !ok {
		return ""
	}
	db := fmt.Sprintf("%.0f dB", math.Floor(l.Spare))
	switch l.State {
	case floorplan.Passed:
		return db + " passed on"
	case floorplan.Weak:
		return "! weak, " + db
	case floorplan.Dead:
		return "! not heard"
	}
	return db
}

// bar is the scale as a rule to measure with; it says where its foot is.
func (d *drawing) bar(y float64) float64 {
	one, unit := 1.0, "m"
	if d.us == q.US {
		one, unit = 0.3048*3, "ft"
	}
	steps := 5.0
	if d.m(one*steps) > sheetW/2 {
		steps = 2
	}
	x := d.x
	for k := 0.0; k < steps; k++ {
		fill := `fill="#fff" stroke="#22201b" stroke-width="0.2"`
		if int(k)%2 == 0 {
			fill = `stroke="#22201b" stroke-width="0.2"`
		}
		d.rect(x+d.m(one*k), y, d.m(one), 1.2, fill)
	}
	last := steps
	if unit == "ft" {
		last *= 3
	}
	d.text(x, y+4, small, "0", "")
	d.text(x+d.m(one*steps), y+4, small, fmt.Sprintf("%.0f %s", last, unit), `text-anchor="middle"`)
	return y + 4
}
