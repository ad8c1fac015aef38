// Package floorplan sets the rooms of a home on paper, floor by floor: where they lie, their doors, the devices that the bill
// puts into them, what its sensors of people see, and how well each room's radio is heard. It draws nothing; the screen and
// the papers do.
package floorplan

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/physics"
)

// Spot is a place on a floor, in m from the plan's origin: X to the right, Y down.
type Spot struct{ X, Y float64 }

// Rect is a room's inside, in m.
type Rect struct{ X, Y, W, D float64 }

// Middle of it.
func (r Rect) Middle() Spot { return Spot{r.X + r.W/2, r.Y + r.D/2} }

// Floor is what lies on one floor of a home.
type Floor struct {
	Number int
	Rooms  []Room // that have an outline, in the order of the project
	Loose  []Room // of this floor, that have none: nobody knows where they lie
	Bounds Rect   // around the rooms; without size where none has an outline
}

// Room is one room with what is planned in it.
type Room struct {
	model.Room
	Rect
	Doors       []Door
	Controllers []Controller
	Devices     []Device // in the order of the bill, like parts counted together
	Cover       []Cover  // of the sensors of people
	Seen        float64  // part of its floor that they see, 0 to 1
	Links       []Link   // one for each radio that its devices speak
}

// Controller is one of the bill in its place.
type Controller struct {
	Spot
	ID, Name string
}

// Device is so many of one part in a room.
type Device struct {
	Part  catalogue.Part
	Count int
	Mark  rune    // a letter that stands for what it does, in Marks
	At    []Place // of those whose place was noted
}

// Place is where one device of the bill goes, as it was noted, and how it is heard from there.
type Place struct {
	Spot
	Point model.Point // from the corner of its room
	Heard bool        // Spare is known
	Spare float64     // dB to spare straight to its controller
}

// Numbers are the floors that a home has rooms on, the lowest first.
func Numbers(p *model.Project) []int {
	var out []int
	for _, r := range p.Rooms {
		if !slices.Contains(out, r.Floor) {
			out = append(out, r.Floor)
		}
	}
	slices.Sort(out)
	return out
}

// Name is what a floor is called; a first floor is another one on each side of the ocean.
func Name(n int) string {
	switch {
	case n == 0:
		return "Entrance floor"
	case n == 1:
		return "One floor up"
	case n == -1:
		return "Basement"
	case n < 0:
		return fmt.Sprintf("%d floors down", -n)
	}
	return fmt.Sprintf("%d floors up", n)
}

// Of is a floor of a home. Without a plan it has rooms and doors only; what a plan of an older project says of rooms that are no
// longer there is left out.
func Of(p *model.Project, c *catalogue.Catalogue, plan *planner.Plan, number int) Floor {
	f := Floor{Number: number}
	var rooms []model.Room
	for _, r := range p.Rooms {
		if r.Floor == number {
			rooms = append(rooms, r)
		}
	}
	var w wireless
	devices := map[string][]bill.Device{}
	if plan != nil && c != nil {
		w = newWireless(p, c, plan)
		for _, d := range plan.Bill.Devices {
			devices[d.Room] = append(devices[d.Room], d)
		}
	}
	for _, r := range rooms {
		x := Room{Room: r, Rect: rectOf(r)}
		x.Doors = doorsOf(p, rooms, r)
		if plan != nil && c != nil {
			x.furnish(p, c, devices[r.ID])
			x.Links = w.links(x, devices[r.ID])
			x.hear(&w)
		}
		if !placed(r) {
			f.Loose = append(f.Loose, x)
			continue
		}
		f.grow(x.Rect)
		f.Rooms = append(f.Rooms, x)
	}
	return f
}

func rectOf(r model.Room) Rect {
	o := r.Outline
	return Rect{float64(o.X), float64(o.Y), float64(o.Width), float64(o.Depth)}
}

