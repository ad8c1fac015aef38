package planner_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// on is an example home with its controllers on a set of limits.
func on(t *testing.T, home int, limits string, except map[string]string) (*model.Project, planner.Plan) {
	t.Helper()
	p := projectfile.Parse(fixtures.Homes()[home].Source).Project()
	for i := range p.Controllers {
		p.Controllers[i].Limits, p.Controllers[i].Except = limits, except
	}
	plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	return p, plan
}

// A change of limits changes the rules that are entered, and each can be entered.
func TestLimitsChangeWhatIsEntered(t *testing.T) {
	var sheets []string
	for _, limits := range []string{"modest", "able", "open"} {
		_, plan := on(t, 0, limits, map[string]string{"rules": "0"})
		var words []string
		for _, h := range plan.Placed.Hosts {
			host, ok := plan.Host(h.Host)
			if !ok || host.Limits.ID != limits {
				t.Errorf("%s: controller %s has the limits %q", limits, h.Host, host.Limits.ID)
			}
			info := fitting.Info{Parts: plan.Parts}
			for _, r := range h.Fit.Sheet.Rules {
				if err := fitting.Enterable(h.Fit.Sheet, r, host.Limits, info); err != nil {
					t.Error(limits, err)
				}
			}
			for _, e := range fitting.Entries(h.Fit, host.Limits, info) {
				for _, f := range e.Fields {
					words = append(words, f.Name+": "+f.Value)
				}
			}
		}
		if _, err := rules.Compile(plan.Fitted); err != nil {
			t.Error(limits, err)
		}
		sheets = append(sheets, strings.Join(words, "\n"))
	}
	if sheets[0] == sheets[1] || sheets[1] == sheets[2] || sheets[0] == sheets[2] {
		t.Error("two sets of limits have one rule sheet")
	}
}

// The limits of a place are its set's with what it says otherwise; what can't be read is said.
func TestExceptIsAppliedAndWrongOnesAreSaid(t *testing.T) {
	_, plan := on(t, 0, "able", map[string]string{"longest_wait": "10m"})
	if l := plan.Hosts[0].Limits; l.LongestWait.String() != "10m" || l.ID != "able" {
		t.Errorf("%+v", l)
	}
	_, plan = on(t, 0, "able", map[string]string{"longest_wait": "soon"})
	if !slices.ContainsFunc(plan.Findings, func(f planner.Finding) bool {
		return f.Serious && f.At == "controllers/under-stairs" && strings.Contains(f.Text, "longest_wait")
	}) {
		t.Errorf("a wrong limit is not said: %v", plan.Findings)
	}
}

// A hall that looks at dusk breaks its promise on a controller that doesn't know the sun, and that limit is named.
func TestTheLimitThatBreaksAPromiseIsNamed(t *testing.T) {
	able, _ := fixtures.Catalogue().LimitSet("able")
	p, plan := on(t, 2, "able", map[string]string{"sun_times": "no", "rules": "0"})
	v, err := proof.Room(t.Context(), p, plan.Fitted, "hall", proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	blames, err := plan.Blames(t.Context(), p, "hall", v, proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(blames, func(b planner.Blame) bool { return b.Promise == "hall/not-blinding" })
	if i < 0 || !slices.Equal(blames[i].Limits, []string{"sun_times"}) || !strings.Contains(blames[i].Text, "minutes from the sun") {
		t.Errorf("%+v", blames)
	}
	if !able.SunTimes {
		t.Error("the set knows no sun of its own, so the test shows nothing")
	}
}
