package ideal

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/rules"
)

// mode is how a room knows that somebody is in.
type mode int

const (
	unsensed mode = iota
	byMotion      // motion alone: who keeps still is absent
	byDoors       // motion seen behind shut doors is somebody until a door opens
	byStill       // a sensor that sees still people
)

// sensing is the part of a room's rules that knows who is there. The room is in use while the wait empty
// runs or is held; its end is the moment at which the room counts as empty.
type sensing struct {
	mode   mode
	sensor string   // motion or presence thing
	inside string   // flag of byDoors: somebody is in, and no door has opened since
	doors  []string // contacts of byDoors
	empty  string   // wait
	check  string   // wait of byDoors: from a door that shuts until the sensor should be quiet
	after  q.Span
}

// modeOf is how a room senses people: as the project chose, as far as the room allows it, or else as usual.
func (h *home) modeOf(r *model.Room) mode {
	usual := usualMode(r)
	switch chosen := h.p.Choices.Sense[r.ID]; {
	case usual == unsensed:
	case chosen == "motion":
		return byMotion
	case chosen == "doors" && doorsShut(r):
		return byDoors
	case chosen == "still":
		return byStill
	}
	return usual
}

// Modes are the ways in which a room could sense people, by the words of choices/sense; the first is the one that the
// room has. There are none where nothing asks for people.
func Modes(p *model.Project, r *model.Room) []string {
	words := map[mode]string{byMotion: "motion", byDoors: "doors", byStill: "still"}
	now := (&home{p: p}).modeOf(r)
	if now == unsensed {
		return nil
	}
	out := []string{words[now]}
	for _, m := range []mode{byMotion, byDoors, byStill} {
		if m != now && (m != byDoors || doorsShut(r)) {
			out = append(out, words[m])
		}
	}
	return out
}

// doorsShut reports whether every way into a room is a door that can be shut.
func doorsShut(r *model.Room) bool {
	for _, d := range r.Doors {
		if d.Usually == "none" {
			return false
		}
	}
	return len(r.Doors) > 0
}

// usualMode chooses how a room senses people. Still people need more than motion: where every door is usually shut
// the doors tell (cheap contacts), where one stands open only a sensor for still people does.
func usualMode(r *model.Room) mode {
	b := &r.Brief
	if !b.Lighting.Wanted() {
		if b.Ventilation.Wanted() && b.Ventilation.Want.WithPeople != (model.WithPeople{}) {
			return byMotion
		}
		return unsensed
	}
	switch b.Lighting.Want.Stop.NeverWhile {
	case "moving":
		return byMotion
	case "":
		if model.LongestStill(r.Kind) <= 5*minute {
			return byMotion
		}
	}
	if len(r.Doors) == 0 {
		return byStill
	}
	for _, d := range r.Doors {
		if d.Usually == "open" || d.Usually == "none" {
			return byStill
		}
	}
	return byDoors
}

// presence drafts who is there, if any goal asks.
func (r *room) presence() {
	r.goal = "lighting"
	if !r.r.Brief.Lighting.Wanted() {
		r.goal = "ventilation"
	}
	r.contacts()
	s := &r.sense
	s.mode = r.h.modeOf(r.r)
	r.chosen()
	if s.mode == unsensed {
		return
	}
	s.empty = r.wait("empty")
	s.after = r.stopTime()
	r.patient()
	place := "in " + r.the()
	if s.mode == byStill {
		r.stillSensor(place)
	} else {
		r.motionSensor(place)
	}
	r.add("seen", rules.Rule{Purpose: fmt.Sprintf("Whoever is seen %s keeps it in use.", place), Cause: r.seen(),
		Effects: []rules.Effect{start(s.empty, s.after)}})
	if s.mode == byDoors {
		r.doorRules()
	}
}

func (r *room) seen() rules.Cause { return reports(r.sense.sensor, true) }

// stopTime is how long the room stays in use after the last sign of somebody. Motion sensors are blind for a
// while after each report, so a shorter time would put the light out over people who move.
func (r *room) stopTime() q.Span {
	least := q.Span(0)
	if m := r.h.modeOf(r.r); m == byMotion || m == byDoors {
		least = r.quietTime()
	}
	l := r.r.Brief.Lighting
	if !l.Wanted() {
		return max(5*minute, least)
	}
	after := l.Want.Stop.After
	if after <= 0 {
		after = r.kind().stop
		r.find(false, "brief/lighting/stop/after", "The brief doesn't say when the light in %s goes off; planned with %s after the room is empty; give another time if that doesn't suit.",
			r.the(), after)
	}
	if after < least {
		r.find(false, "brief/lighting/stop/after", "Light off after %s is sooner than a motion sensor may report again; planned with %s. "+
			"Choose a sensor that is blind for less, or one that sees still people, to have it sooner.", after, least)
		return least
	}
	return after
}

