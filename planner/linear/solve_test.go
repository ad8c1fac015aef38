package linear_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/planner/linear"
)

// model is a program kept beside the one that is solved.
type model struct {
	cost, lo, hi, least, most []float64
	rows                      map[int]linear.Row
}

// check holds an outcome against the model: values must be within all rows and bounds and cost what their prices say is the least; where
// there are none, the rows' sum must say so.
func (m *model) check(t *rapid.T, p *linear.Program, got linear.Outcome) {
	prices := map[int]float64{}
	p.Prices(func(key int, price float64) { prices[key] = price })
	value := append([]float64(nil), m.cost...)
	if got == linear.None {
		clear(value)
	}
	least, size := 0.0, 1.0
	for key, r := range m.rows {
		price := prices[key]
		if price < 0 && !r.Even {
			t.Fatalf("row %d has the price %g", key, price)
		}
		least -= price * r.Most
		size += math.Abs(price * r.Most)
		for _, x := range r.Terms {
			value[x.Var] += price * x.By
		}
	}
	for j, v := range value {
		least += min(v*m.lo[j], v*m.hi[j])
		size += math.Abs(v) * (math.Abs(m.lo[j]) + math.Abs(m.hi[j]))
	}
	if got == linear.None {
		if least <= 1e-7 {
			t.Fatalf("there is said to be no solution, and the rows' sum is only %g over what it may be", least)
		}
		return
	}
	if got != linear.Solved {
		t.Fatalf("ended with %v", got)
	}
	sum := 0.0
	for j, c := range m.cost {
		x := p.Value(j)
		if x < m.lo[j]-1e-6 || x > m.hi[j]+1e-6 {
			t.Fatalf("variable %d is %g, out of %g to %g", j, x, m.lo[j], m.hi[j])
		}
		sum += c * x
	}
	for key, r := range m.rows {
		at := -r.Most
		for _, x := range r.Terms {
			at += x.By * p.Value(x.Var)
		}
		if at > 1e-5 || r.Even && at < -1e-5 {
			t.Fatalf("row %d is over by %g", key, at)
		}
	}
	if math.Abs(sum-least) > 1e-6*size {
		t.Fatalf("costs %g, and the prices say %g", sum, least)
	}
}

// Whatever is added, dropped, bounded otherwise or gone back to, each solution comes with the proof that none costs less, or that there is none.
func TestEachSolutionIsProved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { eachIsProved(t, 12, 6) })
}

// And so it is where the factors have a nucleus, and many variables go from bound to bound.
func TestEachSolutionOfMoreIsProved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { eachIsProved(t, 60, 40) })
}

func eachIsProved(t *rapid.T, variables, rows int) {
	n := rapid.IntRange(1, variables).Draw(t, "variables")
	m := &model{rows: map[int]linear.Row{}}
	for range n {
		lo := rapid.IntRange(-2, 2).Draw(t, "from")
		m.cost = append(m.cost, float64(rapid.IntRange(-9, 20).Draw(t, "cost")))
		m.lo, m.hi = append(m.lo, float64(lo)), append(m.hi, float64(lo+rapid.IntRange(0, 4).Draw(t, "span")))
	}
	m.least, m.most = slices.Clone(m.lo), slices.Clone(m.hi)
	p := linear.New(m.cost, m.least, m.most)
	key := 0
	var kept []*linear.Basis
	for range rapid.IntRange(1, 8).Draw(t, "rounds") {
		switch rapid.IntRange(0, 4).Draw(t, "what") {
		case 0, 1:
			for range rapid.IntRange(1, rows).Draw(t, "rows") {
				r := linear.Row{Key: key, Most: float64(rapid.IntRange(-12, 12).Draw(t, "most")), Even: rapid.IntRange(0, 7).Draw(t, "even") == 0}
				for j := range n {
					if a := rapid.IntRange(-6, 3).Draw(t, "by"); a > -4 && a != 0 {
						r.Terms = append(r.Terms, linear.Term{Var: j, By: float64(a)})
					}
				}
				m.rows[key] = r
				key++
				p.Add(r)
			}
		case 2:
			j := rapid.IntRange(0, n-1).Draw(t, "variable")
			m.lo[j] = m.least[j] + float64(rapid.IntRange(0, int(m.most[j]-m.least[j])).Draw(t, "lo"))
			m.hi[j] = m.lo[j] + float64(rapid.IntRange(0, int(m.most[j]-m.lo[j])).Draw(t, "hi"))
			p.Bound(j, m.lo[j], m.hi[j])
		case 3:
			p.Drop(func(key int) bool {
				delete(m.rows, key)
				return true
			})
		case 4:
			if len(kept) > 0 {
				p.Restore(rapid.SampledFrom(kept).Draw(t, "stand"))
			}
		}
		got := p.Solve(math.Inf(1))
		m.check(t, p, got)
		kept = append(kept, p.Basis())
	}
}

// BenchmarkTurns takes one row after another as a home's routes for radio do: whoever uses must be served by one of a few.
func BenchmarkTurns(b *testing.B) {
	const rooms, seats = 400, 40
	n := rooms + seats
	cost, lo, hi := make([]float64, n), make([]float64, n), make([]float64, n)
	for j := range n {
		cost[j], hi[j] = 1+float64(j*7919%13), 1
		if j >= rooms {
			cost[j] *= 9
		}
	}
	for b.Loop() {
		p := linear.New(cost, lo, hi)
		for i := range rooms {
			served := linear.Row{Key: i, Most: -1, Terms: []linear.Term{{Var: i, By: -1}}}
			for k := range 3 {
				served.Terms = append(served.Terms, linear.Term{Var: rooms + (7*i+13*k)%seats, By: -1})
			}
			p.Add(served)
			if got := p.Solve(math.Inf(1)); got != linear.Solved {
				b.Fatal(got)
			}
		}
	}
}
