package bill

import "sort"

// air is what matters of a way or an article to the radios of a home. Most homes are chosen without looking at it; only where
// a device is out of reach is it told apart.
type air struct {
	wide bool  // it counts
	pass uint8 // radios whose messages it passes on, as bits
	loud uint8 // radios on which it is an alarm on batteries
}

func (a air) and(b air) air { return air{a.wide || b.wide, a.pass | b.pass, a.loud | b.loud} }

// serves reports whether it passes on at least as much and asks no more.
func (a air) serves(b air) bool {
	return !b.wide || b.pass&^a.pass == 0 && a.loud&^b.loud == 0
}

func (in *coverInputs) airOf(o *offer) air {
	if !in.wide {
		return air{}
	}
	a := air{wide: true, pass: o.article.passes(), loud: o.article.alarms()}
	for _, x := range o.extras {
		a.pass |= x.article.passes()
	}
	return a
}

// passes are the radios that a way passes on, alarms those on which it has an alarm on batteries.
func (p *point) passes() (bits uint8) {
	for _, o := range p.offers {
		bits |= o.article.passes()
		for _, x := range o.extras {
			bits |= x.article.passes()
		}
	}
	return bits
}

func (p *point) alarms() (bits uint8) {
	for _, o := range p.offers {
		bits |= o.article.alarms()
	}
	return bits
}

// limit is what a group's way must be like: radios as bits that it may not use, on which it may have no alarm on
// batteries, and that it must pass on.
type limit struct{ avoid, calm, pass uint8 }

// wide is the front with ways besides that only the air sets apart: dearer ones that pass a radio on.
func (f *front) wide() *front {
	if f.all == nil {
		in := f.inputs
		in.wide = true
		f.all = &front{points: in.ways(), inputs: in}
	}
	return f.all
}

// under is the front within a limit; it has no points where nothing keeps to it.
func (f *front) under(l limit) *front {
	if l == (limit{}) {
		return f
	}
	if g := f.limited[l]; g != nil {
		return g
	}
	g := &front{inputs: f.inputs}
	for _, p := range f.wide().points {
		if uint8(p.slots.kit())&l.avoid != 0 || p.loud&l.calm != 0 || l.pass&^p.pass != 0 {
			continue
		}
		p.air = air{}
		g.points = keep(g.points, p)
	}
	sort.SliceStable(g.points, func(i, j int) bool { return better(&g.points[i], &g.points[j]) })
	if f.limited == nil {
		f.limited = map[limit]*front{}
	}
	f.limited[l] = g
	return g
}

// dearness is how much more a group costs at least when it passes a radio on; can is false when it can't.
type dearness struct {
	more Money
	can  bool
}

// least is by how much a way under l that passes a radio on as well is dearer than some way under l that uses no other slots than it and
// has no more tolls: whatever the rest of the home is like, not passing it on would save so much.
func (f *front) least(l limit, radio int) dearness {
	plain := f.under(l)
	if plain.dearer[radio] == nil {
		d := dearness{}
		l.pass |= 1 << radio
		for _, p := range f.under(l).points {
			more := Money(0)
			for _, q := range plain.points {
				if q.slots.within(p.slots) && q.toll.within(p.toll) {
					more = max(more, p.cost-q.cost)
				}
			}
			if !d.can || more < d.more {
				d = dearness{more, true}
			}
		}
		plain.dearer[radio] = &d
	}
	return *plain.dearer[radio]
}
