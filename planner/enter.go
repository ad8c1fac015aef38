package planner

import (
	"fmt"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/fitting"
)

// ThroughTheYear is the field of a rule whose clock times change through the year.
const ThroughTheYear = "Through the year"

// Enter is what to enter into one controller: what there is to know before, and then its rules in their order.
type Enter struct {
	Host    fitting.Host
	Part    string // name of the part, to print
	Rules   int    // of the controller, over all rooms
	Lost    []fitting.Lost
	Notes   []fitting.Note
	Races   []fitting.Race
	Tables  []fitting.Table
	Entries []fitting.Entry
}

// Entering is what to enter where, controller by controller; of one room only, when room isn't "". Controllers
// that have nothing to do are left out. Without a catalogue parts have no names.
func (p Plan) Entering(c *catalogue.Catalogue, room string) []Enter {
	var out []Enter
	for _, plan := range p.Placed.Hosts {
		host, _ := p.Host(plan.Host)
		e := Enter{Host: host, Part: p.partOf(c, plan.Host), Rules: len(plan.Fit.Sheet.Rules), Races: plan.Fit.Races, Tables: plan.Fit.Tables}
		for _, x := range fitting.Entries(plan.Fit, host.Limits, fitting.Info{Parts: p.Parts}) {
			for i, f := range x.Fields {
				if f.Name == ThroughTheYear { // the table itself stands before the rules
					of, _, _ := strings.Cut(strings.TrimPrefix(f.Value, "for "), ":")
					x.Fields[i].Value = "set the clock time for " + of + " by its table"
				}
			}
			if room == "" || x.Room == room {
				e.Entries = append(e.Entries, x)
			}
		}
		for _, l := range plan.Fit.Lost {
			if bears(l.Rule, room) {
				e.Lost = append(e.Lost, l)
			}
		}
		for _, n := range plan.Fit.Notes {
			if bears(n.Rule, room) {
				e.Notes = append(e.Notes, n)
			}
		}
		if len(e.Entries) > 0 {
			out = append(out, e)
		}
	}
	return out
}

// bears reports whether what is said of an ideal rule, or of all with "", has to do with a room.
func bears(rule, room string) bool {
	if rule == "" || room == "" {
		return true
	}
	at, _, _ := strings.Cut(rule, "/")
	return at == room
}

func (p Plan) partOf(c *catalogue.Catalogue, host string) string {
	for _, d := range p.Bill.Devices {
		if d.ID == host && c != nil {
			if part, ok := c.Part(d.Part); ok {
				return part.Name
			}
		}
	}
	return ""
}

// Title of a controller: "linen-cupboard: Small controller (limits modest)".
func (e Enter) Title() string {
	limits := e.Host.Limits.ID
	return fmt.Sprintf("%s: %s, limits %s", e.Host.ID, e.Part, limits)
}

// Many is how many rules there are, and how many would be too many.
func (e Enter) Many() string {
	text := fmt.Sprintf("%d rules", e.Rules)
	if e.Rules == 1 {
		text = "One rule"
	}
	if most := e.Host.Limits.Rules; most > 0 {
		text += fmt.Sprintf(" of %d that it takes", most)
	}
	return text + "."
}

// Elsewhere are losses that no controller of its own has: what none can see, or a home without any.
func (p Plan) Elsewhere() []fitting.Lost {
	var out []fitting.Lost
	for _, l := range p.Placed.Lost {
		known := false
		for _, h := range p.Placed.Hosts {
			for _, x := range h.Fit.Lost {
				known = known || x == l
			}
		}
		if !known {
			out = append(out, l)
		}
	}
	return out
}
