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
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/story"
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

// Alder Row's bedroom has a motion sensor and a door contact. What the controller of its rules hears of them from another comes late, and in any order.
func TestReportsThatComeLateBreakPromises(t *testing.T) {
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	const motion, door = "ROOM/motion", "ROOM/door"
	for _, c := range []struct {
		name   string
		things []string
		link   time.Duration
		kind   promises.Kind
		state  proof.State
		tells  []string // in this order
	}{
		{"all on one controller", nil, 2 * time.Second, promises.NotLeftBurning, proof.Kept, nil},
		{"both on another, which is as quick", []string{motion, door}, 0, promises.NotLeftBurning, proof.Kept, nil},
		{"motion of whoever leaves comes after the door has shut", []string{motion}, 2 * time.Second, promises.NotLeftBurning, proof.Breaks,
			[]string{"somebody leaves", "somebody shuts the door", "motion in Rosa's bedroom: the report reaches the other controller"}},
		{"a door is shut and opened, and the other way round", []string{door}, 2 * time.Second, promises.NotLeftBurning, proof.Breaks,
			[]string{"somebody shuts the door", "somebody opens the door", "the report reaches the other controller, ahead of one that was made before it", "the report reaches the other controller"}},
		{"motion two seconds late is in time for whoever keeps still", []string{motion, door}, 2 * time.Second, promises.NeverDark, proof.Kept, nil},
		{"motion later than all margins comes after the wait's end", []string{motion}, 3 * time.Minute, promises.NeverDark, proof.Breaks, []string{"the wait"}},
	} {
		sheet := plan.Fitted
		for _, id := range c.things {
			sheet = joinedElsewhere(sheet, strings.Replace(id, "ROOM", "bedroom", 1), c.link)
		}
		v := alone(t, p, sheet, "bedroom", c.kind)
		if v.State != c.state {
			t.Errorf("%s: %s is %s: %s %v", c.name, v.Promise.ID, v.State, v.Why, v.Story)
			continue
		}
		at := 0
		for _, want := range c.tells {
			for at < len(v.Story) && !strings.Contains(v.Story[at].Text, want) {
				at++
			}
			if at++; at > len(v.Story) {
				t.Errorf("%s: the story doesn't come to %q: %v", c.name, want, v.Story)
				break
			}
		}
		if far := len(c.things) > 0 && c.link > 0; far != (assumed(v, "relayed") != "") {
			t.Errorf("%s: it is assumed that %q", c.name, assumed(v, "relayed"))
		}
		if len(v.Story) > 0 {
			if _, err := story.Of(sheet, v); err != nil {
				t.Error(err)
			}
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

// alone is the verdict on the first promise of a kind, with no other looked at.
func alone(t *testing.T, p *model.Project, sheet rules.Sheet, room string, kind promises.Kind) proof.Verdict {
	t.Helper()
	o := ideal.Usual()
	o.Year = ideal.YearOf(p)
	for _, x := range promises.OfRoom(p, promises.NewIndex(sheet), o, rules.Equinox, room) {
		if x.Kind == kind {
			v, err := proof.Prove(t.Context(), sheet, x, proof.Usual)
			if err != nil {
				t.Fatal(err)
			}
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
