package promises

import (
	"fmt"
	"maps"
	"slices"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/planner/rules"
)

// dampIn is how the room's damp air is told, in a program.
func (m *maker) dampIn(prog *rules.Program, v model.Ventilation) damp {
	d := noDamp
	if h := m.things(rules.Hygrometer); len(h) > 0 && v.Ceiling.Wanted() {
		d.room = number(prog, h[0])
		d.ceiling, d.margin = int(m.ceiling()), ideal.HouseMargin
	}
	for _, i := range m.thing[""] {
		if t := &m.ix.sheet.Things[i]; t.Kind == rules.Hygrometer && d.room >= 0 {
			d.house = number(prog, t.ID)
		}
	}
	d.enough = noteOf(prog, m.r.ID+"/aired-enough")
	return d
}

// dampThings are what damp air is told by.
func (m *maker) dampThings(v model.Ventilation) []string {
	if !v.Ceiling.Wanted() {
		return nil
	}
	out := m.things(rules.Hygrometer)
	for _, i := range m.thing[""] {
		if t := &m.ix.sheet.Things[i]; t.Kind == rules.Hygrometer && len(out) > 0 {
			out = append(out, t.ID)
		}
	}
	if id := m.r.ID + "/aired-enough"; m.has(id) {
		out = append(out, id)
	}
	return out
}

// dampWaits are the waits that stand for what a controller can't remember of damp air.
func (m *maker) dampWaits(v model.Ventilation) []string {
	if id := m.r.ID + "/aired-enough"; v.Ceiling.Wanted() && len(m.ix.waits[id]) > 0 {
		return []string{id}
	}
	return nil
}

// longest run that anybody may ask for.
func (m *maker) longestRun(v model.Ventilation) int32 {
	n := seconds(ideal.ByHandRun)
	if len(v.OnRequest) > 0 {
		n = 0
	}
	for _, r := range v.OnRequest {
		n = max(n, seconds(r.Run))
	}
	m.deeds(model.FanRun, func(room string, d model.Deed) bool {
		if room == m.r.ID {
			n = max(n, seconds(d.Run))
		}
		return false
	})
	return n
}

func (m *maker) air() {
	fans := m.things(rules.Fan)
	if len(fans) == 0 {
		return
	}
	var v model.Ventilation
	if m.r.Brief.Ventilation.Wanted() {
		v = m.r.Brief.Ventilation.Want
	}
	quiet := func(prog *rules.Program, excepted bool) hours {
		if excepted || v.Quiet.From == v.Quiet.To {
			return hours{}
		}
		return hoursOf(prog, v.Quiet.From, v.Quiet.To)
	}
	var edges []q.DayTime
	if v.Quiet.From != v.Quiet.To {
		edges = []q.DayTime{v.Quiet.From, v.Quiet.To}
	}
	humidity := v.Quiet.Except == "humidity" || v.Quiet.Except == "both"
	request := v.Quiet.Except == "request" || v.Quiet.Except == "both"
	wet := m.dampThings(v)
	about := append(append([]string(nil), fans...), wet...)
	slack := m.slack()
	if len(wet) > 0 {
		back := seconds(ideal.BackAfter) + slack
		m.add(Promise{Goal: "ventilation", Kind: Aired, Assumes: m.airAssumed(),
			Sentence: fmt.Sprintf("While the air in %s is over %.0f %% and damper than the house, the fan runs: from %s on, or %s after somebody has switched it off, until the air is dry, or until it has run for that for %s on end and rests until midnight%s.",
				m.the(), float64(m.ceiling()), spanOf(slack), spanOf(back), mostAir(v), outside(len(edges) > 0 && !humidity)),
			facets: []facet{{want: want{things: about, waits: m.dampWaits(v), free: m.waitsBut("fan-damp", "fan-limit", "fan-back", "damp", "air")}, moments: edges, watch: func(prog *rules.Program) watcher {
				return aired{m.dampIn(prog, v), numbers(prog, fans), quiet(prog, humidity), slack, back}
			}}}})
	}
	m.wishes(v, fans, edges, func(prog *rules.Program) hours { return quiet(prog, request) })
	people := v.WithPeople != (model.WithPeople{})
	if people {
		m.fanForPeople(v, fans, edges, func(prog *rules.Program) hours { return quiet(prog, false) })
	}
	m.notForNothing(v, fans, people)
	m.stops(v, fans, about, people)
	if len(edges) > 0 {
		grace := int32(0)
		if humidity {
			grace = m.runOn() + slack
		}
		if request {
			grace = max(grace, m.longestRun(v)+slack)
		}
		m.add(Promise{Goal: "ventilation", Kind: Quiet, Assumes: m.airAssumed(),
			Sentence: fmt.Sprintf("Between %s and %s %s the fan in %s; whoever switches it on at itself has their way.", v.Quiet.From, v.Quiet.To, exceptions(humidity, request), m.the()),
			facets: []facet{{want: want{things: about, waits: m.dampWaits(v), free: m.waitsBut("fan-damp", "fan-limit", "fan-back", "fan-asked", "fan-people", "damp", "air")}, moments: edges, watch: func(prog *rules.Program) watcher {
				return quietHours{m.dampIn(prog, v), numbers(prog, fans), hoursOf(prog, v.Quiet.From, v.Quiet.To), humidity, request, grace}
			}}}})
	}
	m.seeSaw(fans)
}

// ceiling is the humidity over which the room's air is damp.
func (m *maker) ceiling() q.Percent { return physics.CeilingOf(m.p, *m.r) }

// runOn is how many seconds the fan runs on at most once the air is dry.
func (m *maker) runOn() int32 {
	on, _, _ := ideal.RunOnOf(m.p, m.r)
	return seconds(on)
}

