package promises

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"example.org/roombrief/planner/rules"
)

// apart is a hall with a lamp of the cellar's, and a sensor and a door wherever they are said to be joined. The cellar runs the rules.
func apart(motion, door string) rules.Sheet {
	return rules.Sheet{
		Links: map[string]time.Duration{"attic": 3 * time.Second, "cellar": 1500 * time.Millisecond},
		Things: []rules.Thing{
			{ID: "hall/lamp", Room: "hall", Kind: rules.Lamp, Name: "lamp", At: "cellar"},
			{ID: "hall/motion", Room: "hall", Kind: rules.Motion, Name: "motion in the hall", At: motion},
			{ID: "hall/door", Room: "hall", Kind: rules.Door, Name: "door", At: door},
		},
		Rules: []rules.Rule{{ID: "hall/on", Room: "hall", Controller: "cellar", Cause: rules.Cause{Kind: rules.Reports, Thing: "hall/motion", On: true},
			Guard:   []rules.Literal{{Kind: rules.Is, Thing: "hall/door"}},
			Effects: []rules.Effect{{Kind: rules.Set, Thing: "hall/lamp", Value: rules.Value{On: true, Level: 20}}}}},
	}
}

func TestWhatStaysOnOneControllerIsAsItWas(t *testing.T) {
	for _, s := range []rules.Sheet{apart("cellar", "cellar"), apart("", "")} {
		got, relays := relayed(s, s.Links)
		if !reflect.DeepEqual(got, s) || relays != nil || orders(s, s.Links) {
			t.Errorf("something has come of it: %+v %+v", got, relays)
		}
		near := s
		near.Links = nil
		a, _ := Whole(s, "hall", "hall/lamp", 50, World{})
		b, _ := Whole(near, "hall", "hall/lamp", 50, World{})
		if a.Crosses() || a.Key() != b.Key() {
			t.Error("it is another case with links than without")
		}
	}
}

func TestAControllerLooksAtWhatItHasHeard(t *testing.T) {
	s := apart("attic", "cellar")
	before := apart("attic", "cellar")
	got, relays := relayed(s, s.Links)
	const heard = "heard of hall/motion by cellar"
	if want := []relay{{thing: "hall/motion", heard: heard, takes: 2}}; !slices.Equal(relays, want) { // of 1.5 s, whole ones
		t.Errorf("got %+v, want %+v", relays, want)
	}
	if r := got.Rules[0]; r.Cause.Thing != heard || r.Guard[0].Thing != "hall/door" || len(got.Things) != 4 || got.Things[3].At != "cellar" {
		t.Errorf("got %+v", got)
	}
	if !reflect.DeepEqual(s, before) {
		t.Error("the sheet itself has changed")
	}
	far, near := apart("attic", "attic"), apart("cellar", "attic")
	for _, c := range []rules.Sheet{far, near} {
		if got, _ := relayed(c, c.Links); got.Rules[0].Guard[0].Thing != "heard of hall/door by cellar" {
			t.Errorf("a guard looks past what was heard: %+v", got.Rules[0])
		}
	}
}

func TestOrdersThatCrossAreTakenToComeAtOnce(t *testing.T) {
	lamp := apart("cellar", "cellar")
	lamp.Things[0].At = "attic"
	note := apart("cellar", "cellar")
	note.Things = append(note.Things, rules.Thing{ID: "hall/note", Room: "hall", Kind: rules.Flag})
	noted := []rules.Effect{{Kind: rules.Set, Thing: "hall/note", Value: rules.Value{On: true}}}
	for _, by := range []string{"attic", "cellar"} {
		note.Rules = append(note.Rules, rules.Rule{ID: "hall/note-" + by, Room: "hall", Controller: by, Cause: rules.Cause{Kind: rules.PowerBack}, Effects: noted})
	}
	wait := apart("cellar", "cellar")
	for _, by := range []string{"attic", "cellar"} {
		wait.Rules = append(wait.Rules, rules.Rule{ID: "hall/wait-" + by, Room: "hall", Controller: by, Cause: rules.Cause{Kind: rules.PowerBack},
			Effects: []rules.Effect{{Kind: rules.Stop, Wait: "hall/empty"}}})
	}
	for name, s := range map[string]rules.Sheet{"a lamp": lamp, "a note": note, "a wait": wait} {
		if !orders(s, s.Links) {
			t.Errorf("%s that two controllers share isn't seen to cross", name)
		}
		if orders(s, nil) {
			t.Errorf("%s crosses where nothing takes long", name)
		}
	}
	c, err := Whole(lamp, "hall", "hall/lamp", 50, World{})
	if err != nil {
		t.Fatal(err)
	}
	if p := (Promise{}).Across([]Case{c}); !p.Leans("ordered") || p.Leans("relayed") {
		t.Errorf("it leans on %+v", p.Assumes)
	}
}
