package ideal

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/rules"
)

// room is one room being drafted.
type room struct {
	h    *home
	r    *model.Room
	o    Options // for this room
	goal string  // that rules and needs are drafted for now
	out  Drafted

	taken   map[string]bool
	rule    map[string]bool
	lamps   map[string]string // circuit to thing
	fans    []string          // things
	plugs   map[string]string // appliance to thing
	sense   sensing
	fan     fan
	periods []period
	manual  string             // flag: a level set by hand stands; "" where the brief doesn't keep one
	cut     map[string]cutting // by path of the appliance
}

// room drafts one room. The order of the goals is the order of the rules: who is there, then light, air,
// water, appliances, buttons.
func (h *home) room(mr *model.Room) Drafted {
	r := &room{h: h, r: mr, o: h.o.In(&h.p.Choices, mr), taken: map[string]bool{}, rule: map[string]bool{},
		lamps: map[string]string{}, plugs: map[string]string{}, cut: map[string]cutting{}}
	r.presence()
	r.lighting()
	r.ventilation()
	r.leak()
	r.stopcocks()
	r.shutoff()
	r.buttons()
	r.nature()
	return r.out
}

// thing adds a thing under its own id, or with a word behind it where two lists of the survey use one id.
func (r *room) thing(k rules.ThingKind, id, word, name string) string {
	for r.taken[id] {
		id += "-" + word
	}
	r.taken[id] = true
	path := r.r.ID + "/" + id
	r.out.Sheet.Things = append(r.out.Sheet.Things, rules.Thing{ID: path, Room: r.r.ID, Kind: k, Name: name})
	return path
}

// wait names a wait of this room.
func (r *room) wait(id string) string { return r.r.ID + "/" + id }

// add adds a rule. Its name is unique in the room; a second one of that name gets a number.
func (r *room) add(name string, rule rules.Rule) {
	id := name
	for n := 2; r.rule[id]; n++ {
		id = fmt.Sprintf("%s-%d", name, n)
	}
	r.rule[id] = true
	rule.ID, rule.Room, rule.Goal = r.r.ID+"/"+id, r.r.ID, r.goal
	r.out.Sheet.Rules = append(r.out.Sheet.Rules, rule)
}

func (r *room) need(n needs.Need) {
	n.Room, n.Goal = r.r.ID, r.goal
	r.out.Needs = append(r.out.Needs, n)
}

func (r *room) find(serious bool, at, text string, args ...any) {
	r.out.Findings = append(r.out.Findings, Finding{Room: r.r.ID, At: "rooms/" + r.r.ID + "/" + at, Serious: serious,
		Text: fmt.Sprintf(text, args...)})
}

// the is the room within a sentence: "the shower room", "the downstairs WC", "Rosa's study", "Room 1".
func (r *room) the() string {
	name := r.r.Name
	if name == "" {
		name = title(r.r.ID)
	}
	if strings.ContainsAny(name, "'’0123456789") {
		return name
	}
	first, n := utf8.DecodeRuneInString(name)
	second, _ := utf8.DecodeRuneInString(name[n:])
	if unicode.IsUpper(first) && !unicode.IsUpper(second) { // WC keeps its capitals
		name = string(unicode.ToLower(first)) + name[n:]
	}
	return "the " + strings.TrimPrefix(name, "the ")
}

func (r *room) kind() kind { return kindOf(r.r.Kind) }

// title is an id as words: by-basin is "by basin".
func title(id string) string { return strings.ReplaceAll(id, "-", " ") }

// lamp is the thing of a circuit, made when first asked for.
func (r *room) lamp(id string) (string, bool) {
	if path, ok := r.lamps[id]; ok {
		return path, true
	}
	for i := range r.r.Circuits {
		if c := &r.r.Circuits[i]; c.ID == id {
			name := title(id)
			if !strings.Contains(name, "light") && !strings.Contains(name, "lamp") {
				name += " light"
			}
			path := r.thing(rules.Lamp, id, "light", name)
			r.lamps[id] = path
			r.lampNeed(c, path, name)
			return path, true
		}
	}
	return "", false
}

// LumensPerWatt is the efficacy that stands in for an unknown lamp power: a usual LED lamp.
const LumensPerWatt = 90

