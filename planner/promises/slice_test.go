package promises_test

import (
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// A small controller looks at guards in steps, and some of its steps are begun by the return of the mains only. Where those don't fail
// the slice has no rule that begins them, and must do without the rules that end them.
func TestAPartOfARoomDoesWithoutWaitsThatOnlyAPowerCutStarts(t *testing.T) {
	p := projectfile.Parse([]byte(`roombrief: 1
home: {name: A test}
controllers: [{id: shelf, limits: modest}]
rooms:
  - id: bath
    kind: bathroom
    fans: [{id: extract, airflow: 21 l/s, power: 18 W}]
    brief:
      ventilation: {ceiling: 65 %, within: 1h, at_most: 3h a day}
`)).Project()
	plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	ix := promises.NewIndex(plan.Fitted)
	all := promises.OfRoom(p, ix, ideal.Usual(), rules.Equinox, "bath")
	if len(all) < 5 {
		t.Fatalf("the bath promises %d things", len(all))
	}
	for _, x := range all {
		for _, y := range append(x.Faulty(ix), x) {
			if _, err := y.Cases(ix); err != nil {
				t.Errorf("%s: %v", y.ID, err)
			}
		}
	}
}
