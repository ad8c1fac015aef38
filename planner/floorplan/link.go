package floorplan

import (
	"math"

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
	To         Spot          // where the controller is
	ToFloor    int           // and on which floor
	Straight   physics.Heard // from the middle of the room to the controller
	Via        []string      // rooms whose devices pass the messages on, in their order; none where the straight way will do
	Spare      float64       // dB that the weakest piece of the way has
	State      State
	seat       physics.Spot
}

// State of a link in a word.
type State int

// States, the best first.
const (
	Good   State = iota // it has the margin that is wanted
	Passed              // it has it by way of other devices
	Weak                // it will fail at times
	Dead                // the receiver hears nothing
)

// farRepeaters is how far from a room a device may be that passes its messages on, in m; hops is by how many of them.
const (
	farRepeaters = 40.0
	hops         = 4
)

// wireless is what links of a home depend on.
type wireless struct {
	p       *model.Project
	c       *catalogue.Catalogue
	plan    *planner.Plan
	rooms   map[string]Room // with their outlines, and nothing else
	hosts   []host
	routers map[string][]string // by radio: rooms with devices that pass it on
	heard   map[wayKey]physics.Heard
	trees   map[wayKey]map[string]step // by controller and radio
}

type host struct {
	id   string
	room Room
	at   physics.Spot
}

// wayKey is a link from a room to another, or to a controller.
type wayKey struct {
	from, to, host, radio string
	alarm                 bool
}

// step is how a room whose devices pass messages on is heard by a controller: by so many others, the next of them first.
type step struct {
	hops  int
	next  string // "" where the controller hears it
	spare float64
}

func newWireless(p *model.Project, c *catalogue.Catalogue, plan *planner.Plan) wireless {
	w := wireless{p: p, c: c, plan: plan, routers: map[string][]string{}, heard: map[wayKey]physics.Heard{}, trees: map[wayKey]map[string]step{}, rooms: map[string]Room{}}
	for _, r := range p.Rooms {
		if _, twice := w.rooms[r.ID]; !twice {
			w.rooms[r.ID] = Room{Room: r, Rect: rectOf(r)}
		}
	}
	done := map[[2]string]bool{}
	for _, d := range plan.Bill.Devices {
		part, ok := c.Part(d.Part)
		room, here := w.rooms[d.Room]
		if !ok || !here {
			continue
		}
		if part.Can(catalogue.Host) {
			h := host{id: d.ID, room: room, at: physics.Spot{Room: d.Room}}
			for _, x := range p.Controllers {
				if x.ID == d.ID && x.Room == d.Room {
					h.at.At = x.Position
				}
			}
			w.hosts = append(w.hosts, h)
			continue
		}
		if key := [2]string{part.Radio, d.Room}; passesOn(part) && placed(room.Room) && !done[key] {
			done[key] = true
			w.routers[part.Radio] = append(w.routers[part.Radio], d.Room)
		}
	}
	return w
}

// passesOn tells whether a part passes other devices' messages on; Wi-Fi has no such thing.
func passesOn(p catalogue.Part) bool {
	return p.Repeats && p.Supply != "battery" && p.Radio != "wifi" && p.Radio != "wired"
}

// links of a room, one for each radio and controller, in the order of its devices.
func (w *wireless) links(x Room, devices []bill.Device) []Link {
	var out []Link
	var to []host
	for _, d := range devices {
		part, ok := w.c.Part(d.Part)
		if !ok || part.Can(catalogue.Host) || part.Can(catalogue.Speak) || part.Radio == "" || part.Radio == "wired" {
			continue
		}
		h, ok := w.hostOf(d.ID, d.Covers, x)
		if !ok {
			continue
		}
		alarm := part.Supply == "battery" && part.Can(catalogue.SenseWet)
		found := false
		for i := range out {
			if l := &out[i]; l.Radio == part.Radio && l.Controller == h.id {
				l.Devices++
				l.Alarm = l.Alarm || alarm
				found = true
			}
		}
		if !found {
			out, to = append(out, Link{Radio: part.Radio, Alarm: alarm, Devices: 1, Controller: h.id}), append(to, h)
		}
	}
	kept := out[:0]
	for i, l := range out {
		if w.reckon(&l, x.ID, to[i]) {
			kept = append(kept, l)
		}
	}
	return kept
}

