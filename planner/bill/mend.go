package bill

import "sort"

// reach bounds how far from full slots may be on the way to a cheaper choice, beam how many ways there are
// followed at once, and together how many spots of a class may move.
const (
	reach    = 20
	beam     = 128
	together = 4
)

// move takes so many spots of a class from one option to another.
type move struct{ class, from, to, count int }

// way is moves from the best choice so far.
type way struct {
	spare [dims]int8 // slots left, as far as reach goes
	cost  Money
	worth int64 // cost at slot prices: no way on from here ends below it
	last  move
	from  *way
}

// mend looks for a cheaper choice near the best one. Slots come in lumps: six devices go to another radio for
// eight that come back as two fours, and rounding finds no such sum. So it goes through the classes one by
// one and keeps the ways whose slots can still come out even. It only finds good choices early; that there
// is none better, the bounds prove.
func (s *search) mend(prices [dims]int64, least int64) {
	if !s.found || int64(s.best) <= least {
		return
	}
	for d := range prices {
		prices[d] /= unit
	}
	start := &way{}
	for d, u := range s.used() {
		start.spare[d] = int8(min(-u, reach))
		start.worth -= prices[d] * int64(start.spare[d])
	}
	ways := []*way{start}
	for c := range s.classes {
		seen := map[[dims]int8]int{}
		next := make([]*way, 0, 2*len(ways))
		for _, w := range ways {
			next = joined(next, seen, w)
		}
		moves := s.moves(c, prices, int64(s.best)-least)
		for _, w := range ways {
			for _, m := range moves {
				if after := s.after(w, m, prices); after != nil && after.worth < 0 {
					next = joined(next, seen, after)
				}
			}
		}
		ways = nearest(next)
	}
	s.take(ways)
}

// used is what the best choice so far uses of each kind of slot, less what it brings.
func (s *search) used() [dims]int {
	use := s.demand
	for c, cl := range s.classes {
		for o, n := range s.counts[c] {
			for d, u := range cl.options[o].use {
				use[d] += n * u
			}
		}
	}
	return use
}

// moves lists those of a class to options that cost at most gap more than its cheapest at the prices.
func (s *search) moves(c int, prices [dims]int64, gap int64) (all []move) {
	cl := s.classes[c]
	value := make([]int64, len(cl.options))
	lowest := int64(0)
	for o, op := range cl.options {
		value[o] = int64(op.cost)
		for d, u := range op.use {
			value[o] += prices[d] * int64(u)
		}
		if o == 0 || value[o] < lowest {
			lowest = value[o]
		}
	}
	for from, n := range s.counts[c] {
		for to := range cl.options {
			for k := 1; k <= min(n, together) && to != from && value[to]-lowest <= gap; k++ {
				all = append(all, move{c, from, to, k})
			}
		}
	}
	return all
}

// after is a way with one more move, nil when it is out of reach.
func (s *search) after(w *way, m move, prices [dims]int64) *way {
	from, to := &s.classes[m.class].options[m.from], &s.classes[m.class].options[m.to]
	out := &way{cost: w.cost + Money(m.count)*(to.cost-from.cost), last: m, from: w}
	out.worth = int64(out.cost)
	for d := range out.spare {
		spare := int(w.spare[d]) + m.count*(from.use[d]-to.use[d])
		if spare < -reach {
			return nil
		}
		out.spare[d] = int8(min(spare, reach))
		out.worth -= prices[d] * int64(out.spare[d])
	}
	return out
}

// joined adds a way unless a cheaper one leaves the same slots.
func joined(ways []*way, seen map[[dims]int8]int, w *way) []*way {
	i, ok := seen[w.spare]
	if !ok {
		seen[w.spare] = len(ways)
		return append(ways, w)
	}
	if w.cost < ways[i].cost {
		ways[i] = w
	}
	return ways
}

// nearest keeps the ways that promise most, of equal ones those nearest to even.
func nearest(ways []*way) []*way {
	sort.SliceStable(ways, func(i, j int) bool {
		a, b := ways[i], ways[j]
		if a.worth != b.worth {
			return a.worth < b.worth
		}
		return max(a.cost, -a.cost) < max(b.cost, -b.cost)
	})
	return ways[:min(len(ways), beam)]
}

// take makes the cheapest way that keeps within the slots the best choice.
func (s *search) take(ways []*way) {
	var best *way
	for _, w := range ways {
		even := w.cost < 0
		for _, n := range w.spare {
			even = even && n >= 0
		}
		if even && (best == nil || w.cost < best.cost) {
			best = w
		}
	}
	if best == nil {
		return
	}
	counts := ragged[int](s.classes)
	for c := range counts {
		copy(counts[c], s.counts[c])
	}
	s.best += best.cost
	for w := best; w.from != nil; w = w.from {
		counts[w.last.class][w.last.from] -= w.last.count
		counts[w.last.class][w.last.to] += w.last.count
	}
	s.counts = counts
}
