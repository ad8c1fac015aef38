package remedy

import (
	"fmt"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/rules"
)

// abilityOf is what a part must do to serve a sensor or button.
var abilityOf = map[rules.ThingKind]catalogue.Ability{
	rules.Motion: catalogue.SenseMotion, rules.Presence: catalogue.SenseStill, rules.Door: catalogue.SenseDoor, rules.Hygrometer: catalogue.SenseHumidity,
	rules.Probe: catalogue.SenseWet, rules.ButtonOf: catalogue.Press,
}

// joined has the room's sensors and buttons speak to the controller of its rules, where that hears of some of them from another one, and late.
func (m *mover) joined(plan planner.Plan, now fitting.Host, felt []string) {
	if !slices.Contains(felt, "latency") {
		return
	}
	use, said := map[string]string{}, []string(nil)
	var edits []projectfile.Edit
	for _, t := range plan.Fitted.Things {
		if t.Room != m.r.ID || t.At == "" || t.At == now.ID || m.p.Choices.Use[t.ID] != "" {
			continue
		}
		part, ok := m.speaking(plan.Parts[t.ID], abilityOf[t.Kind], now.Radios)
		if !ok {
			continue
		}
		use[t.ID] = part.ID
		name := t.Name
		if t.Kind == rules.Door || t.Kind == rules.ButtonOf {
			name = "the " + name
		}
		said = append(said, fmt.Sprintf("for %s the part \"%s\"", name, part.Name))
		edits = append(edits, projectfile.Set("choices/use/{"+t.ID+"}", part.ID))
	}
	if len(use) == 0 {
		return
	}
	m.out = append(m.out, Move{ID: "join:" + now.ID, axis: "join", Edits: edits,
		Words: fmt.Sprintf("Use parts that speak to %s, which runs the rules: %s", now.ID, english.List(said)),
		apply: func(p *model.Project) {
			for id, part := range use {
				p.Choices.Use = with(p.Choices.Use, id, part)
			}
		}})
}

// speaking is the cheapest part of the shelf that does the same as another, is supplied likewise and is as wakeful, and speaks one of some radios.
func (m *mover) speaking(as catalogue.Part, does catalogue.Ability, radios []string) (best catalogue.Part, ok bool) {
	if as.Radio == "" || does == "" {
		return best, false
	}
	price := func(x catalogue.Part) float64 { return x.Price[m.p.Home.Currency] }
	for _, x := range m.c.Parts {
		if !slices.Contains(x.Does, does) || !slices.Contains(radios, x.Radio) || x.Supply != as.Supply || price(x) <= 0 ||
			x.Behaviour.Blind > as.Behaviour.Blind || len(x.Also) > len(as.Also) {
			continue
		}
		if !ok || price(x) < price(best) {
			best, ok = x, true
		}
	}
	return best, ok
}