// hostOf is the controller that a device is joined to, or the nearest where the plan says nothing of it.
func (w *wireless) hostOf(id string, covers []string, x Room) (host, bool) {
	for _, thing := range append([]string{id}, covers...) {
		for _, h := range w.hosts {
			if h.id == w.plan.Placed.Joined[thing] {
				return h, true
			}
		}
	}
	best, least := host{}, math.Inf(1)
	for _, h := range w.hosts {
		far := math.Hypot(x.Middle().X-h.room.X-float64(h.at.At.X), x.Middle().Y-h.room.Y-float64(h.at.At.Y)) + 4*math.Abs(float64(h.room.Floor-x.Floor))
		if far < least {
			best, least = h, far
		}
	}
	return best, len(w.hosts) > 0
}

// reckon fills a link in; it is false where nothing is known of the radio.
func (w *wireless) reckon(l *Link, room string, h host) bool {
	straight, ok := w.toHost(room, h, l.Radio, l.Alarm)
	if !ok {
		return false
	}
	l.Straight, l.Spare = straight, straight.Margin.Spare
	l.ToFloor, l.seat, l.To = h.room.Floor, h.at, h.room.seat(w.p, h.id)
	if straight.OK {
		return true
	}
	if way, spare, ok := w.by(room, h, l.Radio, l.Alarm); ok {
		l.Via, l.Spare, l.State = way, spare, Passed
		return true
	}
	l.State = Weak
	if l.Spare < 0 {
		l.State = Dead
	}
	return true
}

func (w *wireless) toHost(room string, h host, radio string, alarm bool) (physics.Heard, bool) {
	return w.hear(wayKey{from: room, host: h.id, radio: radio, alarm: alarm}, h.at)
}

func (w *wireless) toRoom(from, to, radio string, alarm bool) (physics.Heard, bool) {
	if !w.near(from, to) {
		return physics.Heard{}, false
	}
	return w.hear(wayKey{from: from, to: to, radio: radio, alarm: alarm}, physics.Spot{Room: to})
}

func (w *wireless) hear(k wayKey, to physics.Spot) (physics.Heard, bool) {
	if h, ok := w.heard[k]; ok {
		return h, true
	}
	h, err := physics.Link(w.p, physics.Spot{Room: k.from}, to, k.radio, k.alarm)
	if err != nil {
		return h, false
	}
	w.heard[k] = h
	return h, true
}

// by finds the way over the fewest devices that pass the messages on, each piece with the margin that it needs; among those of
// one length the one whose weakest piece has most.
func (w *wireless) by(room string, h host, radio string, alarm bool) (way []string, spare float64, ok bool) {
	if !placed(w.rooms[room].Room) {
		return nil, 0, false
	}
	tree := w.tree(h, radio)
	best, first := step{hops: hops + 1}, ""
	for _, r := range w.routers[radio] {
		t, reached := tree[r]
		if !reached || t.hops > best.hops {
			continue
		}
		one, good := w.toRoom(room, r, radio, alarm)
		if !good || !one.OK {
			continue
		}
		if s := min(t.spare, one.Margin.Spare); t.hops < best.hops || s > best.spare {
			best, first = step{hops: t.hops, spare: s}, r
		}
	}
	for at := first; at != ""; at = tree[at].next {
		way = append(way, at)
	}
	return way, best.spare, first != ""
}

// tree is how a controller hears the rooms whose devices pass a radio on, ring by ring around it.
func (w *wireless) tree(h host, radio string) map[string]step {
	k := wayKey{host: h.id, radio: radio}
	if t, ok := w.trees[k]; ok {
		return t
	}
	t, ring := map[string]step{}, []string(nil)
	for _, r := range w.routers[radio] {
		if last, ok := w.toHost(r, h, radio, false); ok && last.OK {
			t[r] = step{hops: 1, spare: last.Margin.Spare}
			ring = append(ring, r)
		}
	}
	for n := 2; n <= hops && len(ring) > 0; n++ {
		var next []string
		for _, r := range w.routers[radio] {
			if _, done := t[r]; done {
				continue
			}
			best := step{}
			for _, q := range ring {
				if one, ok := w.toRoom(r, q, radio, false); ok && one.OK {
					if s := min(t[q].spare, one.Margin.Spare); best.hops == 0 || s > best.spare {
						best = step{n, q, s}
					}
				}
			}
			if best.hops > 0 {
				t[r] = best
				next = append(next, r)
			}
		}
		ring = next
	}
	w.trees[k] = t
	return t
}

// near spares the reckoning of links that are out of the question.
func (w *wireless) near(a, b string) bool {
	ra, rb := w.rooms[a], w.rooms[b]
	up := ra.Floor - rb.Floor
	return math.Hypot(ra.Middle().X-rb.Middle().X, ra.Middle().Y-rb.Middle().Y) <= farRepeaters && up >= -2 && up <= 2
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
