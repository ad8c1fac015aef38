package proof

import "example.org/roombrief/planner/timed"

// wanderer plays a system at random, second by second, as one story after another. What it comes to is so; what it misses
// may be so all the same. It draws the same each time.
type wanderer struct {
	g      *graph
	aim    aim
	random uint64
	spot   int32
	read   []int32 // seconds that each timer has run
	next   []int32
	may    []int32 // steps that may be taken now
}

// wander reports whether one of some stories of so many steps in all comes to a target.
func wander(g *graph, steps int, target aim) bool {
	const long = 48 // steps of one story
	w := &wanderer{g: g, aim: target, random: 20_021}
	for n := range steps {
		if n%long == 0 {
			w.spot = g.begin[w.draw(len(g.begin))]
			w.read = append(w.read[:0], make([]int32, len(g.spots[w.spot].bounds))...)
		}
		if target.hit(&g.spots[w.spot]) {
			return true
		}
		w.step()
	}
	return false
}

// draw is the next pseudo-random number below n.
func (w *wanderer) draw(n int) int {
	w.random = w.random*6364136223846793005 + 1442695040888963407
	return int(w.random>>33) % n
}

// step lets time pass, mostly until a timer has to end, or takes a step.
func (w *wanderer) step() {
	bounds := w.g.spots[w.spot].bounds
	slack := far
	for i, t := range bounds {
		slack = min(slack, t.Hi-w.read[i])
	}
	if len(bounds) > 0 && slack > 0 && w.draw(2) == 0 {
		if w.draw(4) == 0 {
			slack = 1 + int32(w.draw(int(slack)))
		}
		for i := range w.read {
			w.read[i] += slack
		}
		return
	}
	steps := w.g.open(w.spot)
	w.may = w.may[:0]
	for i := range steps {
		if steps[i].enabled(w.read, bounds) {
			w.may = append(w.may, int32(i))
		}
	}
	if len(w.may) == 0 {
		return
	}
	w.take(&steps[w.may[w.draw(len(w.may))]])
}

// take takes a step, unless it would leave a timer past its end.
func (w *wanderer) take(st *step) {
	to := w.g.leads(st, w.aim)
	w.next = w.next[:0]
	for k, from := range st.carry {
		n := int32(0)
		if from >= 0 {
			n = w.read[from]
		}
		if n > w.g.spots[to].bounds[k].Hi {
			return
		}
		w.next = append(w.next, n)
	}
	w.spot = to
	w.read, w.next = w.next, w.read
}

// enabled reports whether a step may be taken when timers have run for so long.
func (st *step) enabled(read []int32, bounds []timed.Timer) bool {
	for _, c := range st.when {
		if read[c.timer] < c.min || read[c.timer] > c.max {
			return false
		}
	}
	if st.ends >= 0 && read[st.ends] < bounds[st.ends].Lo {
		return false
	}
	for _, first := range st.wait {
		if read[first] >= bounds[first].Hi {
			return false
		}
	}
	return true
}
