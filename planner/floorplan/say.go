package floorplan

import (
	"fmt"
	"math"
	"strings"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/physics"
)

// Said is one sentence about a room; where it isn't well, it says what to do.
type Said struct {
	OK   bool
	Text string
}

// Says is what is to be said of a room's radio and of what its sensors see.
func (x *Room) Says(p *model.Project) []Said {
	var out []Said
	for _, l := range x.Links {
		out = append(out, Said{l.State <= Passed, x.sayLink(p, l)})
	}
	if len(x.Cover) > 0 {
		out = append(out, x.sayCover())
	}
	return out
}

func (x *Room) sayLink(p *model.Project, l Link) string {
	name := bill.RadioName(l.Radio)
	if at, ok := p.Room(l.seat.Room); ok && x.twice(l.Radio) {
		name += " to the controller in " + at.Title()
	}
	switch l.State {
	case Taken:
		return name + ": taken to be in reach, as the room or a controller has no known place; draw the room and note the controller's to be sure."
	case Good:
		return fmt.Sprintf("%s: %.0f dB to spare, %.0f wanted.", name, math.Floor(l.Spare), l.Least)
	case Passed:
		var rooms []string
		for _, id := range l.Via {
			if r, ok := p.Room(id); ok {
				rooms = append(rooms, r.Title())
			}
		}
		straight := "out of hearing"
		if l.Straight >= 0 {
			straight = fmt.Sprintf("%.0f dB, which is too little", math.Floor(l.Straight))
		}
		return fmt.Sprintf("%s: straight it would be %s; devices in %s pass it on with %.0f dB to spare.", name,
			straight, strings.Join(rooms, ", then "), math.Floor(l.Spare))
	}
	straight, err := physics.Link(p, physics.Spot{Room: x.ID}, l.seat, l.Radio, l.Alarm)
	if err != nil {
		return name + ": " + physics.Unreckoned(err).Say
	}
	text := name + ": " + straight.Because()
	if !physics.Passes(l.Radio) {
		return text + " Wi-Fi is taken to come from where the controller is; try it in the room."
	}
	in, first, second, ok := l.Repeater(p, x.ID)
	one, two := math.Floor(first.Margin.Spare), math.Floor(second.Margin.Spare)
	switch {
	case !ok || in.ID == x.ID:
	case first.OK && second.OK:
		text += fmt.Sprintf(" One in %s would have %.0f dB to here and %.0f dB onwards.", in.Title(), one, two)
	default:
		text += fmt.Sprintf(" One in %s alone is not enough: it would have %.0f dB to here and %.0f dB onwards.", in.Title(), one, two)
	}
	return text
}

// twice reports whether devices of one radio are joined to more than one controller.
func (x *Room) twice(radio string) bool {
	n := 0
	for _, l := range x.Links {
		if l.Radio == radio {
			n++
		}
	}
	return n > 1
}

// Where are the places that were noted of so many of a part, with what each has to spare: " at 0.4 m, 1.2 m (38 dB)"; "" where none was.
func (d Device) Where(u q.System) string {
	var out []string
	for _, p := range d.At {
		text := p.Point.X.Show(u) + ", " + p.Point.Y.Show(u)
		if p.Heard {
			text += fmt.Sprintf(" (%.0f dB)", math.Floor(p.Spare))
		}
		out = append(out, text)
	}
	if len(out) == 0 {
		return ""
	}
	return " at " + strings.Join(out, "; ")
}

// sayCover says how much of the floor is seen, and what to do where that is too little.
func (x *Room) sayCover() Said {
	sees := fmt.Sprintf("Its sensor sees %.0f %% of the floor", math.Round(100*x.Seen))
	if len(x.Cover) > 1 {
		sees = fmt.Sprintf("Its %d sensors see %.0f %% of the floor", len(x.Cover), math.Round(100*x.Seen))
	}
	n, will := x.More()
	switch {
	case n == 0 && will:
		return Said{true, sees + "."}
	case !will:
		return Said{false, sees + ", and more like it would not see it all: take one that sees further."}
	case n == 1:
		return Said{false, sees + ": one more like it sees the rest."}
	}
	return Said{false, fmt.Sprintf("%s: %d more like it see the rest.", sees, n)}
}
