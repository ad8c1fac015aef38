package planner_test

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
)

func TestMakePlansTheExampleHomesTheSameEveryTime(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		plan, err := planner.Make(t.Context(), p, fixtures.Catalogue())
		if err != nil {
			t.Fatal(h.File, err)
		}
		if len(plan.Sheet.Rules) == 0 || len(plan.Needs) == 0 || plan.Bill.Total == 0 {
			t.Errorf("%s: %d rules, %d needs, total %d", h.File, len(plan.Sheet.Rules), len(plan.Needs), plan.Bill.Total)
		}
		again, err := planner.Make(t.Context(), p, fixtures.Catalogue())
		if err != nil || !reflect.DeepEqual(plan, again) {
			t.Errorf("%s: a second plan differs (%v)", h.File, err)
		}
	}
}

func TestMakeStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := planner.Make(ctx, &model.Project{}, fixtures.Catalogue()); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// BenchmarkMake plans Alder Row, and buildings of ever more rooms: what it takes must not grow faster than they.
func BenchmarkMake(b *testing.B) {
	homes := map[string][]byte{"alder-row": fixtures.Homes()[0].Source}
	names := []string{"alder-row"}
	for _, rooms := range []int{10, 40, 100, 300, 1000} {
		name := fmt.Sprintf("%d-rooms", rooms)
		homes[name] = fixtures.Building(rooms)
		names = append(names, name)
	}
	for _, name := range names {
		b.Run(name, func(b *testing.B) {
			p := projectfile.Parse(homes[name]).Project()
			for b.Loop() {
				if _, err := planner.Make(b.Context(), p, fixtures.Catalogue()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
