package fitting

import (
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// A home fitted crew by crew is the home fitted at once, and what Count says.
func TestCrewsComeToTheWholeHome(t *testing.T) {
	for _, home := range fixtures.Homes() {
		sheet := homeSheet(t, home.File)
		for _, lim := range fixtures.Catalogue().Limits {
			lim.Rules = 2000 // rules of one goal become one where rules count, but nothing is too much
			placed := Place(sheet, []Host{{ID: "one", Limits: lim}}, Info{})
			whole := placed.Whole(sheet)
			if _, err := rules.Compile(whole); err != nil {
				t.Errorf("%s on %s: %v", home.File, lim.ID, err)
			}
			if got, want := idsOf(whole), idsOf(Fit(sheet, lim, Info{}).Sheet); !slices.Equal(got, want) {
				t.Errorf("%s on %s: %d rules by crews, %d at once", home.File, lim.ID, len(got), len(want))
			}
			if n := NewHome(sheet, func() []rules.Day { return nil }).Count(lim); n != len(whole.Rules) {
				t.Errorf("%s on %s: %d rules are counted, and there are %d", home.File, lim.ID, n, len(whole.Rules))
			}
			seen := map[string]bool{}
			for _, r := range whole.Rules {
				if seen[r.ID] || r.Controller != "one" || len(placed.Hosts[0].Fit.From[r.ID]) == 0 {
					t.Errorf("%s on %s: rule %s of %q comes from %v", home.File, lim.ID, r.ID, r.Controller, placed.Hosts[0].Fit.From[r.ID])
				}
				seen[r.ID] = true
				if err := Enterable(whole, r, lim, Info{}); err != nil {
					t.Errorf("%s on %s: %v", home.File, lim.ID, err)
				}
			}
		}
	}
}

func idsOf(s rules.Sheet) []string {
	var out []string
	for _, r := range s.Rules {
		out = append(out, r.ID)
	}
	slices.Sort(out)
	return out
}

// What two controllers remember doesn't mix, and everything that the ideal sheet sees is still there.
func TestWholeHasAllControllers(t *testing.T) {
	sheet := twoRooms()
	p := Place(sheet, []Host{{ID: "a", Room: "hall", Limits: limitSet(t, "able")}, {ID: "b", Room: "shed", Limits: limitSet(t, "modest")}}, Info{})
	whole := p.Whole(sheet)
	if len(whole.Things) < len(sheet.Things) {
		t.Errorf("%d of %d things", len(whole.Things), len(sheet.Things))
	}
	on := map[string]string{}
	for _, r := range whole.Rules {
		if was := on[r.Room]; was != "" && was != r.Controller {
			t.Errorf("rules of the %s are on %s and %s", r.Room, was, r.Controller)
		}
		on[r.Room] = r.Controller
	}
	if on["hall"] != "a" || on["shed"] != "b" {
		t.Errorf("placed %v", on)
	}
}

func BenchmarkPlace(b *testing.B) {
	sheet := homeSheet(b, "alder-row.yaml")
	for _, lim := range fixtures.Catalogue().Limits {
		b.Run(lim.ID, func(b *testing.B) {
			for b.Loop() {
				Place(sheet, []Host{{ID: "one", Limits: lim}}, Info{})
			}
		})
	}
}

// What Count takes from the first rooms of a large home tells the same controllers as too small as all of its rules would.
func TestCountOfALargeHome(t *testing.T) {
	p := projectfile.Parse(fixtures.Building(24)).Project()
	sheet := ideal.Draft(p).Sheet
	year := func() []rules.Day { return YearOf(p) }
	for _, lim := range fixtures.Catalogue().Limits {
		got := NewHome(sheet, year).Count(lim)
		exact := len(Fit(sheet, lim, Info{Year: year()}).Sheet.Rules)
		if lim.Rules > 0 && (got > lim.Rules) != (exact > lim.Rules) {
			t.Errorf("%s takes %d rules: counted %d, exactly %d", lim.ID, lim.Rules, got, exact)
		}
		if got < exact*3/4 || got > exact*5/4 {
			t.Errorf("%s: counted %d, exactly %d", lim.ID, got, exact)
		}
	}
}
