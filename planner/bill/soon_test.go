package bill_test

import (
	"reflect"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
)

// What comes at once is the whole bill but for why, and what comes later is the same bill again.
func TestSoonIsTheSameBill(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		soon, rest, err := bill.Soon(t.Context(), p, fixtures.Catalogue(), d.Needs, d.Sheet, nil)
		if err != nil {
			t.Fatal(err)
		}
		late, err := rest()
		if err != nil {
			t.Fatal(err)
		}
		for i := range late.Lines {
			l := &late.Lines[i]
			if l.Reason == "" {
				t.Errorf("%s: no reason for %s", h.File, l.Name)
			}
			l.Reason, l.RunnerUp, l.RunnerName, l.RunnerAt, l.RunnerUpkeep, l.RunnerLosses, l.RunnerWins, l.RunnerUse = "", "", "", 0, 0, 0, 0, nil
		}
		if !reflect.DeepEqual(soon, late) || soon.Year.KWh == 0 {
			t.Errorf("%s: %+v\nand later %+v", h.File, soon, late)
		}
	}
}
