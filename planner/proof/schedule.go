package proof

// found turns the path to a node into a story with times. A path of hulls may have no schedule: then the
// outcome has no story and is not exact.
func (e *explorer) found(n int32) Outcome {
	out := e.outcome(Found, 0)
	out.Acts = int(e.nodes[n].acts)
	var path []int32
	for at := n; at >= 0; at = e.nodes[at].parent {
		path = append(path, at)
	}
	for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
		path[i], path[j] = path[j], path[i]
	}
	steps := make([]*step, 0, len(path)-1)
	for _, at := range path[1:] {
		steps = append(steps, &e.g.spots[e.nodes[e.nodes[at].parent].spot].steps[e.nodes[at].step])
	}
	times, ok := schedule(e.g, e.nodes[path[0]].spot, steps)
	out.Exact = ok
	if !ok {
		return out
	}
	out.Begin = e.g.spots[e.nodes[path[0]].spot].state
	for i, st := range steps {
		out.Story = append(out.Story, Told{times[i+1], st.move.Label, st.move.Act, e.g.spots[st.to].state})
	}
	return out
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

	spot := g.spots[begin].state
	started := make([]int, len(spot.Timers)) // step at which each running timer started
	for k, st := range steps {
		at := k + 1
		least(k, at, 0)
		for i, t := range spot.Timers {
			most(started[i], at, int64(t.Hi)) // time did not pass over it
		}
		for _, c := range st.when {
			least(started[c.timer], at, int64(c.min))
			most(started[c.timer], at, int64(c.max))
		}
		if st.ends >= 0 {
			least(started[st.ends], at, int64(spot.Timers[st.ends].Lo))
			for _, first := range st.wait {
				most(started[first], at, int64(spot.Timers[first].Hi)-1)
			}
		}
		next := make([]int, len(st.carry))
		for i, from := range st.carry {
			next[i] = at
			if from >= 0 {
				next[i] = started[from]
			}
		}
		spot, started = st.move.To, next
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
