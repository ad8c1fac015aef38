package proof

import (
	"slices"

	"example.org/roombrief/planner/timed"
)

// tell turns the way to a node into a story with times. A way of hulls may have no schedule: then the outcome has no
// story and is not exact.
func (o *Outcome) tell(g *graph, nodes []node, n int32) {
	o.Acts = int(nodes[n].acts)
	for at := n; nodes[at].parent >= 0; at = nodes[at].parent {
		o.steps = append(o.steps, &g.spots[nodes[nodes[at].parent].spot].steps[nodes[at].step])
		o.from = nodes[nodes[at].parent].spot
	}
	if len(o.steps) == 0 {
		o.from = nodes[n].spot
	}
	slices.Reverse(o.steps)
	times, ok := schedule(g, o.from, o.steps)
	if o.Exact = ok; !ok {
		return
	}
	o.Begin = g.spots[o.from].state
	for i, st := range o.steps {
		o.Story = append(o.Story, Told{times[i+1], int(st.label), st.act, g.spots[st.to].state})
	}
}

// states of the story, in order.
func (o *Outcome) states() []timed.State {
	out := make([]timed.State, len(o.Story))
	for i, t := range o.Story {
		out[i] = t.State
	}
	return out
}

// ends is the second at which the story ends.
func (o *Outcome) ends() int64 {
	if len(o.Story) == 0 {
		return 0
	}
	return o.Story[len(o.Story)-1].At
}

// schedule gives the earliest whole second of each step, or false when there is none. The steps' bounds are
// difference constraints between their times; the earliest solution is a longest path (Bellman-Ford).
func schedule(g *graph, begin int32, steps []*step) ([]int64, bool) {
	type bound struct {
		from, to int
		least    int64 // time[to] >= time[from] + least
	}
	var bounds []bound
	least := func(from, to int, d int64) { bounds = append(bounds, bound{from, to, d}) }
	most := func(from, to int, d int64) { least(to, from, -d) }

	timers := g.spots[begin].bounds
	started := make([]int, len(timers)) // step at which each running timer started
	for k, st := range steps {
		at := k + 1
		least(k, at, 0)
		for i, t := range timers {
			most(started[i], at, int64(t.Hi)) // time did not pass over it
		}
		for _, c := range st.when {
			least(started[c.timer], at, int64(c.min))
			most(started[c.timer], at, int64(c.max))
		}
		if st.ends >= 0 {
			least(started[st.ends], at, int64(timers[st.ends].Lo))
		}
		for _, first := range st.wait {
			most(started[first], at, int64(timers[first].Hi)-1)
		}
		next := make([]int, len(st.carry))
		for i, from := range st.carry {
			next[i] = at
			if from >= 0 {
				next[i] = started[from]
			}
		}
		timers, started = g.spots[st.to].bounds, next
	}

	times := make([]int64, len(steps)+1)
	for round := 0; ; round++ {
		changed := false
		for _, b := range bounds {
			if t := times[b.from] + b.least; t > times[b.to] {
				times[b.to], changed = t, true
			}
		}
		if times[0] > 0 {
			return nil, false // the beginning would have to come after itself
		}
		if !changed {
			return times, true
		}
		if round > len(steps)+1 {
			return nil, false
		}
	}
}
