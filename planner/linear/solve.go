package linear

import "math"

// Outcome of solving.
type Outcome int

// The outcomes.
const (
	Solved Outcome = iota // the values are a solution of least cost
	None                  // there is none
	Enough                // it costs more than asked for
	Lost                  // it took too many steps
)

const (
	beyond  = 1e-7 // by how much values may be beyond their bounds
	flat    = 1e-9 // and costs beside nothing
	refresh = 60   // exchanges after which the factors are made anew, and one more for each 50 rows
)

// edge is the memory of a step.
type edge struct {
	rho, alpha, tau []float64 // by place
	across          []float64 // by variable: the row of the table
	touched         []int     // its variables
	breaks, passed  []brk
}

// Solve finds the values of least cost, or breaks off once the cost is above enough.
func (p *Program) Solve(enough float64) Outcome {
	p.ray = nil
	p.begin()
	for step, most := 0, 1000+20*(len(p.rows)+p.n); step < most; step++ {
		if p.stale || len(p.etas) >= refresh+len(p.rows)/50 || p.fill > 8*len(p.rows)+4*len(p.byCol.cells) {
			p.begin()
		}
		if step%16 == 15 && p.Sum() > enough {
			return Enough
		}
		r := p.leaving()
		if r < 0 {
			if !p.rough {
				return Solved
			}
			p.stale = true
			continue
		}
		switch p.exchange(r) {
		case stuck:
			if len(p.etas) == 0 {
				return None
			}
			p.ray = nil
			p.stale = true
		case unsteady:
			if len(p.etas) == 0 {
				return Lost
			}
			p.stale = true
		}
	}
	return Lost
}

// begin makes the factors and reckons all figures from them.
func (p *Program) begin() {
	p.factor()
	m := len(p.rows)
	p.Work += 10*m + 4*len(p.byCol.cells)
	e := &p.edge
	e.rho, e.alpha, e.tau = resized(e.rho, m), resized(e.alpha, m), resized(e.tau, m)
	e.across = resized(e.across, len(p.x))
	p.stale, p.rough = false, false
	y := e.tau
	for i, v := range p.head {
		y[i] = 0
		if v < p.n {
			y[i] = p.cost[v]
		}
	}
	p.back(y)
	for v := range p.x {
		if p.stands[v] == basic {
			p.d[v] = 0
			continue
		}
		if v >= p.n {
			p.d[v] = -y[v-p.n]
		} else {
			p.d[v] = p.cost[v]
			for _, t := range p.cols[v] {
				p.d[v] -= y[t.Var] * t.By
			}
		}
		p.settle(v)
	}
	p.places()
}

// settle puts a variable on the bound that its cost asks for.
func (p *Program) settle(v int) {
	switch {
	case p.d[v] < -flat && p.lo[v] < p.hi[v]:
		p.stands[v] = atUpper
	case p.d[v] > flat || p.lo[v] == p.hi[v]:
		p.stands[v] = atLower
	}
	p.x[v] = p.lo[v]
	if p.stands[v] == atUpper {
		p.x[v] = p.hi[v]
	}
}

// places reckons the values of the basic variables.
func (p *Program) places() {
	y := p.edge.tau
	for i := range p.rows {
		y[i] = p.rows[i].Most
		if v := p.n + i; p.stands[v] != basic {
			y[i] -= p.x[v]
		}
	}
	for j := range p.n {
		if x := p.x[j]; x != 0 && p.stands[j] != basic {
			for _, t := range p.cols[j] {
				y[t.Var] -= t.By * x
			}
		}
	}
	p.through(y)
	for i, v := range p.head {
		p.x[v] = y[i]
	}
}

func resized(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n, n+n/4)
	}
	s = s[:n]
	clear(s)
	return s
}

// leaving is the place of the variable that is furthest beyond a bound, measured along its edge; -1 where none is.
func (p *Program) leaving() int {
	best, most := -1, 0.0
	for i, v := range p.head {
		over := p.x[v] - p.hi[v]
		if under := p.lo[v] - p.x[v]; under > over {
			over = under
		}
		if over > beyond && over*over > most*p.weight[v] {
			best, most = i, over*over/p.weight[v]
		}
	}
	p.Work += len(p.head) / 4
	return best
}

// result of a step.
type result int

const (
	moved result = iota
	stuck
	unsteady
)

