package open

import (
	"fmt"
	"strings"
	"testing"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
)

// bath is a room whose fan starts at what its coldest wall bears: planned, 2 + 0.75 (20 - 2) = 15.5 °C on a winter day.
const bath = `  - id: bath
    kind: bathroom
    outline: {width: 2 m, depth: 2.5 m, ceiling: 2.4 m}
    coldest: %COLD%
    fans: [{id: extract, airflow: 30 l/s, power: 18 W, switch: box}]
    switches: [{id: box, gangs: 1, neutral: yes, depth: 40 mm}]
    brief:
      ventilation: {ceiling: %CEILING%, within: 2h}
`

func bathHome(cold, ceiling, outdoor string) string {
	out := strings.Replace(head, "  terms:", "  indoor: {winter: {temperature: 20 C, humidity: 40 %}, summer: {temperature: 24 C, humidity: 55 %}}\n  outdoor: "+outdoor+"\n  terms:", 1)
	out = strings.Replace(out, "room: a", "room: bath", 1)
	return out + strings.NewReplacer("%COLD%", cold, "%CEILING%", ceiling).Replace(bath)
}

const noted = "{winter: {temperature: 2 C, humidity: 85 %}, summer: {temperature: 17 C, humidity: 70 %}}"

// Every tenth of a degree is told the truth: in its stretch the room is aired, mould grows and the fan starts as the physics has it for
// that very temperature.
func TestColdestSurfaceByStretches(t *testing.T) {
	d := sound(t, bathHome("unknown", "reckoned", noted))
	p := weigh(t, d, shelfOf())
	x, ok := p.Of("bath/coldest")
	if !ok || !x.Matters() || x.Planned != "15.5 °C" || len(x.Answers) < 3 {
		t.Fatalf("%+v", x)
	}
	w := New(d, shelfOf(), Options{NoProof: true})
	for more := true; more; {
		var err error
		if more, err = w.Step(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	point := w.points[0]
	base := mustRoom(w.project, "bath")
	was, err := physics.Air(w.project, base)
	if err != nil {
		t.Fatal(err)
	}
	for tenths := 21; tenths < 200; tenths++ {
		cold := q.Temperature(float64(tenths) / 10)
		r := base
		r.Coldest = model.Know(cold)
		is, err := physics.Air(w.project, r)
		if err != nil {
			t.Fatal(err)
		}
		at := 0
		for i, v := range point.values {
			if v.is.(q.Temperature) <= cold+1e-9 {
				at = i
			}
		}
		a := point.each[at]
		if got := len(a.Mould) > 0; got != (was.Threshold.OK && !is.Threshold.OK) {
			t.Errorf("%v: mould %v", cold, got)
		}
		if got := len(a.Damp) > 0; got != (was.OK && !is.OK) {
			t.Errorf("%v: damp %v", cold, got)
		}
		low, high := float64(was.Ceiling), float64(was.Ceiling)
		if len(a.Starts) > 0 {
			switch n, _ := fmt.Sscanf(a.Starts[0], "the fan at %f %% to %f %%", &low, &high); n {
			case 0:
				t.Fatalf("%q", a.Starts)
			case 1:
				high = low
			}
		}
		if c := float64(is.Ceiling); c < low || c > high {
			t.Errorf("%v: the fan starts at %v, and %q is said", cold, is.Ceiling, a.Starts)
		}
	}
}

// What is stated doesn't follow from the wall; the wall only says whether it suits. Where no fan runs for damp air, nothing hangs on it.
func TestColdestSurfaceWithAStatedCeiling(t *testing.T) {
	p := weigh(t, sound(t, bathHome("unknown", "65 %", noted)), shelfOf())
	x, _ := p.Of("bath/coldest")
	if len(x.Answers) != 2 || len(x.Answers[0].Mould) == 0 == (len(x.Answers[1].Clear) == 0) || len(x.Answers[0].Starts)+len(x.Answers[1].Starts) > 0 {
		t.Errorf("%+v", x.Answers)
	}
	dry := strings.Replace(bathHome("unknown", "reckoned", "unknown"), "ventilation: {ceiling: reckoned, within: 2h}", "ventilation: none", 1)
	p = weigh(t, sound(t, dry), shelfOf())
	for _, at := range []string{"bath/coldest", "home/outdoor"} {
		if x, ok := p.Of(at); !ok || x.Matters() || x.Why != "" {
			t.Errorf("%s: %+v", at, x)
		}
	}
}

// Each usual climate is planned in full: the rules have the threshold that it makes.
func TestOutdoorByClimates(t *testing.T) {
	p := weigh(t, sound(t, bathHome("unknown", "reckoned", "unknown")), shelfOf())
	x, ok := p.Of("home/outdoor")
	if !ok || len(x.Answers) == 0 || x.Why == "" {
		t.Fatalf("%+v", x)
	}
	starts := false
	for _, a := range x.Answers {
		for _, s := range a.Starts {
			starts = starts || strings.HasPrefix(s, "the fan of the bath at ")
		}
	}
	if !starts {
		t.Errorf("no fan starts otherwise: %+v", x.Answers)
	}
}
