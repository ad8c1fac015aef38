package bill

import (
	"math"
	"sort"

	"example.org/roombrief/planner/linear"
)

// plunge looks for a good home below a choice in fractions: it settles the controllers, those first that are nearest to whole, each time
// with what is best for the rest, and then lets try have what came of it. It proves nothing.
func (w *whole) plunge(s *sheaf, x []float64, lo, hi []int, try func(x []float64) error) error {
	lo, hi = append([]int(nil), lo...), append([]int(nil), hi...)
	for {
		open := w.unsettled(x)
		if len(open) == 0 {
			return try(x)
		}
		for _, v := range open[:(len(open)+1)/2] {
			if k := int(math.Round(x[v])); float64(k) > x[v] {
				lo[v] = k
			} else {
				hi[v] = k
			}
		}
		w.keep(s, lo, hi)
		for range cutsPlunge {
			if got := s.Solve(math.MaxFloat64); got != linear.Solved {
				return nil
			}
			over := 0
			x, over = w.values(s)
			if over+w.fill(s, x) == 0 && w.separate(x) == 0 {
				break
			}
			w.fill(s, x)
		}
	}
}

// unsettled lists the controllers that are there in fractions, those nearest to whole first.
func (w *whole) unsettled(x []float64) (open []int) {
	for v, p := range w.vars {
		if cl := &w.classes[p.class]; cl.host && p.option != cl.rest && fraction(x[v]) > 1e-5 {
			open = append(open, v)
		}
	}
	sort.SliceStable(open, func(i, j int) bool { return fraction(x[open[i]]) < fraction(x[open[j]]) })
	return open
}
