package promises

import (
	"fmt"

	"example.org/roombrief/planner/rules"
)

// people come and go, open and shut doors, move and keep still; the room's sensors see them as sensors do.
type people struct {
	motion, presence []sensor
	doors            []int
}

type sensor struct {
	thing int
	slot  int // 1 while a motion sensor is blind
	timer int16
}

func (p people) acts(s *system, w *world) {
	act := func(text string, thing int, change func(*exec)) {
		s.moves(w, s.label(text, thing), true, change)
	}
	for _, d := range p.doors {
		if s.silent(w, d) || s.world.People == 0 {
			continue
		}
		open := s.value(w, d).On
		text := "somebody opens the %s"
		if open {
			text = "somebody shuts the %s"
		}
		act(text, d, func(x *exec) {
			x.event(rules.Event{Kind: rules.Reported, Thing: d, Value: rules.Value{On: !open}})
		})
	}
	if p.passable(s, w) {
		if int(w.people) < s.world.People {
			act("somebody comes in", -1, func(x *exec) {
				x.w.people++
				p.movement(x)
				p.come(x)
			})
		}
		if w.people > 0 {
			act("somebody leaves", -1, func(x *exec) {
				p.movement(x)
				x.w.people--
				p.depart(x)
			})
		}
	}
	if w.people > 0 && len(p.motion) > 0 {
		act("somebody inside moves", -1, p.movement)
	}
}

// passable reports whether people can come and go: through an open door, or where no contact watches.
func (p people) passable(s *system, w *world) bool {
	if !s.world.DoorsSeen || len(p.doors) == 0 {
		return true
	}
	for _, d := range p.doors {
		if s.value(w, d).On || s.silent(w, d) {
			return true
		}
	}
	return false
}

// movement is seen by every motion sensor that isn't blind.
func (p people) movement(x *exec) {
	for _, m := range p.motion {
		if x.w.plant[m.slot] != 0 || x.sys.silent(x.w, m.thing) {
			continue
		}
		x.w.plant[m.slot] = 1
		x.start(m.timer, x.sys.world.Blind, x.sys.world.Blind)
		x.event(rules.Event{Kind: rules.Reported, Thing: m.thing, Value: rules.Value{On: true}})
	}
	if n := x.sys.world.StillFor; n > 0 && len(p.motion) > 0 && x.w.people > 0 {
		x.start(stillTimer, n, n)
	}
}

// come lets presence sensors see whoever is in.
func (p people) come(x *exec) {
	for _, m := range p.presence {
		x.stop(m.timer)
		if !x.sys.value(x.w, m.thing).On && !x.sys.silent(x.w, m.thing) {
			x.event(rules.Event{Kind: rules.Reported, Thing: m.thing, Value: rules.Value{On: true}})
		}
	}
}

// depart is what follows when somebody has left.
func (p people) depart(x *exec) {
	if x.w.people > 0 {
		return
	}
	x.stop(stillTimer)
	for _, m := range p.presence {
		if x.sys.value(x.w, m.thing).On {
			x.start(m.timer, 0, x.sys.world.Gone)
		}
	}
}

func (p people) ended(s *system, w *world, id int16) bool {
	if id == stillTimer {
		s.moves(w, s.label("whoever is inside moves, having kept still for as long as people do", -1), false, p.movement)
		return true
	}
	for _, m := range p.motion {
		if m.timer == id {
			s.moves(w, s.label("%s is over, as the sensor says", m.thing), false, func(x *exec) {
				x.stop(id)
				x.w.plant[m.slot] = 0
				x.report(m.thing, false)
			})
			return true
		}
	}
	for _, m := range p.presence {
		if m.timer == id {
			s.moves(w, s.label("%s: nobody, as the sensor says", m.thing), false, func(x *exec) {
				x.stop(id)
				x.report(m.thing, false)
			})
			return true
		}
	}
	return false
}

// report hands a sensor's report to the rules, unless the sensor is silent.
func (x *exec) report(thing int, on bool) {
	if !x.sys.silent(x.w, thing) {
		x.event(rules.Event{Kind: rules.Reported, Thing: thing, Value: rules.Value{On: on}})
	}
}

// present reports whether somebody is there to use what is in the room. Where nothing counts people, somebody is.
func (s *system) present(w *world) bool { return !s.counted || w.people > 0 }

// noticed reports whether a sensor of the room says that somebody is in.
func (s *system) noticed(w *world) bool {
	for _, n := range s.sensors {
		if s.value(w, n).On {
			return true
		}
	}
	return false
}

