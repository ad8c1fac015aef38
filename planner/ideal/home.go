package ideal

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// home is what a room must know of the rest of the house.
type home struct {
	p      *model.Project
	o      Options
	prefix string         // of the paths of shared things
	order  map[string]int // of rooms in the project
	rooms  map[string]*model.Room
	person map[string]string // printed names
	alerts []string          // who may be told, by printed name

	stopcocks map[string]q.Span // paths that some leak goal shuts, with the soonest; 0 where none says how soon
	extends   map[string]bool   // appliances that some button extends
	watched   bool              // water is watched somewhere
	repeats   []*model.Room     // ... and told again until acknowledged
	sounder   bool              // ... and sounded
	ack       bool              // some button acknowledges
	reference bool              // some fan works by humidity
	leaving   bool              // some button switches everything in the house off
	colours   []string          // rooms whose lamps are asked for colours
}

func newHome(p *model.Project, o Options) *home {
	h := &home{p: p, o: o, order: map[string]int{}, rooms: map[string]*model.Room{}, person: map[string]string{},
		stopcocks: map[string]q.Span{}, extends: map[string]bool{}, prefix: "house"}
	for _, who := range p.People {
		name := who.Name
		if name == "" {
			name = who.ID
		}
		h.person[who.ID] = name
		if who.Alerts {
			h.alerts = append(h.alerts, name)
		}
	}
	for i := range p.Rooms {
		h.rooms[p.Rooms[i].ID] = &p.Rooms[i]
		h.order[p.Rooms[i].ID] = i
	}
	for h.rooms[h.prefix] != nil {
		h.prefix = "whole-" + h.prefix
	}
	for i := range p.Rooms {
		h.note(&p.Rooms[i])
	}
	return h
}

// note gathers what one room asks of the rest.
func (h *home) note(r *model.Room) {
	b := &r.Brief
	if b.Leak.Wanted() {
		h.watched = true
		if b.Leak.Want.Again > 0 && len(h.told(b.Leak.Want.Tell)) > 0 && slices.ContainsFunc(r.Water, func(w model.Water) bool { return slices.Contains(b.Leak.Want.Points, w.ID) }) {
			h.repeats = append(h.repeats, r)
		}
		h.sounder = h.sounder || b.Leak.Want.Sound
		if b.Leak.Want.Shut != "" {
			soon, others := h.stopcocks[b.Leak.Want.Shut]
			if within := b.Leak.Want.Within; !others || within > 0 && (soon == 0 || within < soon) {
				soon = within
			}
			h.stopcocks[b.Leak.Want.Shut] = soon
		}
	}
	if b.Ventilation.Wanted() && b.Ventilation.Want.Ceiling.Wanted() && len(r.Fans) > 0 {
		h.reference = true
	}
	for _, d := range deeds(b) {
		switch d.Verb {
		case model.Acknowledge:
			h.ack = true
		case model.Extend:
			h.extends[inRoom(r.ID, d.Appliance)] = true
		case model.EverythingOff:
			h.leaving = h.leaving || leadsOut(r)
		}
	}
	for i := range r.Circuits {
		if _, tune := asks(b, r.Circuits[i].ID); tune {
			h.colours = append(h.colours, (&room{r: r}).the())
			break
		}
	}
}

// leadsOut reports whether a room is where people leave the house: everything off there means the house.
func leadsOut(r *model.Room) bool {
	return kindOf(r.Kind).way && slices.ContainsFunc(r.Doors, func(d model.Door) bool { return d.To == "outside" })
}

// inRoom is the path of an id that a room's brief names: its own unless the id is a path already.
func inRoom(room, id string) string {
	if strings.Contains(id, "/") {
		return id
	}
	return room + "/" + id
}

func (h *home) path(id string) string { return h.prefix + "/" + id }
func (h *home) leavingFlag() string   { return h.path("leaving") }
func (h *home) sounderThing() string  { return h.path("sounder") }
func (h *home) houseHumidity() string { return h.path("humidity") }
func (h *home) names(ids []string) []string {
	var out []string
	for _, id := range ids {
		if name, ok := h.person[id]; ok {
			out = append(out, name)
		}
	}
	return out
}

// told is who hears of a goal: those whom it names, or else everybody who takes alerts.
func (h *home) told(ids []string) []string {
	if out := h.names(ids); len(out) > 0 {
		return out
	}
	return h.alerts
}

// alarm is the note of a room's water that nobody has acknowledged, "" where none is made.
func (h *home) alarm(r *model.Room) string {
	if !slices.Contains(h.repeats, r) {
		return ""
	}
	return h.path("water-alarm-" + r.ID)
}

