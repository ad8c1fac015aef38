package remedy

import (
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
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
		all, err := Mandatory(t.Context(), p, shelf)
		if err != nil {
			t.Fatal(err)
		}
		d := ideal.Draft(p)
		b, err := bill.Cheapest(t.Context(), p, shelf, d.Needs, d.Sheet)
		if err != nil {
			t.Fatal(err)
		}
		heats := map[string]bool{}
		for _, r := range p.Rooms {
			for _, a := range r.Appliances {
				heats[r.ID+"/"+a.ID] = a.Heats()
			}
		}
		for _, dev := range b.Devices {
			if i := slices.IndexFunc(dev.Covers, func(n string) bool { return heats[n] }); i >= 0 {
				part, _ := shelf.Part(dev.Part)
				if part.Behaviour.PowerUp != "off" {
					t.Errorf("%s: %s is behind %s, which comes back %s", h.File, dev.Covers[i], dev.Part, part.Behaviour.PowerUp)
				}
				if !slices.ContainsFunc(all, func(a Applied) bool { return a.Need == dev.Covers[i] && a.Price >= 0 && a.Words != "" && a.Why != "" }) {
					t.Errorf("%s: nothing is said of %s", h.File, dev.Covers[i])
				}
			}
		}
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
