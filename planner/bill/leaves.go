package bill

import (
	"container/heap"
	"math"

	"example.org/roombrief/planner/linear"
)

// leaf is an open branch of a whole: its last step keeps a variable to k at most, or with up at least; the root has none.
type leaf struct {
	from  *leaf
	v, k  int
	up    bool
	least Money // that a choice of it can cost
	order int
	stand *linear.Basis // of the branch before
}

// leaves is the open branches as a heap: the least bound first, of equal ones the newest.
type leaves []*leaf

func (f leaves) Len() int { return len(f) }
func (f leaves) Less(i, j int) bool {
	return f[i].least < f[j].least || f[i].least == f[j].least && f[i].order > f[j].order
}
func (f leaves) Swap(i, j int) { f[i], f[j] = f[j], f[i] }
func (f *leaves) Push(x any)   { *f = append(*f, x.(*leaf)) }
func (f *leaves) Pop() any {
	last := len(*f) - 1
	x := (*f)[last]
	*f = (*f)[:last]
	return x
}

// ranges are the least and most counts of each variable in a branch.
func (w *whole) ranges(l *leaf) (lo, hi []int) {
	lo, hi = make([]int, len(w.vars)), make([]int, len(w.vars))
	for v, p := range w.vars {
		if !w.fixed[v] {
			hi[v] = w.classes[p.class].count
		}
	}
	for ; l.from != nil; l = l.from {
		if l.up {
			lo[l.v] = max(lo[l.v], l.k)
		} else {
			hi[l.v] = min(hi[l.v], l.k)
		}
	}
	return lo, hi
}

// search goes through the branches until none can cost less than the best home, which is what try looks for near a choice in
// fractions, or until so many cells have been reckoned. After 1, 2, 4, 8 ... branches it plunges from one. No home costs less than what it gives,
// unless it is the best.
func (w *whole) search(most int, try func(x []float64) error) (Money, error) {
	s, low := w.sheaf(), Money(math.MaxInt64) // of branches that are given up
	open, order, visits := leaves{{least: math.MinInt64 / 2}}, 0, 0
	for len(open) > 0 {
		l := heap.Pop(&open).(*leaf)
		if l.least >= w.cutoff || w.work >= most {
			low = min(low, l.least)
			break
		}
		if err := w.c.ctx.Err(); err != nil {
			return 0, err
		}
		lo, hi := w.ranges(l)
		w.keep(s, lo, hi)
		if l.stand != nil {
			s.Restore(l.stand)
		}
		x, price, err := w.relax(s, l, lo, hi, most, try)
		w.work += s.Work
		if s.Work = 0; err != nil {
			return 0, err
		}
		if l.from == nil {
			w.price = price
		}
		if x == nil || l.least >= w.cutoff {
			low = min(low, l.least)
			continue
		}
		w.fix()
		w.shrink(s)
		stand := s.Basis()
		if visits++; visits&(visits-1) == 0 {
			if err := w.plunge(s, x, lo, hi, try); err != nil {
				return 0, err
			}
		}
		v := w.split(x, lo, hi)
		if v < 0 {
			low = min(low, l.least)
			continue
		}
		k := min(max(int(math.Floor(x[v]+1e-6)), lo[v]), hi[v]-1)
		for _, next := range []*leaf{{from: l, v: v, k: k, stand: stand}, {from: l, v: v, k: k + 1, up: true, stand: stand}} {
			lo, hi := w.ranges(next)
			least, ok := w.bound(lo, hi, price, true)
			order++
			next.order, next.least = order, max(l.least, Money(least))
			if ok && next.least < w.cutoff {
				heap.Push(&open, next)
			}
		}
	}
	return min(low, w.cutoff), nil
}

// At the root a better home is looked for after so many rounds of rows, and rounds are over once so many have raised the bound by less
// than a share of what is open; in a branch there are fewer, and never more than some. What is of no use is left out now and then.
const (
	tries       = 12
	steep       = 0.01
	flatRoot    = 5
	flatBranch  = 2
	cutsBranch  = 6
	cutsPlunge  = 1
	tidiedAfter = 4
)

