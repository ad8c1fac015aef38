package rules

import "slices"

// Advance lets seconds pass, handling on the way whatever falls due, in the order of Due, and in the last second too. A program is on one Day; whoever
// wants another sun after midnight stops there and goes on with another On.
func (p *Program) Advance(s State, seconds int) (State, []Happening) {
	next := s.Clone()
	return next, p.DoAdvance(&next, seconds, nil)
}

// DoAdvance is Advance in place.
func (p *Program) DoAdvance(s *State, seconds int, into []Happening) []Happening {
	var room [8]Event
	for {
		for due := p.Due(*s, room[:0]); len(due) > 0; due = p.Due(*s, room[:0]) {
			into = p.Do(s, due[0], into)
		}
		if seconds <= 0 {
			return into
		}
		step := seconds
		if n, ok := p.Next(*s); ok && n < step {
			step = n
		}
		into = p.Do(s, Event{Kind: TimePasses, Seconds: step}, into)
		seconds -= step
	}
}

// pass lets time pass, no further than to the next second in which something is due.
func (x *run) pass(seconds int) int {
	n := max(seconds, 0)
	if next, ok := x.p.Next(State{x.w}); ok {
		n = min(n, next)
	}
	n = min(n, MaxWait)
	x.w[clockWord] = int32((int(x.w[clockWord]) + n) % DaySeconds)
	if x.w[bitsWord]&outBit != 0 || n == 0 {
		return n
	}
	for i := x.p.waitsAt; i < x.p.risesAt; i++ {
		if x.w[i] > 0 {
			x.w[i] -= int32(n)
		}
	}
	for i := x.p.risesAt; i < len(x.w); i++ {
		x.w[i] = max(0, x.w[i]-int32(n))
	}
	if x.p.edgeAt(x.w[clockWord]) != nil {
		x.w[bitsWord] |= strikeBit
	}
	return n
}

func (p *Program) edgeAt(second int32) *edge {
	i, ok := slices.BinarySearchFunc(p.edges, second, func(e edge, s int32) int { return int(e.second - s) })
	if !ok {
		return nil
	}
	return &p.edges[i]
}

func (x *run) strike() {
	if x.w[bitsWord]&strikeBit == 0 {
		x.say(blank(Ignored))
		return
	}
	x.w[bitsWord] &^= strikeBit
	if e := x.p.edgeAt(x.w[clockWord]); e != nil {
		x.batch(e.rules, nil)
	}
	x.settle()
}

// move puts the wall clock forward or back. Waits don't notice.
func (x *run) move(seconds int) {
	seconds = min(max(seconds, -DaySeconds+1), DaySeconds-1)
	if x.w[bitsWord]&outBit != 0 {
		x.w[clockWord] = int32((int(x.w[clockWord]) + seconds + DaySeconds) % DaySeconds)
		return
	}
	if x.w[bitsWord]&strikeBit != 0 {
		x.strike()
	}
	for left := int32(seconds); left > 0; {
		n, ok := x.p.nextEdge(x.w[clockWord])
		if !ok || n > left {
			n = left
		}
		x.w[clockWord] = (x.w[clockWord] + n) % DaySeconds
		left -= n
		if e := x.p.edgeAt(x.w[clockWord]); e != nil {
			x.batch(e.rules, nil)
			x.settle()
		}
	}
	if seconds < 0 {
		x.w[clockWord] = int32((int(x.w[clockWord]) + seconds + DaySeconds) % DaySeconds)
		if x.p.edgeAt(x.w[clockWord]) != nil {
			x.w[bitsWord] |= strikeBit
			return
		}
		x.settle() // the clock is back on the other side of an edge, and a hold may look at it
	}
}

func (x *run) end(wait int) {
	if wait < 0 || wait >= len(x.p.waits) || x.w[x.p.waitsAt+wait] != 1 {
		x.say(blank(Ignored))
		return
	}
	x.w[x.p.waitsAt+wait] = 0
	h := blank(WaitEnded)
	h.Wait = wait
	x.say(h)
	x.batch(x.p.byWait[wait], nil)
	x.settle()
}

func (x *run) stayEnds(i int) {
	if i < 0 || i >= len(x.p.stays) || x.w[x.p.staysAt+i] != 1 {
		x.say(blank(Ignored))
		return
	}
	x.w[x.p.staysAt+i] = 0
	x.batch(x.p.stays[i].rules, nil)
	x.settle()
}

// reading keeps the clocks of StaysUnder and the windows of Rises.
func (x *run) reading(c cause) {
	old, now := level(c.old), level(c.new)
	for i := range x.p.stays {
		s := &x.p.stays[i]
		if s.thing != c.thing {
			continue
		}
		at := &x.w[x.p.staysAt+i]
		switch {
		case now > s.threshold:
			*at = 0
		case old > s.threshold:
			*at = 1 + s.seconds
		}
	}
	for i := range x.p.rises {
		if r := &x.p.rises[i]; r.thing == c.thing {
			if shift(x.w[r.at:r.at+r.threshold], old, now, 1+r.seconds) {
				x.risen = append(x.risen, int32(i))
			}
		}
	}
}

// shift moves the window of a Rises cause from one reading to the next. Its word k says for how much longer the last For includes a moment
// with a reading of at least k+1 below the present one; more than threshold below need not be known, because that came about already. It
// reports whether the cause comes about, and then forgets what was before.
func shift(window []int32, old, now, fresh int32) bool {
	n := int32(len(window))
	before := func(k int32) int32 { // moment of a reading of at least k below old
		switch {
		case k <= 0:
			return fresh
		case k > n:
			return 0
		}
		return window[k-1]
	}
	if up := now - old; up > 0 {
		for k := n; k >= 1; k-- {
			window[k-1] = before(k - up)
		}
	} else {
		for k := int32(1); k <= n; k++ {
			window[k-1] = before(k - up)
		}
		return false
	}
	if window[n-1] == 0 {
		return false
	}
	clear(window)
	return true
}

func (x *run) fail() {
	x.w[bitsWord] |= outBit
	x.w[bitsWord] &^= strikeBit
	for i := x.p.waitsAt; i < len(x.w); i++ {
		x.w[i] = 0
	}
}

func (x *run) restore() {
	if x.w[bitsWord]&outBit == 0 {
		x.say(blank(Ignored))
		return
	}
	x.w[bitsWord] &^= outBit
	for i, t := range x.p.sheet.Things {
		to := x.w[thingsAt+i]
		switch {
		case t.PowerUp == ComesOff:
			to = normal(t.Kind, Value{})
		case t.PowerUp == ComesOn:
			to = normal(t.Kind, Value{On: true})
		}
		if x.failed(int32(i)) {
			to = x.w[thingsAt+i]
		} else if !x.feedReturns(int32(i)) {
			to = 0
		}
		if c := (cause{thing: int32(i), old: x.w[thingsAt+i], new: to}); c.old != c.new {
			x.w[thingsAt+i] = to
			h := blank(Changed)
			h.Thing, h.From, h.To = i, unpack(c.old), unpack(c.new)
			x.say(h)
			x.line.push(c)
		}
	}
	for i := range x.p.stays {
		if s := &x.p.stays[i]; level(x.w[thingsAt+s.thing]) <= s.threshold {
			x.w[x.p.staysAt+i] = 1 + s.seconds
		}
	}
	x.batch(x.p.power, nil)
	x.settle()
}
