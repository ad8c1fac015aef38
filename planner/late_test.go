package planner_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// The probe takes 2 s to report, the valve 8 s to shut: each is quick enough for 9 s, and the two of them aren't.
func TestDevicesThatTakeTooLongTogetherBreakAPromise(t *testing.T) {
	for within, state := range map[string]proof.State{"9s": proof.Breaks, "10s": proof.Kept} {
		source := bytes.ReplaceAll(fixtures.Homes()[0].Source, []byte("within: 30s"), []byte("within: "+within))
		p := projectfile.Parse(source).Project()
		plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
		if err != nil {
			t.Fatal(err)
		}
		v := verdictOn(t, p, plan.Fitted, "utility", promises.WaterShut)
		if v.State != state {
			t.Errorf("with %s the water is %s: %s", within, v.State, v.Why)
		}
		if state == proof.Breaks && !strings.Contains(v.Why, "may take 10s") {
			t.Errorf("it isn't said why: %s", v.Why)
		}
		blames, err := plan.Blames(t.Context(), p, "utility", []proof.Verdict{v}, proof.Options{})
		if err != nil || len(blames) > 0 {
			t.Errorf("no limit of the controller is to blame for it: %+v, %v", blames, err)
		}
	}
}

// A sensor that is joined to a controller which another hears of late brings the light late: within the seconds that are said, and
// not at all in time where that is too long for anybody.
func TestAControllerThatHearsLateOfAnotherBringsTheLightLate(t *testing.T) {
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		link   time.Duration
		within string
		state  proof.State
	}{{0, "within 3s", proof.Kept}, {2 * time.Second, "within 5s", proof.Kept}, {3 * time.Second, "within 6s", proof.Breaks}} {
		sheet := joinedElsewhere(plan.Fitted, "hall/motion", c.link)
		v := verdictOn(t, p, sheet, "hall", promises.LightOnEntry)
		if v.State != c.state || !strings.Contains(v.Promise.Sentence, c.within) {
			t.Errorf("with %s between controllers it is %s: %s %s", c.link, v.State, v.Promise.Sentence, v.Why)
		}
		if said := assumed(v, "late"); (c.link > 0) != strings.Contains(said, "from the controller attic to under-stairs") || !strings.Contains(said, "2s until motion in the hall is reported") {
			t.Errorf("with %s between controllers it is assumed that %q", c.link, said)
		}
	}
}

// joinedElsewhere is a sheet with a thing joined to a controller of which that of the rules hears so late.
func joinedElsewhere(sheet rules.Sheet, thing string, late time.Duration) rules.Sheet {
	sheet.Things = append([]rules.Thing(nil), sheet.Things...)
	for i := range sheet.Things {
		if sheet.Things[i].ID == thing {
			sheet.Things[i].At = "attic"
		}
	}
	sheet.Links = map[string]time.Duration{"under-stairs": late}
	return sheet
}

func verdictOn(t *testing.T, p *model.Project, sheet rules.Sheet, room string, kind promises.Kind) proof.Verdict {
	t.Helper()
	vs, err := proof.Room(t.Context(), p, sheet, room, proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range vs {
		if v.Promise.Kind == kind {
			return v
		}
	}
	t.Fatalf("%s promises nothing of the kind %s", room, kind)
	return proof.Verdict{}
}

func assumed(v proof.Verdict, id string) string {
	for _, a := range v.Promise.Assumes {
		if a.ID == id {
			return a.Text
		}
	}
	return ""
}
