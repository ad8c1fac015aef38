package promises

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/planner/rules"
)

// relay is a thing of which a controller hears from another one. Its rules look at what it has heard: a thing of its own, to which each
// report of the other comes some time from at once to takes seconds after it was made, whatever else is under way.
type relay struct {
	thing, heard string
	takes        int32 // seconds
	free         bool  // it may be anything at any time, and so may what is heard of it
}

// hearsays is what the name of something begins with that a controller has heard.
const hearsays = "heard of "

// tells reports whether a kind of thing makes reports, and does nothing.
func tells(k rules.ThingKind) bool {
	switch k {
	case rules.Motion, rules.Presence, rules.Door, rules.Probe, rules.Hygrometer, rules.Meter, rules.ButtonOf:
		return true
	}
	return false
}

// crosses is how long a controller takes to hear of a thing that is joined to another, in seconds; 0 where it is near.
func crosses(links map[string]time.Duration, t *rules.Thing, by string) int32 {
	if t.At == by || t.At == "" || by == "" {
		return 0
	}
	return whole(links[by])
}

// relayed lets the rules of each controller look at what it has heard of the sensors and buttons of others. A sheet on which nobody
// hears of another's stays as it is.
func relayed(sheet rules.Sheet, links map[string]time.Duration) (rules.Sheet, []relay) {
	if len(links) == 0 {
		return sheet, nil
	}
	at := make(map[string]int, len(sheet.Things))
	for i := range sheet.Things {
		at[sheet.Things[i].ID] = i
	}
	var out []relay
	var more []rules.Thing
	known := map[string]bool{}
	heard := func(id, by string) string {
		i, ok := at[id]
		if !ok || !tells(sheet.Things[i].Kind) {
			return id
		}
		t := sheet.Things[i]
		takes := crosses(links, &t, by)
		if takes <= 0 {
			return id
		}
		t.ID, t.At, t.Feed = hearsays+id+" by "+by, by, ""
		if !known[t.ID] {
			known[t.ID] = true
			out, more = append(out, relay{thing: id, heard: t.ID, takes: takes}), append(more, t)
		}
		return t.ID
	}
	literals := func(ls []rules.Literal, by string) []rules.Literal {
		for i := range ls {
			if a, b := heard(ls[i].Thing, by), heard(ls[i].Than, by); a != ls[i].Thing || b != ls[i].Than {
				ls = slices.Clone(ls)
				ls[i].Thing, ls[i].Than = a, b
			}
		}
		return ls
	}
	rs := slices.Clone(sheet.Rules)
	for i := range rs {
		r := &rs[i]
		r.Cause.Thing, r.Cause.Than = heard(r.Cause.Thing, r.Controller), heard(r.Cause.Than, r.Controller)
		r.Guard, r.Hold = literals(r.Guard, r.Controller), literals(r.Hold, r.Controller)
	}
	if len(out) == 0 {
		return sheet, nil
	}
	sheet.Rules, sheet.Things = rs, append(slices.Clip(sheet.Things), more...)
	return sheet, out
}

// unheard is a sheet's things without what controllers have heard.
func unheard(things []rules.Thing) []rules.Thing {
	return slices.DeleteFunc(slices.Clone(things), func(t rules.Thing) bool { return strings.HasPrefix(t.ID, hearsays) })
}

// real is the thing itself, of something that may be what a controller has heard of it.
func (c Case) real(id string) string {
	for _, r := range c.relays {
		if r.heard == id {
			return r.thing
		}
	}
	return id
}

// Across is the promise with what is assumed of all that goes from one controller to another in its cases. Where everything stays on
// one it is as it was.
func (p Promise) Across(cases []Case) Promise {
	takes, ordered := int32(0), false
	look := func(c *Case) {
		for _, r := range c.relays {
			takes = max(takes, r.takes)
		}
		ordered = ordered || c.orders
	}
	for i := range cases {
		look(&cases[i])
		for _, c := range cases[i].Real() {
			look(c)
		}
	}
	p.Assumes = slices.Clip(p.Assumes)
	if takes > 0 {
		p.Assumes = append(p.Assumes, Assumption{"relayed",
			fmt.Sprintf("a report that one controller has from another comes within %s, in any order with the others that are on their way", spanOf(takes))})
	}
	if ordered {
		p.Assumes = append(p.Assumes, Assumption{"ordered", "what one controller has a device of another do, and what it hears of that device, comes before anything else happens"})
	}
	return p
}

