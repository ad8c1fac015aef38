package proof

// reach says of each spot the fewest acts with which a target may be reached from it, times left aside; far where
// it can't be. It bounds from below what a timed story needs, and so tells a search where not to look and where to
// look first, without losing a story. It is nil when there are more than most spots.
func (g *graph) reach(most int, target func(*spot) bool) []int32 {
	for i := 0; i < len(g.spots); i++ {
		if len(g.spots) > most {
			return nil
		}
		if !target(&g.spots[i]) {
			g.open(int32(i))
		}
	}
	type edge struct {
		from int32
		act  bool
	}
	back := make([][]edge, len(g.spots))
	need := make([]int32, len(g.spots))
	var now, later []int32
	for i := range g.spots {
		need[i] = far
		if target(&g.spots[i]) {
			need[i] = 0
			now = append(now, int32(i))
		}
		for k := range g.spots[i].steps {
			st := &g.spots[i].steps[k]
			back[st.to] = append(back[st.to], edge{int32(i), st.move.Act})
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