// elsewhere is a sensor of another room: people there come and go at any time.
type elsewhere struct{ thing int }

func (e elsewhere) acts(s *system, w *world) {
	if s.silent(w, e.thing) {
		return
	}
	on := s.value(w, e.thing).On
	text := "%s is seen"
	if on {
		text = "%s is no longer seen"
	}
	s.moves(w, s.label(text, e.thing), true, func(x *exec) { x.report(e.thing, !on) })
}

func (elsewhere) ended(*system, *world, int16) bool { return false }

// whim is a flag of which it isn't known why it stands or falls: it may do either at any time.
type whim struct{ thing int }

func (f whim) acts(s *system, w *world) {
	on := s.value(w, f.thing).On
	s.moves(w, s.label("\"%s\" changes", f.thing), false, func(x *exec) {
		s.prog.PutValue(&x.w.rules, f.thing, rules.Value{On: !on})
	})
}

func (whim) ended(*system, *world, int16) bool { return false }

// chance lets a rule act at any time, where it is nobody's business why it does.
type chance struct{ thing int }

func (c chance) acts(s *system, w *world) {
	if !w.rules.Powered() {
		return
	}
	s.moves(w, s.label("a rule of the room acts", -1), false, func(x *exec) {
		x.event(rules.Event{Kind: rules.Reported, Thing: c.thing, Value: rules.Value{On: true}})
		s.prog.PutValue(&x.w.rules, c.thing, rules.Value{})
	})
}

func (chance) ended(*system, *world, int16) bool { return false }

// hand sets a device by hand, at the wall or at the device.
type hand struct {
	thing    int
	here     bool // in the room of the promise
	settings []rules.Value
}

func (h hand) acts(s *system, w *world) {
	if h.here && !s.present(w) || !w.rules.Powered() {
		return
	}
	now := s.value(w, h.thing)
	for _, v := range h.settings {
		if v == now || !v.On && !now.On || v.On && v.Level == 0 && now.On {
			continue
		}
		text := "somebody switches the %s off by hand"
		if v.On && v.Level > 0 {
			text = "somebody sets the %s by hand"
		} else if v.On {
			text = "somebody switches the %s on by hand"
		}
		s.moves(w, s.label(text, h.thing), true, func(x *exec) {
			x.event(rules.Event{Kind: rules.HandSet, Thing: h.thing, Value: v})
		})
	}
}

func (hand) ended(*system, *world, int16) bool { return false }

// button is pressed.
type button struct {
	thing int
	press rules.Press
	here  bool
}

func (b button) acts(s *system, w *world) {
	if b.here && !s.present(w) || !w.rules.Powered() || s.silent(w, b.thing) {
		return
	}
	text := [...]string{"somebody presses the %s", "somebody presses the %s twice", "somebody holds the %s down"}[b.press]
	s.moves(w, s.label(text, b.thing), true, func(x *exec) {
		x.event(rules.Event{Kind: rules.ButtonPress, Thing: b.thing, Press: b.press})
	})
}

func (button) ended(*system, *world, int16) bool { return false }

// probe gets wet and dry.
type probe struct{ thing int }

func (p probe) acts(s *system, w *world) {
	if s.silent(w, p.thing) {
		return
	}
	wet := s.value(w, p.thing).On
	text := "%s"
	if wet {
		text = "%s is gone"
	}
	s.moves(w, s.label(text, p.thing), false, func(x *exec) { x.report(p.thing, !wet) })
}

func (probe) ended(*system, *world, int16) bool { return false }

// gauge reads anything at any time: one reading for each stretch between thresholds.
type gauge struct {
	thing    int
	plug     int // that the meter is behind, -1 for none
	readings []int
}

func (g gauge) acts(s *system, w *world) {
	if s.silent(w, g.thing) || g.plug >= 0 && (!s.value(w, g.plug).On || !w.rules.Powered()) {
		return
	}
	now := s.value(w, g.thing).Level
	for _, r := range g.readings {
		if r == now {
			continue
		}
		text := "%s rises"
		if r < now {
			text = "%s falls"
		}
		if len(g.readings) > 2 {
			text += fmt.Sprintf(" to %d", r)
		}
		s.moves(w, s.label(text, g.thing), false, func(x *exec) {
			x.event(rules.Event{Kind: rules.ReadingIs, Thing: g.thing, Value: rules.Value{Level: r}})
		})
	}
}

func (gauge) ended(*system, *world, int16) bool { return false }
