package linear

// through solves B x = y: rows in, places out.
func (f *factors) through(y []float64) {
	for k := range f.lower {
		if t := y[f.lower[k].at]; t != 0 {
			for _, c := range f.lower[k].cells {
				y[c.Var] -= c.By * t
			}
		}
	}
	for k := len(f.order) - 1; k >= 0; k-- {
		f.pass(y, f.order[k], &f.byCol)
	}
	for k := range f.etas {
		e := &f.etas[k]
		t := y[e.at]
		if t == 0 {
			continue
		}
		t /= e.pivot
		y[e.at] = t
		for _, c := range e.cells {
			y[c.Var] -= c.By * t
		}
	}
}

// back solves y B = c: places in, rows out.
func (f *factors) back(y []float64) {
	for k := len(f.etas) - 1; k >= 0; k-- {
		e := &f.etas[k]
		t := y[e.at]
		for _, c := range e.cells {
			t -= c.By * y[c.Var]
		}
		y[e.at] = t / e.pivot
	}
	for _, r := range f.order {
		f.pass(y, r, &f.byRow)
	}
	for k := len(f.lower) - 1; k >= 0; k-- {
		l := &f.lower[k]
		t := y[l.at]
		for _, c := range l.cells {
			t -= c.By * y[c.Var]
		}
		y[l.at] = t
	}
}

// pass divides by a pivot of the upper triangle, and takes its value out of what depends on it. What rounding makes of nothing is nothing.
func (f *factors) pass(y []float64, r int, on *spans) {
	t := y[r]
	if t == 0 {
		return
	}
	if t < tiny && t > -tiny {
		y[r] = 0
		return
	}
	t /= f.pivot[r]
	y[r] = t
	for _, c := range on.of(r) {
		y[c.Var] -= c.By * t
	}
}
