package ideal

import (
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// airy opens the home with usual air.
func airy(t *testing.T, p *model.Project, at string) *stage {
	g := openHome(t, p, at)
	g.read(house, 45)
	g.read(damp, 50)
	return g
}

func TestFanRunsUntilTheAirIsDry(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.read(damp, 66)
	g.want(extract, true)
	g.read(damp, 90)
	g.pass(30 * 60)
	g.want(extract, true)
	g.read(damp, 65)
	g.pass(5*60 - 1)
	g.want(extract, true)
	g.pass(2)
	g.want(extract, false)
	if len(g.told) > 0 {
		t.Error("told", g.told)
	}
}

func TestShortWishNeverCutsALongOne(t *testing.T) {
	p := alderRow(t)
	b := p.Rooms[0].Brief.Buttons.Want
	b[0].Press = model.Deed{Verb: model.FanRun, Run: minutes(40)}
	b[0].Double = model.Deed{Verb: model.FanRun, Run: minutes(10)}
	g := airy(t, p, "07:00")
	g.press(basin, rules.Single)
	g.pass(60)
	g.press(basin, rules.Double)
	g.pass(38*60 + 59)
	g.want(extract, true)
	g.pass(2)
	g.want(extract, false)
}

func TestAskedRunDuringDampAirAndTheOtherWayRound(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.read(damp, 80)
	g.press(basin, rules.Double) // 20 min
	g.pass(20*60 + 1)
	g.want(extract, true) // still damp
	g.press(basin, rules.Double)
	g.read(damp, 50)
	g.pass(6 * 60) // the run-on ends within the run that was asked for
	g.want(extract, true)
	g.pass(14*60 + 1)
	g.want(extract, false)
}

func TestFanOffByHandInDampAirComesBack(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.read(damp, 80)
	g.hand(extract, rules.Value{})
	off := g.always(extract, false)
	g.pass(9*60 + 59)
	off()
	g.pass(1)
	g.want(extract, true)
	g.read(damp, 50)
	g.pass(6 * 60)
	g.want(extract, false)
	g.hand(extract, rules.Value{On: true})
	g.hand(extract, rules.Value{})
	g.pass(20 * 60)
	g.want(extract, false) // dry: it stays off
}

func TestFanOnByHandStops(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.hand(extract, rules.Value{On: true})
	g.pass(20*60 + 1)
	g.want(extract, false)
}

func TestSummerHouseOverTheCeiling(t *testing.T) {
	g := openHome(t, alderRow(t), "00:30")
	still := g.always(extract, false)
	g.read(house, 72)
	g.read(damp, 74)
	g.pass(3 * 3600)
	still()
	g.read(damp, 88) // somebody showers
	g.want(extract, true)
	g.read(damp, 77) // as dry as it gets
	g.pass(6 * 60)
	g.want(extract, false)
	g.read(house, 60) // the house dries first
	g.want(extract, true)
}

func TestRunIsBoundedForADay(t *testing.T) {
	g := airy(t, alderRow(t), "10:00")
	g.read(damp, 80)
	g.pass(2*3600 + 1)
	g.want(extract, false)
	if len(g.told) != 1 {
		t.Fatal("told", g.told)
	}
	off := g.always(extract, false)
	g.read(damp, 60)
	g.pass(60)
	g.read(damp, 85)
	g.pass(60)
	g.hand(extract, rules.Value{})
	g.until("23:59")
	off()
	g.pass(61)
	g.want(extract, true) // a new day
}

func TestWhatAFullAllowanceLeavesAlone(t *testing.T) {
	g := airy(t, alderRow(t), "20:00")
	g.read(damp, 80)
	g.until("21:50")
	g.press(basin, rules.Double) // 20 min, over the limit at 22:00
	g.until("22:05")
	g.want(extract, true)
	g.hand(extract, rules.Value{})
	off := g.always(extract, false)
	g.until("22:40") // it doesn't come back
	g.read(damp, 50)
	g.until("00:10") // and a new day has nothing to air
	off()
	g.read(damp, 80)
	g.want(extract, true)
}

func TestQuietHours(t *testing.T) {
	p := alderRow(t)
	g := airy(t, p, "22:50")
	g.press(basin, rules.Double)
	g.want(extract, true)
	g.until("23:00")
	g.want(extract, false) // a request isn't excepted
	g.press(basin, rules.Double)
	g.want(extract, false)
	g.read(damp, 80)
	g.want(extract, true) // damp air is
	g.until("23:30")
	g.want(extract, true)

	p.Rooms[0].Brief.Ventilation.Want.Quiet.Except = "request"
	g = airy(t, p, "22:50")
	g.read(damp, 80)
	g.press(basin, rules.Double)
	g.until("23:05")
	g.want(extract, true)
	g.pass(6 * 60)
	g.want(extract, false)
	g.until("06:00")
	g.want(extract, true) // damp air had to wait

	p.Rooms[0].Brief.Ventilation.Want.Quiet.Except = "nothing"
	g = airy(t, p, "22:50")
	g.read(damp, 80)
	g.press(basin, rules.Double)
	g.until("23:00")
	off := g.always(extract, false)
	g.read(damp, 60)
	g.read(damp, 80)
	g.press(basin, rules.Double)
	g.until("05:59")
	off()
}

func TestFanForPeople(t *testing.T) {
	p := alderRow(t)
	p.Rooms[0].Brief.Ventilation = want(model.Ventilation{WithPeople: model.WithPeople{After: minutes(3), RunOn: minutes(15)}})
	p.Rooms[0].Brief.Lighting.Want.Stop.NeverWhile = "moving"
	g := openHome(t, p, "12:00")
	g.move(motion)
	g.pass(179)
	g.want(extract, false)
	g.stir(motion, 120)
	g.want(extract, true)
	g.stir(motion, 3600)
	g.want(extract, true)
	g.pass(15*60 - 20) // 15 min, within the minute that the sensor is blind
	g.want(extract, true)
	g.pass(80)
	g.want(extract, false)

	g = openHome(t, p, "12:00")
	off := g.always(extract, false)
	g.move(motion)
	g.pass(10 * 60) // in and out at once
	off()
}

func TestPowerCutInDampAir(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.read(damp, 80)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.pass(600)
	g.do(rules.Event{Kind: rules.PowerReturns})
	g.want(extract, true)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.read(damp, 50)
	g.do(rules.Event{Kind: rules.PowerReturns})
	g.want(extract, false)
}

// Damp is over the ceiling and over the house, whichever is crossed last.
func TestWhatCountsAsDamp(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.read(damp, 60) // over the house, under the ceiling
	g.want(extract, false)
	g.read(house, 40)
	g.read(damp, 50)
	g.read(damp, 65)
	g.want(extract, false)
	g.read(damp, 66)
	g.want(extract, true)
	g.read(damp, 60)
	g.pass(301)
	g.want(extract, false)
	g.read(house, 62)
	g.read(damp, 67) // over the ceiling, hardly over the house
	g.want(extract, false)
	g.read(damp, 68)
	g.want(extract, true)

	for _, air := range []int{60, 90} { // after a power cut
		g = airy(t, alderRow(t), "07:00")
		g.do(rules.Event{Kind: rules.PowerFails})
		g.read(damp, air)
		g.read(house, air-2)
		g.do(rules.Event{Kind: rules.PowerReturns})
		g.want(extract, false)
		g.do(rules.Event{Kind: rules.PowerFails})
		g.read(house, air-20)
		g.do(rules.Event{Kind: rules.PowerReturns})
		g.want(extract, air > 65)
	}
}

func TestFanThatRestsComesBackOnlyInDampAir(t *testing.T) {
	g := airy(t, alderRow(t), "07:00")
	g.read(damp, 80)
	g.hand(extract, rules.Value{})
	g.pass(60)
	g.read(damp, 55)
	off := g.always(extract, false)
	g.pass(3600)
	off()
}

// Switched off by hand, a run that was asked for is over: the next one has its own length.
func TestFanOffByHandEndsTheWish(t *testing.T) {
	p := alderRow(t)
	b := p.Rooms[0].Brief.Buttons.Want
	b[0].Press, b[0].Double = model.Deed{Verb: model.FanRun, Run: minutes(40)}, model.Deed{Verb: model.FanRun, Run: minutes(10)}
	g := airy(t, p, "07:00")
	g.press(basin, rules.Single)
	g.pass(60)
	g.hand(extract, rules.Value{})
	g.press(basin, rules.Double)
	g.pass(10*60 + 1)
	g.want(extract, false)
}

func TestPeopleAreNoExceptionInQuietHours(t *testing.T) {
	p := alderRow(t)
	v := &p.Rooms[0].Brief.Ventilation.Want
	v.WithPeople = model.WithPeople{After: minutes(3), RunOn: minutes(15)}
	v.Quiet.Except = "both"
	g := airy(t, p, "23:30")
	g.report(motion, true)
	g.pass(4 * 60)
	g.want(extract, false)
}

func TestNoNewDayIsAiredInQuietHours(t *testing.T) {
	has := func(except string) bool {
		p := alderRow(t)
		p.Rooms[0].Brief.Ventilation.Want.Quiet.Except = except
		for _, r := range Draft(p).Sheet.Rules {
			if r.ID == "shower-room/air-new-day" {
				return true
			}
		}
		return false
	}
	if has("request") || !has("humidity") {
		t.Error("a new day's run is planned where it can never be, or not where it can")
	}
}
