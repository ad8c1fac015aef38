package promises

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// hear are the printed names of those who are to hear of something: named ones, or all who take alerts.
func (m *maker) hear(ids []string) []string {
	var out, all []string
	for _, who := range m.p.People {
		name := who.Name
		if name == "" {
			name = who.ID
		}
		if who.Alerts {
			all = append(all, name)
		}
		if slices.Contains(ids, who.ID) {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// telling are the rules of the room and goal that tell people, as far as accept likes them.
func (m *maker) telling(goal string, accept func(*rules.Rule) bool) []string {
	var out []string
	for _, i := range m.rules[m.r.ID] {
		r := &m.ix.sheet.Rules[i]
		if r.Goal != goal || !accept(r) {
			continue
		}
		for _, e := range r.Effects {
			if e.Kind == rules.Tell {
				out = append(out, r.ID)
				break
			}
		}
	}
	return out
}

// tellsAll are the numbers of rules of a program that tell all of some people.
func tellsAll(prog *rules.Program, people []string) []int {
	var out []int
	for i, r := range prog.Sheet().Rules {
		heard := map[string]bool{}
		for _, e := range r.Effects {
			if e.Kind == rules.Tell {
				for _, who := range e.People {
					heard[who] = true
				}
			}
		}
		all := len(heard) > 0
		for _, who := range people {
			all = all && heard[who]
		}
		if all {
			out = append(out, i)
		}
	}
	return out
}

func (m *maker) water() {
	g := m.r.Brief.Leak
	if !g.Wanted() {
		return
	}
	b := g.Want
	probes := m.things(rules.Probe)
	if len(probes) == 0 {
		return
	}
	people := m.hear(b.Tell)
	within := max(seconds(b.Within), latency)
	if b.Within == 0 {
		within = 60
	}
	assumed := []Assumption{{"water", "a probe that is wet says so, and goes on to while its battery lasts"}}
	sounder := ""
	if b.Sound {
		for _, i := range m.thing[""] {
			if t := &m.ix.sheet.Things[i]; t.Kind == rules.Sounder {
				sounder = t.ID
			}
		}
	}
	if len(people) > 0 {
		m.toldOf(b, probes, people, within, sounder, assumed)
	}
	valve := b.Shut + "-valve"
	if b.Shut != "" && m.has(valve) {
		late, _ := delays{m.ix, func(t rules.Thing) bool { return slices.Contains(probes, t.ID) }}.toSet(valve)
		m.add(Promise{Goal: "leak", Kind: WaterShut, Assumes: append(assumed[:1:1], late.late("of that time")...),
			fixed:    late.over("shutting the water", within),
			Sentence: fmt.Sprintf("Water in %s shuts the %s within %s, and no rule opens it.", m.the(), m.name(valve), spanOf(within)),
			facets: m.each(probes, func(id string) facet {
				return facet{want: want{things: []string{valve}}, watch: func(prog *rules.Program) watcher {
					return waterShut{number(prog, id), number(prog, valve), late.left(within)}
				}}
			})})
	}
}

func (m *maker) toldOf(b model.Leak, probes, people []string, within int32, sounder string, assumed []Assumption) {
	late := m.lateToTell(probes, sounder)
	m.add(Promise{Goal: "leak", Kind: Told, Assumes: append(assumed[:1:1], late.late("of that time")...), sounds: sounder != "",
		fixed:    late.over("word of water", within),
		Sentence: fmt.Sprintf("Of water in %s %s within %s.", m.the(), hears(people), spanOf(within)),
		facets: m.each(probes, func(id string) facet {
			f := facet{watch: func(prog *rules.Program) watcher {
				return told{number(prog, id), late.left(within), tellsAll(prog, people), number(prog, sounder)}
			}}
			f.tells = m.telling("leak", func(r *rules.Rule) bool { return r.Cause.Thing == id || r.Cause.Kind == rules.PowerBack })
			if sounder != "" {
				f.things = append(f.things, sounder)
			}
			return f
		})})
	ids, ps := m.acknowledging()
	only := facet{watch: func(prog *rules.Program) watcher {
		return ofWater{numbers(prog, probes), tellsAll(prog, nil), presses(prog, ids, ps), m.slack()}
	}}
	only.things, only.tells = probes, m.telling("leak", func(*rules.Rule) bool { return true })
	m.add(Promise{Goal: "leak", Kind: ToldOfWater, Assumes: assumed, facets: []facet{only},
		Sentence: fmt.Sprintf("Of water in %s nobody is told unless there has been some since somebody last acknowledged.", m.the())})
	if b.Again <= 0 {
		return
	}
	again := seconds(b.Again) + m.slack()
	f := facet{watch: func(prog *rules.Program) watcher {
		return toldAgain{again, tellsAll(prog, people), presses(prog, ids, ps)}
	}}
	f.tells = only.tells
	m.add(Promise{Goal: "leak", Kind: ToldAgain, Assumes: assumed, facets: []facet{f},
		Sentence: fmt.Sprintf("Of water in %s %s again every %s until somebody acknowledges.", m.the(), hears(people), b.Again)})
}

// acknowledging are the presses by which somebody says that they know of water, in the whole house.
func (m *maker) acknowledging() ([]string, []rules.Press) {
	ids, ps := m.deeds(model.Acknowledge, func(string, model.Deed) bool { return true })
	for _, i := range m.thing[""] {
		if t := &m.ix.sheet.Things[i]; t.Kind == rules.ButtonOf {
			ids, ps = append(ids, t.ID), append(ps, rules.Single)
		}
	}
	return ids, ps
}

// lateToTell is the longest that devices take from water to word of it.
func (m *maker) lateToTell(probes []string, sounder string) delay {
	wet := delays{m.ix, func(t rules.Thing) bool { return slices.Contains(probes, t.ID) }}
	own := m.rules[m.r.ID]
	late, _ := wet.to(own, func(e rules.Effect) bool { return e.Kind == rules.Tell })
	if loud, ok := wet.to(own, isOn(sounder)); ok {
		return late.or(loud)
	}
	return late
}

func hears(people []string) string {
	if len(people) == 1 {
		return people[0] + " is told"
	}
	return strings.Join(people[:len(people)-1], ", ") + " and " + people[len(people)-1] + " are told"
}
