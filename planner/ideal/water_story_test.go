package ideal

import (
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

func TestLeakIsToldUntilAcknowledged(t *testing.T) {
	g := openHome(t, alderRow(t), "12:00")
	g.report("shower-room/tray", true)
	if len(g.told) != 1 || !strings.Contains(g.told[0], "Rosa and Dilip next door") {
		t.Fatal("told", g.told)
	}
	g.want("shower-room/cock-valve", true)
	g.want("house/sounder", true)
	g.pass(20*60 + 1)
	if len(g.told) != 3 {
		t.Fatal("told", g.told)
	}
	g.press("house/acknowledge", rules.Single)
	g.want("house/sounder", false)
	g.pass(3600)
	if len(g.told) != 3 {
		t.Fatal("told after it was acknowledged", g.told)
	}
	g.report("shower-room/tray", false)
	g.pass(60)
	g.want("shower-room/cock-valve", true) // nobody but a person opens it
	g.report("shower-room/cistern", true)
	if len(g.told) != 4 {
		t.Fatal("second leak", g.told)
	}
}

func TestNoRuleOpensAValveOrSwitchesAnApplianceOn(t *testing.T) {
	d := Draft(alderRow(t))
	kinds := map[string]rules.ThingKind{}
	for _, x := range d.Sheet.Things {
		kinds[x.ID] = x.Kind
	}
	for _, r := range d.Sheet.Rules {
		for _, e := range r.Effects {
			if e.Kind == rules.Set && (kinds[e.Thing] == rules.Valve && !e.Value.On || kinds[e.Thing] == rules.Plug && e.Value.On) {
				t.Errorf("%s: %v", r.ID, e)
			}
		}
	}
}

func TestLeakInAPowerCut(t *testing.T) {
	for _, point := range []string{"shower-room/tray", "shower-room/cistern"} {
		g := openHome(t, alderRow(t), "12:00")
		g.do(rules.Event{Kind: rules.PowerFails})
		g.do(rules.Event{Kind: rules.PowerReturns})
		if len(g.told) > 0 {
			t.Fatal("told of nothing")
		}
		g.do(rules.Event{Kind: rules.PowerFails})
		g.report(point, true)
		if len(g.told) > 0 {
			t.Fatal("told in the dark")
		}
		g.do(rules.Event{Kind: rules.PowerReturns})
		if len(g.told) != 1 {
			t.Fatal("told", g.told)
		}
		g.want("shower-room/cock-valve", true)
	}
}

const (
	iron  = "utility/iron"
	watts = "utility/iron-power"
)

func ironing(t *testing.T) *stage {
	g := openHome(t, alderRow(t), "12:00")
	g.hand(iron, rules.Value{On: true})
	g.read(watts, 2300)
	return g
}

// burn lets the thermostat come and go for some seconds.
func (g *stage) burn(seconds int) {
	for range seconds / 60 {
		g.read(watts, 0)
		g.pass(45)
		g.read(watts, 2300)
		g.pass(15)
	}
}

func TestApplianceGoesOffAtItsLimitFromTheFirst(t *testing.T) {
	g := ironing(t)
	g.burn(22 * 60)
	if len(g.told) != 1 || !strings.Contains(g.told[0], "goes off in 3m") {
		t.Fatal("warning", g.told)
	}
	g.burn(2 * 60) // switched off and on at the iron itself, a minute before its limit
	g.want(iron, true)
	g.burn(60)
	g.want(iron, false)
	if len(g.told) != 2 {
		t.Fatal("told", g.told)
	}
	g.read(watts, 0)
	g.pass(3600)
	g.want(iron, false)
	g.hand(iron, rules.Value{On: true})
	g.read(watts, 2300)
	g.burn(24 * 60)
	g.want(iron, true)
	g.burn(60)
	g.want(iron, false)
}

func TestButtonExtendsAnAppliance(t *testing.T) {
	g := ironing(t)
	g.burn(20 * 60)
	g.press("utility/iron-extend", rules.Single)
	g.burn(24 * 60)
	g.want(iron, true)
	g.burn(60)
	g.want(iron, false)
}

// A press before the appliance is on starts no count, and switching it off by hand ends one.
func TestCountIsOnlyOfUse(t *testing.T) {
	g := openHome(t, alderRow(t), "12:00")
	g.press("utility/iron-extend", rules.Single)
	g.pass(20 * 60)
	g.hand(iron, rules.Value{On: true})
	g.read(watts, 2300)
	g.burn(20 * 60)
	g.want(iron, true)
	g.hand(iron, rules.Value{})
	g.read(watts, 0)
	g.pass(60)
	g.hand(iron, rules.Value{On: true})
	g.read(watts, 2300)
	g.burn(24 * 60)
	g.want(iron, true)
	g.burn(60)
	g.want(iron, false)
}

func TestIdleApplianceGoesOff(t *testing.T) {
	g := ironing(t)
	g.pass(60)
	g.read(watts, 3)
	g.pass(8*60 - 1)
	g.want(iron, true)
	g.pass(1)
	g.want(iron, false)
}

func TestHeatStaysOffAfterAPowerCut(t *testing.T) {
	g := ironing(t)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.do(rules.Event{Kind: rules.PowerReturns})
	g.want(iron, false)
}

func TestWhatMustStayOnIsLeftAlone(t *testing.T) {
	p := alderRow(t)
	u := &p.Rooms[1]
	u.Appliances = append(u.Appliances, model.Appliance{ID: "old-fridge", Kind: "fridge"})
	u.Brief.Shutoff.Want = append(u.Brief.Shutoff.Want, model.Shutoff{Appliance: "freezer", After: minutes(9)}, model.Shutoff{Appliance: "old-fridge", After: minutes(9)})
	u.Brief.Buttons = want([]model.Button{{ID: "way-out", Hold: model.Deed{Verb: model.EverythingOff}}})
	d := Draft(p)
	for _, r := range d.Sheet.Rules {
		for _, e := range r.Effects {
			if strings.Contains(e.Thing, "freezer") || strings.Contains(e.Thing, "fridge") {
				t.Errorf("%s moves %s", r.ID, e.Thing)
			}
		}
	}
	serious := 0
	for _, f := range d.Findings {
		if f.Serious && f.Room == "utility" {
			serious++
		}
	}
	if serious != 2 {
		t.Errorf("%d serious findings, want one for each refusal: %v", serious, d.Findings)
	}
	g := open(t, d, "12:00")
	g.hand(iron, rules.Value{On: true})
	g.press("utility/way-out", rules.Hold)
	g.want(iron, false)
}

func TestButtonDeeds(t *testing.T) {
	p := alderRow(t)
	b := &p.Rooms[0].Brief.Buttons.Want
	*b = append(*b, model.Button{ID: "by-door", Press: model.Deed{Verb: model.Lights, Level: 30}, Double: model.Deed{Verb: model.LightsAuto},
		Hold: model.Deed{Verb: model.Lights}},
		model.Button{ID: "third", Press: model.Deed{Verb: model.FanOff}, Double: model.Deed{Verb: model.Acknowledge}, Hold: model.Deed{Verb: model.Extend, Appliance: "utility/iron"}})
	g := openHome(t, p, "23:30")
	g.enter(true)
	g.wantLevel(mirror, 4)
	g.press(basin, rules.Single)
	g.wantLevel(ceiling, 100)
	g.stir(motion, 120)
	g.wantLevel(ceiling, 100)
	g.press("shower-room/by-door", rules.Single)
	g.wantLevel(ceiling, 30)
	g.press("shower-room/by-door", rules.Double)
	g.want(ceiling, false)
	g.wantLevel(mirror, 4)
	g.press("shower-room/by-door", rules.Hold)
	g.want(mirror, false)
	g.stir(motion, 120)
	g.want(mirror, false)
	g.read(house, 40)
	g.read(damp, 90)
	g.want(extract, true)
	g.press("shower-room/third", rules.Single)
	g.want(extract, false)
	g.pass(600)
	g.want(extract, true)
	g.press(basin, rules.Hold)
	g.want(extract, false)
	g.report("shower-room/tray", true)
	g.press("shower-room/third", rules.Double)
	g.want("house/sounder", false)
	g.hand(iron, rules.Value{On: true})
	g.read(watts, 2000)
	g.burn(20 * 60)
	g.press("shower-room/third", rules.Hold)
	g.burn(24 * 60)
	g.want(iron, true)
	g.burn(60)
	g.want(iron, false)
	if _, planned := g.p.Thing("house/acknowledge"); planned {
		t.Error("a button acknowledges already")
	}
}

func TestAPowerCutEndsNoAlarm(t *testing.T) {
	g := openHome(t, alderRow(t), "12:00")
	g.report("shower-room/tray", true)
	g.report("shower-room/tray", false)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.do(rules.Event{Kind: rules.PowerReturns})
	told := len(g.told)
	g.pass(10*60 + 1)
	if len(g.told) != told+1 {
		t.Fatal("told again after the cut", g.told)
	}
	g.press("house/acknowledge", rules.Single)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.do(rules.Event{Kind: rules.PowerReturns})
	told = len(g.told)
	g.pass(3600)
	if len(g.told) != told {
		t.Fatal("told after it was acknowledged", g.told)
	}
}
