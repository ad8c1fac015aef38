package proof

import (
	"slices"
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// pair is a hall of two lamps, of which only the first is lit by night.
const pair = `  - id: hall
    name: Hall
    kind: hall
    circuits: [{id: near, lamps: 1, dimmable: yes}, {id: far, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        periods: [{from: "06:00", level: 80 %}, {from: "22:00", level: 5 %, circuits: [near]}]
        stop: {after: 4m, never_while: moving}
`

// litOnlyBy has the far lamp lit by nothing but a note.
func litOnlyBy(note func(*rules.Sheet)) func(*rules.Sheet) {
	return func(s *rules.Sheet) {
		far := func(e rules.Effect) bool { return e.Thing == "hall/far" && e.Value.On }
		for i := range s.Rules {
			s.Rules[i].Effects = slices.DeleteFunc(s.Rules[i].Effects, far)
		}
		s.Rules = slices.DeleteFunc(s.Rules, func(r rules.Rule) bool { return len(r.Effects) == 0 })
		s.Things = append(s.Things, rules.Thing{ID: "hall/feast", Room: "hall", Kind: rules.Flag, Name: "a feast"})
		s.Rules = append(s.Rules, rules.Rule{ID: "hall/feasted", Room: "hall", Goal: "lighting", Purpose: "Light for a feast.",
			Cause:   rules.Cause{Kind: rules.Became, Thing: "hall/feast", On: true},
			Guard:   []rules.Literal{{Kind: rules.Between, From: q.DayTime{Offset: 6 * time.Hour}, To: q.DayTime{Offset: 22 * time.Hour}}},
			Effects: []rules.Effect{{Kind: rules.Set, Thing: "hall/far", Value: rules.Value{On: true, Level: 80}}}})
		if note != nil {
			note(s)
		}
	}
}

// Nothing notes a feast, so that no night comes in which the far lamp might be lit for one: of that lamp there is nothing to keep. Once
// motion notes one it may come by night too, and the guard keeps the lamp dark.
func TestAPromiseThatIsKeptInPartSaysInWhichItIsNeverPutToTheTest(t *testing.T) {
	v := verdictOn(t, pair, "hall/not-blinding", nil, promises.NoFault)
	if v.State != Kept || v.Why != "" {
		t.Errorf("as it is drafted it is %s: %s", v.State, v.Why)
	}
	v = verdictOn(t, pair, "hall/not-blinding", litOnlyBy(nil), promises.NoFault)
	if v.State != Empty || !slices.Equal(v.Untried, []string{"the far light"}) || !strings.HasSuffix(v.Hollow(), "puts it to the test for the far light, so there is nothing to keep there.") {
		t.Errorf("without a feast it is %s for %q: %s", v.State, v.Untried, v.Hollow())
	}
	v = verdictOn(t, pair, "hall/not-blinding", litOnlyBy(func(s *rules.Sheet) {
		s.Rules = append(s.Rules, rules.Rule{ID: "hall/feast-begins", Room: "hall", Goal: "lighting", Purpose: "A feast begins.",
			Cause:   rules.Cause{Kind: rules.Reports, Thing: "hall/motion", On: true},
			Effects: []rules.Effect{{Kind: rules.Set, Thing: "hall/feast", Value: rules.Value{On: true}}}})
	}), promises.NoFault)
	if v.State != Kept {
		t.Errorf("with feasts it is %s: %s", v.State, v.Hollow())
	}
	v = verdictOn(t, pair, "hall/not-blinding", func(s *rules.Sheet) { s.Rules = nil; litOnlyBy(nil)(s) }, promises.NoFault)
	if v.State != Empty || len(v.Untried) != 0 || v.Hollow() != "What it is about never comes about, so there is nothing to keep." {
		t.Errorf("where no part is put to the test it is %s for %q", v.State, v.Untried)
	}
}

// A fan that no rule of damp air runs doesn't dry the air: that nothing looks at the hygrometer is no reason to call the air dry.
func TestAirThatNoRuleLooksAtIsNotDry(t *testing.T) {
	v := verdictOn(t, shower, "bath/aired", func(s *rules.Sheet) { s.Rules = nil }, promises.NoFault)
	if v.State != Breaks || len(v.Story) == 0 || v.Story[len(v.Story)-1].At != 3*time.Second {
		t.Errorf("it is %s: %s %v", v.State, v.Why, v.Story)
	}
}
