package readback

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/roombrief/model/projectfile"
)

var update = flag.Bool("update", false, "write the golden files anew")

// home puts a brief into a room that has a bit of everything.
func home(t testing.TB, units, brief string) *projectfile.Document {
	t.Helper()
	text := `roombrief: 1
home: {name: 14 Alder Row, units: ` + units + `}
people:
  - {id: rosa, name: Rosa, role: owner, alerts: true}
  - {id: dilip, name: Dilip next door, role: neighbour, alerts: true}
rooms:
  - id: kitchen
    name: Kitchen
    kind: kitchen
    water: [{id: main, kind: stopcock}]
  - id: shower-room
    name: Shower room
    kind: shower room
    circuits: [{id: ceiling, lamps: 3}, {id: mirror, lamps: 1}]
    switches: [{id: box-1, gangs: 2}]
    fans: [{id: extract, airflow: 21 l/s}]
    water: [{id: cistern, kind: supply}, {id: tray, kind: waste}]
    appliances:
      - {id: iron, kind: clothes iron, power: 2400 W}
      - {id: dryer, kind: hair dryer, power: 1800 W}
      - {id: freezer, kind: freezer, must_stay_on: true}
` + brief
	d := projectfile.Parse([]byte(text))
	for _, p := range d.Problems() {
		t.Fatalf("%s\n%s", p.Error(), text)
	}
	return d
}

// briefs are read back one after the other into one golden file for each goal.
var briefs = map[string][]string{
	"lighting": {
		"lighting: none",
		"lighting: {start: on entry}",
		"lighting: {start: on request}",
		"lighting: {stop: {after: 5m}}",
		"lighting: {start: on entry, periods: [{from: 00:00, level: 100 %}], stop: {after: 6m, never_while: occupied}, keep_manual: true}",
		"lighting: {start: on entry, periods: [{from: 06:20, level: 90 %, colour: 4000 K}, {from: sunset, level: 35 %, colour: 2700 K}, {from: '22:45', level: 4 %, colour: 2200 K, circuits: [mirror]}], stop: {after: 6m, never_while: occupied}, keep_manual: true}",
		"lighting: {start: on request, periods: [{from: sunrise-00:30, level: 80 %}, {from: dusk, level: 30 %, colour: 3500 K}], stop: {after: 1h10m, never_while: moving}}",
		"lighting: {start: on entry, periods: [{from: 08:00, level: 0 %}, {from: sunset+00:15, level: 50 %, colour: 5000 K}], stop: {after: 90s}}",
		"lighting: {start: on entry, periods: [{from: 08:00, level: 0 %}]}",
		"lighting: {start: on entry, periods: [{from: 08:00, level: 40 %}], stop: {never_while: occupied}}",
	},
	"ventilation": {
		"ventilation: none",
		"ventilation: {ceiling: 65 %}",
		"ventilation: {ceiling: reckoned, within: 45m}",
		"ventilation: {ceiling: 65 %, within: 45m, at_most: 2h a day, on_request: [{run: 20m}], quiet: {from: '23:00', to: 06:00, except: humidity}}",
		"ventilation: {with_people: {after: 2m, run_on: 15m}, on_request: [{run: 20m}, {run: 1h}], quiet: {from: '22:00', to: 07:00, except: request}}",
		"ventilation: {with_people: {after: 1m}, quiet: {from: '22:00', to: 07:00, except: both}}",
		"ventilation: {with_people: {run_on: 10m}, quiet: {from: sunset, to: sunrise, except: nothing}}",
		"ventilation: {within: 30m}",
		"ventilation: {on_request: [{run: 30m}]}",
	},
	"leak": {
		"leak: none",
		"leak: {points: [cistern]}",
		"leak: {points: [cistern, tray], tell: [rosa, dilip], within: 30s}",
		"leak: {tell: [rosa], within: 1m, again: 15m, sound: true}",
		"leak: {points: [tray], sound: true, again: 1h}",
		"leak: {points: [cistern, tray], tell: [rosa], within: 30s, again: 1h10m, sound: true, shut: kitchen/main}",
	},
	"shutoff": {
		"shutoff: none",
		"shutoff: [{appliance: iron, after: 25m, idle: {below: 20 W, for: 8m}, warn: 3m, extend: button, tell: [rosa]}]",
		"shutoff: [{appliance: iron, after: 25m}, {appliance: dryer, idle: {below: 5 W, for: 90s}, warn: 30s}]",
		"shutoff: [{appliance: dryer, after: 20m, extend: button, tell: [rosa, dilip]}, {appliance: iron}]",
	},
	"buttons": {
		"buttons: none",
		"buttons: [{id: by-basin, where: basin, press: lights full, double: fan 20m, hold: everything off}]",
		"buttons: [{id: by-door, press: lights 30 %}, {id: b2, where: by Rosa's bed, double: lights off, hold: lights auto}, {id: b3, where: outside the door, hold: fan off}]",
		"shutoff: [{appliance: iron, after: 25m}]\n      buttons: [{id: a, where: by the board, press: extend iron, double: acknowledge}, {id: idle, where: on the shelf}]",
	},
	"said": {
		"said: [{goal: lighting, words: I don't want to be blinded.}, {goal: room, words: Keep it simple}, {words: Thanks}]\nopen:\n  - {at: shower-room/switches/box-1/neutral, ask: electrician, words: after Easter}\n  - {at: shower-room/brief/lighting/periods}\n  - {at: shower-room/doors}\n  - {at: home/walls}",
	},
}