// exchange takes the variable of a place out of the basis, and another one in.
func (p *Program) exchange(r int) result {
	e := &p.edge
	out := p.head[r]
	under := p.x[out] < p.lo[out]
	over, sign := p.x[out]-p.hi[out], -1.0
	if under {
		over, sign = p.lo[out]-p.x[out], 1
	}
	clear(e.rho)
	e.rho[r] = 1
	p.back(e.rho)
	p.row()
	defer p.forget()
	in, flips := p.entering(over, sign)
	if in < 0 {
		p.ray = make([]float64, len(p.rows))
		for i := range p.ray {
			p.ray[i] = sign * e.rho[i]
		}
		return stuck
	}
	clear(e.alpha)
	p.scatter(in, 1, e.alpha)
	p.through(e.alpha)
	by := e.alpha[r]
	if diff := math.Abs(by - e.across[in]); math.Abs(by) < 1e-7 || diff > 1e-6*(1+math.Abs(by)) {
		return unsteady
	}
	t := -sign * p.d[in] / e.across[in]
	if t < 0 {
		t = 0
	}
	for _, v := range e.touched {
		if p.stands[v] != basic {
			p.d[v] += sign * t * e.across[v]
		}
	}
	p.flip(flips)
	p.steepen(r, in, out, by)
	p.swap(r, in, out, under, by)
	p.d[in], p.d[out] = 0, sign*t
	p.mend()
	return moved
}

// row reckons the row of the table from rho.
func (p *Program) row() {
	e := &p.edge
	e.touched = e.touched[:0]
	for i, f := range e.rho {
		if f < tiny && f > -tiny {
			e.rho[i] = 0
			continue
		}
		if v := p.n + i; p.stands[v] != basic {
			e.across[v] = f
			e.touched = append(e.touched, v)
		}
		terms := p.rows[i].Terms
		p.Work += len(terms)
		for _, t := range terms {
			if p.stands[t.Var] == basic {
				continue
			}
			if e.across[t.Var] == 0 {
				e.touched = append(e.touched, t.Var)
			}
			e.across[t.Var] += f * t.By
			if e.across[t.Var] == 0 {
				e.across[t.Var] = 1e-300 // so that it is touched once
			}
		}
	}
}

func (p *Program) forget() {
	for _, v := range p.edge.touched {
		p.edge.across[v] = 0
	}
}

// flip moves variables to their other bounds.
func (p *Program) flip(flips []brk) {
	if len(flips) == 0 {
		return
	}
	y := p.edge.tau
	clear(y)
	for _, f := range flips {
		v := f.v
		by := p.hi[v] - p.lo[v]
		if p.stands[v] == atUpper {
			by = -by
			p.stands[v], p.x[v] = atLower, p.lo[v]
		} else {
			p.stands[v], p.x[v] = atUpper, p.hi[v]
		}
		p.scatter(v, by, y)
	}
	p.through(y)
	for i, d := range y {
		if d != 0 {
			p.x[p.head[i]] -= d
		}
	}
}

func (p *Program) scatter(v int, by float64, y []float64) {
	if v >= p.n {
		y[v-p.n] += by
		return
	}
	for _, t := range p.cols[v] {
		y[t.Var] += by * t.By
	}
}

// steepen reckons the squares of the edges after the exchange.
func (p *Program) steepen(r, in, out int, by float64) {
	e := &p.edge
	w := 0.0
	for i, f := range e.rho {
		w += f * f
		e.tau[i] = f
	}
	p.through(e.tau)
	for i, a := range e.alpha {
		if a == 0 || i == r {
			continue
		}
		v, f := p.head[i], a/by
		p.weight[v] = max(p.weight[v]-2*f*e.tau[i]+f*f*w, 1e-4)
	}
	p.weight[in], p.weight[out] = max(w/(by*by), 1e-4), 1
}

// swap puts one variable in the place of another, which goes to its bound.
func (p *Program) swap(r, in, out int, under bool, by float64) {
	e := &p.edge
	bound, stands := p.hi[out], atUpper
	if under {
		bound, stands = p.lo[out], atLower
	}
	step := (p.x[out] - bound) / by
	l := eta{at: r, pivot: by}
	for i, a := range e.alpha {
		if a == 0 {
			continue
		}
		p.x[p.head[i]] -= step * a
		if i != r && (a > tiny || a < -tiny) {
			l.cells = append(l.cells, Term{i, a})
		}
	}
	p.x[in] += step
	p.x[out] = bound
	p.stands[in], p.stands[out] = basic, stands
	p.head[r] = in
	p.etas = append(p.etas, l)
	p.fill += len(l.cells)
	p.Work += len(l.cells) + len(e.alpha)/2
}

// mend takes costs for nothing that came to a little less. What that leaves wrong, new factors tell.
func (p *Program) mend() {
	for _, v := range p.edge.touched {
		if p.lo[v] == p.hi[v] || p.stands[v] == basic || p.d[v] == 0 || (p.stands[v] == atLower) == (p.d[v] > 0) {
			continue
		}
		p.rough = p.rough || p.d[v] < -flat || p.d[v] > flat
		p.d[v] = 0
	}
}
