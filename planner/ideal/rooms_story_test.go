package ideal

import (
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// lit is a room with one lamp that is lit on entry by day and night.
func lit(t testing.TB, id, kind, never string, doors ...model.Door) model.Room {
	return model.Room{ID: id, Kind: kind, Doors: doors,
		Circuits: []model.Circuit{{ID: "lamp", Lamps: 1, Flux: 806, Switch: model.Know("box")}},
		Switches: []model.SwitchBox{{ID: "box", Gangs: 1}},
		Brief: model.Brief{Lighting: want(model.Lighting{Start: "on entry", KeepManual: true, Stop: model.Stop{After: minutes(5), NeverWhile: never},
			Periods: []model.Period{{From: clock(t, "07:00"), Level: 80}, {From: clock(t, "22:00"), Level: 10}}})}}
}

func house1(rooms ...model.Room) *model.Project {
	return &model.Project{Rooms: rooms, People: []model.Person{{ID: "a", Name: "Ana", Alerts: true}}}
}

func TestOpenRoomSeesPeopleWhoKeepStill(t *testing.T) {
	p := house1(lit(t, "living", "living room", "occupied", model.Door{ID: "hall", To: "hall", Usually: "open"}))
	g := openHome(t, p, "12:00")
	g.report("living/presence", true)
	on := g.always("living/lamp", true)
	g.pass(3 * 3600)
	g.report("living/presence", false)
	g.pass(5*60 - 1)
	on()
	g.want("living/lamp", true)
	g.pass(1)
	g.want("living/lamp", false)
}

func TestMotionAloneWhereThatIsAsked(t *testing.T) {
	p := house1(lit(t, "hall", "hall", "moving", model.Door{ID: "front", To: "outside", Usually: "closed"}))
	if _, ok := find(Draft(p), "hall/front"); ok {
		t.Error("motion alone needs no door contact")
	}
	g := openHome(t, p, "23:00")
	g.move("hall/motion")
	g.wantLevel("hall/lamp", 10)
	g.pass(6*60 - 1)
	g.want("hall/lamp", true)
	g.pass(1)
	g.want("hall/lamp", false)
}

func find(d Drafted, need string) (int, bool) {
	for i, n := range d.Needs {
		if n.ID == need {
			return i, true
		}
	}
	return 0, false
}

// A room with two doors is closed when both are; a door that two closed rooms share has one contact.
func TestSeveralDoorsAndASharedOne(t *testing.T) {
	bed := lit(t, "bedroom", "bedroom", "occupied", model.Door{ID: "landing", To: "landing", Usually: "closed"}, model.Door{ID: "ensuite", To: "bath", Usually: "closed"})
	bath := lit(t, "bath", "bathroom", "occupied", model.Door{ID: "door", To: "bedroom", Usually: "closed"})
	d := Draft(house1(bed, bath))
	if _, twice := find(d, "bath/door"); twice {
		t.Error("one door has two contacts")
	}
	g := open(t, d, "12:00")
	g.report("bedroom/landing", true)
	g.report("bedroom/ensuite", true)
	g.move("bedroom/motion")
	g.report("bedroom/landing", false) // the other is open still
	g.stir("bedroom/motion", 300)
	g.want("bedroom/inside", false)
	g.report("bedroom/ensuite", false)
	g.stir("bedroom/motion", 300)
	g.want("bedroom/inside", true)
	on := g.always("bedroom/lamp", true)
	g.pass(8 * 3600)
	on()
	g.report("bedroom/ensuite", true) // into the bath
	g.move("bath/motion")
	g.want("bath/lamp", true)
	g.want("bedroom/inside", false)
}

// Light on request never comes by itself, takes the level of the period, follows it, and keeps what is set by hand.
func TestLightOnRequest(t *testing.T) {
	r := lit(t, "bedroom", "bedroom", "occupied", model.Door{ID: "door", To: "landing", Usually: "closed"})
	r.Brief.Lighting.Want.Start = "on request"
	g := openHome(t, house1(r), "21:30")
	dark := g.always("bedroom/lamp", false)
	g.report("bedroom/door", true)
	g.move("bedroom/motion")
	g.report("bedroom/door", false)
	g.stir("bedroom/motion", 300)
	dark()
	g.hand("bedroom/lamp", rules.Value{On: true, Level: 33}) // a level of one's own
	g.wantLevel("bedroom/lamp", 33)
	g.hand("bedroom/lamp", rules.Value{})
	g.hand("bedroom/lamp", rules.Value{On: true}) // just on
	g.wantLevel("bedroom/lamp", 80)
	g.until("22:00")
	g.wantLevel("bedroom/lamp", 10)
	g.hand("bedroom/lamp", rules.Value{On: true, Level: 40})
	g.until("07:05")
	g.wantLevel("bedroom/lamp", 40)
	g.do(rules.Event{Kind: rules.PowerFails})
	g.do(rules.Event{Kind: rules.PowerReturns})
	g.want("bedroom/lamp", false)
}

// A period at 0 % leaves the light alone: nothing comes on by itself, and nothing that is on is touched before the room is empty.
func TestPeriodAtNothing(t *testing.T) {
	r := lit(t, "hall", "hall", "moving")
	r.Brief.Lighting.Want.Periods[0].Level = 0
	g := openHome(t, house1(r), "12:00")
	dark := g.always("hall/lamp", false)
	g.stir("hall/motion", 120)
	dark()
	g.hand("hall/lamp", rules.Value{On: true, Level: 70})
	g.stir("hall/motion", 120)
	g.wantLevel("hall/lamp", 70)
	g.pass(7 * 60)
	g.want("hall/lamp", false)
}

func TestStopSoonerThanASensorSees(t *testing.T) {
	r := lit(t, "hall", "hall", "moving")
	r.Brief.Lighting.Want.Stop.After = minutes(1) / 2
	d := Draft(house1(r))
	if len(d.Findings) != 1 {
		t.Errorf("findings %v", d.Findings)
	}
	g := open(t, d, "12:00")
	g.move("hall/motion")
	on := g.always("hall/lamp", true)
	for range 100 { // walking up and down
		g.pass(61)
		g.move("hall/motion")
	}
	on()
}

// In the north the sun sets after the night period starts, for some weeks. Each instant still has one period.
func TestPeriodsThatChangeOrder(t *testing.T) {
	r := lit(t, "hall", "hall", "moving")
	r.Brief.Lighting.Want.Periods = []model.Period{{From: clock(t, "06:00"), Level: 80}, {From: clock(t, "sunset"), Level: 40}, {From: clock(t, "22:00"), Level: 10}}
	p := house1(r)
	p.Home.Place = model.Place{Latitude: 60.15, Longitude: -1.15, Timezone: "Europe/London"}
	d := Draft(p)
	if len(d.Findings) != 1 || d.Findings[0].At != "rooms/hall/brief/lighting/periods" {
		t.Fatalf("findings %v", d.Findings)
	}
	base, err := rules.Compile(d.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	sensor, _ := base.Thing("hall/motion")
	lamp, _ := base.Thing("hall/lamp")
	for _, tt := range []struct {
		sunset int
		want   func(minute int) int
	}{
		{18 * 60, func(m int) int { return pick(m, 6*60, 80, 18*60, 40, 22*60, 10) }},
		{22*60 + 30, func(m int) int { return pick(m, 6*60, 80, 22*60, 10, 22*60+30, 40) }},
	} {
		prog := base.On(rules.Day{Sunset: tt.sunset * 60})
		for m := range 24 * 60 {
			s, hs := prog.Step(prog.Start(m*60), rules.Event{Kind: rules.Reported, Thing: sensor, Value: rules.Value{On: true}})
			lit := 0
			for _, h := range hs {
				if h.Kind == rules.Changed && h.Thing == lamp {
					lit++
				}
			}
			if got := prog.Value(s, lamp).Level; lit != 1 || got != tt.want(m) {
				t.Fatalf("minute %d with sunset at %d: level %d by %d rules, want %d", m, tt.sunset, got, lit, tt.want(m))
			}
		}
	}
}

// pick is the level at a minute of three starts in order; before the first it is that of the last.
func pick(m, a, la, b, lb, c, lc int) int {
	switch {
	case m >= c || m < a:
		return lc
	case m >= b:
		return lb
	}
	return la
}

func TestTheWayOutSwitchesTheHouseOff(t *testing.T) {
	p := alderRow(t)
	hall := lit(t, "hall", "hall", "moving", model.Door{ID: "front", To: "outside", Usually: "closed"})
	hall.Brief.Buttons = want([]model.Button{{ID: "by-front", Hold: model.Deed{Verb: model.EverythingOff}}})
	p.Rooms = append(p.Rooms, hall)
	leave := func(somebody bool) *stage {
		g := openHome(t, p, "12:00")
		g.enter(true)
		g.stir(motion, 120)
		if !somebody {
			g.report(door, true)
			g.report(door, false)
			g.pass(70)
		}
		g.hand(iron, rules.Value{On: true})
		g.move("hall/motion")
		g.press("hall/by-front", rules.Hold)
		g.want("hall/lamp", false)
		g.want(iron, false)
		g.want("house/leaving", false)
		return g
	}
	leave(false).want(ceiling, false)
	leave(true).want(ceiling, true)
}

func TestDeadDoorContactLeavesTheLightOn(t *testing.T) {
	g := openHome(t, alderRow(t), "07:00") // the contact says shut for ever
	g.stir(motion, 120)
	on := g.always(ceiling, true)
	g.pass(3600)
	on()
}

// A lamp switched by hand while the room is in use gets no more than the usual time.
func TestHandInARoomInUse(t *testing.T) {
	g := openHome(t, alderRow(t), "07:00")
	g.enter(true)
	g.pass(200) // gone quiet
	g.hand(ceiling, rules.Value{On: true, Level: 50})
	g.hand(mirror, rules.Value{On: true, Level: 50})
	g.pass(6*60 - 1)
	g.want(ceiling, true)
	g.pass(1)
	g.want(ceiling, false)
}

// A sensor that never reports: whoever switches the light on by hand has it for as long as people here keep still.
func TestDeadMotionSensor(t *testing.T) {
	for _, lamp := range []string{ceiling, mirror} {
		g := openHome(t, alderRow(t), "07:00")
		g.hand(lamp, rules.Value{On: true, Level: 60})
		on := g.always(lamp, true)
		g.pass(15 * 60)
		on()
		g.pass(2 * 60)
		g.want(lamp, false)
		g.hand(lamp, rules.Value{On: true, Level: 60})
		g.move(motion) // it was only looking elsewhere
		g.report(door, true)
		g.report(door, false)
		g.pass(7*60 + 16)
		g.want(lamp, false)
	}
}
