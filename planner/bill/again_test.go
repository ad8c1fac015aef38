package bill_test

import (
	"bytes"
	"context"
	"reflect"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"pgregory.net/rapid"
)

// A home that is planned again with other facts gets the bill that it gets when it is planned afresh.
func TestAgainIsAfresh(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		count := randomCount(t)
		again, err := bill.NewAgain(p, c, sheet, count)
		if err != nil {
			t.Fatal(err)
		}
		ways := map[string]bill.Money{}
		for range 4 {
			got, err := again.Bill(ctx, p, ns)
			if err != nil {
				t.Fatal(err)
			}
			want, err := bill.CheapestFor(ctx, p, c, ns, sheet, count)
			if err != nil {
				t.Fatal(err)
			}
			for i := range want.Lines {
				l := &want.Lines[i]
				l.Reason, l.RunnerUp, l.RunnerName, l.RunnerAt, l.RunnerUpkeep, l.RunnerLosses, l.RunnerWins = "", "", "", 0, 0, 0, 0
				l.RunnerUse = nil
			}
			want.Year = bill.Year{} // goes with the reasons
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("again:\n%+v\nafresh:\n%+v", got, want)
			}
			key, err := again.Ways(ctx, p, ns)
			if err != nil {
				t.Fatal(err)
			}
			if other, ok := ways[key]; ok && other != got.Total {
				t.Fatalf("the same ways come to %d and %d", other, got.Total)
			}
			ways[key] = got.Total
			n := &ns[rapid.IntRange(0, len(ns)-1).Draw(t, "need")]
			n.Facts.Neutral = model.Know(rapid.Bool().Draw(t, "other neutral"))
			n.Facts.Dimmable = model.Know(rapid.Bool().Draw(t, "other dimmable"))
			n.Facts.Depth = model.Know(q.Length(rapid.SampledFrom([]float64{0.015, 0.025, 0.033, 0.045}).Draw(t, "other depth")))
		}
	})
}

// Between two depths at which some part begins to fit, no depth of the box changes the bill; at each of them, from just
// under it to it, some home's does: that is what they are.
func TestBoxDepthsAreAllThereAre(t *testing.T) {
	ctx := context.Background()
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		again, err := bill.NewAgain(p, c, sheet, nil)
		if err != nil {
			t.Fatal(err)
		}
		breaks := again.BoxDepths()
		total := func(depth q.Length) bill.Money {
			for i := range ns {
				ns[i].Facts.Depth = model.Know(depth)
			}
			b, err := again.Bill(ctx, p, ns)
			if err != nil {
				t.Fatal(err)
			}
			return b.Total
		}
		edges := append([]q.Length{0.001}, breaks...)
		at := rapid.IntRange(0, len(edges)-1).Draw(t, "interval")
		end := q.Length(0.2)
		if at+1 < len(edges) {
			end = edges[at+1]
		}
		within := edges[at] + (end-edges[at])*q.Length(rapid.Float64Range(0, 0.99).Draw(t, "within"))
		if a, b := total(edges[at]), total(within); a != b {
			t.Fatalf("%v comes to %d and %v to %d; the breaks are %v", edges[at], a, within, b, breaks)
		}
	})
}

// A home whose routes take long to seek keeps to those of its first bill: the home as it is comes to the same, and a home with other
// facts to no less than by itself.
func TestAgainKeepsToTheRoutesOfALargeHome(t *testing.T) {
	p := projectfile.Parse(fixtures.Building(40)).Project()
	d := ideal.Draft(p)
	again, err := bill.NewAgain(p, fixtures.Catalogue(), d.Sheet, nil)
	if err != nil {
		t.Fatal(err)
	}
	if again.Fixed() {
		t.Error("routes are fixed before there are any")
	}
	want := cheapestOf(t, p).Total
	for range 2 {
		if b, err := again.Bill(t.Context(), p, d.Needs); err != nil || b.Total != want {
			t.Errorf("%d, want %d (%v)", b.Total, want, err)
		}
	}
	if !again.Fixed() {
		t.Error("routes are sought anew")
	}
	other := projectfile.Parse(bytes.Replace(fixtures.Building(40), []byte("neutral: no"), []byte("neutral: yes"), 1)).Project()
	needs := ideal.Draft(other).Needs
	b, err := again.Bill(t.Context(), other, needs)
	if alone := cheapestOf(t, other).Total; err != nil || b.Total < alone || b.Total > want {
		t.Errorf("%d, by itself %d, as it was %d (%v)", b.Total, alone, want, err)
	}
}

// A deeper box costs no more, also where the home keeps the routes it had: a part that helps in a shallow one binds needs that go apart
// in a deeper one, and the routes still lean on the same devices.
func TestADeeperBoxCostsNoMoreOnKeptRoutes(t *testing.T) {
	ctx := context.Background()
	p := projectfile.Parse(fixtures.Building(40)).Project()
	d := ideal.Draft(p)
	again, err := bill.NewAgain(p, fixtures.Catalogue(), d.Sheet, nil)
	if err != nil {
		t.Fatal(err)
	}
	planned, err := again.Bill(ctx, p, d.Needs)
	if err != nil || !again.Fixed() {
		t.Fatal("routes aren't kept", err)
	}
	saved := 0
	for i := range p.Rooms {
		for j := range p.Rooms[i].Switches {
			box := &p.Rooms[i].Switches[j]
			if _, known := box.Depth.Get(); known {
				continue
			}
			was, last := box.Depth, planned.Total
			for _, depth := range []q.Length{0.025, 0.035, 0.06} {
				box.Depth = model.Know(depth)
				b, err := again.Bill(ctx, p, ideal.Draft(p).Needs)
				if err != nil {
					t.Fatal(err)
				}
				if b.Total > last {
					t.Errorf("%s with a box of %v costs %d, with a shallower one %d", p.Rooms[i].ID, depth, b.Total, last)
				}
				if b.Total < last {
					saved++
				}
				last = b.Total
			}
			box.Depth = was
		}
	}
	if saved == 0 {
		t.Error("no depth saves anything")
	}
}
