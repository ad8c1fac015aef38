package proof

import (
	"context"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// TestSlicesOfTheHomesHaveAsManyStatesElsewhere counts the states of slices of the example homes, second by second,
// here and with the independent model checker.
func TestSlicesOfTheHomesHaveAsManyStatesElsewhere(t *testing.T) {
	needSpin(t)
	if testing.Short() {
		t.Skip("takes the model checker a minute")
	}
	const wanted, most = 12, 60_000
	seen := map[string]bool{}
	done, kinds := 0, map[promises.Kind]int{}
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		o := ideal.Usual()
		o.Year = ideal.YearOf(p)
		ix := promises.NewIndex(ideal.Draft(p).Sheet)
		for _, x := range promises.OfAll(p, ix, o, rules.Equinox) {
			if kinds[x.Kind] > 2 || done == wanted {
				continue
			}
			cs, err := x.Cases(ix)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range cs {
				if done == wanted || seen[c.Key()] {
					break
				}
				seen[c.Key()] = true
				sys := c.System(false)
				ours := Ticks(context.Background(), sys, 1, most, everywhere)
				if ours.Kind == Capped || ours.Zones < 100 {
					continue
				}
				if theirs := spinStates(t, sys); theirs != ours.Zones {
					t.Errorf("%s: %d states here, %d there", x.ID, ours.Zones, theirs)
				}
				t.Log(x.ID, ours.Zones, "states")
				kinds[x.Kind]++
				done++
				break
			}
		}
	}
	if done < 10 {
		t.Errorf("only %d slices were small enough", done)
	}
}