func (r *room) motionSensor(place string) {
	s := &r.sense
	s.sensor = r.thing(rules.Motion, "motion", "sensor", "motion "+place)
	why := "Motion alone decides when the room is empty."
	if s.mode == byDoors {
		why = "Every door of the room can be shut, so motion with door contacts knows of people who keep still, and costs less than a sensor for them."
	}
	if r.h.p.Choices.Sense[r.r.ID] != "" {
		why = "The project chose " + map[mode]string{byMotion: "motion alone", byDoors: "motion with door contacts"}[s.mode] + " here."
	}
	r.need(needs.Need{ID: s.sensor, Name: "motion " + place, Why: why,
		Wants: []catalogue.Ability{catalogue.SenseMotion}, Facts: needs.Facts{Ingress: r.sensorIngress(), Blind: r.o.Blind}})
}

func (r *room) stillSensor(place string) {
	s := &r.sense
	s.sensor = r.thing(rules.Presence, "presence", "sensor", "people "+place)
	why := "A door stands open, so no door can tell whether somebody who keeps still is in: the sensor has to see them."
	switch {
	case r.h.p.Choices.Sense[r.r.ID] == "still":
		why = "The project chose a sensor for still people here."
	case len(r.r.Doors) == 0:
		why = "No door is noted, so the sensor has to see people who keep still."
		r.find(false, "doors", "No door is noted for %s; note the doors, because shut doors with contacts may cost less than a sensor for still people.", r.the())
	}
	r.need(needs.Need{ID: s.sensor, Name: "people " + place + ", moving or still", Why: why,
		Wants: []catalogue.Ability{catalogue.SenseStill, catalogue.SenseMotion}, Facts: needs.Facts{Ingress: r.sensorIngress()}})
}

// chosen says which choices for the room can't be had.
func (r *room) chosen() {
	c := &r.h.p.Choices
	words := map[mode]string{byMotion: "motion", byDoors: "doors", byStill: "still"}
	if want := c.Sense[r.r.ID]; want != "" && want != words[r.sense.mode] {
		r.choice(true, "sense", "Doors can't tell who is in %s, because a way into it can't be shut or no door is noted; planned with %s. Note its doors, or choose motion or still for it.", r.the(), words[r.sense.mode])
	}
	if c.Doors[r.r.ID] == "patient" && r.sense.mode != byDoors {
		r.choice(false, "doors", "Patient doors change nothing in %s, because its doors don't tell who is in; take the choice out.", r.the())
	}
	if c.Blind[r.r.ID] > 0 && r.sense.mode == byStill {
		r.choice(false, "blind", "How long a motion sensor is blind changes nothing in %s, because it has none; take the choice out.", r.the())
	}
}

// patient says what the doors of the room wait for where nobody chose.
func (r *room) patient() {
	if r.sense.mode == byDoors && r.o.PatientDoors && r.h.p.Choices.Doors[r.r.ID] == "" {
		r.find(false, "brief/lighting/stop/never_while", "Once the doors of %s have shut and nobody is seen any more, the light waits for the %s that people there may keep still, "+
			"so that it goes out on nobody; choose brisk doors to have it off %s after the last movement.", r.the(), model.LongestStill(r.r.Kind), r.sense.after)
	}
}

// choice is a finding about one of the project's choices for the room.
func (r *room) choice(serious bool, key, text string, args ...any) {
	r.out.Findings = append(r.out.Findings, Finding{Room: r.r.ID, At: "choices/" + key + "/" + r.r.ID, Serious: serious, Text: fmt.Sprintf(text, args...)})
}

// sensorIngress: above 2.25 m a ceiling is outside the zones of a bath or shower (IEC 60364-7-701).
func (r *room) sensorIngress() string {
	if c := r.r.Outline.Ceiling; r.kind().wet && c > 0 && c <= 2.25 {
		return physics.ZoneIngress("2")
	}
	return ""
}

