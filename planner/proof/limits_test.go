package proof

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
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

// limited is a controller without limits but for one, what that makes of rules, and which promises it costs. A rule that says "=" is as
// in the ideal sheet.
var limited = []struct {
	key   string
	value string
	brief string
	ideal func(*rules.Sheet) // rules that no brief gives
	rule  string             // one that the limit changes
	want  []string           // what that rule comes to, and all that bear its name; nil where only what is typed changes
	lost  []string           // promises that break
	says  string             // kind of promise that fitting says is lost
}{}

// limitsOf is the open set with one key otherwise.
func limitsOf(t *testing.T, key, value string) catalogue.Limits {
	t.Helper()
	open, _ := fixtures.Catalogue().LimitSet("open")
	lim, err := open.Except(map[string]string{key: value})
	if err != nil {
		t.Fatal(err)
	}
	return lim
}

func TestZZLimits(t *testing.T) {
	cache := &Cache{}
	for _, x := range []struct{ key, value, brief string }{
		{"longest_wait", "15m", shower}, 
		{"over_midnight", "no", shower}, {"end_inclusive", "yes", shower}, {"sun_times", "no", dusk}, {"clock_step", "5m", shower}, {"guards", "state", shower},
		{"most_guards", "1", shower}, {"seen_for", "no", washing}, {"rises_by", "no", shower}, {"flags", "no", shower}, {"presses", "press", shower}, {"ordered", "no", shower},
		{"sees_others", "no", shower}, {"latency", "5s", shower}, {"offline", "no", washing}, {"restores_waits", "no", shower}, {"toggle_only", "impulse relay", shower},
	} {
		p := projectOf(t, x.brief)
		sheet := ideal.Draft(p).Sheet
		lim := limitsOf(t, x.key, x.value)
		info := fitting.Info{Year: fitting.YearOf(p)}
		fit := fitting.Fit(sheet, lim, info)
		verdicts := func(s rules.Sheet) map[string]string {
			out := map[string]string{}
			vs, err := Home(context.Background(), p, s, Options{Cache: cache, Workers: 1})
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range vs {
				out[v.Promise.ID] = string(v.State)
				if v.State == Breaks {
					out[v.Promise.ID] += " " + v.Why
					for _, st := range v.Story {
						out[v.Promise.ID] += "\n          " + st.At.String() + " " + st.Text
					}
				}
			}
			return out
		}
		a, b := verdicts(sheet), verdicts(fit.Sheet)
		fmt.Println("==", x.key, x.value, len(sheet.Rules), len(fit.Sheet.Rules))
		for _, id := range slices.Sorted(maps.Keys(a)) {
			if a[id] != b[id] {
				fmt.Println("   ", id, a[id], b[id])
			}
		}
		for _, l := range fit.Lost {
			fmt.Println("    lost", l.Limit, l.Promise, l.Rule, l.Text)
		}
		if x.key == "longest_wait" {
			for _, r := range fit.Sheet.Rules {
				if strings.Contains(r.ID, "/door-shuts") || strings.Contains(r.ID, "/empty") {
					w := rules.Words(fit.Sheet, r)
					fmt.Println("   ", r.ID, w.Cause, "|", w.Guard, "|", w.Effect, "|", w.Hold)
				}
			}
		}
		seen := map[string]int{}
		for _, n := range fit.Notes {
			seen[n.Limit+": "+n.Costs]++
		}
		fmt.Println("    notes", seen)
	}
	_ = promises.Kind("")
	_ = q.Span(0)
	_ = strings.Cut
}

func projectOf(t *testing.T, brief string) *model.Project {
	t.Helper()
	doc := projectfile.Parse([]byte("roombrief: 1\nhome: {name: A test, place: {latitude: 53.5, longitude: 7.1, timezone: Europe/Berlin}}\npeople: [{id: ada, name: Ada, alerts: true}]\nrooms:\n" + brief))
	if !doc.OK() {
		t.Fatal(doc.Problems())
	}
	return doc.Project()
}
