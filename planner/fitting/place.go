package fitting

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/rules"
)

// Host is a controller in its place.
type Host struct {
	ID     string
	Room   string
	Limits catalogue.Limits
	Radios []string // that it speaks
}

// Placed says which controller runs which rule.
type Placed struct {
	Hosts  []HostPlan // in the order of the hosts
	Seen   []Seen
	Lost   []Lost
	Asks   []string          // what another device or controller would have to do
	Joined map[string]string // thing to the controller that it is joined to

	Takes map[string]time.Duration // by thing: the longest from an event to its part's report, or from an order to its effect
	Links map[string]time.Duration // by controller: the longest that it takes to hear of another
}

// HostPlan is what one controller runs.
type HostPlan struct {
	Host  string
	Rules []string // ideal rules
	Rooms []string
	Fit   Fitted
}

// Seen is a thing that another controller has to see or command than the one that it is joined to.
type Seen struct{ Thing, At, By string }

// crew is rooms whose rules lean on each other; they stay on one controller.
type crew struct {
	rooms  []string
	named  map[string]bool // things that the rules name
	things []string        // the same, in order
	rules.Sheet
}

// Place decides which controller runs the rules of which rooms. Rooms that share waits, notes or devices stay together, and so do rooms
// that share a sensor where some controller can't see what is joined to another. Of the controllers a crew of rooms takes, in this order,
// one that speaks to its devices, loses the least, has room for its rules, knows the sun that they ask for, sits in one of its rooms,
// needs to see the fewest things of others, and stands first. It is deterministic; hosts without an order of their own are as given.
func Place(sheet rules.Sheet, hosts []Host, info Info) Placed {
	h := NewHome(sheet, func() []rules.Day { return info.Year })
	h.day = info.Day
	return h.Place(hosts, info.Parts)
}

type placing struct {
	home   *Home
	sheet  rules.Sheet
	hosts  []Host
	parts  map[string]catalogue.Part
	crews  []crew
	room   map[string]string // of a thing
	naming map[string][]int  // crews that name a thing
	inside [][]string        // things in the rooms of each crew that it names
	beside [][]int           // crews that name a thing of another
	at     []int             // host of each crew
	load   []int             // rules on each host
	out    *Placed
}

// gather makes the crews of a sheet, in its order. Alone also keeps rooms together that share a sensor.
func gather(sheet rules.Sheet, alone bool) []crew {
	kind := map[string]rules.ThingKind{}
	for _, t := range sheet.Things {
		kind[t.ID] = t.Kind
	}
	g := bound(sheet, func(thing string) bool { return alone || kind[thing] == rules.Flag })
	at, crews := map[string]int{}, []crew(nil)
	for _, r := range sheet.Rules {
		top := g.find(r.Room)
		i, ok := at[top]
		if !ok {
			i = len(crews)
			at[top] = i
			crews = append(crews, crew{named: map[string]bool{}})
		}
		c := &crews[i]
		c.Rules = append(c.Rules, r)
		if !slices.Contains(c.rooms, r.Room) {
			c.rooms = append(c.rooms, r.Room)
		}
		each(r, func(thing, _ string, _ bool) {
			c.named[thing] = c.named[thing] || thing != ""
		})
	}
	for i := range crews {
		for _, t := range sheet.Things {
			if crews[i].named[t.ID] {
				crews[i].things = append(crews[i].things, t.ID)
				crews[i].Things = append(crews[i].Things, t)
			}
		}
	}
	return crews
}

// bound groups the rooms that share a wait, set the same thing, or name one that whoever names it shares.
func bound(sheet rules.Sheet, named func(thing string) bool) groups {
	g := newGroups()
	for _, r := range sheet.Rules {
		each(r, func(thing, wait string, writes bool) {
			switch {
			case wait != "":
				g.share("wait "+wait, r.Room)
			case thing != "" && (writes || named(thing)):
				g.share("thing "+thing, r.Room)
			}
		})
	}
	return g
}

// each visits what a rule names.
func each(r rules.Rule, visit func(thing, wait string, writes bool)) {
	visit(r.Cause.Thing, "", false)
	visit(r.Cause.Than, "", false)
	visit("", r.Cause.Wait, false)
	for _, l := range append(slices.Clone(r.Guard), r.Hold...) {
		visit(l.Thing, "", false)
		visit(l.Than, "", false)
		visit("", l.Wait, false)
	}
	for _, e := range r.Effects {
		visit(e.Thing, "", e.Kind == rules.Set)
		visit("", e.Wait, true)
	}
}

