package bill

import (
	"fmt"
	"slices"
)

// layout is all that decides which rooms are in reach: what controllers speak, and which rooms pass what radios on.
type layout struct {
	speak  map[int]int // by seat: radios as bits
	added  []repeaterAt
	passes map[repeaterAt]int // rooms where a part that covers needs does it: the group whose part
	given  []repeaterAt       // rooms that may use a radio though nothing hears it
}

func (l layout) gives(at repeaterAt) bool { return slices.Contains(l.given, at) }

// layout of a home.
func (r *router) layout(k *routed, added []repeaterAt) layout {
	l := layout{speak: map[int]int{}, added: added, passes: map[repeaterAt]int{}}
	k.hosts.each(k.hosted, func(place string, s *setup) {
		i, ok := r.seat[place]
		if !ok {
			i = unnamed
		}
		l.speak[i] |= s.brings.kit()
	})
	for g, pt := range k.taken {
		if room := r.room[g]; room >= 0 {
			for i := range radios {
				if at := (repeaterAt{room, i}); pt.passes()>>i&1 == 1 {
					if _, ok := l.passes[at]; !ok {
						l.passes[at] = g
					}
				}
			}
		}
	}
	return l
}

// key tells layouts apart.
func (l layout) key() string { return fmt.Sprint(l.speak, l.added, l.passes, l.given) }

// flood is what a layout brings into reach, by radio and room: 0 nothing, 1 devices, 2 alarms on batteries too. use lists the rooms
// that pass messages on, each of which brings a room into reach that those before it don't.
func (r *router) flood(l layout) (reach [radios][]uint8, use []repeaterAt) {
	for radio := range radios {
		reach[radio] = make([]uint8, len(r.rooms))
		if wired(radio) {
			for q := range reach[radio] {
				reach[radio][q] = 2
			}
			continue
		}
		f := flooding{router: r, radio: radio, reach: reach[radio]}
		for seat := unnamed; seat < len(r.seats); seat++ {
			if l.speak[seat]>>radio&1 == 1 {
				f.from(r.node(max(seat, 0)), seat == unnamed)
			}
		}
		routers := map[int]bool{}
		for at := range l.passes {
			routers[at.room] = routers[at.room] || at.radio == radio
		}
		for _, at := range l.added {
			routers[at.room] = routers[at.room] || at.radio == radio
		}
		for at := f.next(routers); at >= 0; at = f.next(routers) {
			use = append(use, repeaterAt{at, radio})
			f.spread(at)
			delete(routers, at)
		}
	}
	return reach, use
}

// flooding goes outwards from the controllers of a radio.
type flooding struct {
	*router
	radio int
	reach []uint8
}

func (f *flooding) from(node int, first bool) {
	if first {
		node = f.node(f.first())
	}
	for q := range f.reach {
		f.raise(q, node)
	}
}

func (f *flooding) raise(q, node int) (gain int) {
	level := uint8(0)
	switch {
	case f.heard(q, node, f.radio, true):
		level = 2
	case f.heard(q, node, f.radio, false):
		level = 1
	}
	if level > f.reach[q] {
		gain = int(level - f.reach[q])
		f.reach[q] = level
	}
	return gain
}

func (f *flooding) spread(at int) {
	for _, q := range f.around(at, f.radio) {
		f.raise(q, at)
	}
}

// next is the room in reach that passes the radio on to most; -1 when none brings more. Who brings no more never will, and is left out.
func (f *flooding) next(routers map[int]bool) int {
	best, most := -1, 0
	for at := range f.reach {
		if !routers[at] || f.reach[at] == 0 || !meshes(f.radio) {
			continue
		}
		gain := 0
		for _, q := range f.around(at, f.radio) {
			if f.reach[q] == 0 {
				gain += 2
			} else if f.reach[q] == 1 && f.heard(q, at, f.radio, true) {
				gain++
			}
		}
		if gain == 0 {
			delete(routers, at)
		}
		if gain > most {
			best, most = at, gain
		}
		if best >= 0 && len(f.reach) > vast {
			break
		}
	}
	return best
}

// settle finds the best home of a layout: whatever it brings into reach is free to all, and what it doesn't is not used.
func (r *router) settle(l layout, hs *hosts, fronts []*front) (*stay, bool, error) {
	reach, use := r.flood(l)
	s := &stay{limits: map[int]limit{}, speak: map[int]int{}}
	for seat, kit := range l.speak {
		if seat == unnamed {
			kit &^= l.speak[r.first()] // one that stands there speaks these
		}
		if kit &^= 1 << radioOf("wired"); kit != 0 {
			s.speak[seat] = kit
		}
	}
	for g, q := range r.room {
		var x limit
		for radio := range radios {
			switch {
			case q < 0 || l.gives(repeaterAt{q, radio}):
			case reach[radio][q] == 0:
				x.avoid |= 1 << radio
			case reach[radio][q] == 1:
				x.calm |= 1 << radio
			}
		}
		if x != (limit{}) {
			s.limits[g] = x
		}
	}
	for _, at := range use {
		if slices.Contains(l.added, at) {
			s.added = append(s.added, at)
			continue
		}
		g := l.passes[at]
		x := s.limits[g]
		x.pass |= 1 << at.radio
		s.limits[g] = x
	}
	ok, err := r.look(s, hs, fronts)
	if !ok || err != nil {
		return nil, false, err
	}
	for _, m := range s.missing() {
		at := repeaterAt{m.room, m.radio}
		if !l.gives(at) {
			return nil, false, nil // what it leans on sits elsewhere
		}
		s.given = append(s.given, at)
	}
	s.lost = len(s.given)
	return s, true, nil
}
