package bill

import (
	"math"
	"slices"

	"example.org/roombrief/planner/linear"
)

// sheaf is a whole as a linear program. Of the rows it has those that matter, under their numbers; under ^class those that
// keep classes within their counts. What the others leave of a class is its base, which has no variable of its own.
type sheaf struct {
	*linear.Program
	in   []bool // rows of the whole
	kept []bool // classes
}

func (w *whole) sheaf() *sheaf {
	n := len(w.vars)
	cost, lo, hi := make([]float64, n), make([]float64, n), make([]float64, n)
	for v, p := range w.vars {
		if cl := &w.classes[p.class]; p.option != cl.rest {
			cost[v] = float64(cl.options[p.option].cost - cl.options[cl.rest].cost)
			hi[v] = float64(cl.count)
		}
	}
	return &sheaf{Program: linear.New(cost, lo, hi), kept: make([]bool, len(w.classes))}
}

// keep holds the variables within the ranges of a branch.
func (w *whole) keep(s *sheaf, lo, hi []int) {
	for v, p := range w.vars {
		if p.option != w.classes[p.class].rest {
			s.Bound(v, float64(lo[v]), float64(hi[v]))
		}
	}
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
		w.enter(s, r, k)
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
func (w *whole) enter(s *sheaf, r *row, key int) {
	var all []linear.Term
	most := r.most
	for _, t := range r.terms {
		p := w.vars[t.v]
		cl := &w.classes[p.class]
		if p.option != cl.rest {
			all = append(all, linear.Term{Var: t.v, By: float64(t.a)})
			continue
		}
		most -= t.a * cl.count
		all = append(all, w.others(p.class, -t.a)...)
	}
	s.Add(linear.Row{Terms: gathered(all), Most: float64(most), Key: key})
}

// gathered adds up what a variable counts for.
func gathered(all []linear.Term) []linear.Term {
	slices.SortStableFunc(all, func(a, b linear.Term) int { return a.Var - b.Var })
	n := 0
	for _, t := range all {
		if n > 0 && all[n-1].Var == t.Var {
			all[n-1].By += t.By
			continue
		}
		all[n] = t
		n++
	}
	return all[:n]
}

// others are the options of a class but its base.
func (w *whole) others(class, a int) (all []linear.Term) {
	cl := &w.classes[class]
	for o := range cl.options {
		if o != cl.rest {
			all = append(all, linear.Term{Var: cl.first + o, By: float64(a)})
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
				x[cl.first+o] = s.Value(cl.first + o)
				left -= x[cl.first+o]
			}
		}
		x[cl.first+cl.rest] = left
		if left < -1e-6 && !s.kept[c] {
			s.kept[c] = true
			s.Add(linear.Row{Terms: w.others(c, 1), Most: float64(cl.count), Key: ^c})
			over++
		}
	}
	return x, over
}

// priced are whole prices of the rows of the whole.
func (w *whole) priced(s *sheaf, got linear.Outcome) []int64 {
	scale := float64(unit)
	if got == linear.None {
		scale = 1 << 20
	}
	all := make([]int64, len(w.rows))
	s.Prices(func(key int, price float64) {
		if key >= 0 {
			all[key] = int64(math.Round(min(price, 1e9) * scale))
		}
	})
	return all
}

// shrink leaves out rows that hold anyway, for now.
func (w *whole) shrink(s *sheaf) {
	s.Drop(func(key int) bool {
		if key < 0 {
			s.kept[^key] = false
		} else {
			s.in[key] = false
		}
		return true
	})
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
