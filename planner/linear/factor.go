package linear

import "math"

// factors are a basis as a lower and an upper triangle, and the exchanges since. Places of the basis are named by the rows in which their
// columns have their pivots.
//
// Columns and rows with a single cell come first, as most have one; what they leave is eliminated in the order of Markowitz
// (Management Science 3, 1957), with pivots of a tenth at least of what is largest in their column.
type factors struct {
	order []int // pivot rows, from first to last
	pivot []float64
	lower []eta
	byCol spans // of the upper triangle: what stands above each pivot
	byRow spans // and right of it
	etas  []eta
	fill  int // cells of the etas
}

// eta is a column that differs from one of the identity.
type eta struct {
	at    int
	pivot float64
	cells []Term
}

// spans are lists of cells one after another.
type spans struct {
	from, to []int
	cells    []Term
}

func (s *spans) of(i int) []Term { return s.cells[s.from[i]:s.to[i]] }

const tiny = 1e-11

// factor reckons the factors of the variables that stand as basic. Of columns that depend on others it takes one less, and a row's own variable
// in its place.
func (p *Program) factor() {
	m := len(p.rows)
	e := newElimination(p, m)
	e.columns()
	e.singleRows()
	e.nucleus()
	for k, v := range e.vars {
		if e.row[k] < 0 {
			p.rest(v)
		}
	}
	head := make([]int, m)
	for i := range head {
		head[i] = -1
	}
	for k, r := range e.row {
		if r >= 0 {
			head[r] = e.vars[k]
		}
	}
	p.order, p.lower, p.etas, p.fill = e.order, e.lower, p.etas[:0], 0
	for i := range head {
		if head[i] < 0 {
			head[i] = p.n + i
			p.stands[p.n+i], p.weight[p.n+i] = basic, 1
			p.order = append(p.order, i)
			e.pivot[i] = 1
		}
	}
	p.head, p.pivot = head, e.pivot
	e.triangle(p)
}

// elimination is the work on the factors.
type elimination struct {
	vars  []int
	cols  [][]Term // of each of them
	row   []int    // pivot row of each; -1 for none yet
	done  []bool   // rows
	step  []int    // of rows: when they had their pivot
	pivot []float64
	order []int
	lower []eta

	across spans    // of each row: its columns
	left   []int    // of each column: rows that aren't done
	upper  [][]Term // of columns of the nucleus: what was eliminated above their pivots; nil for others
	inside []bool
}

func newElimination(p *Program, m int) *elimination {
	e := &elimination{vars: p.head, cols: make([][]Term, len(p.head)), row: make([]int, len(p.head)), done: make([]bool, m), step: make([]int, m),
		pivot: make([]float64, m), order: make([]int, 0, m), left: make([]int, len(p.head)), upper: make([][]Term, len(p.head)), inside: make([]bool, len(p.head))}
	own := make([]Term, len(e.vars))
	count, total := make([]int, m), 0
	for k, v := range e.vars {
		e.row[k] = -1
		if v < p.n {
			e.cols[k] = p.cols[v]
		} else {
			own[k] = Term{v - p.n, 1}
			e.cols[k] = own[k : k+1]
		}
		e.left[k] = len(e.cols[k])
		for _, t := range e.cols[k] {
			count[t.Var]++
		}
		total += len(e.cols[k])
	}
	e.across.fit(count, total)
	for k, col := range e.cols {
		for _, t := range col {
			e.across.put(t.Var, Term{k, t.By})
		}
	}
	return e
}

// fit makes room for lists of known lengths.
func (s *spans) fit(count []int, total int) {
	s.from, s.to, s.cells = make([]int, len(count)), make([]int, len(count)), make([]Term, total)
	at := 0
	for i, n := range count {
		s.from[i], s.to[i] = at, at
		at += n
	}
}

func (s *spans) put(i int, t Term) {
	s.cells[s.to[i]] = t
	s.to[i]++
}

