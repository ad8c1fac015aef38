package proof

// A zone is a set of timer readings, as a difference bound matrix (Dill 1989): row-major, (n+1) x (n+1),
// m[i][j] bounds x_i - x_j from above, x_0 is zero. All bounds are closed and whole seconds. Zones are kept
// canonical (shortest paths closed), so that inclusion is entry by entry.
type zone []int32

const far = int32(1) << 29 // no bound; twice it still fits

// point is the zone in which n timers all read zero.
func point(n int) zone { return make(zone, (n+1)*(n+1)) }

// includes reports whether every reading of o is one of z.
func (z zone) includes(o zone) bool {
	for i := range z {
		if o[i] > z[i] {
			return false
		}
	}
	return true
}

// join makes z the least zone that includes both; it reports whether z grew.
func (z zone) join(o zone) bool {
	grew := false
	for i := range z {
		if o[i] > z[i] {
			z[i], grew = o[i], true
		}
	}
	return grew // the entrywise maximum of canonical zones is canonical
}

// tighten adds x_i - x_j <= b to a canonical zone and keeps it canonical; false when nothing is left.
func (z zone) tighten(w, i, j int, b int32) bool {
	if b >= z[i*w+j] {
		return true
	}
	if z[j*w+i]+b < 0 {
		return false
	}
	z[i*w+j] = b
	for a := 0; a < w; a++ {
		ai := z[a*w+i]
		if ai >= far {
			continue
		}
		for c := 0; c < w; c++ {
			if d := ai + b + z[j*w+c]; d < z[a*w+c] {
				z[a*w+c] = d
			}
		}
	}
	return true
}

// pass lets time go by, up to the latest end of every timer: x_i <= hi_i.
func (z zone) pass(w int, hi func(i int) int32) bool {
	for i := 1; i < w; i++ {
		z[i*w] = far
	}
	for i := 1; i < w; i++ {
		if !z.tighten(w, i, 0, hi(i-1)) {
			return false
		}
	}
	return true
}

// carry builds the zone after a step: timer k of the target goes on from timer from[k] of the source, or
// starts at zero when that is negative. Timers that stop are projected away, which a canonical zone allows
// by leaving their rows out.
func (z zone) carry(w int, from []int32) zone {
	n := len(from) + 1
	out := make(zone, n*n)
	src := func(k int) int {
		if k == 0 || from[k-1] < 0 {
			return 0
		}
		return int(from[k-1]) + 1
	}
	for i := 0; i < n; i++ {
		for j := 0; j < n; j++ {
			if i != j {
				out[i*n+j] = z[src(i)*w+src(j)]
			}
		}
	}
	return out
}
