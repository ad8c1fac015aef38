package proof

import (
	"context"
	"strconv"
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
	State   State
	Story   []Step        // of a broken one: fewest acts, then soonest, and replayed
	Begins  int           // second of the day at which the story begins
	Moving  time.Duration // of a broken one: it is kept when whoever is inside moves at least this often; 0 when that doesn't help
	Why     string        // of an undecided one: what ran out, and how far it got
	Zones   int           // work done
	Spots   int
	Timers  int
}

// Step of a story, in words.
type Step struct {
	At    time.Duration // since the story's beginning
	Text  string
	Act   bool // a person does it
	State timed.State
}

// Prove decides a promise on a sheet of rules, by the ladder: with a day whose periods may change at any
// instant, by hulls, because what is kept then is kept; and where that doesn't do, with the real day.
func Prove(ctx context.Context, sheet rules.Sheet, p promises.Promise, e Effort) (Verdict, error) {
	v := Verdict{Promise: p}
	loose := p
	loose.World.ByClock = false
	sys, err := loose.System(sheet)
	if err != nil {
		return v, err
	}
	quick := newExplorer(ctx, newGraph(sys), limits{zones: e.Hulls, hull: true, acts: -1}, func(s *spot) bool { return s.broken }).run()
	v.count(quick)
	p.World.ByClock = true
	real, err := p.System(sheet)
	if err != nil {
		return v, err
	}
	if quick.Kind == Nowhere {
		return v.met(ctx, real, e), nil
	}
	out := Broken(ctx, real, e)
	v.count(out)
	switch out.Kind {
	case Nowhere:
		return v.met(ctx, real, e), nil
	case Capped:
		v.State, v.Why = Undecided, "the search came to its bound; there is no story with fewer acts than "+strconv.Itoa(out.Depth)
		return v, nil
	}
	return v.broken(sheet, real, out), nil
}

// met tells a kept promise from an empty one.
func (v Verdict) met(ctx context.Context, sys timed.System, e Effort) Verdict {
	out := Met(ctx, sys, e)
	v.count(out)
	switch out.Kind {
	case Found:
		v.State = Kept
	case Nowhere:
		v.State = Empty
	default:
		v.State, v.Why = Undecided, "nothing breaks it, but no story that puts it to the test was found before the search came to its bound"
	}
	return v
}

// broken is a verdict only once its story has been replayed.
func (v Verdict) broken(sheet rules.Sheet, sys timed.System, out Outcome) Verdict {
	begin, beats := out.Begin, make([]promises.Beat, len(out.Story))
	for i, t := range out.Story {
		beats[i] = promises.Beat{At: t.At, Label: t.Label, State: t.State}
		v.Story = append(v.Story, Step{time.Duration(t.At) * time.Second, sys.Say(t.Label), t.Act, t.State})
	}
	if err := v.Promise.Replay(sys, begin, beats, sheet); err != nil {
		v.State, v.Why, v.Story = Undecided, "a story was found that can't be replayed: "+err.Error(), nil
		return v
	}
	v.State = Breaks
	return v
}

func (v *Verdict) count(o Outcome) {
	v.Zones += o.Zones
	v.Spots = max(v.Spots, o.Spots)
	v.Timers = max(v.Timers, o.Timers)
}

// Weakest is the longest that whoever is inside may keep still with the promise kept, to the second, by
// bisection between least and the promise's own assumption; 0 when even least breaks it.
func Weakest(ctx context.Context, sheet rules.Sheet, p promises.Promise, least time.Duration, e Effort) (time.Duration, error) {
	kept := func(d time.Duration) (bool, error) {
		v, err := Prove(ctx, sheet, p.Still(d), e)
		return v.State == Kept, err
	}
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
