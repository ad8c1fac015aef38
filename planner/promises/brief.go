package promises

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// LampLatency is the longest that a lamp takes from an event to its light: a battery sensor's report, the radio,
// the lamp itself. Other devices are given as long.
const LampLatency = 2 * time.Second

const latency = int32(LampLatency / time.Second)

// maker builds the promises of one room.
type maker struct {
	*home
	r    *model.Room // of the home's own promises a room without anything
	opts ideal.Options
	out  []Promise
}

// home is what the promises of every room need to know.
type home struct {
	p     *model.Project
	ix    *Index
	opts  ideal.Options
	day   rules.Day
	rules map[string][]int // of a room
	thing map[string][]int // of a room
}

// Of lists the promises that a home's briefs make, room by room, and what the home promises as a whole at the
// end. Day is the day of sun to take where o.Year doesn't give the days of a year.
func Of(p *model.Project, sheet rules.Sheet, o ideal.Options, day rules.Day) []Promise {
	return OfAll(p, NewIndex(sheet), o, day)
}

// OfAll is Of with the sheet read already.
func OfAll(p *model.Project, ix *Index, o ideal.Options, day rules.Day) []Promise {
	h := newHome(p, ix, o, day)
	var out []Promise
	for i := range p.Rooms {
		out = append(out, h.room(&p.Rooms[i])...)
	}
	return append(out, h.room(&model.Room{})...)
}

// OfRoom lists the promises of one room; "" is what belongs to no room.
func OfRoom(p *model.Project, ix *Index, o ideal.Options, day rules.Day, room string) []Promise {
	h := newHome(p, ix, o, day)
	if room == "" {
		return h.room(&model.Room{})
	}
	for i := range p.Rooms {
		if p.Rooms[i].ID == room {
			return h.room(&p.Rooms[i])
		}
	}
	return nil
}

func newHome(p *model.Project, ix *Index, o ideal.Options, day rules.Day) *home {
	h := &home{p: p, ix: ix, opts: o, day: day, rules: map[string][]int{}, thing: map[string][]int{}}
	for i := range ix.sheet.Rules {
		h.rules[ix.sheet.Rules[i].Room] = append(h.rules[ix.sheet.Rules[i].Room], i)
	}
	for i := range ix.sheet.Things {
		h.thing[ix.sheet.Things[i].Room] = append(h.thing[ix.sheet.Things[i].Room], i)
	}
	return h
}

func (h *home) room(r *model.Room) []Promise {
	m := &maker{home: h, r: r, opts: h.opts.In(&h.p.Choices, r)}
	if r.ID != "" {
		m.lighting()
		m.air()
		m.water()
		m.plugs()
		m.own()
	}
	m.rulesThemselves()
	return m.out
}

// add keeps a promise with what every promise of the room leans on.
func (m *maker) add(x Promise) {
	x.Room = m.r.ID
	if x.ID == "" {
		x.ID = m.place() + "/" + slug(string(x.Kind))
	}
	if x.World == (World{}) {
		x.World = m.world()
	}
	x.World.Day, x.year = m.day, m.opts.Year
	for i := range x.facets {
		f := &x.facets[i]
		switch {
		case x.Kind == NotBlinding || x.Kind == Own:
			f.free = m.waitsBut() // why a lamp is lit is nothing to it
		case f.whole || x.Goal == "lighting":
			continue
		}
		f.less = m.whims()
		if x.Kind != NotForEver { // to which the note is a reason
			f.less[m.r.ID+"/settled"], f.less[stand(m.r.ID+"/settled")] = true, true
		}
		free := maps.Clone(f.less)
		maps.Copy(free, f.free)
		f.free = free
	}
	m.out = append(m.out, x)
}

func (m *maker) place() string {
	if m.r.ID == "" {
		return "house"
	}
	return m.r.ID
}

// whims are what knows of people in the room, for promises that it is nothing to.
func (m *maker) whims() map[string]bool {
	out := map[string]bool{m.r.ID + "/inside": true, stand(m.r.ID + "/empty"): true}
	for _, k := range []rules.ThingKind{rules.Motion, rules.Presence} {
		for _, id := range m.things(k) {
			out[id] = true
		}
	}
	return out
}

