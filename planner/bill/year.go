package bill

import (
	"fmt"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/physics"
)

// Year is what a home uses in a year: cells by the reports to expect of each device, power by the usual hours of lamps and
// fans and what devices use at rest.
type Year struct {
	Rooms []RoomYear `json:"rooms"` // in the order of the project, those that the bill has devices for; then the home's own under room ""
	Cells float64    `json:"cells"`
	KWh   float64    `json:"kwh"`
}

// RoomYear is the share of one room.
type RoomYear struct {
	Room       string  `json:"room"`
	Name       string  `json:"name"`
	Cells      float64 `json:"cells"`       // changed a year
	Shortest   float64 `json:"shortest"`    // years until the first device of the room needs cells, in the cold; 0 without cells
	LampsKWh   float64 `json:"lamps_kwh"`   // by usual hours of the kind of room
	FansKWh    float64 `json:"fans_kwh"`    // by what they have to dry
	DevicesKWh float64 `json:"devices_kwh"` // at rest
}

// KWh of all together.
func (r RoomYear) KWh() float64 { return r.LampsKWh + r.FansKWh + r.DevicesKWh }

// year fills it in.
func (w *writer) year() {
	people := 0
	for _, x := range w.p.People {
		if x.Role != "pet" && x.Role != "neighbour" && x.Role != "guest" {
			people++
		}
	}
	in := map[string][]catalogue.Part{}
	for _, d := range w.bill.Devices {
		in[d.Room] = append(in[d.Room], *w.h.sh.byID[d.Part].Part)
	}
	y := Year{Rooms: []RoomYear{}}
	add := func(r RoomYear, kind string, parts []catalogue.Part) {
		for _, part := range parts {
			b, ok, err := physics.BatteryOf(part, physics.Reports(part, kind, people))
			if err != nil || !ok {
				continue
			}
			r.Cells += b.CellsAYear
			if r.Shortest == 0 || b.Least < r.Shortest {
				r.Shortest = b.Least
			}
		}
		y.Rooms = append(y.Rooms, r)
		y.Cells += r.Cells
		y.KWh += r.KWh()
	}
	for _, room := range w.p.Rooms {
		parts := in[room.ID]
		if len(parts) == 0 {
			continue
		}
		delete(in, room.ID)
		e := physics.EnergyOf(w.p, room, parts)
		add(RoomYear{Room: room.ID, Name: room.Title(), LampsKWh: e.Lamps, FansKWh: e.Fans, DevicesKWh: e.Devices}, room.Kind, parts)
	}
	if parts := in[""]; len(parts) > 0 {
		add(RoomYear{DevicesKWh: physics.AtRest(parts)}, "", parts)
	}
	w.bill.Year = y
}

// Says puts a room's year in words: "3.2 cells, 41 kWh".
func (r RoomYear) Says() string {
	kwh := fmt.Sprintf("%.0f kWh", r.KWh())
	if r.Cells == 0 {
		return kwh
	}
	return fmt.Sprintf("%.1f cells, %s", r.Cells, kwh)
}

// year writes the table of the rooms.
func (t *text) year() {
	y := t.b.Year
	if y.Cells == 0 && y.KWh < 0.5 {
		return
	}
	t.line("")
	t.line("In a year")
	for _, r := range y.Rooms {
		if r.Cells == 0 && r.KWh() < 0.5 {
			continue
		}
		name := r.Name
		switch {
		case r.Room == "":
			name = "The home"
		case t.name != nil:
			name = t.name(r.Room)
		}
		says := r.Says()
		if r.Shortest > 0 {
			says += fmt.Sprintf(", first cells after %.1f years", r.Shortest)
		}
		t.wrapped(name+": "+says+".", "  ")
	}
	t.wrapped(fmt.Sprintf("Together about %.1f cells and %.0f kWh: cells by the reports to expect of each device, in the cold; lamps by the usual hours of such rooms, fans by what they have to dry, devices at rest.", y.Cells, y.KWh), "  ")
}
