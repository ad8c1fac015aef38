package promises

import (
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// Two controllers, attic and cellar: the motion sensor is joined to the attic and takes 2 s, the lamp to the cellar and takes 1 s. The
// attic hears of the cellar within 3 s, the cellar of the attic within 4 s.
func lateSheet(rs ...rules.Rule) *Index {
	return NewIndex(rules.Sheet{
		Links: map[string]time.Duration{"attic": 3 * time.Second, "cellar": 4 * time.Second},
		Things: []rules.Thing{
			{ID: "hall/motion", Room: "hall", Kind: rules.Motion, Name: "motion in the hall", Takes: 2 * time.Second, At: "attic"},
			{ID: "hall/lamp", Room: "hall", Kind: rules.Lamp, Name: "lamp", Takes: time.Second, At: "cellar"},
			{ID: "hall/note", Room: "hall", Kind: rules.Flag},
			{ID: "hall/other", Room: "hall", Kind: rules.Flag},
		},
		Rules: rs,
	})
}

func TestTheDelayIsThatOfTheWorstWay(t *testing.T) {
	seen := rules.Cause{Kind: rules.Reports, Thing: "hall/motion", On: true}
	set := func(thing string) []rules.Effect {
		return []rules.Effect{{Kind: rules.Set, Thing: thing, Value: rules.Value{On: true}}}
	}
	start := func(d time.Duration) []rules.Effect {
		return []rules.Effect{{Kind: rules.Start, Wait: "hall/step", For: q.Span(d)}}
	}
	noted := func(thing string) rules.Cause { return rules.Cause{Kind: rules.Became, Thing: thing, On: true} }
	ended := rules.Cause{Kind: rules.Ended, Wait: "hall/step"}
	at := func(host string, c rules.Cause, es []rules.Effect) rules.Rule {
		return rules.Rule{Room: "hall", Controller: host, Cause: c, Effects: es}
	}
	for _, c := range []struct {
		name       string
		rules      []rules.Rule
		takes, all int32 // worked out by hand
		none       bool
	}{
		{name: "the attic orders the cellar's lamp: 2 + 4 + 1", rules: []rules.Rule{at("attic", seen, set("hall/lamp"))}, takes: 7, all: 7},
		{name: "the cellar hears of the attic's sensor: 2 + 4 + 1", rules: []rules.Rule{at("cellar", seen, set("hall/lamp"))}, takes: 7, all: 7},
		{name: "both: the worse", rules: []rules.Rule{at("cellar", seen, set("hall/lamp")), at("attic", seen, set("hall/note")), at("cellar", noted("hall/note"), set("hall/lamp"))}, takes: 7, all: 7},
		{name: "by a note there and back: 2 + 4 to the cellar, 3 back, 4 to the lamp's, 1", rules: []rules.Rule{at("cellar", seen, set("hall/note")), at("attic", noted("hall/note"), set("hall/lamp"))}, takes: 14, all: 14},
		{name: "in two steps a second apart", rules: []rules.Rule{at("cellar", seen, start(time.Second)), at("cellar", ended, set("hall/lamp"))}, takes: 7, all: 8},
		{name: "the slower way has no steps, and the quicker one has", rules: []rules.Rule{at("attic", seen, set("hall/lamp")), at("", seen, start(2*time.Second)), at("", ended, set("hall/lamp"))}, takes: 7, all: 9},
		{name: "a long wait is no step", rules: []rules.Rule{at("cellar", seen, start(time.Minute)), at("cellar", ended, set("hall/lamp"))}, none: true},
		{name: "notes that lead to each other end", rules: []rules.Rule{at("attic", noted("hall/other"), set("hall/note")), at("attic", noted("hall/note"), set("hall/other")), at("attic", noted("hall/note"), set("hall/lamp"))}, none: true},
		{name: "what nobody sees", rules: []rules.Rule{at("attic", rules.Cause{Kind: rules.Clock}, set("hall/lamp"))}, none: true},
		{name: "what is joined to no controller is as near as can be: 2 + 1", rules: []rules.Rule{at("", seen, set("hall/lamp"))}, takes: 3, all: 3},
	} {
		d, any := delays{lateSheet(c.rules...), senses}.toSet("hall/lamp")
		if any == c.none || d.seconds() != c.takes || d.all() != c.all {
			t.Errorf("%s: %d s and %d s with steps, %v", c.name, d.seconds(), d.all(), d.parts)
		}
	}
}

func TestADelayIsSaidInItsParts(t *testing.T) {
	ix := lateSheet(rules.Rule{Room: "hall", Controller: "attic", Cause: rules.Cause{Kind: rules.Reports, Thing: "hall/motion", On: true},
		Effects: []rules.Effect{{Kind: rules.Set, Thing: "hall/lamp", Value: rules.Value{On: true}}}})
	d, _ := delays{ix, senses}.toSet("hall/lamp")
	const want = "2s until motion in the hall is reported, 4s from the controller attic to cellar and 1s until the lamp acts"
	if got := d.words(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if d.over("the light", 7) != nil {
		t.Error("7 s are enough")
	}
	if c := d.over("the light", 6); c == nil || c.Kept || !strings.Contains(c.Why, "may take 7s") {
		t.Errorf("6 s aren't enough: %+v", c)
	}
}
