package proof

import (
	"context"
	"fmt"

	"example.org/roombrief/planner/promises"
)

// can looks for a story that meets a case, at first without anything failing, then with a sensor that is dead.
func can(ctx context.Context, c promises.Case, e Effort) answer {
	if real := c.Real(); len(real) > 0 {
		c = *real[0]
	}
	if c.Crosses() { // where a rule acts with every report at once, it acts
		if a := can(ctx, c.Promptly(), e); a.state == Kept {
			return a
		}
	}
	a := (&ladder{c: c, e: e}).met(ctx, answer{})
	if a.state != Empty || c.Promise.Fault.Kind != promises.NoFault {
		return a
	}
	for _, t := range c.Sensors() {
		dead := c.With(promises.Fault{Kind: promises.BatteryDead, Thing: t.ID})
		b := (&ladder{c: dead, e: e}).met(ctx, answer{})
		b.zones += a.zones
		if b.state != Empty {
			return b
		}
		a.zones = b.zones
	}
	return a
}

// shows says which stories of the day whose periods may change at any instant meet the premise on the case's days too. Where
// things are free there are none: it has to be met with nothing free.
func (l *ladder) shows() func(Outcome) bool {
	if len(l.c.Real()) > 0 {
		return nil
	}
	return func(o Outcome) bool { return l.c.Steady(l.any.sys, o.Begin, o.states(), o.ends()) }
}

// How much is tried for a story that meets the premise soon, as most do, before hulls see whether there is any.
const (
	fewSteps  = 200 // of stories at random
	soonZones = 400
	manySteps = 8000
)

// soon looks for a story that meets the premise at random and among those with few acts. What it finds is so, and where it has seen all
// there is nothing else; otherwise it is Capped.
func (l *ladder) soon(ctx context.Context) Outcome {
	real := l.realDay(l.c.Promise.World.StillFor, false)
	if wander(real, fewSteps, met) {
		return Outcome{Kind: Found, Spots: len(real.spots), Exact: true}
	}
	out := newExplorer(ctx, real, limits{zones: min(l.e.Zones, soonZones), acts: -1}, met).run()
	if out.Kind == Capped && wander(real, manySteps, met) {
		out.Kind = Found
	}
	return out
}

// met tells a kept case from an empty one.
func (l *ladder) met(ctx context.Context, a answer) answer {
	if real := l.c.Real(); len(real) > 0 {
		l = &ladder{c: *real[0], e: l.e}
	}
	if l.c.Crosses() {
		if b := (&ladder{c: l.c.Promptly(), e: l.e}).met(ctx, a); b.state == Kept {
			return b
		}
	}
	any := way{anyActs: true, schedule: true}
	out := l.soon(ctx)
	a.count(out)
	if out.Kind == Capped {
		out = walked(ctx, l.realDay(l.c.Promise.World.StillFor, false), l.e.Hulls, met, any)
		a.count(out)
	}
	if out.Kind == Capped {
		// The clock of the day is what makes zones many. A story that needs it at no given second is found without.
		out = walked(ctx, l.anyDay(), l.e.Hulls, met, any)
		a.count(out)
	}
	if out.Kind == Capped {
		exact := l.e
		exact.Soonest = 0
		out = search(ctx, l.realDay(l.c.Promise.World.StillFor, false), exact, met)
		a.count(out)
	}
	switch out.Kind {
	case Found:
		a.state = Kept
	case Nowhere:
		a.state = Empty
	default:
		a.state, a.why = Undecided, fmt.Sprintf("nothing breaks it, but no story that puts it to the test was found within %d zones", l.e.Zones)
	}
	return a
}
