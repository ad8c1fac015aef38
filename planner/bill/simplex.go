package bill

import "math"

// program is a small linear program: least cost.x with every row a.x <= b and x >= 0. A row with b below
// zero may be broken at a price per unit, so that a start is always at hand.
type program struct {
	cost    []float64
	rows    [][]float64
	b       []float64
	penalty float64
	space   *space
}

// space is memory that one program after another uses.
type space struct {
	cells  []float64
	filled []int
	lines  [][]float64
	used   int // of the lines
}

// zeroed gives n cells that hold 0, until the next call.
func (s *space) zeroed(n int) []float64 {
	if cap(s.cells) < n {
		s.cells = make([]float64, n+n/2)
	}
	s.cells = s.cells[:n]
	clear(s.cells)
	return s.cells
}

// line gives n cells that hold 0, until used is set back.
func (s *space) line(n int) []float64 {
	if s.used == len(s.lines) {
		s.lines = append(s.lines, nil)
	}
	l := s.lines[s.used]
	if cap(l) < n {
		l = make([]float64, n+n/2)
	}
	l = l[:n]
	clear(l)
	s.lines[s.used] = l
	s.used++
	return l
}

// solve runs the primal simplex method (Dantzig's rule, then Bland's so that it ends). It gives x, the
// price of one more unit of each b, and by how much rows had to be broken.
//
// Nothing exact rests on it: branch.go uses the prices for bounds that hold whatever the prices are, and
// x only to choose where to branch.
func (p *program) solve() (x, prices []float64, broken float64) {
	m, n := len(p.rows), len(p.cost)
	flipped := 0
	for _, b := range p.b {
		if b < 0 {
			flipped++
		}
	}
	width := n + m + flipped + 1
	t := make([][]float64, m+1)
	cells := p.space.zeroed((m + 1) * width)
	for i := range t {
		t[i] = cells[i*width : (i+1)*width]
	}
	z := t[m]
	copy(z, p.cost)
	basis := make([]int, m)
	elastic := n + m
	for i, row := range p.rows {
		sign := 1.0
		if p.b[i] < 0 {
			sign = -1
		}
		for j, a := range row {
			t[i][j] = sign * a
		}
		t[i][n+i] = sign
		t[i][width-1] = sign * p.b[i]
		basis[i] = n + i
		if sign < 0 {
			t[i][elastic] = 1
			z[elastic] = p.penalty
			basis[i] = elastic
			for j := range z {
				z[j] -= p.penalty * t[i][j]
			}
			elastic++
		}
	}
	p.pivot(t, basis, width)
	x, prices = make([]float64, n), make([]float64, m)
	for i, j := range basis {
		switch {
		case j < n:
			x[j] = t[i][width-1]
		case j >= n+m:
			broken += t[i][width-1]
		}
	}
	for i := range prices {
		prices[i] = max(z[n+i], 0)
	}
	return x, prices, broken
}

func (p *program) pivot(t [][]float64, basis []int, width int) {
	m := len(basis)
	z := t[m]
	scale := 1.0
	for _, c := range p.cost {
		scale = max(scale, math.Abs(c))
	}
	for step, most := 0, 60*(m+width); step < most; step++ {
		in, least := -1, -tiny*scale
		for j := 0; j < width-1; j++ {
			if z[j] < least {
				in, least = j, z[j]
				if step > most/2 {
					break // Bland: the first that helps
				}
			}
		}
		if in < 0 {
			return
		}
		out, ratio := -1, math.Inf(1)
		for i := 0; i < m; i++ {
			if t[i][in] <= tiny {
				continue
			}
			r := t[i][width-1] / t[i][in]
			if r < ratio-tiny || r < ratio+tiny && out >= 0 && basis[i] < basis[out] {
				out, ratio = i, r
			}
		}
		if out < 0 {
			return // no bound: can't be, since each class has only so many spots
		}
		p.space.filled = exchange(t, out, in, p.space.filled[:0])
		basis[out] = in
	}
}

// exchange makes column in that of row out. Most of a row is empty, and is passed over; filled is memory
// for the places that are not.
func exchange(t [][]float64, out, in int, filled []int) []int {
	row, by := t[out], t[out][in]
	for j, v := range row {
		if v != 0 {
			row[j] = v / by
			filled = append(filled, j)
		}
	}
	for i, other := range t {
		f := other[in]
		if i == out || f == 0 {
			continue
		}
		for _, j := range filled {
			other[j] -= f * row[j]
		}
	}
	return filled
}
