package promises

import "example.org/roombrief/planner/rules"

// silent reports whether a sensor says nothing any more.
func (s *system) silent(w *world, thing int) bool { return w.fault != 0 && thing == s.dead }

// offline reports whether messages go nowhere.
func (s *system) offline(w *world) bool {
	return w.fault != 0 && s.of.Promise.Fault.Kind == InternetGone
}

// powerUp makes a slice ready for a power cut: lamps of which nobody knows better come back at their brightest.
func (f Fault) powerUp(sheet *rules.Sheet) {
	if f.Kind != PowerCut {
		return
	}
	for i := range sheet.Things {
		if t := &sheet.Things[i]; t.Kind == rules.Lamp && t.PowerUp == rules.AsItWas {
			t.PowerUp = rules.ComesOn
		}
	}
}

// faults are what may fail now: one thing in a story.
func (s *system) faults(w *world) {
	fault := func(text string, thing int, change func(*exec)) {
		from := len(s.found.moves)
		s.moves(w, s.label(text, thing), false, func(x *exec) { x.w.fault = 1; change(x) })
		for i := range s.found.moves[from:] {
			s.found.moves[from+i].Fault = true
		}
	}
	if !w.rules.Powered() {
		s.moves(w, s.label("the power comes back", -1), false, func(x *exec) {
			x.event(rules.Event{Kind: rules.PowerReturns})
		})
		return
	}
	if w.fault != 0 {
		return
	}
	switch s.of.Promise.Fault.Kind {
	case BatteryDead:
		if s.dead >= 0 {
			fault("%s: the sensor is dead from now on", s.dead, func(*exec) {})
		}
	case DeviceGone:
		if n, ok := s.prog.Thing(s.of.Promise.Fault.Thing); ok {
			fault("the %s obeys no more", n, func(x *exec) { x.event(rules.Event{Kind: rules.Fails, Thing: n}) })
		}
	case PowerCut:
		fault("the power fails", -1, func(x *exec) { x.event(rules.Event{Kind: rules.PowerFails}) })
	case Restart:
		fault("the controller starts anew", -1, func(x *exec) {
			x.event(rules.Event{Kind: rules.PowerFails})
			x.event(rules.Event{Kind: rules.PowerReturns})
		})
	case InternetGone:
		fault("the internet is gone", -1, func(*exec) {})
	case ClockChange:
		s.clockChanges(w, fault)
	}
}

// clockChanges put the clock an hour forward, striking what it leaps over, or back, so that it comes to the
// same moments again.
func (s *system) clockChanges(w *world, fault func(string, int, func(*exec))) {
	n := len(s.moments)
	if n < 2 {
		return
	}
	const hour = 3600
	k := s.stretch(w)
	at := func(i int) int { return s.moments[((i%n)+n)%n] }
	between := func(i, j int) int { return (at(j) - at(i) + rules.DaySeconds) % rules.DaySeconds }
	for j := 1; j < n && between(k+1, k+j) < hour; j++ {
		fault("the clock is put forward by an hour", -1, func(x *exec) {
			for range j {
				s.strike(x)
			}
			s.loosen(x)
		})
	}
	for j := 1; j < n && between(k-j+1, k) < hour; j++ {
		fault("the clock is put back by an hour", -1, func(x *exec) {
			x.w.drop(dayTimer)
			s.clock(x.w, ((k-j)%n+n)%n)
			s.loosen(x)
		})
	}
}

// loosen lets the stretch that the clock was put into end at any time up to its length.
func (s *system) loosen(x *exec) {
	if t := x.w.timer(dayTimer); t != nil {
		x.start(dayTimer, 0, t.Hi)
	}
}
