package proof

import (
	"context"
	"fmt"
	"time"

	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// State of a verdict.
type State string

// The states. Empty is a promise whose premise never comes about: there is nothing to keep.
const (
	Kept      State = "kept"
	Breaks    State = "broken"
	Empty     State = "empty"
	Undecided State = "undecided"
)

// Verdict on one promise.
type Verdict struct {
	Promise promises.Promise
	Fault   promises.Fault // that the promise had to survive; the zero Fault is none
	State   State
	Story   []Step        // of a broken one: fewest acts, then soonest, and replayed
	Begins  int           // second of the day at which the story begins
	Moving  time.Duration // of a broken one: it is kept when whoever is inside moves at least this often; 0 when that doesn't help
	Why     string        // of an undecided one: what ran out, and how far it got; of a broken one without a story: what is wrong
	Zones   int           // work done
	Spots   int
	Timers  int
	Cached  bool // all of it was known from before
}

// Step of a story, in words.
type Step struct {
	At    time.Duration // since the story's beginning
	Text  string
	Act   bool // a person does it
	State timed.State
}

// answer is what is known of one case. It names nothing, so that it serves every case of the same key.
type answer struct {
	state  State
	real   int // the tale is of the real case with this number, counted from 1; 0 is the case itself
	tale   promises.Tale
	acts   int
	why    string
	zones  int
	spots  int
	timers int
}

// Prove decides a promise on a sheet of rules.
func Prove(ctx context.Context, sheet rules.Sheet, p promises.Promise, e Effort) (Verdict, error) {
	return prove(ctx, promises.NewIndex(sheet), p, e, nil)
}

// prove decides each facet of a promise. It is kept when all its facets are; of the broken ones the story with
// the fewest acts is told, then the soonest.
func prove(ctx context.Context, ix *promises.Index, p promises.Promise, e Effort, c *Cache) (Verdict, error) {
	v := Verdict{Promise: p, Fault: p.Fault, State: Empty}
	if f := p.Computed(); f != nil {
		v.State, v.Why = Kept, f.Why
		if !f.Kept {
			v.State = Breaks
		}
		return v, nil
	}
	cases, err := p.Cases(ix)
	if err != nil {
		return v, err
	}
	if len(cases) == 0 {
		v.State = Kept // every facet has been seen to hold already
	}
	v.Cached = len(cases) > 0
	best := -1
	answers := make([]answer, len(cases))
	for i, one := range cases {
		a, known := c.answer(ctx, one, e)
		answers[i] = a
		v.Cached = v.Cached && known
		v.Zones, v.Spots, v.Timers = v.Zones+a.zones, max(v.Spots, a.spots), max(v.Timers, a.timers)
		switch {
		case a.state == Breaks:
			if best < 0 || a.before(answers[best]) {
				best = i
			}
			v.State = Breaks
		case v.State == Breaks:
		case a.state == Undecided:
			v.State, v.Why = Undecided, a.why
		case a.state == Kept && v.State == Empty:
			v.State = Kept
		case a.state == Empty && one.Can:
			v.State, v.Why = Breaks, fmt.Sprintf("no story makes %s act", one.Name)
			return v, nil
		}
	}
	if best < 0 || v.State != Breaks {
		return v, nil
	}
	return v.tell(ix, cases[best], answers[best]), nil
}

// before reports whether a broken answer is told rather than another.
func (a answer) before(b answer) bool {
	if a.acts != b.acts {
		return a.acts < b.acts
	}
	return a.tale.Ends() < b.tale.Ends()
}

// tell is a broken verdict only once its story has been replayed on the whole sheet.
func (v Verdict) tell(ix *promises.Index, c promises.Case, a answer) Verdict {
	if a.real > 0 {
		c = *c.Real()[a.real-1]
	}
	if err := c.Replay(a.tale, ix); err != nil {
		v.State, v.Why = Undecided, "a story was found that can't be replayed: "+err.Error()
		return v
	}
	v.Promise, v.Begins = c.Broken(a.tale), a.tale.Second()
	for _, l := range c.Lines(a.tale) {
		v.Story = append(v.Story, Step{At: time.Duration(l.At) * time.Second, Text: l.Text, Act: l.Act})
	}
	return v
}

// decide decides a case, by the ladder: with a day whose periods may change at any instant, by hulls, because
// what is kept then is kept; and where that doesn't do, with the real day.
func decide(ctx context.Context, c promises.Case, e Effort) answer {
	var a answer
	if c.Can {
		return can(ctx, c, e)
	}
	broken := func(s *spot) bool { return s.broken }
	quick := newExplorer(ctx, newGraph(c.System(false)), limits{zones: e.Hulls, hull: true, acts: -1}, broken).run()
	a.count(quick)
	if quick.Kind == Nowhere {
		return a.met(ctx, c, e)
	}
	if len(c.Real()) > 0 {
		return a.worst(ctx, c.Real(), e)
	}
	out := Outcome{}
	if c.Loose() {
		out = Broken(ctx, c.System(true), e)
		a.count(out)
		if out.Kind == Nowhere {
			return a.met(ctx, c, e)
		}
		c = c.Exactly() // a story is told on the day itself
	}
	sys := c.System(true)
	exactly := Broken(ctx, sys, e)
	a.count(exactly)
	switch {
	case exactly.Kind == Capped:
		a.state, a.why = Undecided, fmt.Sprintf("the search came to its bound of %d zones; there is no story with fewer than %d acts", e.Zones, exactly.Depth)
		return a
	case exactly.Kind == Nowhere && out.Kind == Found:
		a.state, a.why = Undecided, "it is kept on the day that was looked at closely, and not shown for every day of that order of sun times"
		return a
	case exactly.Kind == Nowhere:
		return a.met(ctx, c, e)
	}
	return a.broken(c, sys, exactly)
}

// worst decides the cases that a larger one stands for.
func (a answer) worst(ctx context.Context, real []*promises.Case, e Effort) answer {
	rank := map[State]int{Empty: 0, Kept: 1, Undecided: 2, Breaks: 3}
	out := answer{state: Empty}
	for i, c := range real {
		b := decide(ctx, *c, e)
		a.zones, a.spots, a.timers = a.zones+b.zones, max(a.spots, b.spots), max(a.timers, b.timers)
		if rank[b.state] > rank[out.state] {
			out, out.real = b, i+1
		}
	}
	out.zones, out.spots, out.timers = a.zones, a.spots, a.timers
	return out
}

// can looks for a story that meets a case, at first without anything failing, then with a sensor that is dead.
func can(ctx context.Context, c promises.Case, e Effort) answer {
	if real := c.Real(); len(real) > 0 {
		c = *real[0]
	}
	a := answer{}.met(ctx, c, e)
	if a.state != Empty || c.Promise.Fault.Kind != promises.NoFault {
		return a
	}
	for _, t := range c.Sensors() {
		b := answer{}.met(ctx, c.With(promises.Fault{Kind: promises.BatteryDead, Thing: t.ID}), e)
		b.zones += a.zones
		if b.state != Empty {
			return b
		}
		a.zones = b.zones
	}
	return a
}

// broken keeps the story.
func (a answer) broken(c promises.Case, sys timed.System, out Outcome) answer {
	beats := make([]promises.Beat, len(out.Story))
	for i, t := range out.Story {
		beats[i] = promises.Beat{At: t.At, Label: t.Label, State: t.State}
	}
	tale, err := c.Tale(sys, out.Begin, beats)
	if err != nil {
		a.state, a.why = Undecided, err.Error()
		return a
	}
	a.state, a.tale, a.acts = Breaks, tale, out.Acts
	return a
}

// met tells a kept case from an empty one.
func (a answer) met(ctx context.Context, c promises.Case, e Effort) answer {
	if real := c.Real(); len(real) > 0 {
		c = *real[0]
	}
	first := e
	first.Zones, first.Ticks = min(e.Zones, 4_000), 0
	out := Met(ctx, c.System(true), first)
	a.count(out)
	if out.Kind == Capped {
		// The clock of the day is what makes zones many. A story that needs it at no given second is found without.
		out = Met(ctx, c.System(false), e)
		a.count(out)
	}
	switch out.Kind {
	case Found:
		a.state = Kept
	case Nowhere:
		a.state = Empty
	default:
		a.state, a.why = Undecided, fmt.Sprintf("nothing breaks it, but no story that puts it to the test was found within %d zones", e.Zones)
	}
	return a
}

func (a *answer) count(o Outcome) {
	a.zones += o.Zones
	a.spots = max(a.spots, o.Spots)
	a.timers = max(a.timers, o.Timers)
}

// Weakest is the longest that whoever is inside may keep still with the promise kept, to the second, by
// bisection between least and the promise's own assumption; 0 when even least breaks it.
func Weakest(ctx context.Context, sheet rules.Sheet, p promises.Promise, least time.Duration, e Effort) (time.Duration, error) {
	return weakest(ctx, promises.NewIndex(sheet), p, least, e, nil)
}

func weakest(ctx context.Context, ix *promises.Index, p promises.Promise, least time.Duration, e Effort, c *Cache) (time.Duration, error) {
	exact := func(d time.Duration) (bool, error) {
		v, err := prove(ctx, ix, p.Still(d), e, c)
		return v.State == Kept, err
	}
	quick := func(d time.Duration) (bool, error) { return hulled(ctx, ix, p.Still(d), e, c) }
	d, err := bisect(p, least, quick)
	if err != nil || ctx.Err() != nil {
		return 0, err
	}
	// What hulls can't keep may be kept all the same: then it has to be looked at closely.
	if next := d + time.Second; d > 0 {
		if ok, err := exact(next); err != nil || !ok {
			return d, err
		}
	}
	return bisect(p, max(d, least), exact)
}

// hulled reports whether hulls alone keep every case of a promise.
func hulled(ctx context.Context, ix *promises.Index, p promises.Promise, e Effort, k *Cache) (bool, error) {
	cases, err := p.Cases(ix)
	for _, c := range cases {
		a, _ := k.recall(ctx, "hulls ", c, func() answer {
			for _, byClock := range [2]bool{false, true} {
				out := newExplorer(ctx, newGraph(c.System(byClock)), limits{zones: e.Hulls, hull: true, acts: -1}, func(s *spot) bool { return s.broken }).run()
				if out.Kind == Nowhere {
					return answer{state: Kept}
				}
			}
			return answer{state: Undecided}
		})
		if a.state != Kept {
			return false, nil
		}
	}
	return err == nil, err
}

// bisect finds the longest time, to the second, at which something is kept.
func bisect(p promises.Promise, least time.Duration, kept func(time.Duration) (bool, error)) (time.Duration, error) {
	low, high := least, time.Duration(p.World.StillFor)*time.Second
	if ok, err := kept(low); err != nil || !ok {
		return 0, err
	}
	for high-low > time.Second {
		mid := (low + (high-low)/2).Truncate(time.Second)
		ok, err := kept(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low, nil
}
