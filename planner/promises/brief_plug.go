package promises

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

func (m *maker) plugs() {
	for i := range m.r.Appliances {
		if a := &m.r.Appliances[i]; a.MustStayOn {
			m.staysOn(a)
		}
	}
	if !m.r.Brief.Shutoff.Wanted() {
		return
	}
	done := map[string]bool{}
	for i := range m.r.Brief.Shutoff.Want {
		s := &m.r.Brief.Shutoff.Want[i]
		for j := range m.r.Appliances {
			if a := &m.r.Appliances[j]; a.ID == s.Appliance && !a.MustStayOn && !done[a.ID] {
				done[a.ID] = true
				m.shutoff(a, s)
			}
		}
	}
}

// plugOf are the plug of an appliance and its meter.
func (m *maker) plugOf(a *model.Appliance) (plug, meter string, ok bool) {
	for _, id := range m.things(rules.Plug) {
		if id == m.r.ID+"/"+a.ID || id == m.r.ID+"/"+a.ID+"-plug" {
			for _, power := range m.things(rules.Meter) {
				if strings.HasPrefix(power, m.r.ID+"/"+a.ID+"-power") {
					return id, power, true
				}
			}
		}
	}
	return "", "", false
}

func (m *maker) shutoff(a *model.Appliance, s *model.Shutoff) {
	plug, meter, ok := m.plugOf(a)
	if !ok {
		return
	}
	use := ideal.InUse
	if s.Idle.Below > 0 {
		use = int(s.Idle.Below + 0.5)
	}
	assumed := []Assumption{{"power", "the plug's meter says at once when the appliance draws power and when it stops"},
		{"hands", "people switch the plug and press buttons at any second"}}
	assumed = append(assumed, m.lateToCut(plug, meter).late("beside the times that are promised")...)
	ids, ps := m.deeds(model.Extend, func(room string, d model.Deed) bool {
		return d.Appliance == a.ID && room == m.r.ID || d.Appliance == m.r.ID+"/"+a.ID
	})
	if id := m.r.ID + "/" + a.ID + "-extend"; m.has(id) {
		ids, ps = append(ids, id), append(ps, rules.Single)
	}
	about := []string{plug, meter}
	name, slack := m.name(plug), m.slack()
	on := func(prog *rules.Program) using { return using{number(prog, plug), number(prog, meter), use} }
	add := func(k Kind, sentence string, f facet) {
		f.things = append(f.things, about...)
		m.add(Promise{ID: m.r.ID + "/" + a.ID + "-" + slug(string(k)), Goal: "shutoff", Kind: k, Assumes: assumed, Sentence: sentence, facets: []facet{f}})
	}
	if s.After > 0 {
		rest := seconds(ideal.Bursts)
		if s.Idle.For > 0 {
			rest = 0
		}
		longer := ""
		if len(ids) > 0 {
			longer = ", or from when somebody last asked for more"
		}
		add(CutOff, fmt.Sprintf("The %s in %s is off at most %s after it was first used%s.", name, m.the(), s.After, longer),
			facet{watch: func(prog *rules.Program) watcher {
				return cutOff{on(prog), seconds(s.After) + slack, rest, presses(prog, ids, ps)}
			}})
		if s.Warn > 0 && s.Warn < s.After && len(m.hear(s.Tell)) > 0 {
			people := m.hear(s.Tell)
			f := facet{watch: func(prog *rules.Program) watcher {
				return warned{on(prog), tellsAll(prog, people), seconds(s.Warn), presses(prog, ids, ps)}
			}}
			f.tells = m.telling("shutoff", func(r *rules.Rule) bool { return strings.HasSuffix(r.Cause.Wait, "/"+a.ID+"-warn") })
			add(Warned, fmt.Sprintf("Before the %s in %s goes off at its limit %s, %s before.", name, m.the(), hears(people), s.Warn), f)
		}
	}
	if s.Idle.For > 0 {
		within := seconds(s.Idle.For) + slack
		add(OffWhenIdle, fmt.Sprintf("The %s in %s goes off once it has drawn no more than %d W for %s.", name, m.the(), use, s.Idle.For),
			facet{watch: func(prog *rules.Program) watcher { return offWhenIdle{on(prog), within} }})
	}
	if a.Heats() {
		add(NeverOn, fmt.Sprintf("No rule switches the %s in %s on.", name, m.the()),
			facet{watch: func(prog *rules.Program) watcher { return neverOn{number(prog, plug)} }})
	}
}

// lateToCut is the longest that devices take from a reading of the meter to the plug: whoever cuts it off at a time does so later by that.
func (m *maker) lateToCut(plug, meter string) (worst delay) {
	l := delays{ix: m.ix}
	for _, i := range m.ix.sets[plug] {
		r := &m.ix.sheet.Rules[i]
		if d := l.report(m.ix.sheet.Things[m.ix.thing[meter]], r.Controller).then(l.order(r.Controller, plug)); d.takes > worst.takes {
			worst = d
		}
	}
	return worst
}

// staysOn is read off the sheet: no rule sets anything that the appliance hangs on.
func (m *maker) staysOn(a *model.Appliance) {
	out := Computed{Kept: true}
	for _, id := range []string{m.r.ID + "/" + a.ID, m.r.ID + "/" + a.ID + "-plug"} {
		for _, i := range m.ix.sets[id] {
			out = Computed{Why: fmt.Sprintf("rule %s switches it", m.ix.sheet.Rules[i].ID)}
		}
	}
	m.add(Promise{ID: m.r.ID + "/" + a.ID + "-stays-on", Goal: "shutoff", Kind: StaysOn, fixed: &out,
		Sentence: fmt.Sprintf("No rule switches the %s in %s off.", strings.ReplaceAll(a.ID, "-", " "), m.the())})
}