// relax solves a branch in fractions, and writes down rows that they break, as long as that raises the bound. x is nil where the
// branch holds nothing better, or, where its bound is below cutoff, where that can't be told.
func (w *whole) relax(s *sheaf, l *leaf, lo, hi []int, most int, try func(x []float64) error) (x []float64, price []int64, err error) {
	root := l.from == nil
	if root {
		w.fill(s, nil)
	}
	flat, cuts, before := 0, 0, l.least
	enough := float64(w.cutoff) + 1 - w.base()
	for {
		got := s.Solve(enough)
		if price = w.priced(s, got); w.shut(l, lo, hi, price, got) {
			return nil, price, nil
		}
		done := got == linear.Solved
		if !done && enough < math.MaxFloat64 {
			enough = math.MaxFloat64 // by the rounding of prices it was not
			continue
		}
		x, over := w.values(s)
		if done && over+w.fill(s, x) > 0 {
			continue
		}
		if flat++; l.least > before+Money(steep*float64(w.cutoff-l.least)) {
			flat, before = 0, l.least
		}
		more := root && flat < flatRoot || !root && flat < flatBranch && cuts < cutsBranch || integral(x)
		if !done || !more || s.Work+w.work >= most || w.separate(x) == 0 {
			return x, price, try(x)
		}
		if cuts++; root && cuts%tries == 0 {
			if err := try(x); err != nil {
				return nil, price, err
			}
		}
		if cuts%tidiedAfter == 0 {
			w.shrink(s)
		}
		w.fill(s, x)
	}
}

// shut raises a branch's bound by prices, and reports whether it is done with.
func (w *whole) shut(l *leaf, lo, hi []int, price []int64, got linear.Outcome) bool {
	if got == linear.None {
		if over, can := w.bound(lo, hi, price, false); !can || over > 0 {
			l.least = w.cutoff
		}
		return true
	}
	least, can := w.bound(lo, hi, price, true)
	if l.least = max(l.least, Money(least)); !can {
		l.least = w.cutoff
	}
	return l.least >= w.cutoff
}

func integral(x []float64) bool {
	for _, a := range x {
		if fraction(a) > 1e-5 {
			return false
		}
	}
	return true
}

// fix shuts out options with which no home costs less than the best, by the prices at the root.
func (w *whole) fix() {
	lo, hi := w.ranges(&leaf{})
	least, ok := w.bound(lo, hi, w.price, true)
	if !ok {
		return
	}
	value, _ := w.worths(w.price, true)
	for c := range w.classes {
		cl := &w.classes[c]
		low := int64(math.MaxInt64)
		for o := range cl.options {
			if v := cl.first + o; !w.fixed[v] {
				low = min(low, value[v])
			}
		}
		for o := range cl.options {
			if v := cl.first + o; o != cl.rest && least+(value[v]-low)/unit > int64(w.cutoff) {
				w.fixed[v] = true
			}
		}
	}
}

// split chooses the variable to branch on: controllers first, then what is used and what repeats, then how often options are taken in all, and of these the most fractional.
// It is -1 where nothing is open.
func (w *whole) split(x []float64, lo, hi []int) int {
	best, most := -1, 1e-5
	for v, p := range w.vars {
		cl := &w.classes[p.class]
		frac := fraction(x[v])
		if frac <= 1e-5 || p.option == cl.rest || lo[v] >= hi[v] {
			continue
		}
		if cl.trunk {
			frac++
		}
		if cl.host {
			frac += 2
		}
		if frac > most {
			best, most = v, frac
		}
	}
	if most <= 0.5 {
		if v := w.splitTally(x, lo, hi); v >= 0 {
			return v
		}
	}
	return best
}

// fraction is how far a value is from whole.
func fraction(a float64) float64 { return math.Abs(a - math.Round(a)) }

// base is what the home costs with the base option of each class.
func (w *whole) base() (sum float64) {
	for c := range w.classes {
		cl := &w.classes[c]
		sum += float64(cl.options[cl.rest].cost) * float64(cl.count)
	}
	return sum
}
