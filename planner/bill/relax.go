package bill

// relaxation is the linear program of a node: in each class one option, the base, takes whatever the
// others leave.
type relaxation struct {
	program
	column [][]int // of each option; -1 for the base
	base   []int
}

// newRelaxation writes the program down. Its first rows are the slots, whose prices the bound is made of.
func newRelaxation(s *search, n node, noCost bool) *relaxation {
	l := &relaxation{program: program{space: s.space}, column: ragged[int](s.classes), base: make([]int, len(s.classes))}
	l.space.used = 0
	columns, dearest := 0, Money(1)
	for c, cl := range s.classes {
		left := leftOf(cl, n.lo[c])
		l.base[c] = 0
		for o := range cl.options {
			if n.hi[c][o]-n.lo[c][o] >= left {
				l.base[c] = o
				break
			}
		}
		for o, op := range cl.options {
			l.column[c][o] = -1
			if o != l.base[c] {
				l.column[c][o] = columns
				columns++
			}
			dearest = max(dearest, op.cost)
		}
	}
	l.cost = make([]float64, columns)
	l.penalty = 100 * float64(dearest)
	if noCost {
		l.penalty = 1
	}
	l.slotRows(s, n, noCost)
	l.classRows(s, n)
	return l
}

func leftOf(cl class, lo []int) int {
	left := cl.count
	for _, k := range lo {
		left -= k
	}
	return left
}

// slotRows say that no more slots are used than brought.
func (l *relaxation) slotRows(s *search, n node, noCost bool) {
	for d := 0; d < dims; d++ {
		l.rows = append(l.rows, l.space.line(len(l.cost)))
		l.b = append(l.b, -float64(s.demand[d]))
	}
	for c, cl := range s.classes {
		base := cl.options[l.base[c]]
		left := leftOf(cl, n.lo[c])
		for o, op := range cl.options {
			for d, u := range op.use {
				l.b[d] -= float64(u * n.lo[c][o])
			}
			if j := l.column[c][o]; j >= 0 {
				if !noCost {
					l.cost[j] = float64(op.cost - base.cost)
				}
				for d := range op.use {
					l.rows[d][j] = float64(op.use[d] - base.use[d])
				}
			}
		}
		for d, u := range base.use {
			l.b[d] -= float64(u * left)
		}
	}
}

// classRows keep each class at its count and each option within the node.
func (l *relaxation) classRows(s *search, n node) {
	for c, cl := range s.classes {
		left := leftOf(cl, n.lo[c])
		var all []float64
		if len(cl.options) > 1 {
			all = l.space.line(len(l.cost))
		}
		for o := range cl.options {
			j := l.column[c][o]
			if j < 0 {
				continue
			}
			all[j] = 1
			if span := n.hi[c][o] - n.lo[c][o]; span < left {
				row := l.space.line(len(l.cost))
				row[j] = 1
				l.rows, l.b = append(l.rows, row), append(l.b, float64(span))
			}
		}
		if all != nil {
			l.rows, l.b = append(l.rows, all), append(l.b, float64(left))
		}
		if span := n.hi[c][l.base[c]] - n.lo[c][l.base[c]]; span < left {
			row := l.space.line(len(l.cost))
			for o := range cl.options {
				if j := l.column[c][o]; j >= 0 {
					row[j] = -1
				}
			}
			l.rows, l.b = append(l.rows, row), append(l.b, float64(span-left))
		}
	}
}
