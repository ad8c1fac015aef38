package bill

import "math"

// layout is the one that a choice in fractions comes nearest to: all that it takes by more than half.
func (w *whole) layout(x []float64, half float64) layout {
	l := layout{speak: map[int]int{}, passes: map[repeaterAt]int{}}
	for c := range w.classes {
		cl := &w.classes[c]
		took := func(o int) bool { return x[cl.first+o] > half }
		switch {
		case cl.host:
			for o, s := range cl.setups {
				if took(o) && cl.seat == len(w.seats) {
					l.speak[unnamed] |= s.brings.kit()
				} else if took(o) {
					l.speak[cl.seat] |= s.brings.kit()
				}
			}
		case cl.front != nil && cl.groups == nil:
			if x[cl.first] < 1-half {
				l.added = append(l.added, cl.adds)
			}
		case cl.front != nil && w.room[cl.groups[0]] >= 0:
			for o := range cl.options {
				for i := range radios {
					if took(o) && cl.front.points[o].pass>>i&1 == 1 {
						l.passes[repeaterAt{w.room[cl.groups[0]], i}] = cl.groups[0]
					}
				}
			}
		}
	}
	for _, u := range w.users {
		at := repeaterAt{u.room, u.radio}
		if v, ok := w.given[at]; ok && x[v] > half && !l.gives(at) {
			l.given = append(l.given, at)
		}
	}
	return l
}

// seeker looks for the best home with its routes.
type seeker struct {
	*router
	hs     *hosts
	fronts []*front
	best   *stay // so far
	tried  map[string]bool
	most   int // cells to reckon
	work   int // that were
}

// try settles the layouts that a choice in fractions comes near to.
func (s *seeker) try(w *whole, x []float64) error {
	for _, half := range []float64{0.5, 0.2} {
		if err := s.take(w.layout(x, half)); err != nil {
			return err
		}
	}
	return nil
}

// takenNodes is how many nodes of branch.go are visited for a layout.
const takenNodes = 1000

// take makes the home of a layout the best if it is.
func (s *seeker) take(l layout) error {
	key := l.key()
	if s.tried[key] {
		return nil
	}
	s.tried[key] = true
	was := s.haste
	if s.nodes = takenNodes; s.best != nil && s.best.lost == 0 {
		s.below = s.best.money
	}
	next, ok, err := s.settle(l, s.hs, s.fronts)
	s.haste = was
	if ok && (s.best == nil || next.merit.less(s.best.merit)) {
		s.best = next
	}
	return err
}

// seek finds the best home: first as little as can be out of reach, then the aim's toll, then money. No home is better than least, unless it is
// the best. There may be none.
func (s *seeker) seek() (least merit, err error) {
	bounds := noMost
	if s.best == nil || s.best.lost > 0 {
		least.lost, err = s.step(task{goal: goal{most: bounds}, lost: true}, func(b *stay) Money { return Money(b.lost) })
		if err != nil || s.best == nil || least.lost < s.best.lost {
			return least, err
		}
	}
	t := task{spare: least.lost}
	if toll := s.aim.toll(); toll >= 0 {
		t.goal = leastOf(toll)
		least.toll, err = s.step(t, func(b *stay) Money { return Money(b.toll) })
		if err != nil || least.toll < s.best.toll {
			return least, err
		}
		bounds[toll] = s.best.toll
	}
	t.goal = goal{weights: s.worth.weights(), most: bounds}
	low, err := s.step(t, func(b *stay) Money { return b.money })
	least.money = Money(low)
	return least, err
}

