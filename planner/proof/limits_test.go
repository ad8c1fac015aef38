package proof

import (
	"context"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// dusk is a hall whose periods begin with the sun.
const dusk = `  - id: hall
    name: Hall
    kind: hall
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        periods: [{from: "06:00", level: 80 %}, {from: dusk, level: 40 %}, {from: "23:00", level: 5 %}]
        stop: {after: 4m, never_while: moving}
        keep_manual: true
`

// late is the bath with a day that begins two minutes past six.
var late = strings.Replace(shower, "06:00", "06:02", 1)

// limited is a controller without limits but for one: an ideal rule, what that comes to on it, and which promises then break. Whatever
// else is promised comes to the same on the ideal sheet and on the fitted one.
var limited = []struct {
	key, value string
	brief      string
	ideal      string   // the rule's id, and what it says; empty where it is the same
	fitted     []string // all that carry it out
	breaks     []string // promises
	says       string   // what fitting says it costs: "lost" and the promise, or "note" and the cost
}{
	{key: "rules", value: "10", brief: shower, ideal: "bath/seen", fitted: []string{`Motion is seen in the bath: start the wait "empty" for 20m, again from now`},
		says: "lost each earns its place"},
	{key: "longest_wait", value: "30m", brief: shower,
		ideal: `bath/knob-double The button at the wall is pressed twice: fan on; start the wait "fan asked" for 40m, never cutting it short`,
		fitted: []string{`The button at the wall is pressed twice: fan on; stop the wait "fan asked"; start the wait "fan asked part 2" for 10m, again from now; ` +
			`start the wait "fan asked over 10m" for 30m, again from now`}},
	{key: "restarts", value: "no", brief: shower, ideal: `bath/seen Motion is seen in the bath: start the wait "empty" for 20m, again from now`,
		fitted: []string{`Motion is seen in the bath: stop the wait "empty"; start the wait "empty" for 20m, unless it runs already`}},
	{key: "keeps", value: "no", brief: shower,
		ideal: `bath/air "damp air" is noted, "aired enough today" is not noted: fan on; start the wait "fan damp" for 5m, unless it runs already; start the wait "fan limit" for 2h, unless it runs already`,
		fitted: []string{`"damp air" is noted, "aired enough today" is not noted: fan on; start the wait "fan damp" for 5m, again from now`,
			`"damp air" is noted, "aired enough today" is not noted, and the wait "fan limit" does not run: start the wait "fan limit" for 2h, again from now`}},
	{key: "holds", value: "no", brief: shower, ideal: "bath/aired",
		fitted: []string{`The wait "fan damp" runs out, "damp air" is not noted: stop the wait "fan limit"`,
			`The wait "fan damp" runs out, "damp air" is noted: start the wait "fan damp" for 5m, again from now`,
			`"damp air" is forgotten, the wait "fan damp" runs: start the wait "fan damp" for 5m, again from now`}},
	{key: "over_midnight", value: "no", brief: shower, ideal: `bath/light-on-night Motion is seen in the bath, between 22:00 and 06:00, and "set by hand" is not noted: lamp to 5 %`,
		fitted: []string{`Motion is seen in the bath, between 22:00 and 00:00, and "set by hand" is not noted: lamp to 5 %`,
			`Motion is seen in the bath, between 00:00 and 06:00, and "set by hand" is not noted: lamp to 5 %`}},
	// What is typed is a step sooner; TestTypedWindowsAdjoin of the fitting holds it.
	{key: "end_inclusive", value: "yes", brief: shower, ideal: "bath/light-on-night",
		fitted: []string{`Motion is seen in the bath, between 22:00 and 06:00, and "set by hand" is not noted: lamp to 5 %`}},
	{key: "sun_times", value: "no", brief: dusk, ideal: `hall/light-to-evening It is dusk, the wait "empty" runs, and "set by hand" is not noted: lamp to 40 %`,
		fitted: []string{`It is 17:28:23, the wait "empty" runs, and "set by hand" is not noted: lamp to 40 %`}, breaks: []string{"hall/light-on-entry"},
		says: "note They are up to 37 minutes from the sun."},
	{key: "clock_step", value: "5m", brief: late, ideal: `bath/light-to-morning It is 06:02, the wait "empty" runs, and "set by hand" is not noted: lamp to 80 %`,
		fitted: []string{`It is 06:00, the wait "empty" runs, and "set by hand" is not noted: lamp to 80 %`}, breaks: []string{"bath/light-on-entry", "bath/not-blinding"},
		says: "note It is off by 2m."},
	// Without a look at states nothing holds a level set by hand, and no airing begins.
	{key: "guards", value: "time", brief: shower, ideal: `bath/light-on-night Motion is seen in the bath, between 22:00 and 06:00, and "set by hand" is not noted: lamp to 5 %`,
		fitted: []string{`Motion is seen in the bath, between 22:00 and 06:00: lamp to 5 %`}, breaks: []string{"bath/aired", "bath/as-asked", "bath/not-left-burning"}, says: "lost as asked"},
	// Whoever enters the rules sets the notes of the hour; a power cut over an edge leaves them wrong until the next.
	{key: "guards", value: "state", brief: shower, ideal: `bath/light-on-night Motion is seen in the bath, between 22:00 and 06:00, and "set by hand" is not noted: lamp to 5 %`,
		fitted: []string{`It is 22:00: note "from 22:00 to 06:00"`, `It is 06:00: forget "from 22:00 to 06:00"`,
			`Motion is seen in the bath, "from 22:00 to 06:00" is noted, and "set by hand" is not noted: lamp to 5 %`},
		says: "note It is set by hand when the rules are entered, and wrong after a power cut over an edge until the next one."},
	{key: "most_guards", value: "1", brief: shower, ideal: `bath/light-on-night Motion is seen in the bath, between 22:00 and 06:00, and "set by hand" is not noted: lamp to 5 %`,
		fitted: []string{`Motion is seen in the bath, between 22:00 and 06:00: note "looking further 3"`, `"looking further 3" is noted: forget "looking further 3"`,
			`"looking further 3" is noted, "set by hand" is not noted: lamp to 5 %`}},
	{key: "seen_for", value: "no", brief: washing, ideal: `wash/iron-rests Power of the iron has stayed at 15 W or less for 10m: stop the wait "iron limit"; stop the wait "iron warn"`,
		fitted: []string{`Power of the iron comes back to 15 W: start the wait "iron power under 15" for 10m, again from now`,
			`Power of the iron goes over 15 W: stop the wait "iron power under 15"`,
			`The power comes back, power of the iron is at most 15 W: start the wait "iron power under 15" for 10m, again from now`,
			`The wait "iron power under 15" runs out: stop the wait "iron limit"; stop the wait "iron warn"`}},
	{key: "flags", value: "no", brief: shower, ideal: `bath/by-hand The lamp is changed by hand: note "set by hand"; start the wait "empty" for 20m, never cutting it short`,
		fitted: []string{`The lamp is changed by hand: start the wait "by hand" for 12h, again from now`,
			`The lamp is changed by hand: start the wait "empty" for 20m, never cutting it short`,
			`The wait "by hand" runs out: start the wait "by hand" for 12h, again from now`}},
	{key: "presses", value: "press", brief: shower, ideal: `bath/knob-double The button at the wall is pressed twice: fan on; start the wait "fan asked" for 40m, never cutting it short`,
		fitted: []string{}, breaks: []string{"bath/wish-kept"}, says: "lost wish kept"},
	{key: "toggle_only", value: "impulse relay", brief: shower, ideal: `bath/aired-off The wait "fan damp" runs out, the wait "fan asked" does not run: fan off`,
		fitted: []string{`The wait "fan damp" runs out, the wait "fan asked" does not run, and the fan is on: fan off`}},
	// The rule behind it notes damp air where both say so; without an order the two keep out of each other's way.
	{key: "ordered", value: "no", brief: shower, ideal: `bath/power-back-dry The power comes back: forget "damp air"`,
		fitted: []string{`The power comes back, humidity in the bath is at most 65 %: forget "damp air"`,
			`The power comes back, humidity in the bath is no more than 5 points above humidity of the house: forget "damp air"`}},
	{key: "latency", value: "5s", brief: shower, ideal: "bath/seen", fitted: []string{`Motion is seen in the bath: start the wait "empty" for 20m, again from now`},
		says: "note Rules that look at it act that much later."},
	{key: "offline", value: "no", brief: washing, ideal: "wash/iron-cut",
		fitted: []string{`The wait "iron limit" runs out: iron off; stop the wait "iron limit"; stop the wait "iron warn"; tell Ada: "The iron in the wash was switched off after 25m."`}, says: "lost cut off"},
	{key: "restores_waits", value: "no", brief: shower, ideal: "bath/seen", fitted: []string{`Motion is seen in the bath: start the wait "empty" for 20m, again from now`}},
}

// elsewhere are the keys that a room alone, or a brief, says nothing of, with the test of the fitting that shows them.
var elsewhere = map[string]string{
	"stacks":      "TestEachLimitByHand, wishes on top of each other",
	"rises_by":    "TestEachLimitByHand, a rise",
	"sees_others": "TestSharedSensorIsSeenOrKeepsRoomsTogether",
}

func TestEveryLimitIsShown(t *testing.T) {
	for _, k := range catalogue.LimitKeys() {
		shown := k == "id" || k == "name" || elsewhere[k] != ""
		for _, x := range limited {
			shown = shown || x.key == k
		}
		if !shown {
			t.Errorf("nothing shows what the limit %s does", k)
		}
	}
}

func projectOf(t *testing.T, brief string) *model.Project {
	t.Helper()
	doc := projectfile.Parse([]byte("roombrief: 1\nhome: {name: A test, place: {latitude: 53.5, longitude: 7.1, timezone: Europe/Berlin}}\n" +
		"people: [{id: ada, name: Ada, alerts: true}]\nrooms:\n" + brief))
	if !doc.OK() {
		t.Fatal(doc.Problems())
	}
	return doc.Project()
}

// worded are the rules that an ideal one became, in words.
func worded(s rules.Sheet, id string) []string {
	out := []string{}
	for _, r := range s.Rules {
		if stem, _, _ := strings.Cut(r.ID, "~"); stem != id {
			continue
		}
		w := rules.Words(s, r)
		line := w.Cause
		if w.Guard != "" {
			line += ", " + w.Guard
		}
		out = append(out, line+": "+w.Effect)
	}
	return out
}

func TestALimitKeepsWhatIsPromisedOrIsNamed(t *testing.T) {
	cache := &Cache{}
	for _, x := range limited {
		t.Run(x.key+" "+x.value, func(t *testing.T) {
			p := projectOf(t, x.brief)
			sheet := ideal.Draft(p).Sheet
			open, _ := fixtures.Catalogue().LimitSet("open")
			lim, err := open.Except(map[string]string{x.key: x.value})
			if err != nil {
				t.Fatal(err)
			}
			info := fitting.Info{Year: fitting.YearOf(p)}
			if x.key == "toggle_only" {
				info.Parts = map[string]catalogue.Part{"bath/fan": {ID: "relay", Kind: x.value}}
			}
			fit := fitting.Fit(sheet, lim, info)
			id, words, _ := strings.Cut(x.ideal, " ")
			if got := worded(sheet, id); words != "" && (len(got) != 1 || got[0] != words) {
				t.Errorf("the ideal rule is\n%s\nnot\n%s", strings.Join(got, "\n"), words)
			}
			if got := worded(fit.Sheet, id); !slices.Equal(got, x.fitted) {
				t.Errorf("it comes to\n%s\nnot to\n%s", strings.Join(got, "\n"), strings.Join(x.fitted, "\n"))
			}
			said := x.says == ""
			for _, l := range fit.Lost {
				said = said || l.Limit == x.key && "lost "+l.Promise == x.says
			}
			for _, n := range fit.Notes {
				said = said || n.Limit == x.key && "note "+n.Costs == x.says
			}
			if !said {
				t.Errorf("nothing says %q: %+v %+v", x.says, fit.Lost, fit.Notes)
			}
			ideal, fitted := states(t, p, sheet, cache), states(t, p, fit.Sheet, cache)
			for id, was := range ideal {
				if now := fitted[id]; slices.Contains(x.breaks, id) != (was == Kept && now != Kept) {
					t.Errorf("%s is %s on the ideal rules and %s on the fitted ones", id, was, now)
				}
			}
		})
	}
}

func states(t *testing.T, p *model.Project, s rules.Sheet, cache *Cache) map[string]State {
	t.Helper()
	vs, err := Home(context.Background(), p, s, Options{Cache: cache})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]State{}
	for _, v := range vs {
		out[v.Promise.ID] = v.State
	}
	return out
}
