package remedy

import (
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

func TestHeatStaysOffAfterAPowerCutInTheFirstPlan(t *testing.T) {
	shelf := fixtures.Catalogue()
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		plan, err := planner.Make(t.Context(), p, shelf)
		if err != nil {
			t.Fatal(err)
		}
		all, err := Mandatory(t.Context(), p, shelf, plan, "")
		if err != nil {
			t.Fatal(err)
		}
		heats := map[string]bool{}
		for _, r := range p.Rooms {
			for _, a := range r.Appliances {
				heats[r.ID+"/"+a.ID] = a.Heats()
			}
		}
		for _, dev := range plan.Bill.Devices {
			if i := slices.IndexFunc(dev.Covers, func(n string) bool { return heats[n] }); i >= 0 {
				part, _ := shelf.Part(dev.Part)
				if part.Behaviour.PowerUp != "off" {
					t.Errorf("%s: %s is behind %s, which comes back %s", h.File, dev.Covers[i], dev.Part, part.Behaviour.PowerUp)
				}
				if !slices.ContainsFunc(all, func(a Applied) bool { return a.Need == dev.Covers[i] && a.Price >= 0 && a.Priced && a.Text() != "" }) {
					t.Errorf("%s: nothing is said of %s", h.File, dev.Covers[i])
				}
			}
		}
	}
}

// A reader in the den keeps still for up to an hour. Its door is usually shut, so the first plan puts a contact on it, and
// without would save just what a contact and its fitting cost: the sensor for motion is there in any case.
func TestTheFirstPlanSaysWhyItKnowsOfStillPeople(t *testing.T) {
	p := projectfile.Parse([]byte(`roombrief: 1
home: {name: A test}
rooms:
  - id: den
    name: Den
    kind: study
    doors: [{id: door, to: hall, usually: closed}]
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        stop: {after: 5m, never_while: occupied}
        periods: [{from: "06:00", level: 60 %}]
`)).Project()
	plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	all, err := Mandatory(t.Context(), p, fixtures.Catalogue(), plan, "den")
	if err != nil {
		t.Fatal(err)
	}
	var contact bill.Money
	for _, l := range plan.Bill.Lines {
		if slices.Contains(l.Covers, "den/door") {
			contact += l.Amount
			if l.Quantity != 1 {
				t.Errorf("%d of %s", l.Quantity, l.Name)
			}
		}
	}
	if len(all) != 2 || all[0].Promise != promises.NeverDark || all[0].Price < contact || contact == 0 {
		t.Errorf("a contact costs %d: %+v", contact, all)
	}
	if !strings.Contains(all[0].Text(), "keep still for 1h") {
		t.Error(all[0].Text())
	}
	if got := all[1].Text(); !strings.Contains(got, "waits for 1h") || !strings.Contains(got, "costs nothing more") {
		t.Error(got)
	}
	p.Choices.Doors = map[string]string{"den": "brisk"}
	p.Choices.Sense = map[string]string{"den": "doors"}
	if plan, err = planner.Make(t.Context(), p, fixtures.Catalogue()); err != nil {
		t.Fatal(err)
	}
	if all, err = Mandatory(t.Context(), p, fixtures.Catalogue(), plan, "den"); err != nil || len(all) != 0 {
		t.Errorf("what the project chose is no doing of the plan: %+v %v", all, err)
	}
}

// No plan of the example homes breaks a promise that may not be weakened, so nothing more has to be applied.
func TestHardPromisesAreKeptInTheFirstPlan(t *testing.T) {
	for _, h := range fixtures.Homes()[:2] {
		p := projectfile.Parse(h.Source).Project()
		ix := promises.NewIndex(ideal.Draft(p).Sheet)
		cache, n := &proof.Cache{}, 0
		for _, x := range promises.OfAll(p, ix, ideal.Usual(), rules.Equinox) {
			if !slices.Contains(Hard, x.Kind) {
				continue
			}
			n++
			v, err := cache.Prove(t.Context(), ix, x, proof.Usual)
			if err != nil || v.State != proof.Kept && v.State != proof.Empty {
				t.Errorf("%s: %s %s %v", x.ID, v.State, v.Why, err)
			}
		}
		if n == 0 {
			t.Errorf("%s makes no hard promise", h.File)
		}
	}
}