// fit fits one crew to the limits of a host, once for each set of limits.
func (p *placing) fit(c, h int) Fitted {
	return p.home.fit(p.crews[c], p.hosts[h].Limits, p.parts)
}

// survey notes which crews name what.
func (p *placing) survey() {
	p.room, p.naming, p.beside = map[string]string{}, map[string][]int{}, make([][]int, len(p.crews))
	for _, t := range p.sheet.Things {
		p.room[t.ID] = t.Room
	}
	for c := range p.crews {
		mine := map[string]bool{}
		for _, r := range p.crews[c].rooms {
			mine[r] = true
		}
		var inside []string
		for _, t := range p.crews[c].things {
			p.naming[t] = append(p.naming[t], c)
			if mine[p.room[t]] {
				inside = append(inside, t)
			}
		}
		p.inside = append(p.inside, inside)
	}
	for c := range p.crews {
		seen := map[int]bool{c: true}
		for _, t := range p.crews[c].things {
			for _, o := range p.naming[t] {
				if !seen[o] {
					seen[o] = true
					p.beside[c] = append(p.beside[c], o)
				}
			}
		}
	}
}

// seat gives each crew its host, the largest first, and then moves crews as long as that is better for one of them.
func (p *placing) seat() {
	order := make([]int, len(p.crews))
	p.at = make([]int, len(p.crews))
	p.load = make([]int, len(p.hosts))
	for i := range order {
		order[i], p.at[i] = i, -1
	}
	slices.SortStableFunc(order, func(a, b int) int { return len(p.crews[b].Rules) - len(p.crews[a].Rules) })
	for round := 0; round < 4; round++ {
		moved := false
		for _, c := range order {
			was := p.at[c]
			if was >= 0 {
				p.load[was] -= len(p.fit(c, was).Sheet.Rules)
			}
			p.at[c] = -1
			best, first := p.pinned(c), 0
			for h := 1; h < len(p.hosts) && best < 0; h++ {
				if slices.Compare(p.cost(c, h), p.cost(c, first)) < 0 {
					first = h
				}
			}
			if best < 0 {
				best = first
			}
			p.at[c] = best
			p.load[best] += len(p.fit(c, best).Sheet.Rules)
			moved = moved || best != was
		}
		if !moved {
			return
		}
	}
}

// pinned is the host that a crew was given, -1 where it has a choice.
func (p *placing) pinned(c int) int {
	for _, r := range p.crews[c].rooms {
		if at, ok := p.home.pins[r]; ok {
			if h := slices.IndexFunc(p.hosts, func(h Host) bool { return h.ID == at }); h >= 0 {
				return h
			}
		}
	}
	return -1
}

// cost of a crew on a host, worst first.
func (p *placing) cost(c, h int) []int {
	host, f := p.hosts[h], p.fit(c, h)
	deaf, lost := 0, 0
	for _, t := range p.inside[c] {
		if !p.speaks(h, t) {
			deaf++
		}
	}
	for _, l := range f.Lost {
		if l.Limit != "rules" {
			lost++
		}
	}
	over, away := 0, 1
	if most := host.Limits.Rules; most > 0 {
		over = max(0, p.load[h]+len(f.Sheet.Rules)-most)
	}
	if slices.Contains(p.crews[c].rooms, host.Room) {
		away = 0
	}
	foreign := 0
	for _, o := range p.beside[c] {
		if p.at[o] >= 0 && p.at[o] != h {
			foreign++
		}
	}
	return []int{deaf, lost, over, len(f.Tables), away, foreign, p.load[h]}
}

// speaks reports whether a host has the radio of what serves a thing. Nobody knows before parts are chosen.
func (p *placing) speaks(h int, thing string) bool {
	part, ok := p.parts[thing]
	return !ok || part.Radio == "" || len(p.hosts[h].Radios) == 0 || slices.Contains(p.hosts[h].Radios, part.Radio)
}

