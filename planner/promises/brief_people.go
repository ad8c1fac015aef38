package promises

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// inUseFor is how many seconds a room may still count as in use after everybody has left.
func (m *maker) inUseFor() int32 {
	if m.r.Brief.Lighting.Wanted() {
		return m.emptyWithin(m.r.Brief.Lighting.Want)
	}
	return 5*60 + 2*seconds(m.opts.Blind+m.opts.Margin)
}

// fanForPeople is about whoever is in for long enough.
func (m *maker) fanForPeople(v model.Ventilation, fans []string, edges []q.DayTime, quiet func(*rules.Program) hours) {
	after, on, slack := v.WithPeople.After, v.WithPeople.RunOn, m.slack()
	w, wait := m.world(), m.r.ID+"/fan-people"
	offs, ps := m.deeds(model.FanOff, func(room string, _ model.Deed) bool { return room == m.r.ID })
	all, these := m.deeds(model.EverythingOff, func(string, model.Deed) bool { return true })
	offs, ps = append(offs, all...), append(ps, these...)
	sensors := append(m.things(rules.Motion), m.things(rules.Presence)...)
	f := facet{whole: true, moments: edges, watch: func(prog *rules.Program) watcher {
		return forPeople{numbers(prog, fans), numbers(prog, m.things(rules.Motion)), numbers(prog, m.things(rules.Presence)),
			presses(prog, offs, ps), seconds(after), seconds(on), quiet(prog), slack}
	}}
	f.want = m.ofPeople("fan-people")
	f.waits = []string{m.r.ID + "/empty", wait}
	f.things = append(append(f.things, fans...), sensors...)
	from, until := "when the sensor sees somebody", "the last has left"
	if after > 0 {
		from += fmt.Sprintf(" once they have been in for %s", after)
	}
	if on > 0 {
		until = fmt.Sprintf("%s after %s", on, until)
	}
	m.add(Promise{Goal: "ventilation", Kind: FanForPeople, Assumes: append(m.peopleAssumed(w), sits(w.StillFor)), facets: []facet{f}, World: w,
		Sentence: fmt.Sprintf("The fan in %s runs for people from %s until %s, unless somebody switches it off%s.", m.the(), from, until, outside(len(edges) > 0))})
}

// ofPeople is what a fan for people goes by, with some waits more.
func (m *maker) ofPeople(more ...string) want {
	w := want{free: m.waitsBut(append(more, "fan-settling", "empty", "door", "settled")...), heard: m.dampFlags()}
	maps.Copy(w.free, w.heard)
	return w
}

// notForNothing is about the fan's coming on, with what people in the room are to it apart. Of the fan itself only the rules that
// switch it on are looked at.
func (m *maker) notForNothing(v model.Ventilation, fans []string, people bool) {
	wait, slack := m.r.ID+"/fan-people", m.slack()
	on := want{things: m.dampThings(v), waits: m.dampWaits(v), free: m.waitsBut("fan-back", "damp", "air")}
	in := m.ofPeople()
	for _, id := range fans {
		for _, i := range m.ix.sets[id] {
			switch r := &m.ix.sheet.Rules[i]; {
			case !slices.ContainsFunc(r.Effects, isOn(id)):
			case slices.ContainsFunc(r.Effects, func(e rules.Effect) bool { return e.Kind == rules.Start && goesOn(e.Wait, wait) }):
				in.keep = append(in.keep, r.ID)
			default:
				on.keep = append(on.keep, r.ID)
			}
		}
	}
	var fs []facet
	if len(on.keep) > 0 {
		fs = append(fs, facet{name: "the fan", want: on, watch: func(prog *rules.Program) watcher {
			return notForNothing{m.dampIn(prog, v), ruleNumbers(prog, on.keep), slack}
		}})
	}
	reasons := []string{"when somebody asks"}
	if len(m.dampThings(v)) > 0 {
		reasons = append([]string{"for damp air"}, reasons...)
	}
	assumes := m.airAssumed()
	if people && len(in.keep) > 0 {
		f := facet{name: "the fan for people", whole: true, want: in, watch: func(prog *rules.Program) watcher {
			return notSooner{ruleNumbers(prog, in.keep), seconds(v.WithPeople.After), m.inUseFor() + slack - latency}
		}}
		fs, assumes = append(fs, f), append(assumes[:1:1], m.peopleAssumed(m.world())...)
		how := "for people who are in"
		if v.WithPeople.After > 0 {
			how += fmt.Sprintf(", no sooner than %s after the first came in", v.WithPeople.After)
		}
		reasons = append(reasons, how)
	}
	if len(fs) == 0 {
		return
	}
	m.add(Promise{Goal: "ventilation", Kind: NotForNothing, Assumes: assumes, facets: fs,
		Sentence: fmt.Sprintf("No rule switches the fan in %s on but %s.", m.the(), either(reasons))})
}

// either lists alternatives.
func either(parts []string) string {
	if n := len(parts) - 1; n > 0 {
		return strings.Join(parts[:n], ", ") + " or " + parts[n]
	}
	return parts[0]
}
