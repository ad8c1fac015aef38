package planner

import (
	"fmt"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/needs"
)

// Finding is something that the user should know about the plan.
type Finding = ideal.Finding

// hostsOf are the controllers of a bill, each with its limits as its place has them and the radios that it speaks with its adapters, and what
// is wrong with those.
func hostsOf(p *model.Project, c *catalogue.Catalogue, b bill.Bill) (hosts []fitting.Host, wrong []ideal.Finding) {
	places := map[string]model.Controller{}
	for _, place := range p.Controllers {
		places[place.ID] = place
	}
	for _, d := range b.Devices {
		part, ok := c.Part(d.Part)
		if !ok || !does(part, catalogue.Host) {
			continue
		}
		h := fitting.Host{ID: d.ID, Room: d.Room, Radios: part.Host.Radios}
		if d.Speaks != nil {
			h.Radios = d.Speaks
		}
		set, _ := c.LimitSet(part.Host.Limits)
		var err error
		if h.Limits, err = set.Except(places[d.ID].Except); err != nil {
			wrong = append(wrong, ideal.Finding{At: "controllers/" + d.ID, Serious: true,
				Text: fmt.Sprintf("What is said of the limits of the controller %s can't be read, so they are taken as %s has them: %v. Correct them at its `except`.", d.ID, set.Name, err)})
		}
		hosts = append(hosts, h)
	}
	return hosts, wrong
}

// servedBy are the parts that serve things, by the path of the thing.
func servedBy(ns []needs.Need, c *catalogue.Catalogue, b bill.Bill) map[string]catalogue.Part {
	also := map[string][]string{}
	for _, n := range ns {
		also[n.ID] = n.Also
	}
	parts := map[string]catalogue.Part{}
	for _, d := range b.Devices {
		part, ok := c.Part(d.Part)
		if !ok || does(part, catalogue.Host) {
			continue
		}
		for _, n := range d.Covers {
			parts[n] = part
			for _, thing := range also[n] {
				parts[thing] = part
			}
		}
	}
	return parts
}

func does(p catalogue.Part, a catalogue.Ability) bool {
	for _, x := range p.Does {
		if x == a {
			return true
		}
	}
	return false
}

// Host is a controller of the plan by its id.
func (p Plan) Host(id string) (fitting.Host, bool) {
	for _, h := range p.Hosts {
		if h.ID == id {
			return h, true
		}
	}
	return fitting.Host{}, false
}

// HostOf is what the controller of a room's rules runs; nil where none does.
func (p Plan) HostOf(room string) *fitting.HostPlan {
	for i := range p.Placed.Hosts {
		for _, r := range p.Placed.Hosts[i].Rooms {
			if r == room {
				return &p.Placed.Hosts[i]
			}
		}
	}
	return nil
}

// elsewhere says of which rooms the rules run on another controller than the project chose.
func (p Plan) elsewhere(project *model.Project) []ideal.Finding {
	var out []ideal.Finding
	for i := range project.Rooms {
		r := &project.Rooms[i]
		want := project.Choices.Host[r.ID]
		at := p.HostOf(r.ID)
		if want == "" || at == nil || at.Host == want {
			continue
		}
		why := "it isn't one of the plan's controllers"
		if _, ok := p.Host(want); ok {
			why = "a room that shares things with this one was given to another"
		}
		out = append(out, ideal.Finding{Room: r.ID, At: "choices/host/" + r.ID, Serious: true,
			Text: fmt.Sprintf("The rules of %s run on %s and not on %s: %s; choose another in choices/host, or none.", ideal.The(r), at.Host, want, why)})
	}
	return out
}
