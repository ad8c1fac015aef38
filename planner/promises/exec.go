package promises

import (
	"slices"
	"strings"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// exec carries out one move: it changes a copy of a world, hands events to the rules, and notes which timers
// start anew. The rules are posed with some time left in each wait; splits are the waits for which another time
// left would have led elsewhere.
type exec struct {
	sys      *system
	before   *world
	w        *world
	fresh    []int16
	left     []posed // seconds that waits are posed with; those not in it are Posed
	splits   []int
	over     int // 1 + the wait that has run out: nothing is left of it; 0 where none has
	happened []rules.Happening
	asked    bool // a person asked for this, by a button or at the device
	atDoor   bool // a person moved a door
	events   []rules.Event
}

type posed struct{ wait, left int }

// event hands one event to the rules and follows what it does to the waits.
func (x *exec) event(e rules.Event) {
	p, w := x.sys.prog, x.w
	for i := range x.sys.lengths {
		if _, runs := p.Left(w.rules, i); runs {
			p.PutWait(&w.rules, i, x.posed(i))
		}
	}
	switch e.Kind {
	case rules.WaitEnds:
		p.PutWait(&w.rules, e.Wait, 0)
		x.over = 1 + e.Wait
	case rules.StayEnds:
		p.PutStay(&w.rules, e.Wait, 0)
	case rules.ButtonPress, rules.HandSet:
		x.asked = true
	case rules.Reported:
		t := &x.sys.sheet.Things[e.Thing]
		x.atDoor = x.atDoor || t.Kind == rules.Door && !strings.HasPrefix(t.ID, hearsays)
	}
	if x.sys.trail != nil {
		x.events = append(x.events, e)
	}
	from := len(x.happened)
	x.happened = p.Do(&w.rules, e, x.happened)
	x.waits(x.happened[from:])
	x.stays()
	p.ForgetRises(&w.rules)
	x.sys.promise.see(x, e, x.happened[from:])
	if len(x.sys.inbox) > 0 {
		x.send(e)
	}
}

// posed is the time left that a wait is posed with.
func (x *exec) posed(wait int) int {
	if x.isFresh(waitTimer(wait)) {
		return int(x.w.timer(waitTimer(wait)).Hi)
	}
	for _, l := range x.left {
		if l.wait == wait {
			return l.left
		}
	}
	return rules.Posed
}

// failed reports whether something fails, or the power comes back, with this move.
func (x *exec) failed() bool {
	return x.w.fault != x.before.fault || x.w.rules.Powered() != x.before.rules.Powered()
}

func (x *exec) isFresh(id int16) bool { return slices.Contains(x.fresh, id) }

// waits turns what happened to waits into timers.
func (x *exec) waits(happened []rules.Happening) {
	p := x.sys.prog
	for _, h := range happened {
		if h.Kind == rules.Acted {
			x.split(h.Rule)
		}
		if h.Kind == rules.Acted || h.Kind == rules.Declined {
			x.sys.looked = x.sys.looked || x.sys.hourly[h.Rule]
		}
		if h.Wait < 0 || x.sys.endless[h.Wait] {
			continue
		}
		switch id := waitTimer(h.Wait); h.Kind {
		case rules.WaitStarted:
			d := int32(h.Seconds)
			if t := x.w.timer(id); x.sys.stacks(h.Rule) && t != nil && !x.isFresh(id) {
				d = min(t.Hi+int32(h.Seconds-x.posed(h.Wait)), longestStack)
				x.w.set(timed.Timer{ID: t.ID, Lo: d, Hi: d})
				continue
			}
			x.start(id, d, d)
		case rules.WaitReleased:
			x.start(id, int32(h.Seconds), int32(h.Seconds))
		case rules.WaitStopped, rules.WaitEnded, rules.WaitHeld:
			x.stop(id)
		}
	}
	for i := range x.sys.lengths {
		if _, runs := p.Left(x.w.rules, i); !runs {
			x.stop(waitTimer(i))
		} else {
			p.PutWait(&x.w.rules, i, rules.Posed)
		}
	}
}

// longestStack bounds how long a wait that gets longer may get, so that there are finitely many.
const longestStack = 2 * rules.DaySeconds

// split notes the waits of a rule for which the time left decides.
func (x *exec) split(rule int) {
	for _, w := range x.sys.longer[rule] {
		if w != x.over-1 && x.before.timer(waitTimer(w)) != nil && !x.isFresh(waitTimer(w)) && !slices.Contains(x.splits, w) {
			x.splits = append(x.splits, w)
		}
	}
}

func (x *exec) stays() {
	p := x.sys.prog
	for i := 0; i < p.Stays(); i++ {
		id := x.sys.stayTimer(i)
		left, runs := p.StayLeft(x.w.rules, i)
		switch {
		case !runs:
			x.stop(id)
		case left != rules.Posed:
			d := int32(p.StaySeconds(i))
			x.start(id, d, d)
			p.PutStay(&x.w.rules, i, rules.Posed)
		}
	}
}

// start a timer from now.
func (x *exec) start(id int16, lo, hi int32) {
	x.w.set(timed.Timer{ID: id, Lo: lo, Hi: hi})
	if !x.isFresh(id) {
		x.fresh = append(x.fresh, id)
	}
}

// stop a timer.
func (x *exec) stop(id int16) {
	x.w.drop(id)
	if i := slices.Index(x.fresh, id); i >= 0 {
		x.fresh = slices.Delete(x.fresh, i, i+1)
	}
}

// moves carries out a change, once for each range of time left that makes a difference, and adds the moves that it comes
// to to those of the state in hand. The promise sees it as a whole.
func (s *system) moves(from *world, label int, act bool, change func(*exec)) {
	s.atHours(from, label, act, true, change)
}

// unseen is moves of a change at which the promise doesn't look again.
func (s *system) unseen(from *world, label int, change func(*exec)) {
	s.atHours(from, label, false, false, change)
}

func (s *system) put(from *world, label int, act, whole bool, change func(*exec)) {
	first := s.try(from, nil, whole, change)
	if len(first.splits) == 0 {
		s.add(first, label, act, nil)
		return
	}
	waits := slices.Clone(first.splits)
	slices.Sort(waits)
	var each func(i int, left []posed, when []timed.Compare)
	each = func(i int, left []posed, when []timed.Compare) {
		if i == len(waits) {
			s.add(s.try(from, left, whole, change), label, act, when)
			return
		}
		w := waits[i]
		d := from.timer(waitTimer(w)).Hi
		for _, r := range s.ranges(w, d) {
			c := timed.Compare{Timer: waitTimer(w), Min: d - r.to, Max: d - r.from}
			each(i+1, append(left[:i:i], posed{w, r.pose}), append(when[:i:i], c))
		}
	}
	each(0, nil, nil)
}

// try carries out a change on a copy of a world. What it gives is good until the next.
func (s *system) try(from *world, left []posed, whole bool, change func(*exec)) *exec {
	x := &s.exec
	*x = exec{sys: s, before: from, w: &s.work, left: left, fresh: x.fresh[:0], splits: x.splits[:0], happened: x.happened[:0]}
	s.work.copyFrom(from)
	if s.anyHour {
		s.putHour(&s.work, s.hour)
	}
	change(x)
	if whole {
		s.done(x)
	}
	return x
}

// add adds a move to those of the state in hand.
func (s *system) add(x *exec, label int, act bool, when []timed.Compare) {
	m := timed.Move{Label: label, Act: act, Meets: x.w.met, When: when}
	x.w.met = false
	if s.anyHour {
		s.putHour(x.w, 0)
	}
	m.To = s.keep(x.w)
	if s.trail != nil {
		s.trail[trailKey{label, m.To.Loc}] = x.events
	}
	fresh := x.fresh
	slices.Sort(fresh)
	m.Fresh = s.found.list(fresh)
	s.found.moves = append(s.found.moves, m)
}

// span is a range of time left, ends included, in which a wait behaves alike, and a time in it to pose.
type span struct {
	from, to int32
	pose     int
}

// ranges cuts the time that a wait of d seconds may have left at every length that some rule starts it for. At
// the cuts themselves both sides come to the same.
func (s *system) ranges(wait int, d int32) []span {
	var out []span
	low := int32(0)
	for _, f := range s.lengths[wait] {
		if f >= d {
			break
		}
		if f-low >= 2 {
			out = append(out, span{low, f, int(low + 1)})
		}
		low = f
	}
	pose := low + 1
	if pose >= d {
		pose = low // with all of d left, starting it for d again would look like leaving it alone
	}
	return append(out, span{low, d, int(pose)})
}

// noted is something that rules remember: a flag, or on a controller without any the wait that stands for it while it runs. -1 is none.
type noted struct{ flag, wait int }

// noteOf is the note of that name in a program.
func noteOf(prog *rules.Program, id string) noted {
	out := noted{number(prog, id), -1}
	if n, ok := prog.Wait(id); ok {
		out.wait = n
	}
	return out
}

// stands reports whether it is remembered now.
func (n noted) stands(x *exec) bool {
	if n.flag >= 0 && x.sys.value(x.w, n.flag).On {
		return true
	}
	if n.wait < 0 {
		return false
	}
	_, runs := x.sys.prog.Left(x.w.rules, n.wait)
	return runs
}
