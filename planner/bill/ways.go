package bill

import (
	"math"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/site"
)

// Reach tells how the devices of a bill are heard, by the same reckoning as the one by which the bill was chosen: a device is in reach
// when a controller that speaks its radio hears it, by itself or by way of devices that pass the radio on.
type Reach struct {
	heard *hearing
	hosts []string         // ids of controllers, in the order of the bill
	ends  map[string]int   // a controller's node
	rings [radios][][]step // rooms that pass a radio on, by how many of them a message goes through
	drawn [radios]bool     // the rings of a radio are known
}

// step is how a room that passes a radio on is heard: by the room of the ring before, or by a controller's node.
type step struct {
	room, by int
	before   int     // in the ring before; of the first ring -1
	spare    float64 // dB of the weakest piece from here on
}

// Way is how the messages of a room's devices come to a controller.
type Way struct {
	Taken      bool         // nobody knows the places, so all is taken to be in reach
	OK         bool         // it is in reach
	Controller string       // that hears it, or the one that comes nearest to it; "" where none speaks the radio
	At         physics.Spot // where that controller is
	Straight   float64      // dB to spare straight to it
	Via        []string     // rooms whose devices pass the messages on, in their order; none where straight will do
	Spare      float64      // dB that the weakest piece of the way has
	Least      float64      // dB that are wanted of the first piece
}

// NewReach gathers the controllers of a bill and the devices that pass messages on.
func NewReach(p *model.Project, c *catalogue.Catalogue, b Bill) *Reach {
	r := &Reach{ends: map[string]int{}}
	n := newNet(p)
	if n == nil {
		return r
	}
	h := &hearing{net: n}
	for i := range radios {
		h.routers[i] = make([]bool, len(n.rooms))
	}
	r.heard = h
	for _, d := range b.Devices {
		part, ok := c.Part(d.Part)
		if !ok {
			continue
		}
		if part.Can(catalogue.Host) {
			r.addHost(d, part)
			continue
		}
		if room, ok := n.at[d.Room]; ok {
			passed(c, part, map[string]bool{}, func(radio int) { h.routers[radio][room] = true })
		}
	}
	return r
}

func (r *Reach) addHost(d Device, part catalogue.Part) {
	n, speaks := r.heard.net, d.Speaks
	if speaks == nil {
		speaks = part.Host.Radios
	}
	node := n.node(n.first())
	if i, ok := n.seat[d.ID]; ok {
		node = n.node(i)
	}
	r.hosts, r.ends[d.ID] = append(r.hosts, d.ID), node
	for _, name := range speaks {
		if i := radioOf(name); i >= 0 {
			r.heard.speak[i] = append(r.heard.speak[i], node)
			r.heard.all[i] = r.heard.all[i] || n.seats[node-len(n.rooms)].loose
		}
	}
}

// passed visits the radios that a part passes on, and those of the parts that come with it.
func passed(c *catalogue.Catalogue, part catalogue.Part, seen map[string]bool, visit func(radio int)) {
	if seen[part.ID] {
		return
	}
	seen[part.ID] = true
	if radio := radioOf(part.Radio); part.Repeats && radio >= 0 && meshes(radio) && part.Supply != "battery" {
		visit(radio)
	}
	for _, x := range part.Also {
		if with, ok := c.Part(x.Part); ok {
			passed(c, with, seen, visit)
		}
	}
}

// Straight is what a radio has to spare from a place of a room to where a controller is, in dB; false where nobody knows of one of them.
func (r *Reach) Straight(from physics.Spot, radio string, to physics.Spot) (float64, bool) {
	i := radioOf(radio)
	if r.heard == nil || i < 0 || wired(i) {
		return 0, false
	}
	n := r.heard.net
	if !n.ether.Placed(from.Room) || !n.ether.Placed(to.Room) {
		return 0, false
	}
	return n.link(from, to) + n.offset[i], true
}

