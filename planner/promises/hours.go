package promises

import (
	"slices"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// clock puts a world into the stretch that follows moment k: its clock stands at the last second of it.
func (s *system) clock(w *world, k int) {
	next := s.moments[(k+1)%len(s.moments)]
	s.prog.PutClock(&w.rules, next-1)
	if s.day {
		lo, hi := s.lasts(k), s.lasts(k)
		if l, h, ok := s.of.stretch(k); ok {
			lo, hi = l, h
		}
		w.set(timed.Timer{ID: dayTimer, Lo: lo, Hi: hi})
	}
}

// lasts is how long the stretch after moment k lasts on the system's day, in seconds.
func (s *system) lasts(k int) int32 {
	next := s.moments[(k+1)%len(s.moments)]
	return int32((next-s.moments[k]+rules.DaySeconds-1)%rules.DaySeconds + 1)
}

// stretch is the number of the moment that a world's stretch of the day follows.
func (s *system) stretch(w *world) int {
	if len(s.moments) == 0 {
		return 0
	}
	next := (w.rules.Clock() + 1) % rules.DaySeconds
	i, _ := slices.BinarySearch(s.moments, next)
	return (i + len(s.moments) - 1) % len(s.moments)
}

// strike turns the day to its next stretch.
func (s *system) strike(x *exec) {
	k := (s.stretch(x.w) + 1) % len(s.moments)
	if x.w.rules.Powered() && s.prog.PutStrike(&x.w.rules, s.moments[k]) {
		x.event(rules.Event{Kind: rules.ClockStrikes})
	}
	x.w.drop(dayTimer)
	s.clock(x.w, k)
	if t := x.w.timer(dayTimer); t != nil {
		x.start(dayTimer, t.Lo, t.Hi)
	}
}

// AnyHour closes the case as one in which it may be any hour at each move, whatever it was at the last: more stories than
// there are, and fewer states, because the hour is in none. False where that is nothing new, or the promise itself goes by the hour.
func (c Case) AnyHour() (timed.System, bool) {
	s := newSystem(c, c.Promise.World)
	t, ok := s.promise.(interface{ timeless() bool })
	if !ok || !t.timeless() || len(s.moments) < 2 || c.Promise.Fault.Kind == ClockChange {
		return nil, false
	}
	for i := range s.sheet.Rules {
		if slices.ContainsFunc(s.sheet.Rules[i].Hold, hourly) {
			return nil, false // a wait may be held or set free when no rule acts
		}
	}
	s.day, s.anyHour = false, true
	return s, true
}

// hourly reports whether a literal looks at the hour.
func hourly(l rules.Literal) bool { return l.Kind == rules.Between && l.From != l.To }

// putHour puts the clock of a world into a stretch of the day, at its last second.
func (s *system) putHour(w *world, stretch int) {
	s.prog.PutClock(&w.rules, s.moments[(stretch+1)%len(s.moments)]-1)
}

// atHours makes the moves of a change, at each hour that makes a difference to it where it may be any. What comes to the same is
// one move.
func (s *system) atHours(from *world, label int, act, whole bool, change func(*exec)) {
	s.hour, s.looked = 0, false
	first := len(s.found.moves)
	s.put(from, label, act, whole, change)
	if !s.anyHour || !s.looked {
		return
	}
	for s.hour = 1; s.hour < len(s.moments); s.hour++ {
		n := len(s.found.moves)
		s.put(from, label, act, whole, change)
		if len(s.found.moves) != n+1 {
			continue
		}
		if m := s.found.moves[n]; slices.ContainsFunc(s.found.moves[first:n], func(o timed.Move) bool { return same(m, o) }) {
			s.found.moves = s.found.moves[:n]
		}
	}
}

// same reports whether two moves of one name from one state come to the same.
func same(a, b timed.Move) bool {
	return a.To.Num == b.To.Num && a.Meets == b.Meets && len(a.When)+len(b.When) == 0 && slices.Equal(a.Fresh, b.Fresh)
}

// The promises that don't go by the hour.

func (neverDark) timeless() bool      { return true }
func (notLeftBurning) timeless() bool { return true }
func (asAsked) timeless() bool        { return true }
func (a aired) timeless() bool        { return a.quiet == hours{} }
func (k wishKept) timeless() bool     { return k.quiet == hours{} }
func (notForEver) timeless() bool     { return true }
func (f forPeople) timeless() bool    { return f.quiet == hours{} }
func (notSooner) timeless() bool      { return true }
func (notForNothing) timeless() bool  { return true }
func (emptied) timeless() bool        { return true }
func (seeSaw) timeless() bool         { return true }
func (cutOff) timeless() bool         { return true }
func (offWhenIdle) timeless() bool    { return true }
func (warned) timeless() bool         { return true }
func (neverOn) timeless() bool        { return true }
func (n never) timeless() bool        { return n.always }
func (told) timeless() bool           { return true }
func (toldAgain) timeless() bool      { return true }
func (ofWater) timeless() bool        { return true }
func (waterShut) timeless() bool      { return true }