// stops is when a fan stops. Where people are a reason to run it, that takes two steps: the room stops to count as
// in use, and then the fan runs on.
func (m *maker) stops(v model.Ventilation, fans, about []string, people bool) {
	runs := max(m.longestRun(v), m.runOn()) + m.slack()
	p := Promise{Goal: "ventilation", Kind: NotForEver, Assumes: m.airAssumed()}
	use := func(*rules.Program) inUse { return inUse{-1, -1, noted{-1, -1}} }
	total := runs
	if wait := m.r.ID + "/empty"; people {
		use = func(prog *rules.Program) inUse {
			n, ok := prog.Wait(wait)
			if !ok {
				n = -1
			}
			return inUse{n, number(prog, stand(wait)), noteOf(prog, m.r.ID+"/settled")}
		}
		empty := m.inUseFor() + m.farthest()
		runs = max(runs, seconds(v.WithPeople.RunOn)+m.slack())
		total = empty + runs
		f := facet{name: "a room that was in use", whole: true, watch: func(prog *rules.Program) watcher { return emptied{use(prog), empty} }}
		f.waits = []string{wait}
		p.facets = append(p.facets, f)
	}
	p.Sentence = fmt.Sprintf("The fan in %s stops at most %s after the last reason to run.", m.the(), spanOf(total))
	p.facets = append(p.facets, facet{name: "the fan", want: want{things: about, waits: m.dampWaits(v)}, watch: func(prog *rules.Program) watcher {
		return notForEver{m.dampIn(prog, v), numbers(prog, fans), use(prog), runs}
	}})
	m.add(p)
}

// seeSaw: the most that a fan may change is a run-on's time for each start.
func (m *maker) seeSaw(fans []string) {
	const most, within = 6, 10 * 60
	w := m.world()
	w.People, w.Hands = 0, false
	m.add(Promise{Goal: "ventilation", Kind: NoSeeSaw, Assumes: m.airAssumed()[:1], World: w,
		Sentence: fmt.Sprintf("In a house that nobody is in, the fan in %s changes no more than %d times in %s.", m.the(), most, spanOf(within)),
		facets: m.each(fans, func(id string) facet {
			return facet{watch: func(prog *rules.Program) watcher { return seeSaw{number(prog, id), most, within} }}
		})})
}

func mostAir(v model.Ventilation) q.Span {
	if most := q.Span(v.AtMost); most > 0 {
		return most
	}
	return ideal.DryingLimit
}

func outside(quiet bool) string {
	if quiet {
		return "; in the quiet hours it waits"
	}
	return ""
}

func exceptions(humidity, request bool) string {
	switch {
	case humidity && request:
		return "only damp air and requests run"
	case humidity:
		return "only damp air runs"
	case request:
		return "only requests run"
	}
	return "no rule runs"
}

func (m *maker) airAssumed() []Assumption {
	return []Assumption{
		{"air", "humidity may cross any threshold at any second, and the sensor says so"},
		{"people", fmt.Sprintf("at most %d people are in the room at once, and they come, go and press at any second", m.world().People)},
	}
}

// hears reports whether some rule acts by a press of a button.
func (m *maker) hears(button string, p rules.Press) bool {
	return slices.ContainsFunc(m.ix.sheet.Rules, func(r rules.Rule) bool {
		return r.Cause.Kind == rules.Pressed && r.Cause.Thing == button && r.Cause.Press == p
	})
}

// wishes: one facet for each run that can be asked for.
func (m *maker) wishes(v model.Ventilation, fans []string, edges []q.DayTime, quiet func(*rules.Program) hours) {
	var fs []facet
	wish := func(button string, p rules.Press, run q.Span) {
		f := facet{name: fmt.Sprintf("a run of %s from the fan itself", run), moments: edges, watch: func(prog *rules.Program) watcher {
			ask := press{-1, p}
			if button != "" {
				ask.thing = heardAt(prog, button)
			}
			return wishKept{numbers(prog, fans), ask, seconds(run), quiet(prog)}
		}}
		f.free, f.heard = m.waitsBut("fan-asked"), m.dampFlags()
		maps.Copy(f.free, f.heard)
		f.things = append(f.things, fans...)
		if button != "" {
			f.things = append(f.things, button)
			f.name = fmt.Sprintf("a run of %s by the %s", run, m.name(button))
		}
		fs = append(fs, f)
	}
	byHand := ideal.ByHandRun
	if len(v.OnRequest) > 0 {
		byHand = v.OnRequest[0].Run
	}
	wish("", 0, byHand)
	var runs []q.Span
	ids, ps := m.deeds(model.FanRun, func(room string, d model.Deed) bool {
		if room == m.r.ID {
			runs = append(runs, d.Run)
		}
		return room == m.r.ID
	})
	var unheard *Computed
	for i := range ids {
		wish(ids[i], ps[i], runs[i])
		if !m.hears(ids[i], ps[i]) {
			unheard = &Computed{Why: fmt.Sprintf("no rule hears the press of the %s that asks for %s", m.name(ids[i]), runs[i])}
		}
	}
	text := "A run of the fan in %s that somebody asks for lasts its full time, whatever else ends meanwhile: %s when switched on at the fan"
	for _, r := range runs {
		text += ", " + r.String() + " by button"
	}
	m.add(Promise{Goal: "ventilation", Kind: WishKept, Assumes: m.airAssumed(), facets: fs, fixed: unheard,
		Sentence: fmt.Sprintf(text, m.the(), byHand) + outside(len(edges) > 0 && v.Quiet.Except != "request" && v.Quiet.Except != "both") + "."})
}