// Way of a room's devices on a radio. Joined is the controller that they are joined to, which is told of where it hears them.
func (r *Reach) Way(room, radio string, alarm bool, joined string) Way {
	w := Way{Least: site.UsualMargin}
	if alarm {
		w.Least = site.AlarmMargin
	}
	i := radioOf(radio)
	if r.heard == nil || i < 0 || wired(i) {
		w.Taken, w.OK, w.Controller = true, true, joined
		return w
	}
	at, known := r.heard.net.at[room]
	if !known || r.heard.all[i] {
		w.Taken, w.OK, w.Controller = true, true, joined
		return w
	}
	node := r.straight(&w, at, i, joined)
	if node < 0 {
		return w
	}
	w.OK = r.heard.net.heard(at, node, i, alarm)
	if !w.OK {
		node = r.passedOn(&w, at, node, i, alarm)
	}
	w.At = r.heard.net.spot(node)
	w.Controller = r.named(node, joined)
	return w
}

// straight finds the controller that hears a room best, but keeps to the one that it is joined to if that will do; -1 if none speaks.
func (r *Reach) straight(w *Way, room, radio int, joined string) int {
	best, most := -1, math.Inf(-1)
	for _, c := range r.heard.speak[radio] {
		db := r.heard.net.over(room, c, radio)
		if best < 0 || db > most {
			best, most = c, db
		}
		if at, ok := r.ends[joined]; ok && at == c && db >= w.Least {
			best, most = c, db
			break
		}
	}
	w.Straight, w.Spare = most, most
	return best
}

// passedOn finds the way through the fewest rooms that pass a radio on, of those by the nearest, and tells at which controller it ends.
func (r *Reach) passedOn(w *Way, room, node, radio int, alarm bool) int {
	rings := r.ringsOf(radio)
	for n, ring := range rings {
		k := r.nearest(room, radio, alarm, len(ring), func(k int) int { return ring[k].room })
		if k < 0 {
			continue
		}
		w.OK, w.Spare = true, min(ring[k].spare, r.heard.net.over(room, ring[k].room, radio))
		for ; ; n-- {
			s := rings[n][k]
			w.Via = append(w.Via, r.heard.net.rooms[s.room])
			if n == 0 {
				w.Straight = r.heard.net.over(room, s.by, radio)
				return s.by
			}
			k = s.before
		}
	}
	return node
}

// ringsOf goes outwards from the controllers, ring by ring.
func (r *Reach) ringsOf(radio int) [][]step {
	if r.drawn[radio] || !meshes(radio) {
		return r.rings[radio]
	}
	r.drawn[radio] = true
	var left []int
	for q, passes := range r.heard.routers[radio] {
		if passes {
			left = append(left, q)
		}
	}
	speak := r.heard.speak[radio]
	count, node := len(speak), func(k int) int { return speak[k] }
	for first := true; count > 0; first = false {
		var next []step
		var rest []int
		var last []step
		if !first {
			last = r.rings[radio][len(r.rings[radio])-1]
		}
		for _, q := range left {
			k := r.nearest(q, radio, false, count, node)
			if k < 0 {
				rest = append(rest, q)
				continue
			}
			s := step{room: q, by: node(k), before: -1, spare: r.heard.net.over(q, node(k), radio)}
			if !first {
				s.before, s.spare = k, min(s.spare, last[k].spare)
			}
			next = append(next, s)
		}
		if len(next) > 0 {
			r.rings[radio] = append(r.rings[radio], next)
		}
		left, count, node = rest, len(next), func(k int) int { return next[k].room }
	}
	return r.rings[radio]
}

// nearest of some nodes that hears a room; -1 where none does. Which is near is known at once, what one hears has to be reckoned.
func (r *Reach) nearest(room, radio int, alarm bool, count int, node func(int) int) int {
	n := r.heard.net
	here := n.spot(room)
	type far struct {
		k      int
		metres float64
	}
	all := make([]far, count)
	for k := range all {
		all[k] = far{k, n.ether.Metres(here, n.spot(node(k)))}
	}
	for len(all) > 0 {
		best := 0
		for i := range all {
			if all[i].metres < all[best].metres || all[i].metres == all[best].metres && all[i].k < all[best].k {
				best = i
			}
		}
		if n.heard(room, node(all[best].k), radio, alarm) {
			return all[best].k
		}
		all[best] = all[len(all)-1]
		all = all[:len(all)-1]
	}
	return -1
}

// named is the controller at a node: that which the devices are joined to, if it is there, else the first.
func (r *Reach) named(node int, joined string) string {
	if at, ok := r.ends[joined]; ok && at == node {
		return joined
	}
	if i := slices.IndexFunc(r.hosts, func(id string) bool { return r.ends[id] == node }); i >= 0 {
		return r.hosts[i]
	}
	return ""
}