// silence is what acknowledging does: once for the whole house.
func (h *home) silence() []rules.Effect {
	var out []rules.Effect
	for _, r := range h.repeats {
		out = append(out, forget(h.alarm(r)))
	}
	if h.sounder {
		out = append(out, turn(h.sounderThing(), false))
	}
	return out
}

// shared drafts what belongs to no room.
func (h *home) shared() Drafted {
	var out Drafted
	hall := h.middle()
	thing := func(id, name string, k rules.ThingKind) {
		out.Sheet.Things = append(out.Sheet.Things, rules.Thing{ID: id, Kind: k, Name: name})
	}
	need := func(n needs.Need) {
		n.Room = hall
		out.Needs = append(out.Needs, n)
	}
	if h.reference {
		thing(h.houseHumidity(), "humidity of the house", rules.Hygrometer)
		need(needs.Need{ID: h.houseHumidity(), Goal: "ventilation", Name: "humidity of the house",
			Why:   "On a damp day the whole house may be over a room's ceiling, and no fan can get below the house: fans compare with this one.",
			Wants: []catalogue.Ability{catalogue.SenseHumidity}})
	}
	for _, r := range h.repeats {
		thing(h.alarm(r), "water alarm in "+(&room{r: r}).the(), rules.Flag)
	}
	if h.sounder {
		thing(h.sounderThing(), "sounder", rules.Sounder)
		need(needs.Need{ID: h.sounderThing(), Goal: "leak", Name: "sounder",
			Why: "A leak is to be heard in the house as well.", Wants: []catalogue.Ability{catalogue.Sound}})
	}
	if (len(h.repeats) > 0 || h.sounder) && !h.ack {
		h.acknowledging(&out, hall)
	}
	if h.leaving {
		thing(h.leavingFlag(), "everything off", rules.Flag)
		out.Sheet.Rules = append(out.Sheet.Rules, rules.Rule{ID: h.path("leaving-done"), Goal: "buttons",
			Purpose: "Switching everything off is done once.", Cause: became(h.leavingFlag(), true, false), Effects: []rules.Effect{forget(h.leavingFlag())}})
	}
	if len(h.colours) > 0 {
		out.Findings = append(out.Findings, Finding{At: "rooms", Text: fmt.Sprintf("Colours are asked of lamps in %s. A lamp that makes them is dead while a wall "+
			"switch or a relay cuts its power: keep its switch on, or have it joined through and put a button over it.", english.Few(h.colours, "rooms"))})
	}
	if len(h.p.Rooms) > 0 {
		need(needs.Need{ID: h.path("controller"), Goal: "controller", Name: "controller", Room: hall,
			Why: "Something has to run the rules.", Wants: []catalogue.Ability{catalogue.Host}})
		last := &out.Needs[len(out.Needs)-1]
		if len(h.p.Controllers) > 0 && h.rooms[h.p.Controllers[0].Room] != nil {
			last.Room = h.p.Controllers[0].Room
		}
	}
	return out
}

// acknowledging plans a button where no brief has one: an alarm that nobody can stop is switched off at the wall.
func (h *home) acknowledging(out *Drafted, hall string) {
	id := h.path("acknowledge")
	out.Sheet.Things = append(out.Sheet.Things, rules.Thing{ID: id, Kind: rules.ButtonOf, Name: "button to acknowledge water"})
	out.Sheet.Rules = append(out.Sheet.Rules, rules.Rule{ID: h.path("acknowledge-1"), Goal: "leak",
		Purpose: "Acknowledging ends the alarm of water.",
		Cause:   rules.Cause{Kind: rules.Pressed, Thing: id}, Effects: h.silence()})
	out.Needs = append(out.Needs, needs.Need{ID: id, Room: hall, Goal: "leak", Name: "button to acknowledge water",
		Why:   "Water is told again until somebody acknowledges, and no button of the briefs does that.",
		Wants: []catalogue.Ability{catalogue.Press}, Facts: needs.Facts{Presses: []string{"press"}}})
	out.Findings = append(out.Findings, Finding{At: "rooms", Text: "No button acknowledges a leak, so one was added to the bill; " +
		"give a button of a brief the deed acknowledge to save it."})
}

// middle is the room that stands for the air of the house, where shared devices hang: the first hall, else
// the first room without a bath or shower, else the first room.
func (h *home) middle() string {
	best := ""
	for i := range h.p.Rooms {
		r := &h.p.Rooms[i]
		switch k := strings.ToLower(r.Kind); {
		case k == "hall" || k == "landing":
			return r.ID
		case best == "" && !kindOf(r.Kind).wet:
			best = r.ID
		}
	}
	if best == "" && len(h.p.Rooms) > 0 {
		best = h.p.Rooms[0].ID
	}
	return best
}
