package promises

import (
	"fmt"
	"slices"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// lamps of the room that some rule of its light sets.
func (m *maker) lamps() []string {
	set := map[string]bool{}
	for _, i := range m.rules[m.r.ID] {
		if r := &m.ix.sheet.Rules[i]; r.Goal == "lighting" {
			for _, e := range r.Effects {
				if e.Kind == rules.Set {
					set[e.Thing] = true
				}
			}
		}
	}
	var out []string
	for _, id := range m.things(rules.Lamp) {
		if set[id] {
			out = append(out, id)
		}
	}
	return out
}

// each gives a facet for each lamp, or for each of other things.
func (m *maker) each(lamps []string, f func(id string) facet) []facet {
	out := make([]facet, len(lamps))
	for i, id := range lamps {
		out[i] = f(id)
		out[i].name = "the " + m.name(id)
		out[i].things = append(out[i].things, id)
	}
	return out
}

func (m *maker) lighting() {
	g := m.r.Brief.Lighting
	lamps := m.lamps()
	if !g.Wanted() || len(lamps) == 0 {
		return
	}
	l := g.Want
	w := m.world()
	people := m.peopleAssumed(w)
	still := append(people[:len(people):len(people)], stillAssumed(w.StillFor))
	request := l.Start == "on request"
	if !request {
		m.onEntry(l, lamps, people)
	}
	inside, heard := append(still[:len(still):len(still)], m.leaving()...), m.farthest() > 0
	if heard {
		inside = append(inside, Assumption{"late", "whoever comes into an empty room is inside, and whoever is seen is known to be, once the controller that acts has heard of it"})
	}
	m.add(Promise{Goal: "lighting", Kind: NeverDark, Assumes: inside,
		Sentence: fmt.Sprintf("The light in %s doesn't go out on anybody inside.", m.the()),
		facets: []facet{{want: want{things: lamps}, watch: func(prog *rules.Program) watcher {
			return neverDark{numbers(prog, lamps), heard, noteOf(prog, m.r.ID+"/inside")}
		}}}})
	within := m.emptyWithin(l) + m.farthest()
	m.add(Promise{Goal: "lighting", Kind: NotLeftBurning, Assumes: people,
		Sentence: fmt.Sprintf("The light in %s is off %s after the last person has left and the doors have come to rest.", m.the(), spanOf(within)),
		facets: m.each(lamps, func(id string) facet {
			return facet{watch: func(prog *rules.Program) watcher { return notLeftBurning{numbers(prog, []string{id}), within} }}
		})})
	if l.KeepManual {
		m.add(Promise{Goal: "lighting", Kind: AsAsked, Assumes: still,
			Sentence: fmt.Sprintf("A level set by hand in %s stays until the room is empty or somebody changes it.", m.the()),
			facets: m.each(lamps, func(id string) facet {
				return facet{watch: func(prog *rules.Program) watcher { return asAsked{number(prog, id), request} }}
			})})
	}
	if request {
		m.onRequest(l, lamps, people)
	}
	m.notBlinding(l, lamps, people)
	m.everyMinute(l)
}

// leaving is what a press on the way out is taken to mean, where some other room has a button for it.
func (m *maker) leaving() []Assumption {
	out := map[string]bool{}
	for i := range m.p.Rooms {
		r := &m.p.Rooms[i]
		out[r.ID] = r.ID != m.r.ID && ideal.LeadsOut(r)
	}
	ids, _ := m.deeds(model.EverythingOff, func(room string, _ model.Deed) bool { return out[room] })
	if len(ids) == 0 {
		return nil
	}
	return []Assumption{{"hands", "whoever switches everything off on the way out means the rooms too in which nobody is seen"}}
}

// lit are the lamps that some period lights.
func (m *maker) lit(l model.Lighting, lamps []string) []string {
	var out []string
	for _, id := range lamps {
		if slices.ContainsFunc(l.Periods, func(p model.Period) bool { return p.Level > 0 && m.covers(p, id) }) {
			out = append(out, id)
		}
	}
	return out
}

// onRequest is about each lamp that some period lights, and that people switch on themselves.
func (m *maker) onRequest(l model.Lighting, lamps []string, people []Assumption) {
	m.add(Promise{Goal: "lighting", Kind: LightOnRequest, Assumes: people,
		Sentence: fmt.Sprintf("Whoever switches a lamp of the hour on in %s, and names no level, has the light of the hour.", m.the()),
		facets: m.each(m.lit(l, lamps), func(id string) facet {
			return facet{moments: starts(l.Periods), watch: func(prog *rules.Program) watcher {
				return onRequest{onEntry{lamp: number(prog, id), periods: m.periods(prog, l.Periods, id), manual: noted{-1, -1}}}
			}}
		})})
}

// onEntry is about each lamp that some period lights. Rules are given the time that is left when devices have had theirs; where those
// take all of it, rules have none, and the light comes as late as the devices bring it.
func (m *maker) onEntry(l model.Lighting, lamps []string, people []Assumption) {
	lit := m.lit(l, lamps)
	late, _ := delays{m.ix, func(t rules.Thing) bool { return t.Room == m.r.ID && senses(t) }}.toSet(lit...)
	within := max(latency, late.all())
	m.add(Promise{Goal: "lighting", Kind: LightOnEntry, Assumes: append(people[:len(people):len(people)], late.late("of that time")...),
		fixed:    late.over("the light", int32(LongestLight/time.Second)),
		Sentence: fmt.Sprintf("Whoever comes into %s has the light of the hour within %s, unless somebody inside has set their own.", m.the(), spanOf(within)),
		facets: m.each(lit, func(id string) facet {
			return facet{moments: starts(l.Periods), watch: func(prog *rules.Program) watcher {
				return onEntry{number(prog, id), m.periods(prog, l.Periods, id), noteOf(prog, m.r.ID+"/by-hand"), late.left(within)}
			}}
		})})
}

// covers reports whether a period lights the lamp of a circuit.
func (m *maker) covers(p model.Period, lamp string) bool {
	if len(p.Circuits) == 0 {
		return true
	}
	for _, c := range p.Circuits {
		if m.r.ID+"/"+c == lamp || m.r.ID+"/"+c+"-light" == lamp {
			return true
		}
	}
	return false
}

func starts(ps []model.Period) []q.DayTime {
	out := make([]q.DayTime, len(ps))
	for i, p := range ps {
		out[i] = p.From
	}
	return out
}

// notBlinding is about the dimmest period: the night.
func (m *maker) notBlinding(l model.Lighting, lamps []string, people []Assumption) {
	if len(l.Periods) < 2 {
		return
	}
	night := -1
	for i, p := range l.Periods {
		if p.Level > 0 && (night < 0 || p.Level < l.Periods[night].Level) {
			night = i
		}
	}
	if night < 0 {
		return
	}
	level := int(l.Periods[night].Level + 0.5)
	from, to := l.Periods[night].From, l.Periods[follows(l.Periods, night, m.day)].From
	m.add(Promise{Goal: "lighting", Kind: NotBlinding, Assumes: people,
		Sentence: fmt.Sprintf("Between %s and %s no rule makes the light in %s brighter than %d %%.", from, to, m.the(), level),
		facets: m.each(lamps, func(id string) facet {
			return facet{moments: starts(l.Periods), watch: func(prog *rules.Program) watcher {
				h := hoursOf(prog, from, l.Periods[follows(l.Periods, night, prog.Day())].From)
				lamp := number(prog, id)
				return notBlinding{lamp, h.from, h.to, level, lighting(prog, lamp)}
			}}
		})})
}

// follows is the period that follows one, on a day.
func follows(ps []model.Period, i int, day rules.Day) int {
	at := day.Second(ps[i].From)
	best, next := rules.DaySeconds+1, i
	for j, p := range ps {
		d := (day.Second(p.From) - at + rules.DaySeconds) % rules.DaySeconds
		if j != i && d > 0 && d < best {
			best, next = d, j
		}
	}
	return next
}

// periods as seconds of a program's day, with the level that each gives a lamp.
func (m *maker) periods(prog *rules.Program, ps []model.Period, lamp string) []litPeriod {
	day := prog.Day()
	out := make([]litPeriod, 0, len(ps))
	for i, p := range ps {
		x := litPeriod{from: day.Second(p.From), to: day.Second(ps[follows(ps, i, day)].From)}
		if m.covers(p, lamp) {
			x.level = int(p.Level + 0.5)
		}
		out = append(out, x)
	}
	return out
}

// emptyWithin is the stop time with what it takes to be sure that nobody is in: a sensor's blind time twice, and
// as long as people may keep still while a door stands open.
func (m *maker) emptyWithin(l model.Lighting) int32 {
	d := time.Duration(l.Stop.After) + 2*time.Duration(m.opts.Blind+m.opts.Margin)
	if l.Stop.NeverWhile != "moving" {
		d += time.Duration(ideal.LongestStill(m.r.Kind))
	}
	return int32(d / time.Second)
}
