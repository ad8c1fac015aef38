package planner_test

import (
	"reflect"
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
)

// Where only the air outside or the coldest surface of a room is otherwise, the bill isn't sought again; the plan is the one that planning
// anew comes to.
func TestAgainWithOtherAirIsThePlanAnew(t *testing.T) {
	shelf := fixtures.Catalogue()
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		for i := range p.Rooms { // the air decides where every fan starts
			if v := &p.Rooms[i].Brief.Ventilation; v.Wanted() && v.Want.Ceiling.Wanted() {
				v.Want.Ceiling.TakeWord()
			}
		}
		a, err := planner.NewAgain(p, shelf)
		if err != nil {
			t.Fatal(err)
		}
		var others []*model.Project
		for _, c := range model.UsualClimates()[:2] {
			other := *p
			other.Home.Outdoor = model.Know(c)
			others = append(others, &other)
		}
		for i, r := range p.Rooms {
			if !r.Brief.Ventilation.Wanted() {
				continue
			}
			for _, cold := range []q.Temperature{6, 17} {
				other := *p
				other.Rooms = slices.Clone(p.Rooms)
				other.Rooms[i].Coldest = model.Know(cold)
				others = append(others, &other)
			}
		}
		first, err := a.Make(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		rules := 0 // plans with other rules
		for _, other := range others {
			got, err := a.Make(t.Context(), other)
			if err != nil {
				t.Fatal(err)
			}
			want, _, err := planner.Soon(t.Context(), other, shelf)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got.Sheet, first.Sheet) {
				rules++
			}
			got.Bill.Year, want.Bill.Year = bill.Year{}, bill.Year{} // only a bill with its reasons has it
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s: another plan with %+v outside", h.File, other.Home.Outdoor)
			}
		}
		if rules == 0 {
			t.Errorf("%s: no rule is otherwise in any air", h.File)
		}
	}
}
