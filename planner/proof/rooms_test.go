package proof

import (
	"context"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// verdictOn proves one promise of one room, on rules that may be changed before; a fault is one that the promise has to survive.
func verdictOn(t *testing.T, brief, id string, change func(*rules.Sheet), fault promises.FaultKind) Verdict {
	t.Helper()
	doc := projectfile.Parse([]byte("roombrief: 1\nhome: {name: A test}\npeople: [{id: ada, name: Ada, alerts: true}]\nrooms:\n" + brief))
	if !doc.OK() {
		t.Fatal(doc.Problems())
	}
	p := doc.Project()
	sheet := ideal.Draft(p).Sheet
	if change != nil {
		change(&sheet)
	}
	ix := promises.NewIndex(sheet)
	for _, x := range promises.OfAll(p, ix, ideal.Usual(), rules.Equinox) {
		list := append([]promises.Promise{x}, x.Faulty(ix)...)
		for _, y := range list {
			if x.ID != id || y.Fault.Kind != fault {
				continue
			}
			v, err := prove(context.Background(), ix, y, Usual, &Cache{})
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
	}
	t.Fatalf("there is no promise %s", id)
	return Verdict{}
}

// lines are the story of a verdict, each line with its time.
func lines(v Verdict) (out []string) {
	for _, s := range v.Story {
		out = append(out, s.At.String()+" "+s.Text)
	}
	return out
}

// expect holds a verdict to what was worked out.
func expect(t *testing.T, v Verdict, id string, state State, moving time.Duration) {
	t.Helper()
	if v.State != state || v.Moving != moving {
		t.Errorf("%s is %s (%s, moving %s), not %s (moving %s)", id, v.State, v.Why, v.Moving, state, moving)
	}
}

// edit changes a rule of a sheet, or takes it out where there is no change.
func edit(rule string, change func(*rules.Rule)) func(*rules.Sheet) {
	return func(s *rules.Sheet) {
		var out []rules.Rule
		for _, r := range s.Rules {
			if r.ID == rule {
				if change == nil {
					continue
				}
				change(&r)
			}
			out = append(out, r)
		}
		s.Rules = out
	}
}

const shower = `  - id: bath
    name: Bath
    kind: shower room
    doors: [{id: door, to: outside, usually: closed}]
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    fans: [{id: fan}]
    brief:
      lighting:
        start: on entry
        periods: [{from: "06:00", level: 80 %}, {from: "22:00", level: 5 %}]
        stop: {after: 20m, never_while: occupied}
        keep_manual: true
      ventilation:
        ceiling: 65 %
        at_most: 2h a day
        on_request: [{run: 40m}]
      buttons: [{id: knob, where: wall, press: fan 10m, double: fan 40m}]
`

const den = `  - id: den
    name: Den
    kind: study
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        periods: [{from: "06:00", level: 60 %}]
        stop: {after: 2m, never_while: moving}
        keep_manual: true
`

const washing = `  - id: wash
    name: Wash
    kind: utility room
    water: [{id: tub, kind: waste}, {id: cock, kind: stopcock}]
    appliances: [{id: iron, kind: iron, power: 2000 W}]
    brief:
      leak: {points: [tub], tell: [ada], within: 30s, again: 10m, sound: true, shut: wash/cock}
      shutoff: [{appliance: iron, after: 25m, warn: 3m, extend: button}]
`

// worked are rooms that were worked out on paper: the verdict, how often people have to move where that is what it
// hangs on, and for a broken one the last lines of its story.
var worked = []struct {
	name   string
	brief  string
	id     string
	change func(*rules.Sheet)
	fault  promises.FaultKind
	state  State
	moving time.Duration
	ends   []string // "at text" of the last lines
}{
	{name: "with the hold on the door's flag alone, and a door that doesn't clear it, light burns for ever", brief: shower, id: "bath/not-left-burning",
		change: edit("bath/door-opens", nil), state: Breaks, ends: []string{"the time of the promise is up"}},
	// 20 min are longer than the 15 that people here keep still: motion must come within the stop time at the latest.
	{name: "somebody showers with the door open or shut", brief: shower, id: "bath/never-dark-on-someone", state: Kept},
	// The sensor is blind for 1 min and then quiet; 2 min later the wait ends, at 3:00. A movement in the last blind
	// second isn't seen, so whoever makes it has to make another before 3:00: 1 min 59 s later.
	{name: "motion alone and a short stop", brief: den, id: "den/never-dark-on-someone", state: Breaks, moving: time.Minute + 59*time.Second,
		ends: []string{"1m0s motion in the den is over, as the sensor says", `3m0s the wait "empty" runs out`}},
	{name: "the iron's limit counts from its first use, whatever it is switched meanwhile", brief: washing, id: "wash/iron-cut-off", state: Kept},
	{name: "the warning", brief: washing, id: "wash/iron-warned-before", state: Kept},
	{name: "a leak shuts the water", brief: washing, id: "wash/water-shut", state: Kept},
	{name: "and not without its effect", brief: washing, id: "wash/water-shut", state: Breaks,
		change: edit("wash/wet-tub", func(r *rules.Rule) { r.Effects = r.Effects[1:] }), ends: []string{"31s the time of the promise is up"}},
}

func TestRoomsWorkedOnPaper(t *testing.T) {
	for _, w := range worked {
		t.Run(w.name, func(t *testing.T) {
			v := verdictOn(t, w.brief, w.id, w.change, w.fault)
			expect(t, v, w.id, w.state, w.moving)
			lines := lines(v)
			if len(lines) < len(w.ends) {
				t.Fatalf("the story is %q", lines)
			}
			for i, end := range w.ends {
				if got := lines[len(lines)-len(w.ends)+i]; !strings.HasSuffix(got, end) {
					t.Errorf("%q, not %q, in the story\n%s", got, end, strings.Join(lines, "\n"))
				}
			}
		})
	}
}
