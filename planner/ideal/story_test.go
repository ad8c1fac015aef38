package ideal

import (
	"testing"

	"example.org/roombrief/planner/rules"
)

func TestLeaveAndShutTheDoor(t *testing.T) {
	bothStyles(t, func(t *testing.T, style sensorStyle) {
		g := openHome(t, alderRow(t), "07:00")
		g.style = style
		g.enter(true)
		g.wantLevel(ceiling, 90)
		g.stir(motion, 120)
		g.report(door, true)
		g.move(motion)
		g.pass(2)
		g.report(door, false)
		g.pass(7*60 + 61)
		g.want(ceiling, false)
	})
}

func TestShowerBehindAShutDoor(t *testing.T) {
	bothStyles(t, func(t *testing.T, style sensorStyle) {
		g := openHome(t, alderRow(t), "07:00")
		g.style = style
		g.enter(true)
		g.stir(motion, 100)
		lit := g.always(ceiling, true)
		g.pass(50 * 60) // keeps still, behind glass
		lit()
		g.report(door, true)
		g.pass(2)
		g.report(door, false)
		g.pass(8*60 + 1)
		g.want(ceiling, false)
	})
}

// Motion before the door shut says nothing; motion that lasts for longer than the sensor is blind does.
func TestShowerWithoutANewReport(t *testing.T) {
	g := openHome(t, alderRow(t), "07:00")
	g.report(door, true)
	g.move(motion)
	g.pass(1)
	g.report(door, false)
	g.stir(motion, 90) // one report that never repeats, as the sensor stays lit
	lit := g.always(ceiling, true)
	g.pass(30 * 60)
	lit()
}

func TestShowerWithTheDoorOpen(t *testing.T) {
	bothStyles(t, func(t *testing.T, style sensorStyle) {
		g := openHome(t, alderRow(t), "07:00")
		g.style = style
		g.enter(false)
		g.stir(motion, 60)
		lit := g.always(ceiling, true)
		g.pass(15 * 60) // the longest that people keep still in a shower room
		lit()
		g.pass(4 * 60)
		g.want(ceiling, false)
	})
}

func TestTwoPeopleOneLeaves(t *testing.T) {
	bothStyles(t, func(t *testing.T, style sensorStyle) {
		g := openHome(t, alderRow(t), "07:00")
		g.style = style
		g.enter(true)
		g.stir(motion, 120)
		lit := g.always(ceiling, true)
		g.report(door, true)
		g.pass(3)
		g.report(door, false)
		g.pass(5 * 60) // the other is still, but moves before the room counts as empty
		g.move(motion)
		g.pass(40 * 60)
		lit()
	})
}

func TestSensorIsBlindWhenSomebodyReturns(t *testing.T) {
	g := openHome(t, alderRow(t), "07:00")
	g.style = everyMinute
	g.enter(true)
	g.pass(10)
	g.report(door, true)
	g.move(motion) // not reported
	g.report(door, false)
	g.pass(20)
	g.report(door, true)
	g.move(motion) // back, and not reported either
	g.report(door, false)
	lit := g.always(ceiling, true)
	g.pass(5 * 60)
	lit()
}

func TestManualLevelWins(t *testing.T) {
	for _, tt := range []struct{ start, end string }{{"06:10", "06:40"}, {"17:45", "18:20"}, {"22:30", "23:05"}} {
		for _, lamp := range []string{ceiling, mirror} {
			g := openHome(t, alderRow(t), tt.start)
			g.enter(true)
			g.stir(motion, 120)
			g.hand(lamp, rules.Value{On: true, Level: 20})
			g.each = append(g.each, func() {
				if g.level(lamp) != 20 {
					g.fail("the level set by hand is gone")
				}
			})
			end := rules.Equinox.Second(clock(t, tt.end))
			for g.s.Clock() < end { // moving, then still for long enough that the next move is reported anew
				g.move(motion)
				g.pass(90)
			}
			g.each = nil
			g.pass(70)
			g.report(door, true)
			g.report(door, false)
			g.pass(7*60 + 16)
			g.want(lamp, false)
			g.enter(true)
			if g.level(lamp) == 20 {
				g.fail("the level set by hand outlives the empty room")
			}
		}
	}
}

func TestSwitchedOffByHandStaysOff(t *testing.T) {
	g := openHome(t, alderRow(t), "07:00")
	g.enter(true)
	g.hand(ceiling, rules.Value{})
	g.hand(mirror, rules.Value{})
	dark := g.always(ceiling, false)
	g.stir(motion, 900)
	dark()
	g.report(door, true)
	g.report(door, false)
	g.pass(10 * 60)
	g.enter(true)
	g.want(ceiling, true)
}

