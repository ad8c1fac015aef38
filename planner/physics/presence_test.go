package physics_test

import (
	"math"
	"testing"
	"time"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

const closet = `roombrief: 1
home: {name: One room, place: {latitude: 53.96, longitude: -1.08, timezone: Europe/London}, currency: GBP, mains: {voltage: 230 V}}
rooms:
  - id: room
    kind: study
    outline: {width: 3 m, depth: 3 m, ceiling: 2.4 m}
    doors: [{id: door, to: outside, usually: closed}]
    circuits: [{id: lamp, lamps: 1, flux: 800 lm, power: 9 W, base: E27, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        periods: [{from: 00:00, level: 100 %}]
        stop: {after: 10m, never_while: occupied}
choices:
  sense: {room: doors}
  doors: {room: brisk}
  blind: {room: 1s}
`

// later are the rows at which the rules are still waiting, on purpose, when the reference has given the room up.
var later = map[string]string{
	"B_leave_and_close 10.5":            "the stop time starts once the sensor must have gone quiet after the door shut",
	"C_open_room_still 11.1":            "with a door open the room waits as long as people of its kind keep still",
	"E_open_left_open_after_latch 40.1": "the same",
}

// The reference deduces presence from motion and one door; here the light says whether a room is in use. The rules agree
// with it row by row, but for those in later: there they wait longer, never shorter.
func TestPresenceReference(t *testing.T) {
	d := projectfile.Parse([]byte(closet))
	if !d.OK() {
		t.Fatal(d.Problems())
	}
	sheet := ideal.Draft(d.Project()).Sheet
	p, err := rules.Compile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	thing := func(id string) int {
		i, ok := p.Thing(id)
		if !ok {
			t.Fatalf("no thing %s", id)
		}
		return i
	}
	lamp, motion, door := thing("room/lamp"), thing("room/motion"), thing("room/door")
	last, compared := "", 0
	var s rules.State
	clock := 0.0
	set := func(what int, on bool) {
		s, _ = p.Step(s, rules.Event{Kind: rules.Reported, Thing: what, Value: rules.Value{On: on}})
	}
	for _, r := range table(t, "presence_logic.csv") {
		if r["scenario"] != last {
			last, clock = r["scenario"], 0
			s = p.Start(rules.Equinox.Second(quantity.DayTime{Offset: 12 * time.Hour}))
		}
		at := number(t, r["t_min"])
		s, _ = p.Advance(s, int(math.Round((at-clock)*60)))
		clock = at
		switch r["event"] {
		case "open", "close":
			set(door, r["event"] == "open")
		case "motion":
			set(motion, true)
			s, _ = p.Advance(s, 1)
			clock += 1.0 / 60
			set(motion, false)
		}
		got := "vacant"
		if p.Value(s, lamp).On {
			got = "occupied"
		}
		why, waits := later[r["scenario"]+" "+r["t_min"]]
		switch {
		case waits && (r["state"] != "vacant" || got != "occupied"):
			t.Errorf("%s at %s min: %s, though %s", r["scenario"], r["t_min"], got, why)
		case !waits && got != r["state"]:
			t.Errorf("%s at %s min, after %s: %s, want %s", r["scenario"], r["t_min"], r["event"], got, r["state"])
		}
		compared++
	}
	if compared < 40 {
		t.Errorf("only %d rows", compared)
	}
}
