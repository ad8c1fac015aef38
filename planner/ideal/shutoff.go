package ideal

import (
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

const (
	// InUse is the power in watts over which an appliance counts as used, where the brief doesn't say: over the standby of
	// household appliances (up to 6 W) and under the least that a working one takes (40 W).
	InUse = 15
	// Bursts is how long a thermostat may rest between bursts. Idle for longer means that somebody switched the
	// appliance off themselves.
	Bursts = q.Span(10 * time.Minute)
)

// shutoff drafts appliances that go off by themselves. No rule ever switches one on.
func (r *room) shutoff() {
	r.goal = "shutoff"
	if !r.r.Brief.Shutoff.Wanted() {
		return
	}
	for i := range r.r.Brief.Shutoff.Want {
		s := &r.r.Brief.Shutoff.Want[i]
		at := fmt.Sprintf("brief/shutoff/%d", i)
		var a *model.Appliance
		for j := range r.r.Appliances {
			if r.r.Appliances[j].ID == s.Appliance {
				a = &r.r.Appliances[j]
			}
		}
		switch {
		case a == nil:
			r.find(true, at+"/appliance", "The brief switches off %q, which is no appliance of %s; note it in the survey.", s.Appliance, r.the())
		case a.MustStayOn:
			r.find(true, at, "The %s in %s must stay on, so it gets no shut-off; take it out of the brief.", title(a.ID), r.the())
		case model.KindStaysOn(a.Kind):
			r.find(true, at, "The %s in %s is a %s, which must never go off by itself, so it gets no shut-off; mark it must_stay_on.", title(a.ID), r.the(), a.Kind)
		case s.After <= 0 && s.Idle.For <= 0:
			r.find(true, at, "The brief doesn't say when the %s in %s goes off; give a longest time on, or a time idle.", title(a.ID), r.the())
		case r.plugs[a.ID] != "":
			r.find(true, at, "The %s in %s has two shut-offs, of which only the first is planned; take one out of the brief.", title(a.ID), r.the())
		default:
			r.appliance(a, s)
		}
	}
}

// cutting is one appliance with its waits.
type cutting struct {
	name        string
	plug, meter string
	limit, warn string // "" where the brief doesn't ask
	after       q.Span
	early       q.Span // from the start of the limit to the warning
}

// cuttingOf names the waits of a shut-off.
func cuttingOf(room string, s *model.Shutoff) cutting {
	c := cutting{name: title(s.Appliance), after: s.After}
	if s.After > 0 {
		c.limit = room + "/" + s.Appliance + "-limit"
		if s.Warn > 0 && s.Warn < s.After {
			c.warn, c.early = room+"/"+s.Appliance+"-warn", s.After-s.Warn
		}
	}
	return c
}

// cutting is a shut-off with a limit in any room, for a button elsewhere.
func (h *home) cutting(path string) (cutting, bool) {
	at, id, _ := strings.Cut(path, "/")
	mr := h.rooms[at]
	if mr == nil || !mr.Brief.Shutoff.Wanted() {
		return cutting{}, false
	}
	for i := range mr.Brief.Shutoff.Want {
		s := &mr.Brief.Shutoff.Want[i]
		if s.Appliance != id || s.After <= 0 {
			continue
		}
		for j := range mr.Appliances {
			if a := &mr.Appliances[j]; a.ID == id && !a.MustStayOn && !model.KindStaysOn(a.Kind) {
				return cuttingOf(mr.ID, s), true
			}
		}
	}
	return cutting{}, false
}

func (r *room) appliance(a *model.Appliance, s *model.Shutoff) {
	c := cuttingOf(r.r.ID, s)
	c.plug = r.thing(rules.Plug, a.ID, "plug", c.name)
	c.meter = r.thing(rules.Meter, a.ID+"-power", "meter", "power of the "+c.name)
	r.plugs[a.ID], r.cut[r.r.ID+"/"+a.ID] = c.plug, c
	r.plugNeed(a, c)
	if c.limit != "" {
		r.limitRules(c, s)
	}
	if s.Warn > 0 && c.warn == "" {
		r.find(false, "brief/shutoff", "The warning for the %s would come before it is on: %s before the end of %s; give a shorter one.", c.name, s.Warn, s.After)
	}
	r.idleRules(c, s)
	if c.limit != "" {
		r.add(a.ID+"-off-by-hand", rules.Rule{Purpose: fmt.Sprintf("Somebody switched the %s off themselves.", c.name),
			Cause: became(c.plug, false, true), Effects: c.stops()})
	}
	if a.Heats() {
		r.add("power-back-"+a.ID, rules.Rule{Purpose: fmt.Sprintf("After a power cut the %s stays off until somebody switches it on.", c.name),
			Cause: rules.Cause{Kind: rules.PowerBack}, Effects: []rules.Effect{turn(c.plug, false)}})
	} else if c.limit != "" {
		r.add("power-back-"+a.ID, rules.Rule{Purpose: "The limit starts over after a power cut.", Cause: rules.Cause{Kind: rules.PowerBack},
			Guard: lits(is(c.plug)), Effects: c.starts()}) // it may only be between two bursts; where it rests, that ends the count
	}
	if s.Extend == "button" && c.limit != "" {
		r.extendButton(a, c)
	}
}

func (r *room) plugNeed(a *model.Appliance, c cutting) {
	n := needs.Need{ID: c.plug, Name: c.name, Why: "It goes off by itself, so its power is measured and cut.", Also: []string{c.meter},
		Wants: []catalogue.Ability{catalogue.CutPlug}, Facts: needs.Facts{Load: a.Power, LoadKind: catalogue.Motor, Fixed: a.Fixed}}
	if a.Fixed {
		n.Wants[0] = catalogue.CutFixed
	}
	if a.Heats() {
		n.Facts.LoadKind = catalogue.Resistive
		n.Facts.ComesOff = true
	}
	if a.Power == 0 {
		r.find(false, "appliances/"+a.ID+"/power", "Nobody noted the power of the %s in %s; read its plate, because it decides which part can cut it.", c.name, r.the())
	}
	r.need(n)
}

func inUse(s *model.Shutoff) int {
	if s.Idle.Below > 0 {
		return int(s.Idle.Below + 0.5)
	}
	return InUse
}

func (c cutting) starts() []rules.Effect {
	out := []rules.Effect{start(c.limit, c.after)}
	if c.warn != "" {
		out = append(out, start(c.warn, c.early))
	}
	return out
}

func (c cutting) stops() []rules.Effect {
	var out []rules.Effect
	if c.limit != "" {
		out = append(out, stop(c.limit))
	}
	if c.warn != "" {
		out = append(out, stop(c.warn))
	}
	return out
}

// limitRules count from the first use on: heat that comes and goes with a thermostat, or a plug pulled for a moment, doesn't start
// the count anew.
func (r *room) limitRules(c cutting, s *model.Shutoff) {
	people := r.h.told(s.Tell)
	r.add(s.Appliance+"-in-use", rules.Rule{Purpose: fmt.Sprintf("The %s may be on for %s, from when it was first on.", c.name, s.After),
		Cause:   rules.Cause{Kind: rules.Over, Thing: c.meter, Threshold: inUse(s)},
		Guard:   lits(notRunning(c.limit)),
		Effects: c.starts()})
	if c.warn != "" && len(people) > 0 {
		text := fmt.Sprintf("The %s in %s goes off in %s.", c.name, r.the(), s.Warn)
		if s.Extend == "button" {
			text += " Its button gives it the full time again."
		}
		r.add(s.Appliance+"-warn", rules.Rule{Purpose: fmt.Sprintf("The household is warned %s before.", s.Warn), Cause: ended(c.warn),
			Effects: []rules.Effect{tell(people, text)}})
	}
	if len(people) == 0 {
		r.find(false, "brief/shutoff", "Nobody hears that the %s in %s goes off; name somebody to tell, or give somebody alerts.", c.name, r.the())
	}
	cut := append([]rules.Effect{turn(c.plug, false)}, c.stops()...)
	if len(people) > 0 {
		cut = append(cut, tell(people, fmt.Sprintf("The %s in %s was switched off after %s.", c.name, r.the(), s.After)))
	}
	r.add(s.Appliance+"-cut", rules.Rule{Purpose: fmt.Sprintf("The %s goes off at its limit.", c.name), Cause: ended(c.limit), Effects: cut})
}

// idleRules switch an idle appliance off where the brief asks, and end the count once it rests for longer than a thermostat does.
func (r *room) idleRules(c cutting, s *model.Shutoff) {
	idle := rules.Cause{Kind: rules.StaysUnder, Thing: c.meter, Threshold: inUse(s), For: s.Idle.For}
	if s.Idle.For > 0 {
		r.add(s.Appliance+"-idle", rules.Rule{Purpose: fmt.Sprintf("The %s goes off once it has been idle for %s.", c.name, s.Idle.For), Cause: idle,
			Effects: append([]rules.Effect{turn(c.plug, false)}, c.stops()...)})
		return
	}
	if c.limit == "" {
		return
	}
	idle.For = Bursts
	r.add(s.Appliance+"-rests", rules.Rule{Purpose: fmt.Sprintf("The %s was switched off at itself.", c.name), Cause: idle, Effects: c.stops()})
}

// extendButton gives the button that extends, where no button of a brief does.
func (r *room) extendButton(a *model.Appliance, c cutting) {
	if r.h.extends[r.r.ID+"/"+a.ID] {
		return
	}
	name := "button for the " + c.name
	b := r.thing(rules.ButtonOf, a.ID+"-extend", "button", name)
	r.need(needs.Need{ID: b, Name: name, Why: "A press gives the full time again, and no button of the briefs does that.",
		Wants: []catalogue.Ability{catalogue.Press}, Facts: needs.Facts{Presses: []string{"press"}}})
	r.add(a.ID+"-extend", rules.Rule{Purpose: fmt.Sprintf("A press gives the %s its full time again.", c.name),
		Cause: rules.Cause{Kind: rules.Pressed, Thing: b}, Guard: lits(running(c.limit)), Effects: c.starts()})
}