// step makes one thing as little as can be, and tells what it is not less than.
func (s *seeker) step(t task, value func(*stay) Money) (int, error) {
	low := Money(math.MaxInt64)
	d := s.h.decider(s.hs.apart())
	for _, set := range d.hosts {
		extra := t.sum(0, set.extra)
		inner := t
		for i := range inner.most {
			if inner.most[i] != noBound {
				inner.most[i] -= set.extra[i]
			}
		}
		if !set.extra.within(t.most) {
			continue
		}
		for _, beyond := range []bool{false, true} {
			c := set.chooser(d, t.weights)
			c.goal.most = inner.most
			cutoff := Money(math.MaxInt64 / 4)
			if s.best != nil {
				cutoff = value(s.best) - extra
			}
			if none := len(c.hosts.places) == 0 || c.hosts.more(); !beyond && none || beyond && !t.lost && c.hosts.least(c.weights)-c.money*worth(c.hosts.owned) >= cutoff {
				low = min(low, cutoff+extra)
				continue
			}
			inner.beyond = beyond
			w := s.newWhole(c, s.fronts, inner)
			w.cutoff = cutoff
			at, err := w.search(s.most, func(x []float64) error {
				err := s.try(w, x)
				if s.best != nil {
					w.cutoff = min(w.cutoff, value(s.best)-extra)
				}
				return err
			})
			if err != nil {
				return 0, err
			}
			low = min(low, at+extra)
			s.work += w.work
		}
	}
	return int(low), nil
}

// merit of a home.
func (r *router) merit(k *routed) merit {
	m := merit{lost: len(k.given), money: k.cost}
	if t := r.aim.toll(); t >= 0 {
		m.toll = k.solution.toll[t]
	}
	return m
}

// toil is how many cells are reckoned before a home has to do with what it has, light how many when it is chosen again and again.
const (
	toil  = 3e8
	light = 4e5
)

// prior is what is known of a home that was chosen before and differs in some facts.
type prior struct {
	layout
	leans map[repeaterAt]string // need that is covered by what passes a radio on, as groups may be others now
	work  int                   // that it took
}

// newPrior keeps the routes of a home.
func newPrior(h *home) *prior {
	k := h.routed
	p := &prior{layout: h.router.layout(k, k.added), leans: map[repeaterAt]string{}, work: k.work}
	for at, g := range p.passes {
		for _, o := range k.taken[g].offers {
			one := point{offers: []*offer{o}}
			for t, n := range o.covers {
				if n > 0 && one.passes()>>at.radio&1 == 1 {
					p.leans[at] = h.groups[g].types[t].spots[0].ID
				}
			}
		}
	}
	return p
}

// of is the routes for a home whose groups may be others.
func (p *prior) of(h *home) layout {
	l := p.layout
	l.passes = map[repeaterAt]int{}
	groups := map[string]int{}
	for g := range h.groups {
		for _, t := range h.groups[g].types {
			for _, sp := range t.spots {
				groups[sp.ID] = g
			}
		}
	}
	for at, id := range p.leans {
		if g, ok := groups[id]; ok {
			l.passes[at] = g
		}
	}
	return l
}

// fixed reports whether routes stay as they were, because to seek them anew took long.
func (p *prior) fixed() bool { return p != nil && p.work > light }

// seek finds the best home where trying routes one by one takes too long. queue holds what is open of that, and root the home
// without looking at reach.
func (r *router) seek(hs *hosts, fronts []*front, queue stays, root *routed) (*routed, bool, error) {
	s := &seeker{router: r, hs: hs, fronts: fronts, tried: map[string]bool{}, most: r.toil}
	if err := s.take(r.layout(root, nil)); err != nil {
		return nil, false, err
	}
	if r.prior != nil {
		if err := s.take(r.prior.of(r.h)); err != nil {
			return nil, false, err
		}
	}
	least := queue[0].merit
	if !(r.prior.fixed() && s.best != nil) {
		low, err := s.seek()
		if err != nil {
			return nil, false, err
		}
		if least.less(low) {
			least = low
		}
	}
	if s.best == nil {
		k, ok, err := r.dive(hs, fronts, queue)
		if err != nil || !ok {
			return nil, false, err
		}
		k.free, k.program = &root.solution, true
		return k, true, nil
	}
	k := s.best.known
	k.added, k.given, k.limits, k.free = s.best.added, s.best.given, s.best.limits, &root.solution
	k.program, k.work, k.open = true, s.work, r.open(least, s.best.merit)
	return k, true, nil
}
