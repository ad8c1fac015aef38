package proof

import (
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// What a small effort leaves undecided is decided when a larger one is asked for, and the other way round nothing is
// taken from the larger one.
func TestWhatIsRememberedGoesByEffort(t *testing.T) {
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	ix := promises.NewIndex(ideal.Draft(p).Sheet)
	small := Effort{Hulls: 3, Zones: 3}
	var c Cache
	undecided := 0
	for _, x := range promises.OfRoom(p, ix, ideal.Usual(), rules.Equinox, "shower-room") {
		before, err := c.Prove(t.Context(), ix, x, small)
		if err != nil {
			t.Fatal(err)
		}
		v, err := c.Prove(t.Context(), ix, x, Usual)
		if err != nil {
			t.Fatal(err)
		}
		again, err := c.Prove(t.Context(), ix, x, small)
		if err != nil {
			t.Fatal(err)
		}
		if before.State == Undecided {
			undecided++
		}
		if v.State == Undecided || again.State != before.State {
			t.Errorf("%s is %s with a small effort, then %s with the usual one (%s), then %s", x.ID, before.State, v.State, v.Why, again.State)
		}
	}
	if undecided == 0 {
		t.Error("the small effort decided everything")
	}
}