// doorRules are the hold of a closed room: someone who stands in a shower gives no motion, and someone who
// leaves and shuts the door must not leave the light on. So a door that opens forgets who was in; motion that
// begins, or still stands when the sensor should long have gone quiet, after the last door shut is somebody,
// until a door opens. While a door stands open motion is all there is, and people who may keep still get the
// room kind's longest still time.
func (r *room) doorRules() {
	s := &r.sense
	s.inside = r.thing(rules.Flag, "inside", "flag", "somebody inside")
	s.check = r.wait("door-check")
	check, open := s.check, r.wait("door-open")
	quiet, patience := r.quietTime(), r.patience()
	after := stop(open)
	if r.o.PatientDoors {
		after = start(open, patience)
	}
	var shut []rules.Literal
	for _, d := range s.doors {
		shut = append(shut, isNot(d))
	}
	r.add("inside", rules.Rule{Purpose: "Motion behind shut doors is somebody, who stays until a door opens, moving or still.",
		Cause: r.seen(), Guard: shut, Effects: []rules.Effect{note(s.inside)}})
	for i, d := range s.doors {
		var others []rules.Literal
		for j, o := range s.doors {
			if j != i {
				others = append(others, isNot(o))
			}
		}
		r.add("door-opens", rules.Rule{Purpose: "Once a door opens nobody can be sure who is in.",
			Cause: reports(d, true), Effects: []rules.Effect{forget(s.inside), stop(check)}})
		r.add("door-open", rules.Rule{Purpose: "While a door of a room in use stands open, the room waits as long as people here may keep still.",
			Cause: reports(d, true), Guard: lits(running(s.empty)), Effects: []rules.Effect{start(s.empty, s.after), start(open, patience)}})
		r.add("door-still", rules.Rule{Purpose: "With a door open, whoever stops moving may only be keeping still.",
			Cause: became(s.sensor, false, false), Guard: lits(is(d)), Effects: []rules.Effect{start(open, patience)}})
		r.add("door-shuts", rules.Rule{Purpose: "When the last door shuts, somebody left or somebody stays: motion decides.",
			Cause: reports(d, false), Guard: append(others, running(s.empty)),
			Effects: []rules.Effect{after, start(s.empty, s.after), start(check, quiet)}})
	}
	r.add("inside-still-seen", rules.Rule{Purpose: "Motion that lasts longer after the door shut than a sensor takes to go quiet is somebody inside.",
		Cause: ended(check), Guard: append(lits(is(s.sensor)), shut...), Effects: []rules.Effect{note(s.inside)}})
}

// quietTime is how long a motion sensor may take to report that all is quiet.
func (r *room) quietTime() q.Span { return r.o.Blind + r.o.Margin }

// patience is how much longer than the stop time the room waits where only motion can tell, so that in all it waits for
// the longest that people here keep still.
func (r *room) patience() q.Span {
	return max(model.LongestStill(r.r.Kind)+r.quietTime()-r.sense.after, r.quietTime())
}

// holds are what keeps the room in use.
func (r *room) holds() []rules.Literal {
	out := lits(is(r.sense.sensor))
	if r.sense.mode == byDoors {
		out = append(out, is(r.sense.inside), running(r.sense.check), running(r.wait("door-open")))
	}
	return out
}

// contacts puts a contact on each door that this room's rules look at. A door between two rooms that both look at
// it gets one, which belongs to the room that comes first in the project.
func (r *room) contacts() {
	if r.h.modeOf(r.r) != byDoors {
		return
	}
	for i := range r.r.Doors {
		d := &r.r.Doors[i]
		if beyond, twin := r.h.twin(r.r, d); twin != nil && r.h.before(beyond, r.r) && r.h.modeOf(beyond) == byDoors {
			r.sense.doors = append(r.sense.doors, beyond.ID+"/"+twin.ID)
			continue
		}
		name := "door of " + r.the()
		if len(r.r.Doors) > 1 {
			name = "door to " + r.h.beyond(d.To)
		}
		path := r.thing(rules.Door, d.ID, "door", name)
		r.sense.doors = append(r.sense.doors, path)
		r.need(needs.Need{ID: path, Name: name, Why: "Whoever is in behind a shut door is in until it opens.",
			Wants: []catalogue.Ability{catalogue.SenseDoor}})
	}
}

// twin is the same door as the survey of the room beyond knows it: the only one that leads back, where only
// one leads there.
func (h *home) twin(r *model.Room, d *model.Door) (*model.Room, *model.Door) {
	beyond := h.rooms[d.To]
	if beyond == nil || beyond == r {
		return nil, nil
	}
	count := func(doors []model.Door, to string) (n int, last *model.Door) {
		for i := range doors {
			if doors[i].To == to {
				n, last = n+1, &doors[i]
			}
		}
		return n, last
	}
	if n, _ := count(r.Doors, beyond.ID); n != 1 {
		return nil, nil
	}
	n, back := count(beyond.Doors, r.ID)
	if n != 1 {
		return nil, nil
	}
	return beyond, back
}

func (h *home) before(a, b *model.Room) bool { return h.order[a.ID] < h.order[b.ID] }

// beyond names what is behind a door.
func (h *home) beyond(to string) string {
	if mr := h.rooms[to]; mr != nil {
		return (&room{r: mr}).the()
	}
	return strings.ReplaceAll(to, "-", " ")
}