// waitsBut are the waits of the room, for promises to which it is nothing why a rule of theirs acts; some waits, by the
// beginning of their names, they do look at.
func (m *maker) waitsBut(some ...string) map[string]bool {
	out := map[string]bool{}
	for w := range m.ix.waits {
		if own := strings.TrimPrefix(w, m.r.ID+"/"); own != w && !slices.ContainsFunc(some, func(s string) bool { return strings.HasPrefix(own, s) }) {
			out[stand(w)] = true
		}
	}
	return out
}

// dampFlags are what remembers that the air is damp, and that there has been enough airing for a day.
func (m *maker) dampFlags() map[string]bool {
	return map[string]bool{m.r.ID + "/damp": true, m.r.ID + "/aired-enough": true}
}

func slug(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c == ' ' {
			b[i] = '-'
		}
	}
	return string(b)
}

// world is what is assumed of people in the room.
func (m *maker) world() World {
	return World{
		People: 2, StillFor: seconds(ideal.LongestStill(m.r.Kind)), Blind: seconds(m.opts.Blind), Gone: 30,
		DoorsSeen: true, Hands: true,
	}
}

func seconds(s q.Span) int32 { return int32(time.Duration(s) / time.Second) }

func spanOf(seconds int32) q.Span { return q.Span(time.Duration(seconds) * time.Second) }

// things of the room, of one kind.
func (m *maker) things(k rules.ThingKind) []string {
	var out []string
	for _, i := range m.thing[m.r.ID] {
		if t := &m.ix.sheet.Things[i]; t.Kind == k {
			out = append(out, t.ID)
		}
	}
	return out
}

// has reports whether the sheet knows a thing.
func (m *maker) has(id string) bool { _, ok := m.ix.thing[id]; return ok }

// name of a thing, to print.
func (m *maker) name(id string) string {
	if i, ok := m.ix.thing[id]; ok {
		return m.ix.sheet.Things[i].Name
	}
	return id
}

// number of a thing in a program, -1 when it doesn't know it.
func number(prog *rules.Program, id string) int {
	if n, ok := prog.Thing(id); ok {
		return n
	}
	return -1
}

// numbers of things in a program; those it doesn't know are left out.
func numbers(prog *rules.Program, ids []string) []int {
	var out []int
	for _, id := range ids {
		if n, ok := prog.Thing(id); ok {
			out = append(out, n)
		}
	}
	return out
}

// the names the room within a sentence.
func (m *maker) the() string { return ideal.The(m.r) }

// hoursOf are quiet hours, or any others, on the day of a program.
func hoursOf(prog *rules.Program, from, to q.DayTime) hours {
	return hours{prog.Day().Second(from), prog.Day().Second(to)}
}

func (m *maker) peopleAssumed(w World) []Assumption {
	return []Assumption{
		{"people", fmt.Sprintf("at most %d people are in the room at once, and they come, go and press at any second", w.People)},
		{"doors", "people pass only through doors that are open, and a contact says how its door stands"},
		{"seen", fmt.Sprintf("a movement is seen, unless the sensor has reported in the last %s", spanOf(w.Blind))},
	}
}

// deeds are what the buttons of the whole home do: each with its button's thing.
func (m *maker) deeds(verb model.Verb, match func(room string, d model.Deed) bool) (ids []string, ps []rules.Press) {
	for i := range m.p.Rooms {
		r := &m.p.Rooms[i]
		if !r.Brief.Buttons.Wanted() {
			continue
		}
		for _, b := range r.Brief.Buttons.Want {
			for p, d := range [3]model.Deed{b.Press, b.Double, b.Hold} {
				if d.Verb == verb && match(r.ID, d) {
					ids, ps = append(ids, m.buttonOf(r.ID, b.ID)), append(ps, rules.Press(p))
				}
			}
		}
	}
	return ids, ps
}

// buttonOf is the thing of a button of a brief.
func (m *maker) buttonOf(room, id string) string {
	for _, try := range []string{room + "/" + id + "-button", room + "/" + id} {
		if i, ok := m.ix.thing[try]; ok && m.ix.sheet.Things[i].Kind == rules.ButtonOf {
			return try
		}
	}
	return room + "/" + id
}

// presses in the numbers of a program, as they are made and as controllers hear of them.
func presses(prog *rules.Program, ids []string, ps []rules.Press) []press {
	var out []press
	for i, id := range ids {
		if n, ok := prog.Thing(id); ok {
			out = append(out, press{n, ps[i]})
		}
		for _, n := range heardOf(prog, id) {
			out = append(out, press{n, ps[i]})
		}
	}
	return out
}
