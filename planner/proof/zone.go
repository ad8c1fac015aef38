package proof

import "example.org/roombrief/planner/timed"

// A zone is a set of timer readings, as a difference bound matrix (Dill 1989): row-major, (n+1) x (n+1),
// m[i][j] bounds x_i - x_j from above, x_0 is zero. All bounds are closed and whole seconds. Zones are kept
// canonical (shortest paths closed), so that inclusion is entry by entry.
type zone []int32

const far = int32(1) << 29 // no bound; twice it still fits

// includes reports whether every reading of o is one of z.
func (z zone) includes(o zone) bool {
	o = o[:len(z)]
	for i, b := range z {
		if o[i] > b {
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

// widen gives up every bound that has grown since before, so that a zone which grows second by second is done in one step.
func (z zone) widen(before zone, timers []timed.Timer) {
	w := len(timers) + 1
	for i := range w {
		for j := range w {
			if at := i*w + j; z[at] > before[at] {
				if z[at] = 0; i > 0 {
					z[at] = timers[i-1].Hi
				}
			}
		}
	}
	for k := range w { // keep it canonical
		for i := range w {
			for j := range w {
				z[i*w+j] = min(z[i*w+j], z[i*w+k]+z[k*w+j])
			}
		}
	}
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
	to := z[j*w : j*w+w]
	for a := 0; a < w; a++ {
		ai := z[a*w+i]
		if ai >= far {
			continue
		}
		row := z[a*w : a*w+w]
		for c, jc := range to {
			if d := ai + b + jc; d < row[c] {
				row[c] = d
			}
		}
	}
	return true
}

// pass lets time go by, up to the latest end of every timer. A clock beside the timers is without end: reading more is
// as good as reading less, so that zones which only differ in how late they are reached are one.
//
// Where no timer is past its end already, only the latest readings grow: each timer may run on until the first that has to end
// does, and what they read beside each other stays as it is.
func (z zone) pass(w int, timers []timed.Timer) bool {
	for i := range timers {
		if z[(i+1)*w] > timers[i].Hi && !z.tighten(w, i+1, 0, timers[i].Hi) {
			return false
		}
	}
	for i := range timers {
		row := z[(i+1)*w+1:]
		most := far
		for j := range timers {
			if d := timers[j].Hi + row[j]; d < most {
				most = d
			}
		}
		z[(i+1)*w] = most
	}
	if len(timers)+2 == w {
		for j := 0; j < w-1; j++ {
			z[(w-1)*w+j] = far
		}
	}
	return true
}

// carry builds the zone after a step in out: timer k of the target goes on from timer from[k] of the source, or
// starts at zero when that is negative. Timers that stop are projected away, which a canonical zone allows
// by leaving their rows out. With a clock, the last row goes on.
func (z zone) carry(out zone, w int, from []int8, clock bool) zone {
	n := len(from) + 1
	var room [24]int
	src := append(room[:0], 0)
	for _, f := range from {
		src = append(src, int(f)+1)
	}
	if clock {
		n++
		src = append(src, w-1)
	}
	if cap(out) < n*n {
		out = make(zone, n*n)
	}
	out = out[:n*n]
	for i, si := range src {
		row, old := out[i*n:i*n+n], z[si*w:si*w+w]
		for j, sj := range src {
			row[j] = old[sj]
		}
		row[i] = 0
	}
	return out
}

// enabled narrows a zone to the readings in which a step may be taken.
func (z zone) enabled(w int, timers []timed.Timer, st *step) bool {
	for _, c := range st.when {
		i := int(c.timer) + 1
		if !z.tighten(w, i, 0, c.max) || !z.tighten(w, 0, i, -c.min) {
			return false
		}
	}
	if st.ends >= 0 && !z.tighten(w, 0, int(st.ends)+1, -timers[st.ends].Lo) {
		return false
	}
	for _, first := range st.wait {
		if !z.tighten(w, int(first)+1, 0, timers[first].Hi-1) {
			return false
		}
	}
	return true
}
