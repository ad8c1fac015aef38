package rules

import (
	"slices"
	"strings"
	"testing"
)

// behindPlug is a program in which the lamp's mains come through a plug.
func behindPlug(t *testing.T, up PowerUp, rs ...Rule) (*Program, int) {
	t.Helper()
	sheet := Sheet{Things: append(slices.Clone(things), Thing{ID: "r/plug", Room: "r", Kind: Plug, Name: "relay"})}
	sheet.Things[lamp].Feed, sheet.Things[lamp].PowerUp = "r/plug", up
	for i, r := range rs {
		r.ID, r.Room = string(rune('a'+i)), "r"
		sheet.Rules = append(sheet.Rules, r)
	}
	p, err := Compile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return p, len(sheet.Things) - 1
}

func TestAThingWithoutItsMainsIsDead(t *testing.T) {
	on := Rule{Cause: Cause{Kind: Pressed, Thing: "r/button"}, Effects: []Effect{set("r/lamp", true)}}
	hears := Rule{Cause: Cause{Kind: Became, Thing: "r/lamp", Any: true}, Effects: []Effect{set("r/flag", true)}}
	p, plug := behindPlug(t, ComesOn, on, hears)
	hand := func(thing int, v Value) Event { return Event{Kind: HandSet, Thing: thing, Value: v} }

	s, hs := p.Step(p.Start(0), Event{Kind: ButtonPress, Thing: button})
	if p.Value(s, lamp).On || !slices.ContainsFunc(hs, func(h Happening) bool { return h.Kind == Deaf && h.Thing == lamp && h.Rule == 0 }) {
		t.Errorf("with the relay off: %v %v", p.Value(s, lamp), hs)
	}
	if s, _ = p.Step(s, hand(lamp, Value{On: true, Level: 30})); p.Value(s, lamp).On || p.Value(s, flag).On {
		t.Error("a hand lights a lamp without mains")
	}
	s, _ = p.Step(s, hand(plug, Value{On: true}))
	if v := p.Value(s, lamp); v.Level != 100 || !p.Value(s, flag).On {
		t.Errorf("with its mains it comes back as %v, and says so: %v", v, p.Value(s, flag).On)
	}
	if s, _ = p.Step(s, Event{Kind: ButtonPress, Thing: button}); p.Value(s, lamp).Level != 50 {
		t.Error("it obeys with its mains")
	}
	s = p.Put(s, flag, Value{})
	if s, _ = p.Step(s, hand(plug, Value{})); p.Value(s, lamp).On || p.Value(s, flag).On {
		t.Error("a lamp without mains is lit, or says something")
	}
	s, _ = play(p, s, Event{Kind: PowerFails}, Event{Kind: PowerReturns})
	if p.Value(s, lamp).On {
		t.Error("the power comes back, but not through a relay that is off")
	}
	off, plug := behindPlug(t, ComesOff, on)
	if s, _ := off.Step(off.Start(0), hand(plug, Value{On: true})); off.Value(s, lamp).On {
		t.Error("it should come back off")
	}
}

// A relay that rules switch feeds its lamp before their next effect.
func TestMainsAndOrderInOneRule(t *testing.T) {
	both := []Effect{{Kind: Set, Thing: "r/plug", Value: Value{On: true}}, set("r/lamp", true)}
	for _, tt := range []struct {
		effects []Effect
		want    int
	}{{both, 50}, {[]Effect{both[1], both[0]}, 100}} {
		p, _ := behindPlug(t, AsItWas, Rule{Cause: Cause{Kind: Pressed, Thing: "r/button"}, Effects: tt.effects})
		if s, _ := p.Step(p.Start(0), Event{Kind: ButtonPress, Thing: button}); p.Value(s, lamp).Level != tt.want {
			t.Errorf("%v, want %d %%", p.Value(s, lamp), tt.want)
		}
	}
}

func TestAThingThatHasFailedStaysAsItIs(t *testing.T) {
	p := compiled(t, Rule{Cause: Cause{Kind: Pressed, Thing: "r/button"}, Effects: []Effect{set("r/lamp", true), set("r/fan", true)}},
		Rule{Cause: Cause{Kind: Became, Thing: "r/lamp", Any: true}, Effects: []Effect{set("r/flag", true)}})
	s, _ := play(p, p.Start(0), Event{Kind: Fails, Thing: lamp}, Event{Kind: ButtonPress, Thing: button})
	if p.Value(s, lamp).On || !p.Value(s, fan).On {
		t.Errorf("lamp %v, fan %v", p.Value(s, lamp), p.Value(s, fan))
	}
	if s, _ = p.Step(s, Event{Kind: HandSet, Thing: lamp, Value: Value{On: true, Level: 30}}); p.Value(s, lamp).Level != 30 || p.Value(s, flag).On {
		t.Error("what is done at it is done, and no rule hears of it")
	}
	if s, _ = play(p, s, Event{Kind: PowerFails}, Event{Kind: PowerReturns}); p.Value(s, lamp).Level != 30 || !s.Powered() {
		t.Error("a power cut changes it")
	}
	if _, hs := p.Step(p.Start(0), Event{Kind: Fails, Thing: motion}); hs[1].Kind != Ignored {
		t.Error("a sensor doesn't obey in any case")
	}
}

func TestWhatCanFeedWhat(t *testing.T) {
	for _, tt := range []struct{ thing, feed string }{{"r/lamp", "r/nothing"}, {"r/lamp", "r/fan"}, {"r/motion", "r/plug"}, {"r/plug", "r/plug"}} {
		sheet := Sheet{Things: append(slices.Clone(things), Thing{ID: "r/plug", Room: "r", Kind: Plug, Name: "relay"})}
		for i := range sheet.Things {
			if sheet.Things[i].ID == tt.thing {
				sheet.Things[i].Feed = tt.feed
			}
		}
		if _, err := Compile(sheet); err == nil || !strings.Contains(err.Error(), "can't come through") {
			t.Errorf("%v: %v", tt, err)
		}
	}
}