// join joins each thing to the host of its room's rules, or else of the first crew that names it; in both cases to one that speaks
// to it, where there is one.
func (p *placing) join() {
	for _, t := range p.sheet.Things {
		if t.Kind == rules.Flag {
			continue
		}
		at := -1
		for _, c := range p.naming[t.ID] {
			if at < 0 || slices.Contains(p.crews[c].rooms, t.Room) && t.Room != "" {
				at = p.at[c]
				if slices.Contains(p.crews[c].rooms, t.Room) {
					break
				}
			}
		}
		if at < 0 {
			continue
		}
		if !p.speaks(at, t.ID) {
			other := slices.IndexFunc(p.hosts, func(h Host) bool { return slices.Contains(h.Radios, p.parts[t.ID].Radio) })
			if other < 0 {
				p.out.Lost = append(p.out.Lost, Lost{Text: fmt.Sprintf("No controller speaks %s, which the %s needs.", p.parts[t.ID].Radio, t.Name),
					Promise: "each earns its place", Remedy: "Take another part, or give a controller that radio."})
				p.out.Asks = append(p.out.Asks, fmt.Sprintf("the radio %s for the %s", p.parts[t.ID].Radio, t.Name))
				continue
			}
			at = other
		}
		p.out.Joined[t.ID] = p.hosts[at].ID
	}
}

// delays notes how long parts and controllers take. A meter is its plug's.
func (p *placing) delays() {
	p.out.Takes, p.out.Links = map[string]time.Duration{}, map[string]time.Duration{}
	for _, h := range p.hosts {
		p.out.Links[h.ID] = time.Duration(h.Limits.Latency)
	}
	for _, t := range p.sheet.Things {
		id := t.ID
		if t.Kind == rules.Meter {
			id = strings.TrimSuffix(id, "-power")
		}
		if part, ok := p.parts[id]; ok && part.Behaviour.Latency > 0 {
			p.out.Takes[t.ID] = time.Duration(part.Behaviour.Latency)
		}
	}
}

// plan is what one host runs: what its crews come to, one after the other. Where that is too many rules, more of them become one.
func (p *placing) plan(h int) HostPlan {
	out := HostPlan{Host: p.hosts[h].ID}
	lim := p.hosts[h].Limits
	var fits []Fitted
	for c := range p.crews {
		if p.at[c] != h {
			continue
		}
		for _, r := range p.crews[c].Rules {
			out.Rules = append(out.Rules, r.ID)
		}
		out.Rooms = append(out.Rooms, p.crews[c].rooms...)
		fits = append(fits, p.fit(c, h))
	}
	out.Fit = joined(fits)
	if lim.Rules > 0 && len(out.Fit.Sheet.Rules) > lim.Rules {
		fits = nil
		for c := range p.crews {
			if p.at[c] == h {
				fits = append(fits, p.home.scarce(p.crews[c], lim, p.parts))
			}
		}
		out.Fit = joined(fits)
	}
	if l, ok := tooMany(lim.Rules, len(out.Fit.Sheet.Rules)); ok {
		out.Fit.Lost = append(out.Fit.Lost, l)
		p.out.Asks = append(p.out.Asks, fmt.Sprintf("another controller beside %s, or one that takes more than %d rules", p.hosts[h].ID, lim.Rules))
	}
	p.out.Lost = append(p.out.Lost, out.Fit.Lost...)
	return out
}

// across lists what controllers have to see of each other, and what they can't.
func (p *placing) across() {
	host := map[string]Host{}
	for _, h := range p.hosts {
		host[h.ID] = h
	}
	for i := range p.out.Hosts {
		plan := &p.out.Hosts[i]
		for _, t := range plan.Fit.Sheet.Things {
			at, ok := p.out.Joined[t.ID]
			if !ok || at == plan.Host {
				continue
			}
			if host[plan.Host].Limits.SeesOthers {
				p.out.Seen = append(p.out.Seen, Seen{t.ID, at, plan.Host})
				continue
			}
			var ids []string
			for _, r := range plan.Fit.Sheet.Rules {
				if names(r, t.ID) {
					ids = append(ids, r.ID)
				}
			}
			p.out.Lost = append(p.out.Lost, Lost{Rule: strings.Join(ids, ", "), Limit: "sees_others",
				Text:    fmt.Sprintf("The %s is joined to %s, which %s can't see.", t.Name, at, plan.Host),
				Promise: "each earns its place", Remedy: "Join it to the controller that runs these rules, or take one that sees others."})
			p.out.Asks = append(p.out.Asks, fmt.Sprintf("a part for the %s that joins %s", t.Name, plan.Host))
		}
	}
}

func names(r rules.Rule, thing string) bool {
	found := false
	each(r, func(t, _ string, _ bool) { found = found || t == thing })
	return found
}