func (e *elimination) take(k, r int, by float64) {
	e.row[k], e.done[r], e.step[r], e.pivot[r] = r, true, len(e.order), by
	e.order = append(e.order, r)
}

// columns takes columns with a single row left, one after another.
func (e *elimination) columns() {
	var queue []int
	for k, n := range e.left {
		if n == 1 {
			queue = append(queue, k)
		}
	}
	for len(queue) > 0 {
		k := queue[0]
		queue = queue[1:]
		for _, t := range e.cols[k] {
			if e.done[t.Var] {
				continue
			}
			if math.Abs(t.By) < 1e-7 {
				break
			}
			e.take(k, t.Var, t.By)
			for _, u := range e.across.of(t.Var) {
				if e.left[u.Var]--; e.left[u.Var] == 1 && e.row[u.Var] < 0 {
					queue = append(queue, u.Var)
				}
			}
			break
		}
	}
}

// singleRows takes rows with a single column left, one after another.
func (e *elimination) singleRows() {
	count := make([]int, len(e.done))
	var queue []int
	for r := range e.done {
		if e.done[r] {
			continue
		}
		for _, u := range e.across.of(r) {
			if e.row[u.Var] < 0 {
				count[r]++
			}
		}
		if count[r] == 1 {
			queue = append(queue, r)
		}
	}
	for len(queue) > 0 {
		r := queue[0]
		queue = queue[1:]
		for _, u := range e.across.of(r) {
			k := u.Var
			if e.row[k] >= 0 {
				continue
			}
			if !steady(e.cols[k], e.done, u.By) {
				break
			}
			l := eta{at: r}
			e.take(k, r, u.By)
			for _, t := range e.cols[k] {
				if e.done[t.Var] {
					continue
				}
				l.cells = append(l.cells, Term{t.Var, t.By / u.By})
				if count[t.Var]--; count[t.Var] == 1 {
					queue = append(queue, t.Var)
				}
			}
			if len(l.cells) > 0 {
				e.lower = append(e.lower, l)
			}
			break
		}
	}
}

// steady reports whether a pivot is large enough beside the rest of its column.
func steady(col []Term, done []bool, by float64) bool {
	most := 0.0
	for _, t := range col {
		if !done[t.Var] {
			most = max(most, math.Abs(t.By))
		}
	}
	return math.Abs(by) >= 0.01*most && math.Abs(by) > 1e-7
}

// nucleus eliminates what is left.
func (e *elimination) nucleus() {
	n := &nucleus{elimination: e, cells: make([][]Term, len(e.done)), rows: make([][]int, len(e.cols)), at: make([]int, len(e.cols))}
	for k, col := range e.cols {
		if e.row[k] >= 0 {
			continue
		}
		e.inside[k] = true
		for _, t := range col {
			if e.done[t.Var] {
				e.upper[k] = append(e.upper[k], t)
				continue
			}
			n.cells[t.Var] = append(n.cells[t.Var], Term{k, t.By})
			n.rows[k] = append(n.rows[k], t.Var)
		}
		n.list(k)
	}
	for {
		k, r, by := n.choose()
		if k < 0 {
			return
		}
		n.eliminate(k, r, by)
	}
}

// nucleus is rows and columns in which nothing is single.
type nucleus struct {
	*elimination
	cells  [][]Term // by row
	rows   [][]int  // by column
	counts [][]int  // columns by how many rows they have; some are there from before
	at     []int    // memory: where a column stands in a row, plus one
}

func (n *nucleus) list(k int) {
	c := len(n.rows[k])
	for len(n.counts) <= c {
		n.counts = append(n.counts, nil)
	}
	n.counts[c] = append(n.counts[c], k)
}