func placed(r model.Room) bool { return r.Outline.Width > 0 && r.Outline.Depth > 0 }

func (f *Floor) grow(r Rect) {
	b := &f.Bounds
	if b.W == 0 {
		*b = r
		return
	}
	right, below := max(b.X+b.W, r.X+r.W), max(b.Y+b.D, r.Y+r.D)
	b.X, b.Y = min(b.X, r.X), min(b.Y, r.Y)
	b.W, b.D = right-b.X, below-b.Y
}

// All is every room of the floor: those that are drawn, then the loose ones.
func (f *Floor) All() []*Room {
	var out []*Room
	for i := range f.Rooms {
		out = append(out, &f.Rooms[i])
	}
	for i := range f.Loose {
		out = append(out, &f.Loose[i])
	}
	return out
}

// Room of the floor by its id; nil when it isn't there.
func (f *Floor) Room(id string) *Room {
	for _, r := range f.All() {
		if r.ID == id {
			return r
		}
	}
	return nil
}

// furnish puts the devices and controllers of the bill into a room.
func (x *Room) furnish(p *model.Project, c *catalogue.Catalogue, devices []bill.Device) {
	for _, d := range devices {
		part, ok := c.Part(d.Part)
		if !ok {
			continue
		}
		if part.Can(catalogue.Host) {
			x.Controllers = append(x.Controllers, Controller{x.seat(p, d.ID), d.ID, part.Name})
			continue
		}
		i := slices.IndexFunc(x.Devices, func(o Device) bool { return o.Part.ID == part.ID })
		if i < 0 {
			i, x.Devices = len(x.Devices), append(x.Devices, Device{Part: part, Mark: markOf(part)})
		}
		x.Devices[i].Count++
		if at, ok := noted(p, &x.Room, d); ok {
			x.Devices[i].At = append(x.Devices[i].At, Place{Spot: x.spotOf(model.Know(at)), Point: at})
		}
	}
	x.watch()
}

// noted is the place of a device: that of the first thing that it serves and that has one.
func noted(p *model.Project, r *model.Room, d bill.Device) (model.Point, bool) {
	for _, path := range append([]string{d.ID}, d.Covers...) {
		room, thing, _ := strings.Cut(path, "/")
		if room != r.ID {
			continue
		}
		if at, ok := physics.PlaceOf(p, r, thing); ok {
			return at, true
		}
	}
	return model.Point{}, false
}

// hear finds what each device whose place was noted has to spare from there, and from where the room's links start: from the worst of
// their places.
func (x *Room) hear(w *wireless) {
	for i := range x.Links {
		l := &x.Links[i]
		l.From = x.Middle()
		if l.State == Taken {
			continue
		}
		least, middle := w.reach.Straight(physics.Spot{Room: x.ID}, l.Radio, l.seat)
		for k := range x.Devices {
			d := &x.Devices[k]
			if d.Part.Radio != l.Radio {
				continue
			}
			for n := range d.At {
				db, ok := w.reach.Straight(physics.Spot{Room: x.ID, At: model.Know(d.At[n].Point)}, l.Radio, l.seat)
				if d.At[n].Heard, d.At[n].Spare = ok, db; ok && (!middle || db < least) {
					least, middle, l.From = db, true, d.At[n].Spot
				}
			}
		}
	}
}

// seat is where a controller stands: at the place that was noted, else in the middle of its room.
func (x *Room) seat(p *model.Project, id string) Spot {
	for _, c := range p.Controllers {
		if c.ID == id && c.Room == x.ID {
			return x.spotOf(c.Position)
		}
	}
	return x.Middle()
}

// spotOf is a place from the room's corner; where nobody noted it, the room's middle.
func (x *Room) spotOf(place model.Fact[model.Point]) Spot {
	at, ok := place.Get()
	if !ok {
		return x.Middle()
	}
	return Spot{x.X + min(float64(at.X), x.W), x.Y + min(float64(at.Y), x.D)}
}
