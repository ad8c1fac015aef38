package fitting

import (
	"fmt"
	"slices"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

var pressName = map[rules.Press]string{rules.Single: "press", rules.Double: "double", rules.Hold: "hold"}

// presses drops the rules of presses that the controller doesn't know. An empty list knows them all.
func (f *fitter) presses() {
	if len(f.lim.Presses) == 0 {
		return
	}
	f.rules = slices.DeleteFunc(f.rules, func(r rule) bool {
		name := pressName[r.Cause.Press]
		if r.Cause.Kind != rules.Pressed || slices.Contains(f.lim.Presses, name) {
			return false
		}
		f.lose(Lost{r.ID, "presses", fmt.Sprintf("The controller doesn't know the press %q of the %s, so this is not done: %s", name, f.name[r.Cause.Thing], r.Purpose),
			promiseOf(r), "Give the deed to a plain press of a button of its own, or take a controller that knows the press."})
		return true
	})
}

// stays replaces "has stayed under for" by a wait: it starts when the reading comes under, and stops when it goes over.
func (f *fitter) stays() {
	if f.lim.SeenFor {
		return
	}
	made := map[rules.Cause]string{}
	var out []rule
	for _, r := range f.rules {
		c := r.Cause
		if c.Kind != rules.StaysUnder {
			out = append(out, r)
			continue
		}
		wait, ok := made[c]
		if !ok {
			wait = f.fresh(fmt.Sprintf("%s-under-%d", c.Thing, c.Threshold))
			made[c] = wait
			at := func(k rules.CauseKind) rules.Cause {
				return rules.Cause{Kind: k, Thing: c.Thing, Threshold: c.Threshold}
			}
			helper := func(purpose string, c rules.Cause, e eff) rule {
				h := r.doing(e)
				h.Purpose, h.Cause, h.Guard = purpose, c, nil
				return h
			}
			back := helper("The count starts anew after a power cut.", rules.Cause{Kind: rules.PowerBack}, start(wait, c.For))
			back.Guard = []rules.Literal{{Not: true, Kind: rules.ReadsOver, Thing: c.Thing, Threshold: c.Threshold}}
			out = append(out, helper("A reading that comes back is counted from then on.", at(rules.Under), start(wait, c.For)),
				helper("A reading that goes over ends the count.", at(rules.Over), stop(wait)), back)
			f.note("seen_for", r.ID, fmt.Sprintf("A wait of %s counts how long %s stays at %d or less.", c.For, f.name[c.Thing], c.Threshold), "")
		}
		r.Cause = ended(wait)
		out = append(out, r)
	}
	f.rules = out
}

// rungs is the most steps of a ladder that stands for a rise.
const rungs = 24

// rises replaces a rise of a humidity by a ladder: leaving a rung from below starts a wait, and coming over the rung that
// is the rise above it, while that wait runs, is a rise.
func (f *fitter) rises() {
	if f.lim.RisesBy {
		return
	}
	var out []rule
	for _, r := range f.rules {
		c := r.Cause
		if c.Kind != rules.Rises {
			out = append(out, r)
			continue
		}
		if f.kind[c.Thing] != rules.Hygrometer || c.Threshold >= 100 || !f.states() {
			f.lose(Lost{r.ID, "rises_by", fmt.Sprintf("The controller doesn't know a rise of %s as a cause, and no other rule can stand for it.", f.name[c.Thing]),
				promiseOf(r), "Use a threshold in place of the rise, or take a controller that knows rises."})
			continue
		}
		out = append(out, f.ladder(r)...)
	}
	f.rules = out
}

// ladder is the rules of one rise. Its waits run a second longer than the rise may take, because a rise just as long counts.
func (f *fitter) ladder(r rule) []rule {
	c := r.Cause
	step := max(1, (100-c.Threshold+rungs-1)/rungs)
	var waits []string
	var levels []int
	for k := 0; k+c.Threshold <= 100; k += step {
		levels = append(levels, k)
		waits = append(waits, f.fresh(fmt.Sprintf("%s-was-%d", c.Thing, k)))
	}
	var lows, highs []rule
	var clear []eff
	for _, w := range waits {
		clear = append(clear, stop(w))
	}
	over := func(n int) rules.Literal { return rules.Literal{Kind: rules.ReadsOver, Thing: c.Thing, Threshold: n} }
	for i, k := range levels {
		cross := func(n int) rules.Cause { return rules.Cause{Kind: rules.Over, Thing: c.Thing, Threshold: n} }
		low := r.doing(start(waits[i], c.For+q.Span(time.Second)))
		low.Purpose, low.Guard = fmt.Sprintf("Remembers that %s was at %d a moment ago.", f.name[c.Thing], k), nil
		low.Cause = cross(k)
		lows = append(lows, low)
		// Of several rungs that one leap passes, only the topmost counts.
		rise := func(at int, guard ...rules.Literal) {
			if i+1 < len(levels) {
				guard = append(guard, not(over(levels[i+1]+c.Threshold-1)))
			}
			x, _ := r.with(guard...)
			x.Cause, x.effs = cross(at), append(slices.Clone(clear), x.effs...)
			highs = append(highs, x)
		}
		rise(k+c.Threshold-1, running(waits[i]))
		rise(k, over(k+c.Threshold-1), not(running(waits[i])))
	}
	costs := ""
	if step > 1 {
		costs = fmt.Sprintf("A rise is only sure to be noticed from %d points on, not from %d.", c.Threshold+step-1, c.Threshold)
	}
	f.note("rises_by", r.ID, fmt.Sprintf("A ladder of %d levels stands for the rise of %s.", len(levels), f.name[c.Thing]), costs)
	return append(lows, highs...)
}
