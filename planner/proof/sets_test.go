package proof

import (
	"context"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
)

// TestEveryPromiseIsDecidedOnEverySetOfLimits proves the example homes on rules as each set of limits lets them be. On the modest set, whose
// controllers remember by waits alone, Larkspur's bathroom is beyond it: its fan runs for damp air, for people, and when asked.
func TestEveryPromiseIsDecidedOnEverySetOfLimits(t *testing.T) {
	cache := &Cache{}
	for _, home := range fixtures.Homes() {
		p := projectfile.Parse(home.Source).Project()
		sheet := ideal.Draft(p).Sheet
		for _, lim := range fixtures.Catalogue().Limits {
			lim.Rules = 2000 // it is about what rules can do, and not about how many there may be
			fit := fitting.Fit(sheet, lim, fitting.Info{Year: fitting.YearOf(p)})
			for _, room := range append(p.Rooms, model.Room{}) {
				if lim.ID == "modest" && home.File == "larkspur-lane.yaml" && room.ID == "bathroom" {
					continue
				}
				vs, err := Room(context.Background(), p, fit.Sheet, room.ID, Options{Cache: cache})
				if err != nil {
					t.Fatal(err)
				}
				for _, v := range vs {
					if v.State == Undecided || v.State == Empty || lim.ID == "modest" && v.State == Breaks && (v.Promise.Kind == promises.Aired || v.Promise.Kind == promises.EarnsItsPlace) {
						t.Errorf("%s on %s: %s is %s: %s", home.File, lim.ID, v.Promise.ID, v.State, v.Why)
					}
				}
			}
		}
	}
}
