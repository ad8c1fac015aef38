package bill

import "math"

// table is a linear program in the form of the dual simplex method: each basic variable as its value less a sum over the
// others, and the cost as a sum over the others, none of which is below zero. It is least cost.x with x >= 0; rows a.x <= b are
// added one by one, and each time a few steps make it hold again. The method is Lemke's (1954).
//
// Nothing exact rests on it: whole.go uses its prices for bounds that hold whatever the prices are.
type table struct {
	rows  [][]float64 // coefficients, and last the value
	cost  []float64   // of the variables that are not basic, and last the sum less than none
	basic []int       // variable of each row; slack of row k is ^k
	free  []int       // variable of each column
	at    []int       // of each variable: its column, or ^row
	count int         // rows that were ever added
	near  []int       // memory
	work  int         // cells that were reckoned
}

// newTable has one column for each variable, whose costs are not below zero.
func newTable(cost []float64) *table {
	t := &table{cost: append(append([]float64(nil), cost...), 0)}
	for v := range cost {
		t.free, t.at = append(t.free, v), append(t.at, v)
	}
	return t
}

func (t *table) clone() *table {
	o := &table{cost: append([]float64(nil), t.cost...), basic: append([]int(nil), t.basic...), free: append([]int(nil), t.free...),
		at: append([]int(nil), t.at...), count: t.count}
	cells := make([]float64, len(t.rows)*len(t.cost))
	for i, row := range t.rows {
		o.rows = append(o.rows, cells[i*len(row):(i+1)*len(row):(i+1)*len(row)])
		copy(o.rows[i], row)
	}
	return o
}

// term is a variable with its coefficient.
type term struct {
	v int
	a int
}

// add puts a row in: the sum of the terms is b at most. Its number is told.
func (t *table) add(terms []term, b float64) int {
	row := make([]float64, len(t.cost))
	last := len(row) - 1
	row[last] = b
	for _, x := range terms {
		at := t.at[x.v]
		if at == gone {
			continue
		}
		if at >= 0 {
			row[at] += float64(x.a)
			continue
		}
		for j, c := range t.rows[^t.at[x.v]] {
			if c != 0 {
				row[j] -= float64(x.a) * c
			}
		}
	}
	t.rows, t.basic = append(t.rows, row), append(t.basic, ^t.count)
	t.count++
	return t.count - 1
}

const tiny = 1e-9

// gone is where a variable is that stays at nothing and has no column any more.
const gone = math.MaxInt

// drop leaves out columns of variables that are to stay at nothing.
func (t *table) drop(out func(v int) bool) {
	var keep []int
	for j, v := range t.free {
		if v >= 0 && out(v) {
			t.at[v] = gone
			continue
		}
		keep = append(keep, j)
	}
	if len(keep) == len(t.free) {
		return
	}
	last := len(t.cost) - 1
	for _, row := range append(t.rows, t.cost) {
		for i, j := range keep {
			row[i] = row[j]
		}
		row[len(keep)] = row[last]
	}
	for i := range t.rows {
		t.rows[i] = t.rows[i][:len(keep)+1]
	}
	t.cost = t.cost[:len(keep)+1]
	for i, j := range keep {
		t.free[i] = t.free[j]
		t.note(t.free[i], i)
	}
	t.free = t.free[:len(keep)]
}

// loosen leaves out rows that hold with some to spare, and tells which.
func (t *table) loosen(out func(k int)) {
	last, n := len(t.cost)-1, 0
	for i, row := range t.rows {
		if v := t.basic[i]; v < 0 && row[last] > -1e-6 {
			out(^v)
			continue
		}
		t.rows[n], t.basic[n] = row, t.basic[i]
		t.note(t.basic[n], ^n)
		n++
	}
	t.rows, t.basic = t.rows[:n], t.basic[:n]
}

// solve steps until no value is below zero. It gives the row that can't be mended, -1 where none is so; done is false when it
// took too many steps, or came above enough.
func (t *table) solve(enough float64) (broken int, done bool) {
	last := len(t.cost) - 1
	for step, most := 0, 200+20*len(t.rows); step < most; step++ {
		out, least := -1, -1e-7
		for i, row := range t.rows {
			if row[last] < least {
				out, least = i, row[last]
			}
		}
		if out < 0 {
			return -1, true
		}
		if -t.cost[last] > enough {
			return -1, false
		}
		in, ratio := -1, math.Inf(1)
		for j, a := range t.rows[out][:last] {
			if a >= -tiny {
				continue
			}
			r := t.cost[j] / -a
			if r < ratio-tiny || r < ratio+tiny && a < t.rows[out][in] {
				in, ratio = j, min(r, ratio)
			}
		}
		if in < 0 {
			return out, true
		}
		t.exchange(out, in)
	}
	return -1, false
}

// exchange makes the variable of a column basic in place of that of a row.
func (t *table) exchange(out, in int) {
	row := t.rows[out]
	by := 1 / row[in]
	t.near = t.near[:0]
	for j, a := range row {
		if a > tiny || a < -tiny {
			row[j] = a * by
			if j != in {
				t.near = append(t.near, j)
			}
		} else {
			row[j] = 0
		}
	}
	row[in] = by
	for i, other := range t.rows {
		if f := other[in]; i != out && f != 0 {
			t.less(other, row, f)
			other[in] = -f * by
		}
	}
	f := t.cost[in]
	t.less(t.cost, row, f)
	t.cost[in] = -f * by
	t.basic[out], t.free[in] = t.free[in], t.basic[out]
	t.note(t.basic[out], ^out)
	t.note(t.free[in], in)
}

func (t *table) less(row, by []float64, f float64) {
	t.work += len(t.near)
	for _, j := range t.near {
		row[j] -= f * by[j]
	}
}

func (t *table) note(v, at int) {
	if v >= 0 {
		t.at[v] = at
	}
}

// value of a variable.
func (t *table) value(v int) float64 {
	if at := t.at[v]; at < 0 && at != gone {
		return max(t.rows[^at][len(t.cost)-1], 0)
	}
	return 0
}

// prices are what one more of each row's b would save, and where broken is a row that can't be mended, by how much each row
// has to count so that their sum can't hold.
func (t *table) prices(broken int) []float64 {
	all := make([]float64, t.count)
	from := t.cost
	if broken >= 0 {
		from = t.rows[broken]
		if k := t.basic[broken]; k < 0 {
			all[^k] = 1
		}
	}
	for j, v := range t.free {
		if v < 0 {
			all[^v] = max(from[j], 0)
		}
	}
	return all
}
