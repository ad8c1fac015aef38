// Package linear solves linear programs: least cost.x with rows in which a sum of variables is most at most, and each variable
// between bounds. Rows come and go and bounds change between one solution and the next, which starts where the last one ended.
//
// The method is the dual simplex method (Lemke, Naval Research Logistics Quarterly 1, 1954) with bounded variables, the dual
// steepest edge (Forrest and Goldfarb, Mathematical Programming 57, 1992) and long steps over bounds (Maros, European Journal of
// Operational Research 149, 2003), on sparse factors of the basis (factor.go).
//
// Figures are floating point and come out rounded: whoever needs a bound that holds exactly reckons it anew from the prices.
package linear

// Term is a variable with what it counts for.
type Term struct {
	Var int
	By  float64
}

// Row is a sum of variables, each of them once, that is Most at most, or exactly Most where it is Even. Its Key tells it from other rows.
type Row struct {
	Terms []Term
	Most  float64
	Even  bool
	Key   int
}

// standing of a variable.
type standing int8

const (
	atLower standing = iota
	atUpper
	basic
)

// Program is a linear program with where its last solution stands. A row's own variable, which takes what the row leaves of its
// most, stands behind those of the program.
type Program struct {
	n    int // variables
	cost []float64
	cols [][]Term // of each variable: its rows
	rows []Row

	least, most []float64 // of the variables at first
	lo, hi      []float64 // of all variables, those of rows too
	x, d        []float64 // values, and what one more would cost
	stands      []standing
	weight      []float64 // of basic variables: the square of the edge
	head        []int     // variable of each row's place in the basis
	factors

	stale bool // the factors are of another basis
	rough bool // some costs were rounded to nothing
	edge  edge
	ray   []float64 // where there is no solution: how rows have to count so that their sum can't hold

	Work int // cells that were reckoned
}

// New has variables with costs and bounds, and no rows. All bounds are finite.
func New(cost, lo, hi []float64) *Program {
	n := len(cost)
	p := &Program{n: n, cost: cost, least: lo, most: hi, cols: make([][]Term, n), lo: append([]float64(nil), lo...), hi: append([]float64(nil), hi...),
		x: make([]float64, n), d: append([]float64(nil), cost...), stands: make([]standing, n), weight: make([]float64, n)}
	for j := range n {
		p.rest(j)
	}
	return p
}

// Rows is how many rows there are.
func (p *Program) Rows() int { return len(p.rows) }

// Add puts a row in. Its variable is basic at first.
func (p *Program) Add(r Row) {
	i := len(p.rows)
	p.rows = append(p.rows, r)
	for _, t := range r.Terms {
		p.cols[t.Var] = append(p.cols[t.Var], Term{i, t.By})
	}
	p.lo, p.hi = append(p.lo, 0), append(p.hi, p.span(r))
	p.x, p.d = append(p.x, 0), append(p.d, 0)
	p.stands, p.weight = append(p.stands, basic), append(p.weight, 1)
	p.head = append(p.head, p.n+i)
	p.stale = true
}

// span is the most that a row can leave of its most. As it is finite, every variable has two bounds, and on one of them its cost is right.
func (p *Program) span(r Row) float64 {
	if r.Even {
		return 0
	}
	span := r.Most
	for _, t := range r.Terms {
		span -= min(t.By*p.least[t.Var], t.By*p.most[t.Var])
	}
	return max(span, 0)
}

// Bound keeps a variable between two values, which are within those that it was made with.
func (p *Program) Bound(j int, lo, hi float64) {
	if p.lo[j] == lo && p.hi[j] == hi {
		return
	}
	p.lo[j], p.hi[j] = lo, hi
	if p.stands[j] != basic {
		p.rest(j)
	}
	p.stale = true
}

// rest puts a variable that isn't basic on the bound that its cost asks for.
func (p *Program) rest(j int) {
	if p.d[j] < 0 {
		p.stands[j], p.x[j] = atUpper, p.hi[j]
		return
	}
	p.stands[j], p.x[j] = atLower, p.lo[j]
}

// Drop leaves out rows that hold with some to spare where out says so.
func (p *Program) Drop(out func(key int) bool) {
	var kept []int
	for i := range p.rows {
		if v := p.n + i; p.stands[v] != basic || p.x[v] < 1e-6 || !out(p.rows[i].Key) {
			kept = append(kept, i)
		}
	}
	if len(kept) == len(p.rows) {
		return
	}
	for j := range p.cols {
		p.cols[j] = p.cols[j][:0]
	}
	p.head = p.head[:0]
	for j := range p.n {
		if p.stands[j] == basic {
			p.head = append(p.head, j)
		}
	}
	for i, from := range kept {
		p.rows[i] = p.rows[from]
		for _, t := range p.rows[i].Terms {
			p.cols[t.Var] = append(p.cols[t.Var], Term{i, t.By})
		}
		a, b := p.n+i, p.n+from
		p.lo[a], p.hi[a], p.x[a], p.d[a], p.stands[a], p.weight[a] = p.lo[b], p.hi[b], p.x[b], p.d[b], p.stands[b], p.weight[b]
		if p.stands[a] == basic {
			p.head = append(p.head, a)
		}
	}
	m := p.n + len(kept)
	clear(p.rows[len(kept):])
	p.rows = p.rows[:len(kept)]
	p.lo, p.hi, p.x, p.d, p.stands, p.weight = p.lo[:m], p.hi[:m], p.x[:m], p.d[:m], p.stands[:m], p.weight[:m]
	p.stale = true
}

// Basis is where a solution stands.
type Basis struct {
	vars []standing
	rows map[int]standing // by key: those that aren't basic
}

// Basis tells where the last solution stands.
func (p *Program) Basis() *Basis {
	b := &Basis{vars: append([]standing(nil), p.stands[:p.n]...), rows: map[int]standing{}}
	for i := range p.rows {
		if s := p.stands[p.n+i]; s != basic {
			b.rows[p.rows[i].Key] = s
		}
	}
	return b
}

// Restore goes back to where a solution stood, as far as its rows are still there.
func (p *Program) Restore(b *Basis) {
	copy(p.stands, b.vars)
	p.head = p.head[:0]
	for v := range p.stands {
		if v >= p.n {
			s, ok := b.rows[p.rows[v-p.n].Key]
			if !ok {
				s = basic
			}
			p.stands[v] = s
		}
		if p.weight[v] = 1; p.stands[v] == basic {
			p.head = append(p.head, v)
			continue
		}
		p.x[v] = p.lo[v]
		if p.stands[v] == atUpper {
			p.x[v] = p.hi[v]
		}
	}
	p.stale = true
}

// Value of a variable.
func (p *Program) Value(j int) float64 { return min(max(p.x[j], p.lo[j]), p.hi[j]) }

// Sum is the cost of the last solution; where that broke off, less than any solution costs.
func (p *Program) Sum() (sum float64) {
	for j, c := range p.cost {
		sum += c * p.x[j]
	}
	return sum
}

// Prices goes through the rows with what one more of each row's most would save. Where the last solution found that there is none, they
// are how rows have to count so that their sum can't hold.
func (p *Program) Prices(do func(key int, price float64)) {
	for i := range p.rows {
		price := p.d[p.n+i]
		if p.ray != nil {
			price = p.ray[i]
		}
		if !p.rows[i].Even {
			price = max(price, 0)
		}
		if price != 0 {
			do(p.rows[i].Key, price)
		}
	}
}
