package proof

// reach says of each spot the fewest acts with which a target may be reached from it, times left aside; far where
// it can't be. It bounds from below what a timed story needs, and so tells a search where not to look and where to
// look first, without losing a story. Only stories of no more than acts are looked at; -1 is all. It is nil when there are
// more than most spots.
func (g *graph) reach(most int, acts int32, target aim) []int32 {
	seen := g.within(most, acts, target)
	if seen == nil {
		return nil
	}
	type edge struct {
		from int32
		act  bool
	}
	for i := range seen { // all that they lead to has its number before edges are drawn
		for k := range g.spots[i].steps {
			g.leads(&g.spots[i].steps[k], target)
		}
	}
	back := make([][]edge, len(g.spots))
	need := make([]int32, len(g.spots))
	var now, later []int32
	for i := range g.spots {
		need[i] = far
		if target.hit(&g.spots[i]) {
			need[i] = 0
			now = append(now, int32(i))
		}
		if i >= len(seen) || !seen[i] {
			continue
		}
		for k := range g.spots[i].steps {
			st := &g.spots[i].steps[k]
			to := g.leads(st, target)
			back[to] = append(back[to], edge{int32(i), st.act})
		}
	}
	for acts := int32(0); len(now) > 0; acts++ {
		for len(now) > 0 {
			n := now[len(now)-1]
			now = now[:len(now)-1]
			if need[n] < acts {
				continue
			}
			for _, e := range back[n] {
				d := acts
				if e.act {
					d++
				}
				if d < need[e.from] {
					need[e.from] = d
					if e.act {
						later = append(later, e.from)
					} else {
						now = append(now, e.from)
					}
				}
			}
		}
		now, later = later, nil
	}
	return need
}

// within says which spots can be reached with so many acts, times left aside, and not by way of a target; it opens those
// that may lead further.
func (g *graph) within(most int, acts int32, target aim) []bool {
	var seen []bool
	var now, later []int32
	visit := func(n int32) {
		for len(seen) < len(g.spots) {
			seen = append(seen, false)
		}
		if !seen[n] {
			seen[n] = true
			now = append(now, n)
		}
	}
	for _, b := range g.begin {
		visit(b)
	}
	for done := int32(0); len(now) > 0; done++ {
		for len(now) > 0 {
			n := now[len(now)-1]
			now = now[:len(now)-1]
			if target.hit(&g.spots[n]) {
				continue
			}
			if len(g.spots) > most {
				return nil
			}
			steps := g.open(n)
			for i := range steps {
				to := g.leads(&steps[i], target)
				switch {
				case !steps[i].act:
					visit(to)
				case acts < 0 || done < acts:
					later = append(later, to)
				}
			}
		}
		for _, n := range later {
			visit(n)
		}
		later = later[:0]
	}
	for len(seen) < len(g.spots) {
		seen = append(seen, false)
	}
	return seen
}
