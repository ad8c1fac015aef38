package linear

// brk is a variable that comes to have no cost at some length of the step.
type brk struct {
	v     int
	ratio float64
	size  float64
}

// entering is the variable whose cost comes to nothing first, but that variables between two bounds go over to the other one as long as that
// brings the leaving one no further than its bound. flips are those.
func (p *Program) entering(over, sign float64) (in int, flips []brk) {
	e := &p.edge
	e.breaks = e.breaks[:0]
	for _, v := range e.touched {
		if p.lo[v] == p.hi[v] || p.stands[v] == basic {
			continue
		}
		a := sign * e.across[v]
		if p.stands[v] == atLower && a < -flat {
			e.breaks = append(e.breaks, brk{v, max(p.d[v], 0) / -a, -a})
		} else if p.stands[v] == atUpper && a > flat {
			e.breaks = append(e.breaks, brk{v, max(-p.d[v], 0) / a, a})
		}
	}
	p.Work += len(e.touched)
	if len(e.breaks) == 0 {
		return -1, nil
	}
	b := breaks(e.breaks)
	for i := len(b)/2 - 1; i >= 0; i-- {
		b.sink(i)
	}
	e.passed = e.passed[:0]
	for over > beyond && len(b) > 0 {
		next := b.pop()
		over -= next.size * (p.hi[next.v] - p.lo[next.v])
		e.passed = append(e.passed, next)
	}
	if over > beyond {
		return -1, nil // with all of them at their other bounds it is still beyond its own
	}
	at := len(e.passed) - 1
	limit := e.passed[at].ratio
	for len(b) > 0 && b[0].ratio <= limit+flat {
		e.passed = append(e.passed, b.pop())
	}
	first, best := at, at
	for first > 0 && e.passed[first-1].ratio >= limit-flat {
		first--
	}
	for i := first; i < len(e.passed); i++ {
		if e.passed[i].size > e.passed[best].size {
			best = i
		}
	}
	return e.passed[best].v, e.passed[:first]
}

// breaks as a heap: the least ratio first.
type breaks []brk

func (b breaks) before(i, j int) bool {
	return b[i].ratio < b[j].ratio || b[i].ratio == b[j].ratio && b[i].v < b[j].v
}

func (b breaks) sink(i int) {
	for {
		least := i
		for c := 2*i + 1; c <= 2*i+2 && c < len(b); c++ {
			if b.before(c, least) {
				least = c
			}
		}
		if least == i {
			return
		}
		b[i], b[least] = b[least], b[i]
		i = least
	}
}

func (b *breaks) pop() brk {
	list := *b
	first, last := list[0], len(list)-1
	list[0] = list[last]
	*b = list[:last]
	b.sink(0)
	return first
}
