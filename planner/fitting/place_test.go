package fitting

import (
	"reflect"
	"slices"
	"testing"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/rules"
)

// twoRooms each have a lamp that motion lights; the second also looks at the sensor of the first.
func twoRooms() rules.Sheet {
	s := rules.Sheet{}
	for _, room := range []string{"hall", "shed"} {
		s.Things = append(s.Things, rules.Thing{ID: room + "/lamp", Room: room, Kind: rules.Lamp, Name: room + " light"},
			rules.Thing{ID: room + "/motion", Room: room, Kind: rules.Motion, Name: "motion in the " + room})
		add := func(name string, c rules.Cause, e ...rules.Effect) {
			s.Rules = append(s.Rules, rules.Rule{ID: room + "/" + name, Room: room, Goal: "lighting", Purpose: name, Cause: c, Effects: e})
		}
		add("on", rules.Cause{Kind: rules.Reports, Thing: room + "/motion", On: true}, turn(room+"/lamp", true), run(room+"/empty", 5*minute))
		add("off", ended(room+"/empty"), turn(room+"/lamp", false))
	}
	return s
}

func rulesOf(p Placed, host string) []string {
	for _, h := range p.Hosts {
		if h.Host == host {
			return h.Rules
		}
	}
	return nil
}

func TestEachRoomGoesToItsController(t *testing.T) {
	able := limitSet(t, "able")
	hosts := []Host{{ID: "one", Room: "hall", Limits: able}, {ID: "two", Room: "shed", Limits: able}}
	p := Place(twoRooms(), hosts, Info{})
	if got := rulesOf(p, "one"); !slices.Equal(got, []string{"hall/on", "hall/off"}) {
		t.Errorf("the hall's controller runs %v", got)
	}
	if got := rulesOf(p, "two"); !slices.Equal(got, []string{"shed/on", "shed/off"}) {
		t.Errorf("the shed's controller runs %v", got)
	}
	if len(p.Seen)+len(p.Lost)+len(p.Asks) > 0 {
		t.Errorf("seen %v, lost %v, asks %v", p.Seen, p.Lost, p.Asks)
	}
	if again := Place(twoRooms(), hosts, Info{}); !reflect.DeepEqual(p, again) {
		t.Error("placed otherwise the second time")
	}
}

func TestSharedSensorIsSeenOrKeepsRoomsTogether(t *testing.T) {
	s := twoRooms()
	s.Rules = append(s.Rules, rules.Rule{ID: "shed/follow", Room: "shed", Goal: "lighting", Purpose: "follow", Cause: rules.Cause{Kind: rules.Reports, Thing: "hall/motion", On: true},
		Effects: []rules.Effect{turn("shed/lamp", true), run("shed/empty", 5*minute)}})
	hosts := []Host{{ID: "one", Room: "hall", Limits: limitSet(t, "able")}, {ID: "two", Room: "shed", Limits: limitSet(t, "able")}}
	p := Place(s, hosts, Info{})
	if !slices.Equal(p.Seen, []Seen{{"hall/motion", "one", "two"}}) {
		t.Errorf("seen %v", p.Seen)
	}
	hosts[1].Limits.SeesOthers = false
	p = Place(s, hosts, Info{})
	if len(rulesOf(p, "one"))+len(rulesOf(p, "two")) != 5 || len(rulesOf(p, "one")) != 0 && len(rulesOf(p, "two")) != 0 {
		t.Errorf("rooms that share a sensor are apart: %v and %v", rulesOf(p, "one"), rulesOf(p, "two"))
	}
	if len(p.Lost) > 0 {
		t.Errorf("lost %v", p.Lost)
	}
}

func TestRadiosAndCapacityDecide(t *testing.T) {
	s := twoRooms()
	info := Info{Parts: map[string]catalogue.Part{"hall/lamp": {Radio: "wifi"}, "hall/motion": {Radio: "zigbee"}, "shed/lamp": {Radio: "thread"}}}
	able := limitSet(t, "able")
	hosts := []Host{{ID: "one", Room: "hall", Limits: able, Radios: []string{"zigbee"}}, {ID: "two", Room: "shed", Limits: able, Radios: []string{"zigbee", "wifi"}}}
	p := Place(s, hosts, info)
	if len(rulesOf(p, "two")) < 2 || rulesOf(p, "two")[0] != "hall/on" {
		t.Errorf("the hall's lamp speaks Wi-Fi, its rules are %v", rulesOf(p, "two"))
	}
	if len(p.Asks) != 1 || p.Asks[0] != "the radio thread for the shed light" {
		t.Errorf("asks %v", p.Asks)
	}
	small := able
	small.Rules = 2
	p = Place(s, []Host{{ID: "one", Room: "hall", Limits: small}}, Info{})
	if len(p.Lost) == 0 || p.Lost[0].Limit != "rules" || len(p.Asks) != 1 {
		t.Errorf("four rules on a controller for two: lost %v, asks %v", p.Lost, p.Asks)
	}
	if p := Place(s, nil, Info{}); len(p.Lost) != 1 || len(p.Asks) != 1 {
		t.Errorf("without a controller: %+v", p)
	}
}

func TestEveryRuleIsPlacedOnce(t *testing.T) {
	for _, home := range []string{"alder-row.yaml", "larkspur-lane.yaml"} {
		sheet := homeSheet(t, home)
		p := Place(sheet, []Host{{ID: "a", Room: "hall", Limits: limitSet(t, "able")}, {ID: "b", Room: "landing", Limits: limitSet(t, "modest")}, {ID: "c", Room: "kitchen", Limits: limitSet(t, "open")}}, Info{})
		n := map[string]int{}
		for _, h := range p.Hosts {
			for _, id := range h.Rules {
				n[id]++
			}
			if _, err := rules.Compile(h.Fit.Sheet); err != nil {
				t.Errorf("%s %s: %v", home, h.Host, err)
			}
		}
		for _, r := range sheet.Rules {
			if n[r.ID] != 1 {
				t.Errorf("%s: %s is placed %d times", home, r.ID, n[r.ID])
			}
		}
	}
}

// A room that asks for sunset goes to the controller that knows the sun, though another stands in it.
func TestWhoKnowsTheSunRunsItsRules(t *testing.T) {
	s := twoRooms()
	s.Rules = append(s.Rules, rules.Rule{ID: "hall/dusk", Room: "hall", Goal: "lighting", Purpose: "dusk", Cause: rules.Cause{Kind: rules.Clock, At: clock(t, "sunset")},
		Effects: []rules.Effect{turn("hall/lamp", true), run("hall/empty", 5*minute)}})
	year := []rules.Day{{Sunset: 16 * 3600}, {Sunset: 20 * 3600}}
	knows, not := limitSet(t, "able"), limitSet(t, "able")
	not.SunTimes = false
	p := Place(s, []Host{{ID: "one", Room: "hall", Limits: not}, {ID: "two", Room: "shed", Limits: knows}}, Info{Year: year})
	if got := rulesOf(p, "two"); !slices.Contains(got, "hall/dusk") {
		t.Errorf("it runs %v", got)
	}
	if got := rulesOf(Place(s, []Host{{ID: "one", Room: "hall", Limits: not}, {ID: "two", Room: "shed", Limits: not}}, Info{Year: year}), "one"); !slices.Contains(got, "hall/dusk") {
		t.Errorf("where none knows it the hall's own runs %v", got)
	}
}
