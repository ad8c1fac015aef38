package promises

import (
	"slices"
	"strings"

	"example.org/roombrief/planner/rules"
)

// furnish makes the parts of the plant from the things of the slice.
func (s *system) furnish() {
	slot := func() int { s.slots++; return s.slots - 1 }
	var room people
	for i, t := range s.sheet.Things {
		here := t.Room == s.of.Promise.Room
		if strings.HasPrefix(t.ID, chances) {
			s.parts = append(s.parts, chance{i})
			continue
		}
		if strings.HasPrefix(t.ID, hearsays) {
			continue
		}
		switch t.Kind {
		case rules.Motion, rules.Presence:
			one := sensor{thing: i, slot: slot(), timer: partTimer + int16(i)}
			if here && !s.of.free[t.ID] {
				s.sensors = append(s.sensors, i)
			}
			switch {
			case s.of.free[t.ID], !here:
				s.parts = append(s.parts, elsewhere{i})
			case t.Kind == rules.Motion:
				room.motion = append(room.motion, one)
			default:
				room.presence = append(room.presence, one)
			}
		case rules.Flag:
			if s.of.free[t.ID] {
				s.parts = append(s.parts, whim{i})
			}
		case rules.Door:
			room.doors = append(room.doors, i)
		case rules.Lamp:
			if s.world.Hands {
				s.parts = append(s.parts, hand{thing: i, here: here, settings: s.settings(t.ID)})
			}
		case rules.Fan, rules.Plug, rules.Valve:
			if s.world.Hands {
				s.parts = append(s.parts, hand{thing: i, here: here, settings: []rules.Value{{}, {On: true}}})
			}
		case rules.ButtonOf:
			if s.world.Hands {
				for _, p := range s.presses(t.ID) {
					s.parts = append(s.parts, button{thing: i, press: p, here: here})
				}
			}
		case rules.Probe:
			s.parts = append(s.parts, probe{i})
		case rules.Hygrometer, rules.Meter:
			s.parts = append(s.parts, s.gauge(i, t))
		}
	}
	s.inboxes(slot)
	l, looks := s.promise.(interface{ looksAtPeople() bool })
	s.counted = len(room.motion)+len(room.presence) > 0
	looks = looks && l.looksAtPeople() && len(s.of.free) == 0
	if s.counted || len(room.doors) > 0 || looks {
		s.parts = append([]part{room}, s.parts...)
	}
}

// gauge reads one value for each stretch between the thresholds that rules have for it. A meter behind a plug
// reads nothing while the plug is off.
func (s *system) gauge(i int, t rules.Thing) gauge {
	g := gauge{thing: i, plug: -1, readings: s.readings(t.ID)}
	if t.Kind == rules.Meter {
		g.readings[0] = 0
		for j, o := range s.sheet.Things {
			if o.Kind == rules.Plug && o.ID+"-power" == t.ID {
				g.plug = j
				s.meters = append(s.meters, [2]int{i, j})
			}
		}
	}
	return g
}

// settings are how a hand may leave a lamp: off, at a level that no rule gives, and on without naming a level
// where that makes a difference. The level below the one of hands is given by nobody.
func (s *system) settings(lamp string) []rules.Value {
	used, plain := map[int]bool{}, false
	for i := range s.sheet.Rules {
		if c := &s.sheet.Rules[i].Cause; c.Plain && c.Thing == lamp {
			plain = true
		}
		for _, e := range s.sheet.Rules[i].Effects {
			if e.Kind == rules.Set && e.Thing == lamp {
				used[e.Value.Level] = true
			}
		}
	}
	level := 55
	for used[level] || used[level-1] {
		level++
	}
	out := []rules.Value{{}, {On: true, Level: level}}
	if plain {
		out = append(out, rules.Value{On: true})
	}
	return out
}

// presses of a button that some rule knows.
func (s *system) presses(id string) []rules.Press {
	seen := map[rules.Press]bool{}
	for i := range s.sheet.Rules {
		if c := &s.sheet.Rules[i].Cause; c.Kind == rules.Pressed && s.of.real(c.Thing) == id {
			seen[c.Press] = true
		}
	}
	var out []rules.Press
	for _, p := range []rules.Press{rules.Single, rules.Double, rules.Hold} {
		if seen[p] {
			out = append(out, p)
		}
	}
	return out
}

// readings of a gauge: one below the lowest threshold of rules and of the promise, one just over each. What others are compared with reads
// either nothing or everything. A jump from the lowest reading is as much as any rise that a rule waits for.
func (s *system) readings(id string) []int {
	var cuts []int
	if p, ok := s.promise.(interface{ cuts(thing int) []int }); ok {
		cuts = p.cuts(number(s.prog, id))
	}
	rise, than := 0, false
	for i := range s.sheet.Rules {
		r := &s.sheet.Rules[i]
		c := r.Cause
		than = than || s.of.real(c.Than) == id
		if s.of.real(c.Thing) == id {
			switch c.Kind {
			case rules.Over, rules.Under, rules.StaysUnder:
				if c.Than == "" {
					cuts = append(cuts, c.Threshold)
				}
			case rules.Rises:
				rise = max(rise, c.Threshold)
			}
		}
		for _, ls := range [2][]rules.Literal{r.Guard, r.Hold} {
			for _, l := range ls {
				than = than || l.Kind == rules.ReadsOver && s.of.real(l.Than) == id
				if l.Kind == rules.ReadsOver && s.of.real(l.Thing) == id && l.Than == "" {
					cuts = append(cuts, l.Threshold)
				}
			}
		}
	}
	if than {
		return []int{0, 100}
	}
	if len(cuts) == 0 {
		cuts = []int{50}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	out := []int{max(0, min(cuts[0], cuts[0]+1-rise))}
	if rise > 1 {
		out = append(out, cuts[0])
	}
	for _, c := range cuts {
		out = append(out, c+1)
	}
	return out
}
