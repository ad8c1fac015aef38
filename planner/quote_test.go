package planner_test

import (
	"context"
	"errors"
	"os"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
)

func quoteOf(t testing.TB, p *model.Project) (planner.Plan, planner.Quote) {
	t.Helper()
	plan, err := planner.Make(context.Background(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	q, err := planner.MakeQuote(context.Background(), p, fixtures.Catalogue(), plan.Bill)
	if err != nil {
		t.Fatal(err)
	}
	return plan, q
}

// What a quote shows adds up, and each of its options costs what the whole plan of such a home costs.
func TestQuoteAddsUpAndOptionsAreWholePlans(t *testing.T) {
	every := 9
	if os.Getenv("ROOMBRIEF_LONG") != "" {
		every = 1
	}
	for _, h := range fixtures.Homes()[:2] {
		p := projectfile.Parse(h.Source).Project()
		plan, q := quoteOf(t, p)
		var rooms bill.Money
		for _, r := range q.Rooms {
			rooms += r.Amount
		}
		if rooms != q.Net || q.Net+q.Tax != q.Total || q.Total != plan.Bill.Total {
			t.Errorf("%s: rooms %d, net %d, tax %d, total %d; the bill is %d", h.File, rooms, q.Net, q.Tax, q.Total, plan.Bill.Total)
		}
		kinds := map[string]int{}
		for i, o := range q.Options {
			kinds[o.Kind]++
			if o.More != o.Total-q.Total {
				t.Errorf("%s: %+v", h.File, o)
			}
			if i%every > 0 {
				continue
			}
			other := *p
			other.Rooms = append([]model.Room(nil), p.Rooms...)
			for k := range other.Rooms {
				if b := &other.Rooms[k].Brief; other.Rooms[k].ID == o.Room {
					switch o.Goal {
					case "":
						said := b.Said
						*b = model.Brief{Said: said, Declined: b.Declined}
					case "lighting":
						b.Lighting.State = model.Unasked
					case "ventilation":
						b.Ventilation.State = model.Unasked
					case "leak":
						b.Leak.State = model.Unasked
					case "shutoff":
						b.Shutoff.State = model.Unasked
					case "buttons":
						b.Buttons.State = model.Unasked
					}
				}
			}
			if o.Aim != "" {
				other.Choices.Aim = string(o.Aim)
			}
			whole, err := planner.Make(context.Background(), &other, fixtures.Catalogue())
			if err != nil || whole.Bill.Total != o.Total {
				t.Errorf("%s: %s %s/%s %s is %d, the plan without it %d %v", h.File, o.Kind, o.Room, o.Goal, o.Aim, o.Total, whole.Bill.Total, err)
			}
		}
		if kinds[planner.LeaveRoom] < 2 || kinds[planner.LeaveGoal] < 2 || kinds[planner.OtherAim] != 2 {
			t.Errorf("%s: options %v", h.File, kinds)
		}
	}
}

func TestQuoteStopsWhenTold(t *testing.T) {
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	plan, err := planner.Make(context.Background(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := planner.MakeQuote(ctx, p, fixtures.Catalogue(), plan.Bill); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func BenchmarkQuote(b *testing.B) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		plan, q := quoteOf(b, p)
		b.Run(h.File, func(b *testing.B) {
			for b.Loop() {
				if _, err := planner.MakeQuote(context.Background(), p, fixtures.Catalogue(), plan.Bill); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(q.Options)), "options")
		})
	}
}