func TestSentences(t *testing.T) {
	for goal, list := range briefs {
		t.Run(goal, func(t *testing.T) {
			var out strings.Builder
			for _, units := range []string{"metric", "us"} {
				for _, b := range list {
					d := home(t, units, "    brief:\n      "+b+"\n")
					out.WriteString(units + "  " + b + "\n")
					for _, s := range Room(d.Project(), "shower-room") {
						check(t, s)
						mark := "    "
						if s.Caution {
							mark = "  ! "
						}
						out.WriteString(mark + s.Text + "\n")
					}
					out.WriteString("\n")
				}
			}
			golden(t, goal+".txt", out.String())
		})
	}
}

// check holds a sentence against what every sentence must be.
func check(t testing.TB, s Sentence) {
	t.Helper()
	switch {
	case s.Goal == "" || s.Text == "":
		t.Errorf("an empty sentence: %+v", s)
	case strings.ToUpper(s.Text[:1]) != s.Text[:1]:
		t.Errorf("no capital: %s", s.Text)
	case !strings.HasSuffix(s.Text, ".") && !strings.HasSuffix(s.Text, "”"):
		t.Errorf("no full stop: %s", s.Text)
	case strings.Contains(s.Text, "  ") || strings.Contains(s.Text, "%!") || strings.Contains(s.Text, " ,") || strings.Contains(s.Text, "the the"):
		t.Errorf("badly put together: %s", s.Text)
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run the test with -update and look at the difference\n%s", name, got)
	}
}

func TestNothingToSay(t *testing.T) {
	d := home(t, "metric", "")
	if s := Room(d.Project(), "attic"); s != nil {
		t.Errorf("a room that does not exist says %v", s)
	}
	if s := Room(nil, "attic"); s != nil {
		t.Errorf("no project says %v", s)
	}
	if s := Room(d.Project(), "kitchen"); len(s) != 0 {
		t.Errorf("a room without a brief says %v", s)
	}
}

// A period lasts until the next one starts, in whatever order they are written: each order is read back in the same sentences.
func TestPeriodsAreReadBackInTheOrderOfTheDay(t *testing.T) {
	parts := []string{"{from: 06:00, level: 60 %}", "{from: '12:00', level: 30 %}", "{from: sunset, level: 20 %}", "{from: '22:00', level: 5 %}"}
	want := []string{
		"When somebody comes in between 06:00 and 12:00, the ceiling and mirror lights come on at 60 %.",
		"When somebody comes in between 12:00 and sunset, the ceiling and mirror lights come on at 30 %.",
		"When somebody comes in between sunset and 22:00, the ceiling and mirror lights come on at 20 %.",
		"When somebody comes in between 22:00 and 06:00, the ceiling and mirror lights come on at 5 %.",
	}
	for _, order := range [][]int{{0, 1, 2, 3}, {0, 3, 1, 2}, {3, 2, 1, 0}, {2, 0, 3, 1}} {
		var written []string
		for _, i := range order {
			written = append(written, parts[i])
		}
		d := home(t, "metric", "    brief: {lighting: {start: on entry, periods: ["+strings.Join(written, ", ")+"]}}\n")
		var got []string
		for _, s := range Room(d.Project(), "shower-room") {
			got = append(got, s.Text)
		}
		for k := range want {
			if w := want[(order[0]+k)%len(want)]; got[k] != w {
				t.Errorf("written in the order %v, it says %q, want %q", order, got[k], w)
			}
		}
	}
}

func TestALampIsNoLampLight(t *testing.T) {
	for id, want := range map[string]string{"light": "the light comes", "bedside-lamp": "the bedside lamp comes", "ceiling": "the ceiling light comes", "daylight": "the daylight light comes"} {
		d := projectfile.Parse([]byte("roombrief: 1\nrooms: [{id: den, circuits: [{id: " + id + "}], brief: {lighting: {start: on entry, periods: [{from: 06:00, level: 50 %}]}}}]\n"))
		if got := Room(d.Project(), "den")[0].Text; !strings.Contains(got, want+" on at 50 %") {
			t.Errorf("%s: %q", id, got)
		}
	}
}
