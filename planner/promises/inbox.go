package promises

import "example.org/roombrief/planner/rules"

// inbox is a report under way from a thing to a controller that hears of it late. However many of them say the same, one word of the state
// counts them, up to many, and one timer bounds the first of them: it comes before that is over. Those that are left then were made by
// then, and come within as long again. Of many it isn't known how many there are. So everything that can come to pass is among what is looked
// at, however often somebody moves a door within the seconds that its reports take: what is kept then is kept. A story is one only where it
// plays with each report in its own time, which the player sees to; one with no more than one report at once of those that say the same does.
type inbox struct {
	from  int         // the thing
	event rules.Event // that the controller's rules get
	slot  int
	timer int16
	takes int32
}

// many is more reports than one.
const many = 2

// inboxes makes an inbox for each thing that a report between controllers may say. What is free is heard of as freely.
func (s *system) inboxes(slot func() int) {
	for _, r := range s.of.relays {
		from, heard := number(s.prog, r.thing), number(s.prog, r.heard)
		if r.free {
			s.freely(heard)
			continue
		}
		for _, e := range s.says(from) {
			e.Thing = heard
			if s.of.loosened && s.idle(from, e) {
				s.parts = append(s.parts, hearsay{event: e})
				continue
			}
			in := inbox{from: from, event: e, slot: slot(), timer: inboxTimer + int16(len(s.inbox)), takes: r.takes}
			s.inbox, s.parts = append(s.inbox, in), append(s.parts, in)
		}
	}
}

// idle reports whether a report is one that may as well come at any time where much is let come about: how a door stands, and that
// nobody is seen any more.
func (s *system) idle(thing int, e rules.Event) bool {
	switch s.sheet.Things[thing].Kind {
	case rules.Door:
		return true
	case rules.Motion, rules.Presence, rules.Probe:
		return !e.Value.On
	}
	return false
}

// says is all that a thing may report.
func (s *system) says(thing int) []rules.Event {
	var out []rules.Event
	t := s.sheet.Things[thing]
	id := s.of.real(t.ID)
	switch t.Kind {
	case rules.ButtonOf:
		for _, p := range s.presses(id) {
			out = append(out, rules.Event{Kind: rules.ButtonPress, Press: p})
		}
	case rules.Hygrometer, rules.Meter:
		readings := s.readings(id)
		if t.Kind == rules.Meter {
			readings[0] = 0
		}
		for _, n := range readings {
			out = append(out, rules.Event{Kind: rules.ReadingIs, Value: rules.Value{Level: n}})
		}
	default:
		out = append(out, rules.Event{Kind: rules.Reported}, rules.Event{Kind: rules.Reported, Value: rules.Value{On: true}})
	}
	return out
}

// freely lets what a controller has heard be anything at any time.
func (s *system) freely(heard int) {
	t := s.sheet.Things[heard]
	for _, e := range s.says(heard) {
		e.Thing = heard
		s.parts = append(s.parts, hearsay{e, t.Kind == rules.ButtonOf})
	}
}

// send puts on their way what controllers hear late of an event. In a power cut nothing is on its way, and nobody hears: what a thing is
// then is what is known of it when the power returns.
func (x *exec) send(e rules.Event) {
	switch e.Kind {
	case rules.PowerFails:
		for _, in := range x.sys.inbox {
			x.w.plant[in.slot] = 0
			x.stop(in.timer)
		}
		for _, in := range x.sys.inbox {
			if in.event.Kind != rules.ButtonPress && in.event.Value == x.sys.value(x.w, in.from) && x.sys.value(x.w, in.event.Thing) != in.event.Value {
				x.event(in.event)
			}
		}
	case rules.Reported, rules.ReadingIs, rules.ButtonPress:
		for _, in := range x.sys.inbox {
			if in.from != e.Thing || in.event.Kind != e.Kind || in.event.Value != e.Value || in.event.Press != e.Press {
				continue
			}
			if x.sys.of.prompt || !x.w.rules.Powered() {
				x.event(in.event)
				continue
			}
			if x.w.plant[in.slot] == 0 {
				x.start(in.timer, 0, in.takes)
			}
			x.w.plant[in.slot] = min(x.w.plant[in.slot]+1, many)
		}
	}
}

// text of a report's coming.
func (s *system) arrival(in inbox) int {
	if in.event.Kind == rules.ButtonPress {
		return s.label("the press of the %s "+arrives, in.from)
	}
	return s.label("%s: the report "+arrives, in.from)
}

const arrives = "reaches the other controller"

func (inbox) acts(*system, *world) {}

func (in inbox) ended(s *system, w *world, id int16) bool {
	if id != in.timer {
		return false
	}
	left := []int8{0}
	if w.plant[in.slot] >= many {
		left = []int8{1, many}
	}
	for _, n := range left {
		s.moves(w, s.arrival(in), false, func(x *exec) {
			x.stop(id)
			if x.w.plant[in.slot] = n; n > 0 {
				x.start(id, 0, in.takes)
			}
			x.event(in.event)
		})
	}
	return true
}

// hearsay is a report that a controller may have at any time, of a thing that is nobody's business otherwise.
type hearsay struct {
	event   rules.Event
	powered bool // it comes only while the mains are there
}

func (h hearsay) acts(s *system, w *world) {
	if h.powered && !w.rules.Powered() {
		return
	}
	s.moves(w, s.label("%s: the report "+arrives, h.event.Thing), false, func(x *exec) { x.event(h.event) })
}

func (hearsay) ended(*system, *world, int16) bool { return false }

// unheard reports whether a report is under way that somebody is seen in the room.
func (s *system) unheard(w *world) bool {
	for _, in := range s.inbox {
		if w.plant[in.slot] > 0 && in.event.Value.On && contains(s.sensors, in.from) {
			return true
		}
	}
	return false
}

// heardOfSomebody reports whether a sensor of the room says that somebody is in, and all controllers that hear of it from another have it so.
func (s *system) heardOfSomebody(w *world) bool {
	for _, n := range s.sensors {
		all := s.value(w, n).On
		for _, r := range s.of.relays {
			if h := number(s.prog, r.heard); h >= 0 && number(s.prog, r.thing) == n {
				all = all && s.value(w, h).On
			}
		}
		if all {
			return true
		}
	}
	return false
}

// seen reports whether an event is that a controller hears of somebody in the room from another.
func (s *system) seen(e rules.Event) bool {
	for _, in := range s.inbox {
		if in.event == e && e.Value.On && contains(s.sensors, in.from) {
			return true
		}
	}
	return false
}
