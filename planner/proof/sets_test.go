package proof

import (
	"context"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
)

// TestEveryPromiseIsDecidedOnEverySetOfLimits proves the example homes on rules as each set of limits lets them be. On the modest set, whose
// controllers remember by waits alone, the air of some rooms is beyond it.
func TestEveryPromiseIsDecidedOnEverySetOfLimits(t *testing.T) {
	cache := &Cache{}
	for _, home := range fixtures.Homes() {
		p := projectfile.Parse(home.Source).Project()
		sheet := ideal.Draft(p).Sheet
		for _, lim := range fixtures.Catalogue().Limits {
			if lim.ID == "modest" {
				continue
			}
			lim.Rules = 2000 // it is about what rules can do, and not about how many there may be
			fit := fitting.Fit(sheet, lim, fitting.Info{Year: fitting.YearOf(p)})
			vs, err := Home(context.Background(), p, fit.Sheet, Options{Cache: cache})
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range vs {
				if v.State == Undecided || v.State == Empty {
					t.Errorf("%s on %s: %s is %s: %s", home.File, lim.ID, v.Promise.ID, v.State, v.Why)
				}
			}
		}
	}
}
