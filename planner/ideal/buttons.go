package ideal

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// buttons drafts the exceptions. What a person asks for at a button counts like a level set by hand: it stays until the room is
// empty.
func (r *room) buttons() {
	r.goal = "buttons"
	if r.h.leaving && !leadsOut(r.r) {
		r.left()
	}
	if !r.r.Brief.Buttons.Wanted() {
		return
	}
	for i := range r.r.Brief.Buttons.Want {
		b := &r.r.Brief.Buttons.Want[i]
		presses := []struct {
			word  string
			press rules.Press
			deed  model.Deed
		}{{"press", rules.Single, b.Press}, {"double", rules.Double, b.Double}, {"hold", rules.Hold, b.Hold}}
		name := "button " + title(b.ID)
		if b.Where != "" {
			name = "button at the " + strings.TrimPrefix(b.Where, "the ")
		}
		thing, used := r.thing(rules.ButtonOf, b.ID, "button", name), []string{}
		for _, p := range presses {
			if p.deed.Verb == model.Nothing {
				continue
			}
			used = append(used, p.word)
			r.deed(b.ID+"-"+p.word, rules.Cause{Kind: rules.Pressed, Thing: thing, Press: p.press}, p.deed, fmt.Sprintf("brief/buttons/%s", b.ID))
		}
		if len(used) == 0 {
			r.find(false, "brief/buttons/"+b.ID, "The %s in %s does nothing yet; give one of its presses a deed.", name, r.the())
			used = []string{"press"}
		}
		r.need(needs.Need{ID: thing, Name: name, Why: "The brief asks for it.", Wants: []catalogue.Ability{catalogue.Press},
			Facts: needs.Facts{Presses: used, Ingress: r.ingress("outside")}})
	}
}

// deed drafts what one press does.
func (r *room) deed(name string, c rules.Cause, d model.Deed, at string) {
	purpose := fmt.Sprintf("On request: %s.", d)
	switch d.Verb {
	case model.Lights:
		r.lightsDeed(name, purpose, c, int(d.Level+0.5), at)
	case model.LightsAuto:
		r.autoDeed(name, purpose, c, at)
	case model.FanRun:
		if len(r.fans) > 0 {
			r.add(name, rules.Rule{Purpose: purpose, Cause: c, Guard: r.allowed("request"), Effects: r.askFan(d.Run), Again: rules.Longer})
		}
	case model.FanOff:
		if len(r.fans) > 0 {
			r.add(name, rules.Rule{Purpose: purpose, Cause: c, Effects: append(r.restFan(), r.turnFans(false)...)})
		}
	case model.EverythingOff:
		r.everythingOff(name, purpose, c)
	case model.Extend:
		r.extendDeed(name, purpose, c, d.Appliance, at)
	case model.Acknowledge:
		if effects := r.h.silence(); len(effects) > 0 {
			r.add(name, rules.Rule{Purpose: purpose, Cause: c, Effects: effects})
		} else {
			r.find(false, at, "A button of %s acknowledges, but no leak goal tells again or sounds; give it another deed.", r.the())
		}
	}
}

// asked are the effects that go with lights that a person asked for: they stay until the room is empty.
func (r *room) asked() []rules.Effect {
	var out []rules.Effect
	if r.manual != "" {
		out = append(out, note(r.manual))
	}
	if r.sense.mode != unsensed {
		out = append(out, start(r.sense.empty, r.sense.after))
	}
	return out
}

func (r *room) lightsDeed(name, purpose string, c rules.Cause, level int, at string) {
	var effects []rules.Effect
	for i := range r.r.Circuits {
		lamp, _ := r.lamp(r.r.Circuits[i].ID)
		if level > 0 {
			effects = append(effects, light(lamp, level, 0))
		} else {
			effects = append(effects, turn(lamp, false))
		}
	}
	if len(effects) == 0 {
		r.find(true, at, "A button of %s works the lights, but no lamp circuit is noted there; note its circuits.", r.the())
		return
	}
	r.add(name, rules.Rule{Purpose: purpose, Cause: c, Effects: append(effects, r.asked()...), Again: rules.Longer})
}

// autoDeed gives the light back to the periods.
func (r *room) autoDeed(name, purpose string, c rules.Cause, at string) {
	if len(r.periods) == 0 {
		r.find(true, at, "A button of %s gives the light back to its periods, but the lighting goal has none; give it some, or the button another deed.", r.the())
		return
	}
	for _, p := range r.periods {
		effects := r.circuitsAt(p, true)
		if p.Level <= 0 {
			effects = nil
		}
		if r.manual != "" {
			effects = append(effects, forget(r.manual))
		}
		r.add(name+"-"+p.name, rules.Rule{Purpose: purpose, Cause: c, Guard: p.guard, Again: rules.Longer,
			Effects: append(effects, start(r.sense.empty, r.sense.after))})
	}
}

// everything are the effects of switching a room off. What must stay on, sounders and valves are left alone.
func (r *room) everything() []rules.Effect {
	effects := r.allOff("")
	for i := range r.r.Appliances {
		if k, ok := r.cut[r.r.ID+"/"+r.r.Appliances[i].ID]; ok {
			effects = append(append(effects, turn(k.plug, false)), k.stops()...)
		}
	}
	if len(r.fans) > 0 {
		effects = append(append(effects, r.restFan()...), r.turnFans(false)...)
	}
	return effects
}

// everythingOff is the room; where people leave the house, it is the house.
func (r *room) everythingOff(name, purpose string, c rules.Cause) {
	effects := r.everything()
	if r.r.Brief.Lighting.Wanted() {
		effects = append(effects, r.asked()...)
	}
	if leadsOut(r.r) {
		effects = append(effects, note(r.h.leavingFlag()))
		purpose = "On request, on the way out: everything off, in the house."
	}
	if len(effects) == 0 {
		return
	}
	r.add(name, rules.Rule{Purpose: purpose, Cause: c, Effects: effects, Again: rules.Longer})
}

// left switches the room off when somebody leaves the house, unless somebody else is seen in it.
func (r *room) left() {
	effects := r.everything()
	if len(effects) == 0 {
		return
	}
	var alone []rules.Literal
	if r.sense.mode != unsensed {
		alone = append(alone, isNot(r.sense.sensor))
	}
	if r.sense.inside != "" {
		alone = append(alone, isNot(r.sense.inside))
	}
	c := became(r.h.leavingFlag(), true, false)
	r.add("left", rules.Rule{Purpose: "Whoever leaves the house switches off what nobody is seen to use.", Cause: c, Guard: alone, Effects: effects})
}

func (r *room) extendDeed(name, purpose string, c rules.Cause, appliance, at string) {
	path := inRoom(r.r.ID, appliance)
	k, ok := r.cut[path]
	if !ok || k.limit == "" {
		k, ok = r.h.cutting(path)
	}
	if !ok {
		r.find(true, at, "A button of %s extends %q, which has no longest time on in any brief; give it one, or the button another deed.", r.the(), appliance)
		return
	}
	r.add(name, rules.Rule{Purpose: purpose, Cause: c, Guard: lits(running(k.limit)), Effects: k.starts()})
}