// choose looks at a few of the shortest columns for the pivot that may fill in least.
func (n *nucleus) choose() (col, row int, by float64) {
	col = -1
	least, looked := math.MaxInt, 0
	for c := 1; c < len(n.counts) && looked < 4; c++ {
		list := n.counts[c]
		kept := list[:0]
		for i, k := range list {
			if n.row[k] >= 0 || len(n.rows[k]) != c {
				continue
			}
			if looked >= 4 {
				kept = append(kept, list[i:]...)
				break
			}
			kept = append(kept, k)
			looked++
			most := 0.0
			for _, r := range n.rows[k] {
				most = max(most, math.Abs(n.value(r, k)))
			}
			if most < 1e-9 {
				looked--
				kept = kept[:len(kept)-1] // it depends on others
				continue
			}
			for _, r := range n.rows[k] {
				a := n.value(r, k)
				if fill := (len(n.cells[r]) - 1) * (c - 1); math.Abs(a) >= 0.1*most && fill < least {
					least, col, row, by = fill, k, r, a
				}
			}
		}
		n.counts[c] = kept
		if col >= 0 && least <= (c-1)*(c-1) {
			break
		}
	}
	return col, row, by
}

func (n *nucleus) value(r, k int) float64 {
	for _, t := range n.cells[r] {
		if t.Var == k {
			return t.By
		}
	}
	return 0
}

func (n *nucleus) eliminate(k, r int, by float64) {
	n.take(k, r, by)
	l := eta{at: r}
	for _, i := range n.rows[k] {
		if i == r {
			continue
		}
		f := n.value(i, k) / by
		l.cells = append(l.cells, Term{i, f})
		n.subtract(i, r, k, f)
	}
	if len(l.cells) > 0 {
		n.lower = append(n.lower, l)
	}
	n.rows[k] = nil
	for _, t := range n.cells[r] {
		if t.Var == k {
			continue
		}
		n.upper[t.Var] = append(n.upper[t.Var], Term{r, t.By})
		rows := n.rows[t.Var]
		for x, i := range rows {
			if i == r {
				rows[x] = rows[len(rows)-1]
				n.rows[t.Var] = rows[:len(rows)-1]
				break
			}
		}
		n.list(t.Var)
	}
	n.cells[r] = nil
}

// subtract takes f times the pivot row from a row, and its cell of the pivot column out.
func (n *nucleus) subtract(i, r, k int, f float64) {
	cells := n.cells[i]
	for x := range cells {
		n.at[cells[x].Var] = x + 1
	}
	for _, t := range n.cells[r] {
		if t.Var == k {
			continue
		}
		if x := n.at[t.Var]; x > 0 {
			cells[x-1].By -= f * t.By
			continue
		}
		cells = append(cells, Term{t.Var, -f * t.By})
		n.at[t.Var] = len(cells)
		n.rows[t.Var] = append(n.rows[t.Var], i)
	}
	for x := range cells {
		n.at[cells[x].Var] = 0
	}
	for x := range cells {
		if cells[x].Var == k {
			cells[x] = cells[len(cells)-1]
			cells = cells[:len(cells)-1]
			break
		}
	}
	n.cells[i] = cells
}

// triangle gathers the upper triangle by columns and by rows.
func (e *elimination) triangle(p *Program) {
	m := len(e.done)
	across, down := make([]int, m), make([]int, m)
	total := 0
	each := func(do func(place int, t Term)) {
		for k, r := range e.row {
			if r < 0 {
				continue
			}
			if e.inside[k] {
				for _, t := range e.upper[k] {
					do(r, t)
				}
				continue
			}
			for _, t := range e.cols[k] {
				if e.done[t.Var] && e.step[t.Var] < e.step[r] {
					do(r, t)
				}
			}
		}
	}
	each(func(place int, t Term) { down[place]++; across[t.Var]++; total++ })
	p.byCol.fit(down, total)
	p.byRow.fit(across, total)
	each(func(place int, t Term) {
		p.byCol.put(place, t)
		p.byRow.put(t.Var, Term{place, t.By})
	})
}
