// Package ideal turns briefs into rules as they would be on a controller without limits, and into the
// needs that those rules have.
package ideal

import (
	"slices"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// Drafted is what the briefs come to.
type Drafted struct {
	Sheet    rules.Sheet
	Needs    []needs.Need
	Findings []Finding
}

// Finding is something that the user should know about a brief or a fact.
type Finding struct {
	Room    string // "" for the home
	At      string // path in the project
	Serious bool   // makes commands end with status 1
	Text    string // one sentence: what, and what to do about it
}

// Options are the figures that a draft leans on before parts are chosen.
type Options struct {
	Blind  q.Span // how long a motion sensor says nothing new after a report
	Margin q.Span // on top of Blind, for radio and clocks
	// PatientDoors makes every room whose last door shut wait as long as people there may keep still, not only its stop time, before it
	// counts as empty; In has it for the rooms whose brief needs it. Without it whoever shuts the door behind them has to move once more between the sensor's blind
	// time and the end of the stop time; with it the light burns for longer after everybody who left.
	PatientDoors bool
	// Year gives the sun's clock times on each day of a year, or nil where nobody knows them. Periods that
	// start with the sun are checked against it.
	Year []rules.Day
}

// In gives the options for one room: as the project's choices have it, or else with patient doors where the brief needs them.
func (o Options) In(c *model.Choices, r *model.Room) Options {
	if d := c.Blind[r.ID]; d > 0 {
		o.Blind = d
	}
	switch c.Doors[r.ID] {
	case "patient":
		o.PatientDoors = true
	case "brisk":
		o.PatientDoors = false
	default:
		o.PatientDoors = o.PatientDoors || needsPatience(r)
	}
	return o
}

// needsPatience reports whether only patient doors keep a brief: the light is never to go out on anybody inside, and people there may
// keep still for longer than the light stays on by itself.
func needsPatience(r *model.Room) bool {
	l := r.Brief.Lighting
	if !l.Wanted() || l.Want.Stop.NeverWhile == "moving" {
		return false
	}
	after := l.Want.Stop.After
	if after <= 0 {
		after = kindOf(r.Kind).stop
	}
	return model.LongestStill(r.Kind) > after
}

// Usual options: battery motion sensors of the trade are blind for 30 to 90 seconds.
func Usual() Options {
	return Options{Blind: q.Span(time.Minute), Margin: q.Span(15 * time.Second)}
}

// Draft drafts the rules and needs of a home, room by room, in project order; what rooms share comes last.
// It takes the usual options, with the sun of the home's place.
func Draft(p *model.Project) Drafted {
	o := Usual()
	o.Year = yearOf(p)
	return DraftWith(p, o)
}

// DraftWith is Draft under other options.
func DraftWith(p *model.Project, o Options) Drafted {
	h := newHome(p, o)
	var out Drafted
	for i := range p.Rooms {
		out.add(h.room(&p.Rooms[i]))
	}
	out.add(h.shared())
	if len(out.Sheet.Rules) == 0 { // nothing to run yet
		out.Needs = slices.DeleteFunc(out.Needs, func(n needs.Need) bool { return slices.Contains(n.Wants, catalogue.Host) })
	}
	return out
}

// DraftRoom drafts one room alone, as Draft would within the home; ok is false when there is no such room.
// Its rules may speak of things that the home or another room brings.
func DraftRoom(p *model.Project, room string, o Options) (Drafted, bool) {
	for i := range p.Rooms {
		if p.Rooms[i].ID == room {
			return newHome(p, o).room(&p.Rooms[i]), true
		}
	}
	return Drafted{}, false
}

// DraftShared drafts what the rooms of a home share: the controller, the house hygrometer, the water alarm.
func DraftShared(p *model.Project, o Options) Drafted { return newHome(p, o).shared() }

func (d *Drafted) add(more Drafted) {
	d.Sheet.Things = append(d.Sheet.Things, more.Sheet.Things...)
	d.Sheet.Rules = append(d.Sheet.Rules, more.Sheet.Rules...)
	d.Needs = append(d.Needs, more.Needs...)
	d.Findings = append(d.Findings, more.Findings...)
}
