package bill

import (
	"container/heap"
	"context"
	"math"
)

// dims are what controllers hold, devices on each radio and rules; between them the uses of owned kinds; and last
// the tolls, of which there may be a most.
const dims = held + 1 + tolls

// forRules is where an option's rules stand, forTolls where its tolls begin.
const (
	forRules = held
	forTolls = held + 1
)

// class is count spots alike, each of which takes one of the options: groups of needs with the ways to
// cover them, or places with the controllers that may sit there.
type class struct {
	options []option
	count   int
	host    bool
	owned   bool // units that are there already
}

// option costs money and uses slots; a controller uses less than none: it brings them.
type option struct {
	cost Money
	use  [dims]int
}

// search finds the cheapest choice of options with no more slots used than brought, by branch and bound
// over how many spots of each class take each option.
//
// The bound: put any prices >= 0 on slots. A choice that keeps within its slots then costs at least its
// money plus the prices of slots used, less those of slots brought. Without the limit on slots each spot
// takes the option that is cheapest in that sum, and the total is below that of every choice within the
// limit. It is reckoned in whole numbers, so the bound holds exactly however roughly the prices were
// found; good prices (those of the linear program) only make it high.
type search struct {
	ctx     context.Context
	classes []class
	demand  [dims]int
	best    Money // only less than this is of interest
	counts  [][]int
	found   bool
	nodes   int
	most    int // of them; 0 for no bound
	open    frontier
	order   int

	patience int // nodes after which mend is tried again
	space    *space
	prices   *[dims]int64 // good slot prices of a search like this one; those of this one's root after it
}

// node narrows how many spots of each class take each option.
type node struct{ lo, hi [][]int }

// unit is the fraction of a minor unit in which slot prices are reckoned.
const unit = 1 << 14

// minimise gives the cheapest counts below cutoff, by class and option; ok is false when there are none.
// prices are slot prices to try first, and become those that were found. After most nodes, unless that is 0, the cheapest so far has to do.
func minimise(ctx context.Context, classes []class, demand [dims]int, cutoff Money, prices *[dims]int64, mem *space, most int) (cost Money, counts [][]int, ok bool, err error) {
	s := &search{ctx: ctx, classes: classes, demand: demand, best: cutoff, prices: prices, space: mem, patience: 6, most: most}
	root := node{lo: ragged[int](classes), hi: ragged[int](classes)}
	for c, cl := range classes {
		for o := range root.hi[c] {
			root.hi[c][o] = cl.count
		}
	}
	s.put(root, *prices, math.MinInt64)
	err = s.run()
	return s.best, s.counts, s.found, err
}

// ragged makes a cell for every option of every class.
func ragged[T any](classes []class) [][]T {
	n := 0
	for _, cl := range classes {
		n += len(cl.options)
	}
	cells, rows := make([]T, n), make([][]T, len(classes))
	for c, cl := range classes {
		n = len(cl.options)
		rows[c], cells = cells[:n:n], cells[n:]
	}
	return rows
}

// run visits the open nodes, the one that promises most first, so that no node is visited whose bound is
// above the cheapest choice.
func (s *search) run() error {
	for len(s.open) > 0 {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		next := heap.Pop(&s.open).(open)
		if next.least >= int64(s.best) || s.most > 0 && s.nodes >= s.most {
			return nil // nor does any other, or it is time
		}
		s.visit(next)
	}
	return nil
}

// put opens a node. The prices of the node around it often tell that nothing better is inside.
func (s *search) put(n node, around [dims]int64, above int64) {
	if least, ok := s.bound(n, around, true); ok && least < int64(s.best) {
		s.order++
		heap.Push(&s.open, open{n, max(least, above), s.order})
	}
}

func (s *search) visit(n open) {
	s.nodes++
	x, prices, broken := s.relaxed(n.node, false)
	if s.nodes == 1 && broken <= 1e-7 {
		*s.prices = prices
	}
	least, ok := s.bound(n.node, prices, true)
	if !ok || least >= int64(s.best) {
		return
	}
	if broken > 1e-7 {
		_, excess, _ := s.relaxed(n.node, true)
		if over, _ := s.bound(n.node, excess, false); over > 0 {
			return // no choice of this node keeps within its slots
		}
	}
	s.consider(n.node, x, prices)
	if s.nodes >= s.patience {
		s.patience = 2 * s.nodes
		s.mend(prices, least)
	}
	c, o, at := s.split(n.node, x)
	if c < 0 {
		return // nothing left to choose, and what was left has been considered
	}
	for _, up := range []bool{!s.classes[c].host, s.classes[c].host} {
		lo, hi := n.lo[c][o], n.hi[c][o]
		if up {
			lo = at + 1
		} else {
			hi = at
		}
		s.put(n.narrowed(c, o, lo, hi), prices, max(least, n.least))
	}
}

// open is a node that is yet to be visited.
type open struct {
	node
	least int64 // that a choice of it can cost
	order int   // in which it was opened
}

// frontier is the open nodes as a heap: the least bound first, of equal ones the newest, which is nearest to
// whole counts.
type frontier []open

func (f frontier) Len() int { return len(f) }
func (f frontier) Less(i, j int) bool {
	return f[i].least < f[j].least || f[i].least == f[j].least && f[i].order > f[j].order
}
func (f frontier) Swap(i, j int) { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)   { *f = append(*f, x.(open)) }
func (f *frontier) Pop() any {
	last := len(*f) - 1
	x := (*f)[last]
	*f = (*f)[:last]
	return x
}

func (n node) narrowed(c, o, lo, hi int) node {
	m := node{append([][]int(nil), n.lo...), append([][]int(nil), n.hi...)}
	m.lo[c], m.hi[c] = append([]int(nil), n.lo[c]...), append([]int(nil), n.hi[c]...)
	m.lo[c][o], m.hi[c][o] = lo, hi
	return m
}