// orders reports whether a rule of a sheet orders, or looks at, a device that is joined to another controller, or a note or wait
// that another one has.
func orders(sheet rules.Sheet, links map[string]time.Duration) bool {
	if len(links) == 0 {
		return false
	}
	at := map[string]string{}
	for _, t := range sheet.Things {
		at[t.ID] = t.At
		if tells(t.Kind) {
			at[t.ID] = near
		}
	}
	for i := range sheet.Rules {
		r := &sheet.Rules[i]
		ids := append(rules.Named(r), "wait "+r.Cause.Wait)
		for _, l := range append(slices.Clip(r.Guard), r.Hold...) {
			ids = append(ids, "wait "+l.Wait)
		}
		for _, e := range r.Effects {
			ids = append(ids, "wait "+e.Wait)
		}
		for _, id := range ids {
			switch is := at[id]; {
			case id == "wait " || r.Controller == "" || is == near:
			case is == "":
				at[id] = r.Controller // a note or wait is where the first rule has it
			case is != r.Controller && links[r.Controller]+links[is] > 0:
				return true
			}
		}
	}
	return false
}

// near stands for every controller: what is there has been seen to.
const near = "*"

// letter is a report under way to a controller.
type letter struct {
	heard int // the thing that it comes to
	event rules.Event
	at    int64 // second at which it was made
	until int64 // by when it comes
}

// post is what is under way while a story is played.
type post struct{ under []letter }

// send puts a report of a thing under way.
func (p *post) send(heard int, e rules.Event, at int64, takes int32) {
	e.Thing = heard
	p.under = append(p.under, letter{heard, e, at, at + int64(takes)})
}

// take takes the oldest of the reports that say so out, and says whether one that was made before it is still under way; not ok when none
// says so.
func (p *post) take(e rules.Event) (l letter, ahead, ok bool) {
	i := slices.IndexFunc(p.under, func(l letter) bool { return l.event == e })
	if i < 0 {
		return letter{}, false, false
	}
	l = p.under[i]
	p.under = slices.Delete(p.under, i, i+1)
	return l, i > 0, true
}

// overdue reports whether some report ought to have come before a second.
func (p *post) overdue(now int64) bool {
	return slices.ContainsFunc(p.under, func(l letter) bool { return l.until < now })
}

// farthest is the longest, in seconds, that a report takes to a controller that runs rules of the room; 0 where none comes from another.
func (m *maker) farthest() int32 {
	out := int32(0)
	for _, i := range m.rules[m.r.ID] {
		r := &m.ix.sheet.Rules[i]
		for _, id := range rules.Named(r) {
			if n, ok := m.ix.thing[id]; ok && tells(m.ix.sheet.Things[n].Kind) {
				out = max(out, crosses(m.ix.sheet.Links, &m.ix.sheet.Things[n], r.Controller))
			}
		}
	}
	return out
}

// slack is what devices may take beside the time that rules have, in seconds.
func (m *maker) slack() int32 { return latency + m.farthest() }

// heardOf are the things of a program that controllers have heard of one.
func heardOf(prog *rules.Program, id string) []int {
	var out []int
	for i, t := range prog.Sheet().Things {
		if strings.HasPrefix(t.ID, hearsays+id+" by ") {
			out = append(out, i)
		}
	}
	return out
}

// heardAt is a button where rules hear of it: the button itself, or what another controller has heard of it where only that one acts.
func heardAt(prog *rules.Program, button string) int {
	for _, r := range prog.Sheet().Rules {
		if r.Cause.Kind == rules.Pressed && r.Cause.Thing == button {
			return number(prog, button)
		}
	}
	for _, n := range heardOf(prog, button) {
		return n
	}
	return number(prog, button)
}

// Crosses reports whether some report goes from one controller to another in the case, and may be late.
func (c Case) Crosses() bool { return len(c.relays) > 0 && !c.prompt }

// Promptly is the case with fewer stories than there are: every report comes at once, which is one of the times at which it may. A story of it is
// one of the case.
func (c Case) Promptly() Case {
	c.prompt = true
	return c
}

// Loosened is the case with more stories than there are: some reports that go from one controller to another may come at any time,
// whether or not they were made. What is kept so is kept.
func (c Case) Loosened() Case {
	c.loosened = true
	return c
}
