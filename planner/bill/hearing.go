package bill

import "cmp"

// hearing is what a choice for the home comes to on the air.
type hearing struct {
	net     *net
	ends    [radios][]uint8 // by room: 0 no device, 1 some, 2 an alarm on batteries among them
	routers [radios][]bool  // by room
	speak   [radios][]int   // nodes of controllers
	all     [radios]bool    // a controller of that radio stands nobody knows where: all is taken to be in reach
	lit     [radios][]bool  // by room: on a way to a controller, as far as is known

	// of one trace: by room, the round in which it was seen or would help, and from where it was come to
	round              int
	seen, near, before []int
	queue              []int
}

// repeaterAt is a repeater in a room that has been added for reach alone.
type repeaterAt struct{ room, radio int }

func (a repeaterAt) compare(b repeaterAt) int { return cmp.Or(a.radio-b.radio, a.room-b.room) }

// listen gathers it: the way taken for each group, repeaters besides, and the controllers.
func (r *router) listen(taken []*point, added []repeaterAt, hs *hosts, hp hostPlan) *hearing {
	h := &hearing{net: r.net}
	for i := range radios {
		h.ends[i], h.routers[i], h.lit[i] = make([]uint8, len(r.net.rooms)), make([]bool, len(r.net.rooms)), make([]bool, len(r.net.rooms))
	}
	for g, pt := range taken {
		room := r.room[g]
		if room < 0 || pt == nil {
			continue
		}
		for i := range radios {
			if pt.slots[i] > 0 {
				h.ends[i][room] = max(h.ends[i][room], 1+(pt.alarms()>>i&1))
			}
			h.routers[i][room] = h.routers[i][room] || pt.passes()>>i&1 == 1
		}
	}
	for _, a := range added {
		h.routers[a.radio][a.room] = true
	}
	hs.each(hp, func(place string, s *setup) {
		node := r.net.node(r.net.first())
		if i, ok := r.net.seat[place]; ok {
			node = r.net.node(i)
		}
		for i := range radios {
			if s.brings[i] > 0 {
				h.speak[i] = append(h.speak[i], node)
				h.all[i] = h.all[i] || r.net.seats[node-len(r.net.rooms)].loose
			}
		}
	})
	return h
}

// each goes through the controllers of a plan with the ids of their places, "" for those that nobody named.
func (h *hosts) each(hp hostPlan, do func(place string, s *setup)) {
	next := make([]int, len(h.places))
	for _, s := range hp.seated {
		for range s.count {
			place := ""
			if s.group >= 0 {
				place = h.places[s.group].places[next[s.group]].ID
				next[s.group]++
			}
			do(place, s.setup)
		}
	}
}

// lost is devices of one room and radio that no controller hears.
type lost struct {
	room, radio int
	alarm       bool  // the alarms alone
	near        []int // rooms where something new that passes the radio on would be heard by them, or by what passes them on already
	seats       []int // of controllers that would hear so, if they spoke the radio
}

// missing lists what isn't heard, by radio and room.
func (h *hearing) missing() (all []lost) {
	for radio := range radios {
		all = append(all, h.missingOn(radio)...)
	}
	return all
}

// missingOn lists what isn't heard on one radio, by room.
func (h *hearing) missingOn(radio int) (all []lost) {
	if wired(radio) || h.all[radio] {
		return nil
	}
	for room, end := range h.ends[radio] {
		for level := uint8(1); level <= end; level++ {
			if l, ok := h.trace(room, radio, level == 2); !ok {
				all = append(all, l)
				break
			}
		}
	}
	return all
}

// direct reports whether a controller hears a room by itself.
func (h *hearing) direct(room, radio int, alarm bool) bool {
	for _, c := range h.speak[radio] {
		if h.net.heard(room, c, radio, alarm) {
			return true
		}
	}
	return false
}

// trace follows a room's messages from device to device until a controller hears them. Where none does, it says what would
// change that: whatever way there may be comes in by one of these rooms or seats.
func (h *hearing) trace(room, radio int, alarm bool) (lost, bool) {
	if h.direct(room, radio, alarm) {
		return lost{}, true
	}
	l := lost{room: room, radio: radio, alarm: alarm}
	if h.round++; h.seen == nil {
		h.seen, h.near, h.before = make([]int, len(h.net.rooms)), make([]int, len(h.net.rooms)), make([]int, len(h.net.rooms))
	}
	queue := h.queue[:0]
	defer func() { h.queue = queue }()
	look := func(at, from int, alarm bool) { // from is -1 for the room's own messages
		if !meshes(radio) {
			return
		}
		for _, q := range h.net.around(at, radio) {
			switch {
			case h.seen[q] == h.round || alarm && !h.net.heard(q, at, radio, true):
			case h.routers[radio][q]:
				h.seen[q], h.before[q] = h.round, from
				queue = append(queue, q)
			default:
				h.near[q] = h.round
			}
		}
	}
	look(room, -1, alarm)
	for i := 0; i < len(queue); i++ {
		q := queue[i]
		if h.lit[radio][q] || h.direct(q, radio, false) {
			for ; q >= 0; q = h.before[q] {
				h.lit[radio][q] = true
			}
			return l, true
		}
		look(q, q, false)
	}
	for q := range h.net.rooms {
		if h.near[q] == h.round && h.seen[q] != h.round {
			l.near = append(l.near, q)
		}
	}
	for s := range h.net.seats {
		hears := h.net.heard(room, h.net.node(s), radio, alarm)
		for _, q := range queue {
			hears = hears || h.net.heard(q, h.net.node(s), radio, false)
		}
		if hears {
			l.seats = append(l.seats, s)
		}
	}
	return l, false
}