// bound is the least that any choice of the node can cost, in minor units rounded up; ok is false when the
// node has no choice at all. Without money it is the least excess of slots used: above 0, none fits.
//
// Where the sum might not fit 64 bits, the bound given is lower than any cost: no use, but no lie.
func (s *search) bound(n node, prices [dims]int64, money bool) (least int64, ok bool) {
	var size float64
	for d, p := range prices {
		least += p * int64(s.demand[d])
		size += float64(p) * float64(s.demand[d])
	}
	for c, cl := range s.classes {
		part, reach, ok := cl.cheapest(n.lo[c], n.hi[c], prices, money)
		if !ok {
			return 0, false
		}
		least += part
		size += reach
	}
	if size > 1<<61 {
		return math.MinInt64, true
	}
	if !money {
		return least, true
	}
	return ceilDiv(least, unit), true
}

// cheapest fills a class at given slot prices: the least of each option, then the cheapest as far as they
// go. reach is how large any sum on the way may have been.
func (c *class) cheapest(lo, hi []int, prices [dims]int64, money bool) (sum int64, reach float64, ok bool) {
	value := make([]int64, len(c.options))
	left := c.count
	for i, o := range c.options {
		var size float64
		if money {
			value[i] = int64(o.cost) * unit
			size = math.Abs(float64(o.cost)) * unit
		}
		for d, u := range o.use {
			value[i] += prices[d] * int64(u)
			size += math.Abs(float64(prices[d]) * float64(u))
		}
		reach = max(reach, size*float64(c.count))
		sum += value[i] * int64(lo[i])
		left -= lo[i]
	}
	if left < 0 {
		return 0, 0, false
	}
	taken := make([]bool, len(value))
	for left > 0 {
		pick := -1
		for i, v := range value {
			if !taken[i] && hi[i] > lo[i] && (pick < 0 || v < value[pick]) {
				pick = i
			}
		}
		if pick < 0 {
			return 0, 0, false
		}
		taken[pick] = true
		n := min(left, hi[pick]-lo[pick])
		sum += value[pick] * int64(n)
		left -= n
	}
	return sum, reach, true
}

// relaxed solves the node with fractions of spots allowed. Without cost it looks only for a way to keep
// within the slots. x gives every option's count.
func (s *search) relaxed(n node, noCost bool) (x [][]float64, prices [dims]int64, broken float64) {
	l := newRelaxation(s, n, noCost)
	found, rowPrices, broken := l.solve()
	scale := float64(unit)
	if noCost {
		scale = 1 << 20
	}
	for d := range prices {
		prices[d] = int64(math.Round(min(rowPrices[d], 1e9) * scale))
	}
	x = make([][]float64, len(s.classes))
	for c, cl := range s.classes {
		x[c] = make([]float64, len(cl.options))
		left := float64(cl.count)
		for o := range cl.options {
			x[c][o] = float64(n.lo[c][o])
			if j := l.column[c][o]; j >= 0 {
				x[c][o] += found[j]
			}
			left -= x[c][o]
		}
		x[c][l.base[c]] += left
	}
	return x, prices, broken
}

// consider rounds fractions of spots to whole ones and takes the counts as the best so far when they keep
// within everything and cost less. What is left after rounding down goes to the option that is easiest
// on slots at their prices, so that the counts mostly fit.
func (s *search) consider(n node, x [][]float64, prices [dims]int64) {
	counts := ragged[int](s.classes)
	var cost Money
	use := s.demand
	for c, cl := range s.classes {
		left := cl.count
		easiest, least := -1, int64(0)
		for o, v := range x[c] {
			k := int(math.Floor(v + 1e-6))
			counts[c][o] = k
			left -= k
			if v-float64(k) > 1e-6 {
				var load int64
				for d, u := range cl.options[o].use {
					load += prices[d] / unit * int64(u)
				}
				if easiest < 0 || load < least {
					easiest, least = o, load
				}
			}
		}
		if easiest >= 0 {
			counts[c][easiest] += left
			left = 0
		}
		if left != 0 {
			return
		}
		if cl.owned {
			continue // fill knows better than rounding
		}
		for o, k := range counts[c] {
			if k < n.lo[c][o] || k > n.hi[c][o] {
				return
			}
			cost += Money(k) * cl.options[o].cost
			for d, u := range cl.options[o].use {
				use[d] += k * u
			}
		}
	}
	s.fill(counts, &use, &cost)
	for _, u := range use {
		if u > 0 {
			return
		}
	}
	if cost < s.best {
		s.best, s.counts, s.found = cost, counts, true
	}
}

// split chooses the option to branch on, and the count after which to cut: the most fractional one,
// controllers first; with none, any that is still open, so that the search always narrows.
func (s *search) split(n node, x [][]float64) (class, opt, at int) {
	class, most := -1, 1e-6
	for c, cl := range s.classes {
		for o, v := range x[c] {
			frac := math.Abs(v - math.Round(v))
			if cl.host && frac > 1e-6 {
				frac++
			}
			if frac > most && n.lo[c][o] < n.hi[c][o] {
				class, opt, most = c, o, frac
				at = min(max(int(math.Floor(v)), n.lo[c][o]), n.hi[c][o]-1)
			}
		}
	}
	if class >= 0 {
		return class, opt, at
	}
	for c := range s.classes {
		for o, v := range x[c] {
			if lo, hi := n.lo[c][o], n.hi[c][o]; lo < hi {
				return c, o, min(max(int(math.Round(v)), lo), hi-1)
			}
		}
	}
	return -1, 0, 0
}

func ceilDiv(a, b int64) int64 {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}