func TestPeriodsOverMidnightWithoutGapOrOverlap(t *testing.T) {
	d := Draft(alderRow(t))
	p, err := rules.Compile(d.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	sensor, _ := p.Thing(motion)
	lamp, _ := p.Thing(mirror)
	for second := range rules.DaySeconds {
		if second%60 != 0 && second%60 != 59 {
			continue
		}
		s, hs := p.Step(p.Start(second), rules.Event{Kind: rules.Reported, Thing: sensor, Value: rules.Value{On: true}})
		n := 0
		for _, h := range hs {
			if h.Kind == rules.Changed && h.Thing == lamp {
				n++
			}
		}
		want := 4
		switch {
		case second >= 6*3600+20*60 && second < 18*3600:
			want = 90
		case second >= 18*3600 && second < 22*3600+45*60:
			want = 35
		}
		if n != 1 || p.Value(s, lamp).Level != want {
			t.Fatalf("at %d s: %d rules, level %d, want %d", second, n, p.Value(s, lamp).Level, want)
		}
	}
}

func TestLightFollowsThePeriods(t *testing.T) {
	g := openHome(t, alderRow(t), "17:50")
	g.enter(true)
	g.stir(motion, 120)
	g.wantLevel(ceiling, 90)
	lit := g.always(mirror, true)
	g.until("18:00")
	g.wantLevel(ceiling, 35)
	g.until("22:45")
	g.wantLevel(mirror, 4)
	g.want(ceiling, false)
	g.until("06:20")
	g.wantLevel(ceiling, 90)
	lit()
}

// A door that is opened from outside is nobody inside: the period edge that follows lights nothing.
func TestDoorOpenedFromOutside(t *testing.T) {
	for _, edge := range []string{"06:19", "17:59", "22:44"} {
		g := openHome(t, alderRow(t), edge)
		dark := g.always(mirror, false)
		g.report(door, true)
		g.pass(30)
		g.report(door, false)
		g.pass(120)
		dark()
	}
}

func TestClockChanges(t *testing.T) {
	g := openHome(t, alderRow(t), "00:59")
	g.enter(true)
	g.stir(motion, 120)
	g.do(rules.Event{Kind: rules.ClockMoves, Seconds: 3600})
	g.wantLevel(mirror, 4)
	g.until("05:30")
	g.do(rules.Event{Kind: rules.ClockMoves, Seconds: 3600}) // leaps over 06:20
	g.wantLevel(ceiling, 90)
	g.do(rules.Event{Kind: rules.ClockMoves, Seconds: -3600})
	g.until("06:25")
	g.wantLevel(ceiling, 90)
}

// After a power cut, with lamps that come back at full brightness and waits that are lost.
func TestPowerCutAtAnyHour(t *testing.T) {
	d := Draft(alderRow(t))
	for i := range d.Sheet.Things {
		if d.Sheet.Things[i].Kind == rules.Lamp || d.Sheet.Things[i].Kind == rules.Fan {
			d.Sheet.Things[i].PowerUp = rules.ComesOn
		}
	}
	for _, tt := range []struct {
		at              string
		ceiling, mirror int
	}{{"03:00", 0, 4}, {"12:00", 90, 90}, {"20:00", 35, 35}} {
		for _, before := range []bool{false, true} {
			g := open(t, d, tt.at)
			if before { // somebody was in, and left in the dark
				g.enter(true)
				g.stir(motion, 120)
				g.hand(mirror, rules.Value{On: true, Level: 77})
			}
			g.do(rules.Event{Kind: rules.PowerFails})
			if before {
				g.report(motion, false)
			}
			g.pass(60)
			g.do(rules.Event{Kind: rules.PowerReturns})
			g.wantLevel(ceiling, tt.ceiling)
			g.wantLevel(mirror, tt.mirror)
			g.want(extract, false)
			g.pass(7*60 + 16)
			g.want(mirror, false)
			g.want(ceiling, false)
			g.enter(true)
			g.wantLevel(mirror, tt.mirror)
		}
	}
}

// Motion that stands when the power returns is nobody who is shut in, as long as the door is open.
func TestPowerCutWithTheDoorOpen(t *testing.T) {
	g := openHome(t, alderRow(t), "12:00")
	g.enter(false)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.do(rules.Event{Kind: rules.PowerReturns})
	g.stir(motion, 90)
	g.want("shower-room/inside", false)
}

func TestPowerCutInTheShower(t *testing.T) {
	g := openHome(t, alderRow(t), "07:00")
	g.enter(true)
	g.stir(motion, 120)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.pass(30)
	g.do(rules.Event{Kind: rules.PowerReturns})
	g.want(ceiling, true)
	lit := g.always(ceiling, true)
	g.stir(motion, 60) // groping for the towel
	g.pass(40 * 60)
	lit()
}
