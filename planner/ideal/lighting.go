package ideal

import (
	"fmt"
	"slices"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// lighting drafts light by time of day.
func (r *room) lighting() {
	r.goal = "lighting"
	if !r.r.Brief.Lighting.Wanted() {
		r.goal = "ventilation"
		r.emptied(nil)
		return
	}
	want := &r.r.Brief.Lighting.Want
	r.prepare(want.Periods)
	var circuits []string
	for i := range r.r.Circuits {
		c := &r.r.Circuits[i]
		for _, p := range r.periods {
			if covers(p.Period, c.ID) {
				lamp, _ := r.lamp(c.ID)
				circuits = append(circuits, lamp)
				break
			}
		}
	}
	switch {
	case len(r.r.Circuits) == 0:
		r.find(true, "brief/lighting", "Light is asked for in %s, but no lamp circuit is noted there; note its circuits, or take the goal out.", r.the())
	case len(r.periods) == 0:
		r.find(true, "brief/lighting/periods", "The lighting of %s has no period, so nothing switches it on; give it at least one.", r.the())
	}
	if want.KeepManual {
		r.manual = r.thing(rules.Flag, "by-hand", "flag", "set by hand")
	}
	if want.Start == "on request" {
		r.onRequest(r.manual)
	} else {
		r.onEntry(r.manual)
	}
	r.byHand(circuits, r.manual)
	r.emptied(r.allOff(r.manual))
	r.afterPower(want.Start == "on request", r.manual)
}

// untouched is the guard of every rule that sets a level by itself.
func untouched(manual string) []rules.Literal {
	if manual == "" {
		return nil
	}
	return lits(isNot(manual))
}

// circuitsAt are the effects that make a period's light. With others, the circuits outside the period go off.
func (r *room) circuitsAt(p period, others bool) []rules.Effect {
	var on, off []rules.Effect
	for i := range r.r.Circuits {
		c := &r.r.Circuits[i]
		lamp, made := r.lamps[c.ID]
		switch {
		case !made:
		case covers(p.Period, c.ID) && p.Level > 0:
			on = append(on, light(lamp, int(p.Level+0.5), int(p.Colour+0.5)))
		default:
			off = append(off, turn(lamp, false))
		}
	}
	if others {
		on = append(on, off...)
	}
	return on
}

// onEntry lights the room for whoever is seen, and follows the periods while it is in use. A period at 0 %
// leaves the light alone.
func (r *room) onEntry(manual string) {
	for _, p := range r.periods {
		effects := r.circuitsAt(p, false)
		if p.Level <= 0 || len(effects) == 0 {
			continue
		}
		r.add("light-on-"+p.name, rules.Rule{Purpose: fmt.Sprintf("Light on entry, from %s.", p.From.Show(q.Metric)),
			Cause: r.seen(), Guard: guards(p.guard, untouched(manual)), Effects: effects})
	}
	if len(r.periods) < 2 {
		return
	}
	for _, p := range r.periods {
		effects := r.circuitsAt(p, true)
		if p.Level <= 0 || len(effects) == 0 {
			continue
		}
		r.add("light-to-"+p.name, rules.Rule{Purpose: fmt.Sprintf("The light follows the periods: at %s, while the room is in use.", p.From.Show(q.Metric)),
			Cause: rules.Cause{Kind: rules.Clock, At: p.From}, Guard: guards(lits(running(r.sense.empty)), untouched(manual)),
			Effects: effects})
	}
}

// byHand keeps a level that a person set, and makes sure that what a person switched on goes off when the room is empty.
func (r *room) byHand(circuits []string, manual string) {
	for _, lamp := range circuits {
		c := rules.Cause{Kind: rules.Became, Thing: lamp, Any: true, ByHand: true}
		effects := []rules.Effect{start(r.sense.empty, r.sense.after)}
		purpose := "Light switched on by hand goes off too when the room is empty."
		if manual != "" {
			effects = append([]rules.Effect{note(manual)}, effects...)
			purpose = "A level set by hand stays until the room is empty."
		}
		r.add("by-hand", rules.Rule{Purpose: purpose, Cause: c, Effects: effects, Again: rules.Longer})
		if r.sense.mode == byDoors {
			// Whoever does that unseen may stand before a dead sensor: rather burn for longer than leave them in the dark.
			r.add("by-hand-unseen", rules.Rule{Purpose: "Somebody who needs light and isn't seen gets it for as long as people here may keep still.",
				Cause: c, Guard: lits(notRunning(r.sense.empty)), Effects: []rules.Effect{start(r.wait("door-open"), r.patience())}})
		}
	}
	if r.r.Brief.Lighting.Want.Start == "on request" {
		r.requested(manual)
	}
}

// onRequest never lights by itself: it makes the light of the period out of a lamp that a person switched on,
// and follows the periods while that lamp is on.
func (r *room) onRequest(manual string) {
	if len(r.periods) < 2 {
		return
	}
	for _, p := range r.periods {
		for _, e := range r.circuitsAt(p, false) {
			r.add("light-to-"+p.name, rules.Rule{Purpose: fmt.Sprintf("Light that somebody asked for follows the periods: at %s.", p.From.Show(q.Metric)),
				Cause: rules.Cause{Kind: rules.Clock, At: p.From}, Guard: guards(lits(is(e.Thing)), untouched(manual)), Effects: []rules.Effect{e}})
		}
	}
}

// requested comes behind the rules of byHand: switching a lamp on without a level asks for the light of the period.
// A level that somebody sets is their own.
func (r *room) requested(manual string) {
	for _, p := range r.periods {
		for _, e := range r.circuitsAt(p, false) {
			effects := []rules.Effect{e}
			if manual != "" {
				effects = append(effects, forget(manual))
			}
			r.add("light-on-"+p.name, rules.Rule{Purpose: fmt.Sprintf("Switching a lamp on asks for the light of the period, from %s.", p.From.Show(q.Metric)),
				Cause: rules.Cause{Kind: rules.Became, Thing: e.Thing, On: true, ByHand: true, Plain: true}, Guard: p.guard, Effects: effects})
		}
	}
}

// allOff are the effects of an empty room.
func (r *room) allOff(manual string) []rules.Effect {
	var out []rules.Effect
	for i := range r.r.Circuits {
		if lamp, ok := r.lamps[r.r.Circuits[i].ID]; ok {
			out = append(out, turn(lamp, false))
		}
	}
	if manual != "" {
		out = append(out, forget(manual))
	}
	return out
}

// emptied ends the use of the room. It carries the holds, also where nothing goes off by it.
func (r *room) emptied(effects []rules.Effect) {
	if r.sense.mode == unsensed {
		return
	}
	purpose := "Light off once the room is empty."
	if len(effects) == 0 {
		purpose = "The room counts as empty."
	}
	r.add("empty", rules.Rule{Purpose: purpose, Cause: ended(r.sense.empty), Effects: effects, Hold: r.holds(), HoldFor: r.sense.after})
}

// afterPower: lamps may come back at full brightness with the mains, and waits are lost. A room that lights by itself goes to the light of
// the period, and counts as in use until nobody has been seen for long enough, also where the period lights nothing: the next one may.
// Any other goes dark.
func (r *room) afterPower(request bool, manual string) {
	var nobody []rules.Effect
	if r.sense.inside != "" {
		nobody = append(nobody, forget(r.sense.inside))
	}
	dark := rules.Rule{Purpose: "After a power cut no lamp is left burning.", Cause: rules.Cause{Kind: rules.PowerBack}, Effects: append(r.allOff(manual), nobody...)}
	switch {
	case request:
		dark.Effects = append(dark.Effects, r.inUseAgain()...)
		r.add("power-back", dark)
		return
	case len(r.periods) == 0:
		if len(dark.Effects) > 0 {
			r.add("power-back", dark)
		}
		return
	}
	for _, p := range r.periods {
		x := dark
		if p.Level > 0 {
			x.Purpose = "After a power cut the light is that of the period, and goes off unless somebody is seen."
			x.Effects = append(r.circuitsAt(p, true), nobody...)
			if manual != "" {
				x.Effects = append(x.Effects, forget(manual))
			}
		}
		x.Guard, x.Effects = p.guard, append(slices.Clip(x.Effects), r.inUseAgain()...)
		r.add("power-back-"+p.name, x)
	}
}

// inUseAgain are the effects by which a room counts as in use, though nobody has been seen: as long as people there may keep still
// where its doors wait for them. A sensor that reported just before the power went says nothing new until it isn't blind any more.
func (r *room) inUseAgain() []rules.Effect {
	var out []rules.Effect
	if r.sense.check != "" {
		out = append(out, start(r.sense.check, r.quietTime()))
		if r.o.PatientDoors || r.patience() <= r.quietTime() {
			out = append(out, start(r.wait("door-open"), r.patience()))
		}
	}
	return append(out, start(r.sense.empty, r.sense.after))
}
