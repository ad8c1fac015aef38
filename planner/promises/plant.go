package promises

import (
	"fmt"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
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

func (p people) acts(s *system, w *world) []timed.Move {
	var out []timed.Move
	act := func(label string, change func(*exec)) {
		out = append(out, s.moves(w, s.label(label), true, s.done(change))...)
	}
	things := s.prog.Sheet().Things
	for _, d := range p.doors {
		open := s.value(w, d).On
		verb := "somebody opens the "
		if open {
			verb = "somebody shuts the "
		}
		act(verb+things[d].Name, func(x *exec) {
			x.event(rules.Event{Kind: rules.Reported, Thing: d, Value: rules.Value{On: !open}})
		})
	}
	if p.passable(s, w) {
		if int(w.people) < s.world.People {
			act("somebody comes in", func(x *exec) {
				x.w.people++
				p.movement(x)
				p.come(x)
			})
		}
		if w.people > 0 {
			act("somebody leaves", func(x *exec) {
				p.movement(x)
				x.w.people--
				p.depart(x)
			})
		}
	}
	if w.people > 0 && len(p.motion) > 0 {
		act("somebody inside moves", p.movement)
	}
	return out
}

// passable reports whether people can come and go: through an open door, or where no contact watches.
func (p people) passable(s *system, w *world) bool {
	if !s.world.DoorsSeen || len(p.doors) == 0 {
		return true
	}
	for _, d := range p.doors {
		if s.value(w, d).On {
			return true
		}
	}
	return false
}

// movement is seen by every motion sensor that isn't blind.
func (p people) movement(x *exec) {
	for _, m := range p.motion {
		if x.w.plant[m.slot] != 0 {
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
		if !x.sys.value(x.w, m.thing).On {
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
		x.start(m.timer, 0, x.sys.world.Gone)
	}
}

func (p people) ended(s *system, w *world, id int16) []timed.Move {
	if id == stillTimer {
		return s.moves(w, s.label("whoever is inside moves, having kept still for as long as people do"), false, s.done(p.movement))
	}
	name := func(m sensor) string { return s.prog.Sheet().Things[m.thing].Name }
	for _, m := range p.motion {
		if m.timer == id {
			return s.moves(w, s.label(name(m)+" is over, as the sensor says"), false, s.done(func(x *exec) {
				x.stop(id)
				x.w.plant[m.slot] = 0
				x.event(rules.Event{Kind: rules.Reported, Thing: m.thing})
			}))
		}
	}
	for _, m := range p.presence {
		if m.timer == id {
			return s.moves(w, s.label(name(m)+": nobody, as the sensor says"), false, s.done(func(x *exec) {
				x.stop(id)
				x.event(rules.Event{Kind: rules.Reported, Thing: m.thing})
			}))
		}
	}
	return nil
}

// hand sets a device by hand, at the wall or at the device.
type hand struct {
	thing    int
	name     string
	settings []rules.Value
}

func (h hand) acts(s *system, w *world) []timed.Move {
	var out []timed.Move
	now := s.value(w, h.thing)
	for _, v := range h.settings {
		if v == now || !v.On && !now.On {
			continue
		}
		label := fmt.Sprintf("somebody switches the %s off by hand", h.name)
		if v.On && v.Level > 0 {
			label = fmt.Sprintf("somebody sets the %s to %d %% by hand", h.name, v.Level)
		} else if v.On {
			label = fmt.Sprintf("somebody switches the %s on by hand", h.name)
		}
		out = append(out, s.moves(w, s.label(label), true, s.done(func(x *exec) {
			x.event(rules.Event{Kind: rules.HandSet, Thing: h.thing, Value: v})
		}))...)
	}
	return out
}

func (hand) ended(*system, *world, int16) []timed.Move { return nil }

// button is pressed.
type button struct {
	thing int
	press rules.Press
	name  string
}

func (b button) acts(s *system, w *world) []timed.Move {
	verb := [...]string{"presses", "presses twice", "holds"}[b.press]
	return s.moves(w, s.label(fmt.Sprintf("somebody %s the %s", verb, b.name)), true, s.done(func(x *exec) {
		x.event(rules.Event{Kind: rules.ButtonPress, Thing: b.thing, Press: b.press})
	}))
}

func (button) ended(*system, *world, int16) []timed.Move { return nil }

// probe gets wet and dry.
type probe struct {
	thing int
	name  string
}

func (p probe) acts(s *system, w *world) []timed.Move {
	wet := s.value(w, p.thing).On
	label := p.name + ": water"
	if wet {
		label = p.name + ": dry again"
	}
	return s.moves(w, s.label(label), false, s.done(func(x *exec) {
		x.event(rules.Event{Kind: rules.Reported, Thing: p.thing, Value: rules.Value{On: !wet}})
	}))
}

func (probe) ended(*system, *world, int16) []timed.Move { return nil }

// gauge reads anything at any time: one reading for each stretch between thresholds.
type gauge struct {
	thing    int
	name     string
	readings []int
}

func (g gauge) acts(s *system, w *world) []timed.Move {
	var out []timed.Move
	for _, r := range g.readings {
		if r == s.value(w, g.thing).Level {
			continue
		}
		out = append(out, s.moves(w, s.label(fmt.Sprintf("%s reads %d", g.name, r)), false, s.done(func(x *exec) {
			x.event(rules.Event{Kind: rules.ReadingIs, Thing: g.thing, Value: rules.Value{Level: r}})
		}))...)
	}
	return out
}

func (gauge) ended(*system, *world, int16) []timed.Move { return nil }
