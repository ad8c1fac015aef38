package ideal

import (
	"fmt"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// leak drafts who hears of water. One press anywhere ends the alarms of all rooms; each room has its own, so that none is told of another's water. No rule ever
// opens a valve: whoever has looked does that.
func (r *room) leak() {
	r.goal = "leak"
	l := r.r.Brief.Leak
	if !l.Wanted() {
		return
	}
	b := &l.Want
	people := r.h.told(b.Tell)
	if len(b.Points) == 0 {
		r.find(true, "brief/leak/points", "No water point is named in %s, so nothing is watched; name the points.", r.the())
		return
	}
	if len(people) == 0 && !b.Sound {
		r.find(true, "brief/leak/tell", "Nobody hears of water in %s: name somebody to tell, or ask for a sounder.", r.the())
	}
	if b.Sound && len(people) == 0 {
		r.find(false, "brief/leak/tell", "Water in %s is only sounded in the house; with nobody at home nobody hears it, so name somebody to tell.", r.the())
	}
	valve := r.shutValve(b.Shut)
	again, alarm := r.wait("leak-again"), r.h.alarm(r.r)
	var once []string
	for _, id := range b.Points {
		probe, name := r.probe(id)
		if probe == "" {
			continue
		}
		once = append(once, name)
		effects := r.alarm(people, valve, fmt.Sprintf("Water at the %s in %s. Shut the water and look.", name, r.the()))
		if alarm != "" {
			effects = append(effects, start(again, b.Again))
		}
		if len(effects) == 0 {
			continue // nobody to tell and nothing to shut: said above
		}
		r.add("wet-"+id, rules.Rule{Purpose: fmt.Sprintf("Water at the %s is told at once.", name), Cause: reports(probe, true), Effects: effects})
		r.add("power-back-wet-"+id, rules.Rule{Purpose: fmt.Sprintf("Water at the %s that came in a power cut is told after it.", name),
			Cause: rules.Cause{Kind: rules.PowerBack}, Guard: lits(is(probe)), Effects: effects})
	}
	if alarm != "" {
		r.add("power-back-again", rules.Rule{Purpose: "A power cut doesn't end an alarm that nobody has acknowledged.",
			Cause: rules.Cause{Kind: rules.PowerBack}, Guard: lits(is(alarm)), Effects: []rules.Effect{start(again, b.Again)}})
		r.add("leak-again", rules.Rule{Purpose: fmt.Sprintf("Water is told again every %s until somebody acknowledges.", b.Again), Cause: ended(again),
			Guard: lits(is(alarm)), Effects: []rules.Effect{
				tell(people, fmt.Sprintf("Nobody has acknowledged the water in %s yet (%s).", r.the(), strings.Join(once, " or "))), start(again, b.Again)}})
	}
}

// alarm are the effects of water: the valve first, because water runs while messages travel.
func (r *room) alarm(people []string, valve, text string) []rules.Effect {
	var out []rules.Effect
	if valve != "" {
		out = append(out, turn(valve, true))
	}
	if alarm := r.h.alarm(r.r); alarm != "" {
		out = append(out, note(alarm))
	}
	if len(people) > 0 {
		out = append(out, tell(people, text))
	}
	if r.r.Brief.Leak.Want.Sound {
		out = append(out, turn(r.h.sounderThing(), true))
	}
	return out
}

func (r *room) probe(id string) (path, name string) {
	for i := range r.r.Water {
		if w := &r.r.Water[i]; w.ID == id {
			path = r.thing(rules.Probe, id, "probe", "water at the "+title(id))
			r.need(needs.Need{ID: path, Name: "water at the " + title(id), Why: "Water here is to be told.", Wants: []catalogue.Ability{catalogue.SenseWet},
				Facts: needs.Facts{Soon: r.r.Brief.Leak.Want.Within}})
			return path, title(id)
		}
	}
	r.find(true, "brief/leak/points", "The brief watches %q, which is no water point of %s; note it in the survey.", id, r.the())
	return "", ""
}

// shutValve is the valve at a stopcock, which may be in another room; that room brings it.
func (r *room) shutValve(shut string) string {
	if shut == "" {
		return ""
	}
	at, id, _ := strings.Cut(shut, "/")
	if mr := r.h.rooms[at]; mr != nil {
		for i := range mr.Water {
			if w := &mr.Water[i]; w.ID == id && w.Kind == "stopcock" {
				return valvePath(shut)
			}
		}
	}
	r.find(true, "brief/leak/shut", "The brief shuts %q, which is no stopcock of the survey; write the room and the water point, as in hall/main.", shut)
	return ""
}

// valvePath is the thing at a stopcock. It has a name of its own, so that a point may be watched and shut.
func valvePath(stopcock string) string { return stopcock + "-valve" }

// stopcocks brings the valves of this room that some room's leak goal shuts.
func (r *room) stopcocks() {
	r.goal = "leak"
	for i := range r.r.Water {
		w := &r.r.Water[i]
		soon, shut := r.h.stopcocks[r.r.ID+"/"+w.ID]
		if w.Kind != "stopcock" || !shut {
			continue
		}
		name := "valve at the " + title(w.ID)
		path := r.thing(rules.Valve, w.ID+"-valve", "valve", name)
		r.need(needs.Need{ID: path, Name: name, Why: "Water is to be shut off when some is found.",
			Wants: []catalogue.Ability{catalogue.ShutWater}, Facts: needs.Facts{Pipe: w.Pipe, Soon: soon}})
	}
}
