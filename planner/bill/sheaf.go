package bill

import (
	"math"
	"slices"
)

// sheaf is a whole, or a branch of it, as a table. Of the rows it has those that matter.
type sheaf struct {
	*table
	of   []int  // of each row that was ever in the table: that of the whole; ^class for one that keeps a class within its count; branching
	in   []bool // rows of the whole
	kept []bool // classes
}

// branching is a row of one branch.
const branching = math.MaxInt

// sheaf has a variable for each option but the base of its class.
func (w *whole) sheaf() *sheaf {
	cost := make([]float64, len(w.vars))
	for v, p := range w.vars {
		cl := &w.classes[p.class]
		cost[v] = float64(cl.options[p.option].cost - cl.options[cl.rest].cost)
	}
	s := &sheaf{table: newTable(cost), kept: make([]bool, len(w.classes))}
	s.drop(func(v int) bool { return w.vars[v].option == w.classes[w.vars[v].class].rest })
	return s
}

// branch is the sheaf with the counts that a leaf keeps to.
func (w *whole) branch(from *sheaf, l *leaf) *sheaf {
	w.work += len(from.table.rows) * len(from.table.cost)
	s := &sheaf{table: from.table.clone(), of: slices.Clone(from.of), in: slices.Clone(from.in), kept: slices.Clone(from.kept)}
	for ; l.from != nil; l = l.from {
		if l.up {
			w.enter(s, []term{{l.v, -1}}, -l.k, branching)
		} else {
			w.enter(s, []term{{l.v, 1}}, l.k, branching)
		}
	}
	return s
}

// fill puts in those rows of the whole that a choice breaks, and tells how many; without one all.
func (w *whole) fill(s *sheaf, x []float64) (n int) {
	s.in = append(s.in, make([]bool, len(w.rows)-len(s.in))...)
	for k, in := range s.in {
		r := &w.rows[k]
		if in || x != nil && r.over(x) < slack {
			continue
		}
		s.in[k] = true
		w.enter(s, r.terms, r.most, k)
		n++
	}
	return n
}

func (r *row) over(x []float64) float64 {
	sum := -float64(r.most)
	for _, t := range r.terms {
		sum += float64(t.a) * x[t.v]
	}
	return sum
}

// enter puts a row in, with what the others leave of a class in place of its base.
func (w *whole) enter(s *sheaf, terms []term, most int, of int) {
	var all []term
	for _, t := range terms {
		p := w.vars[t.v]
		cl := &w.classes[p.class]
		if p.option != cl.rest {
			all = append(all, t)
			continue
		}
		most -= t.a * cl.count
		all = append(all, w.others(p.class, -t.a)...)
	}
	s.add(all, float64(most))
	s.of = append(s.of, of)
}

// others are the options of a class but its base.
func (w *whole) others(class, a int) (all []term) {
	cl := &w.classes[class]
	for o := range cl.options {
		if o != cl.rest {
			all = append(all, term{cl.first + o, a})
		}
	}
	return all
}

// values of all variables. For classes that are overfull rows are put in; over tells how many.
func (w *whole) values(s *sheaf) (x []float64, over int) {
	x = make([]float64, len(w.vars))
	for c := range w.classes {
		cl := &w.classes[c]
		left := float64(cl.count)
		for o := range cl.options {
			if o != cl.rest {
				x[cl.first+o] = s.value(cl.first + o)
				left -= x[cl.first+o]
			}
		}
		x[cl.first+cl.rest] = left
		if left < -1e-6 && !s.kept[c] {
			s.kept[c] = true
			s.add(w.others(c, 1), float64(cl.count))
			s.of = append(s.of, ^c)
			over++
		}
	}
	return x, over
}

// priced are whole prices of the rows of the whole.
func (w *whole) priced(s *sheaf, broken int) []int64 {
	scale := float64(unit)
	if broken >= 0 {
		scale = 1 << 20
	}
	all := make([]int64, len(w.rows))
	for i, p := range s.prices(broken) {
		if k := s.of[i]; k >= 0 && k != branching {
			all[k] = int64(math.Round(min(p, 1e9) * scale))
		}
	}
	return all
}

// shrink leaves out what is of no use for now: rows that hold anyway, and variables that are fixed.
func (w *whole) shrink(s *sheaf) {
	s.loosen(func(k int) {
		switch of := s.of[k]; {
		case of < 0:
			s.kept[^of] = false
		case of != branching:
			s.in[of] = false
		}
	})
	s.drop(func(v int) bool { return w.fixed[v] })
}

// bound is the least that any choice within ranges can cost, as in branch.go. Without money it is above 0 where there is none.
// ok is false where a class can't be filled.
func (w *whole) bound(lo, hi []int, price []int64, money bool) (least int64, ok bool) {
	value, size := w.worths(price, money)
	for k, p := range price {
		least -= p * int64(w.rows[k].most)
		size += math.Abs(float64(p) * float64(w.rows[k].most))
	}
	for c := range w.classes {
		cl := &w.classes[c]
		from, to := cl.first, cl.first+len(cl.options)
		sum, ok := cheapestFill(value[from:to], lo[from:to], hi[from:to], cl.count)
		if !ok {
			return 0, false
		}
		least += sum
	}
	switch {
	case size > 1<<61: // the sum might not fit: lower than any cost is no use, but no lie
		return math.MinInt64 / 2, true
	case money:
		return ceilDiv(least, unit), true
	}
	return least, true
}

// worths are what each option costs with the rows at their prices, and how large any sum of them may have been on the way.
func (w *whole) worths(price []int64, money bool) (value []int64, size float64) {
	value = make([]int64, len(w.vars))
	if money {
		for v, p := range w.vars {
			cl := &w.classes[p.class]
			value[v] = int64(cl.options[p.option].cost) * unit
			size += math.Abs(float64(value[v]) * float64(cl.count))
		}
	}
	for k, p := range price {
		if p == 0 {
			continue
		}
		for _, t := range w.rows[k].terms {
			value[t.v] += p * int64(t.a)
			size += math.Abs(float64(p) * float64(t.a*w.classes[w.vars[t.v].class].count))
		}
	}
	return value, size
}

// cheapestFill fills a class: the least of each option, then the cheapest as far as they go.
func cheapestFill(value []int64, lo, hi []int, count int) (sum int64, ok bool) {
	left := count
	for o, n := range lo {
		sum += value[o] * int64(n)
		left -= n
	}
	if left < 0 {
		return 0, false
	}
	for above, last := int64(math.MinInt64), -1; left > 0; {
		pick := -1
		for o, v := range value {
			if hi[o] > lo[o] && (v > above || v == above && o > last) && (pick < 0 || v < value[pick]) {
				pick = o
			}
		}
		if pick < 0 {
			return 0, false
		}
		n := min(left, hi[pick]-lo[pick])
		sum += value[pick] * int64(n)
		left -= n
		above, last = value[pick], pick
	}
	return sum, true
}
