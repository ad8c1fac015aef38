package floorplan

import (
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/physics"
)

// Link is how the devices of one room that speak one radio reach their controller: straight, or by devices on the mains that pass
// their messages on.
type Link struct {
	Radio      string
	Alarm      bool // an alarm on a battery is among them, which needs more to spare
	Devices    int
	Controller string
	From       Spot     // the worst noted place of its devices, or the middle of the room
	To         Spot     // where the controller is
	ToFloor    int      // and on which floor
	Straight   float64  // dB to spare from the worst place in the room to the controller
	Least      float64  // dB that are wanted
	Via        []string // rooms whose devices pass the messages on, in their order; none where the straight way will do
	Spare      float64  // dB that the weakest piece of the way has
	State      State
	seat       physics.Spot
}

// State of a link in a word.
type State int

// States, the best first.
const (
	Taken  State = iota // nobody knows the places, so it is taken to have the margin
	Good                // it has the margin that is wanted
	Passed              // it has it by way of other devices
	Weak                // it will fail at times
	Dead                // the receiver hears nothing
)

// wireless is what links of a home depend on.
type wireless struct {
	c     *catalogue.Catalogue
	plan  *planner.Plan
	rooms map[string]Room // with their outlines, and nothing else
	reach *bill.Reach
}

func newWireless(p *model.Project, c *catalogue.Catalogue, plan *planner.Plan) wireless {
	w := wireless{c: c, plan: plan, rooms: map[string]Room{}, reach: bill.NewReach(p, c, plan.Bill)}
	for _, r := range p.Rooms {
		if _, twice := w.rooms[r.ID]; !twice {
			w.rooms[r.ID] = Room{Room: r, Rect: rectOf(r)}
		}
	}
	return w
}

// links of a room, one for each radio and controller, in the order of its devices. Which of them are in reach is the bill's to say.
func (w *wireless) links(x Room, devices []bill.Device) []Link {
	var out []Link
	for _, d := range devices {
		part, ok := w.c.Part(d.Part)
		if !ok || part.Can(catalogue.Host) || part.Can(catalogue.Speak) || part.Radio == "" || part.Radio == "wired" {
			continue
		}
		joined := w.joined(d)
		alarm := part.Supply == "battery" && part.Can(catalogue.SenseWet)
		i := slices.IndexFunc(out, func(l Link) bool { return l.Radio == part.Radio && l.Controller == joined })
		if i < 0 {
			i, out = len(out), append(out, Link{Radio: part.Radio, Controller: joined})
		}
		out[i].Devices++
		out[i].Alarm = out[i].Alarm || alarm
	}
	kept := out[:0]
	for _, l := range out {
		if w.reckon(&l, x.ID) {
			kept = append(kept, l)
		}
	}
	return kept
}

// joined is the controller that a device is joined to; "" where the plan says nothing of it.
func (w *wireless) joined(d bill.Device) string {
	if at, ok := w.plan.Placed.Joined[d.ID]; ok {
		return at
	}
	for _, thing := range d.Covers {
		if at, ok := w.plan.Placed.Joined[thing]; ok {
			return at
		}
	}
	return ""
}

// reckon fills a link in; it is false where no controller speaks the radio.
func (w *wireless) reckon(l *Link, room string) bool {
	way := w.reach.Way(room, l.Radio, l.Alarm, l.Controller)
	l.Least = way.Least
	if way.Taken {
		l.State = Taken
		return true
	}
	l.Controller, l.Straight, l.Via, l.Spare, l.seat = way.Controller, way.Straight, way.Via, way.Spare, way.At
	if home, ok := w.rooms[way.At.Room]; ok {
		l.ToFloor, l.To = home.Floor, home.spotOf(way.At.At)
	}
	switch {
	case way.OK && len(way.Via) > 0:
		l.State = Passed
	case way.OK:
		l.State = Good
	case l.Spare < 0:
		l.State = Dead
	default:
		l.State = Weak
	}
	return way.Controller != ""
}

// Path is the way of a link as far as it lies on the floor. Nothing is to be drawn of one that is taken to reach, as nobody knows where
// its ends are.
func (f *Floor) Path(l Link) []Spot {
	if l.State == Taken {
		return nil
	}
	out := []Spot{l.From}
	for _, id := range l.Via {
		if r := f.Room(id); r != nil {
			out = append(out, r.Middle())
		}
	}
	if l.ToFloor == f.Number {
		out = append(out, l.To)
	}
	return out
}

// Repeater is the room in which a part on the mains that repeats would help the link of a room most, with what the two pieces of
// the way would have; false where none makes it better than it is.
func (l Link) Repeater(p *model.Project, room string) (in model.Room, first, second physics.Heard, ok bool) {
	return physics.Between(p, physics.Spot{Room: room}, l.seat, l.Radio, l.Alarm)
}

// Worst is the link of a room that has least to spare, of those in the worst state; false where nothing of it is on the air.
func (x *Room) Worst() (Link, bool) {
	var out Link
	for i, l := range x.Links {
		if i == 0 || l.State > out.State || l.State == out.State && l.Spare < out.Spare {
			out = l
		}
	}
	return out, len(x.Links) > 0
}