func (r *room) lampNeed(c *model.Circuit, path, name string) {
	lamps := max(c.Lamps, 1)
	each := c.Power
	if each == 0 {
		each = q.Power(float64(c.Flux) / LumensPerWatt)
	}
	dim, tune := asks(&r.r.Brief, c.ID)
	n := needs.Need{ID: path, Name: name, Why: "The brief switches it.", Wants: []catalogue.Ability{catalogue.SwitchLamp},
		Facts: needs.Facts{Lamps: lamps, Base: c.Base, Flux: c.Flux, Dimmable: c.Dimmable, Load: each * q.Power(lamps), LoadKind: catalogue.LED,
			Ingress: r.ingress(c.Zone), Zone: wetZone(c.Zone)}}
	r.box(&n, c.Switch, "circuits/"+c.ID+"/switch")
	if dim || tune {
		n.Why = "The brief sets its level."
		n.Wants = []catalogue.Ability{catalogue.DimLamp, catalogue.SwitchLamp}
	}
	if tune {
		n.Why = "The brief sets its level and its colour."
		n.Wants = append([]catalogue.Ability{catalogue.TuneLamp}, n.Wants...)
	}
	r.need(n)
}

// asks says whether a brief sets levels between off and full, and colours, on a circuit.
func asks(b *model.Brief, circuit string) (dim, tune bool) {
	if b.Lighting.Wanted() {
		for _, p := range b.Lighting.Want.Periods {
			if p.Level > 0 && covers(p, circuit) {
				dim = dim || p.Level < 100
				tune = tune || p.Colour > 0
			}
		}
	}
	for _, d := range deeds(b) {
		dim = dim || d.Verb == model.Lights && d.Level > 0 && d.Level < 100
	}
	return dim, tune
}

// deeds are all that the buttons of a brief do.
func deeds(b *model.Brief) []model.Deed {
	var out []model.Deed
	if b.Buttons.Wanted() {
		for _, button := range b.Buttons.Want {
			out = append(out, button.Press, button.Double, button.Hold)
		}
	}
	return out
}

func covers(p model.Period, circuit string) bool {
	if len(p.Circuits) == 0 {
		return true
	}
	for _, c := range p.Circuits {
		if c == circuit {
			return true
		}
	}
	return false
}

// ingress is the least class for a fitting in a zone (IEC 60364-7-701). A lamp in a room with bath or shower whose zone
// nobody noted counts as splashed.
func (r *room) ingress(zone string) string {
	if zone == "" && r.kind().wet {
		zone = "2"
	}
	return physics.ZoneIngress(zone)
}

// wetZone is the zone to print, "" outside of them.
func wetZone(zone string) string {
	if physics.ZoneIngress(zone) == "" {
		return ""
	}
	return zone
}

// box fills in the switch box that feeds a lamp circuit or a fan.
func (r *room) box(n *needs.Need, at model.Fact[string], path string) {
	id, ok := at.Get()
	if !ok {
		r.find(false, path, "Nobody noted which switch box feeds the %s in %s; look there before buying, because the box decides which parts fit.",
			n.Name, r.the())
		return
	}
	for i := range r.r.Switches {
		if s := &r.r.Switches[i]; s.ID == id {
			n.Facts.Box, n.Facts.Gangs = r.r.ID+"/"+s.ID, s.Gangs
			n.Facts.Neutral, n.Facts.Depth = s.Neutral, s.Depth
			return
		}
	}
}

// Short forms of effects, guards and causes.

func turn(thing string, on bool) rules.Effect {
	return rules.Effect{Kind: rules.Set, Thing: thing, Value: rules.Value{On: on}}
}
func note(flag string) rules.Effect   { return turn(flag, true) }
func forget(flag string) rules.Effect { return turn(flag, false) }
func light(thing string, level, colour int) rules.Effect {
	return rules.Effect{Kind: rules.Set, Thing: thing, Value: rules.Value{On: true, Level: level, Colour: colour}}
}
func start(wait string, d q.Span) rules.Effect {
	return rules.Effect{Kind: rules.Start, Wait: wait, For: d}
}
func stop(wait string) rules.Effect { return rules.Effect{Kind: rules.Stop, Wait: wait} }
func tell(people []string, text string) rules.Effect {
	return rules.Effect{Kind: rules.Tell, People: people, Text: text}
}
func is(thing string) rules.Literal     { return rules.Literal{Kind: rules.Is, Thing: thing} }
func isNot(thing string) rules.Literal  { return rules.Literal{Kind: rules.Is, Thing: thing, Not: true} }
func running(wait string) rules.Literal { return rules.Literal{Kind: rules.Running, Wait: wait} }
func notRunning(wait string) rules.Literal {
	return rules.Literal{Kind: rules.Running, Wait: wait, Not: true}
}
func reports(thing string, on bool) rules.Cause {
	return rules.Cause{Kind: rules.Reports, Thing: thing, On: on}
}
func ended(wait string) rules.Cause { return rules.Cause{Kind: rules.Ended, Wait: wait} }
func became(thing string, on, byHand bool) rules.Cause {
	return rules.Cause{Kind: rules.Became, Thing: thing, On: on, ByHand: byHand}
}
func guards(parts ...[]rules.Literal) []rules.Literal {
	var out []rules.Literal
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}
func lits(ls ...rules.Literal) []rules.Literal { return ls }
