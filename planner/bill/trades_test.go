package bill_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"pgregory.net/rapid"
)

func tradeOf(x bill.Trade) [3]int64 {
	return [3]int64{int64(x.Net), int64(x.Upkeep.Seconds), int64(x.Losses.All())}
}

// Of a small home all bills are found that none beats, and no others: trying everything gives the same.
func TestTradesOfASmallHomeAreAllThereAre(t *testing.T) {
	most := 0
	often(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		count := randomCount(t)
		o := newOracle(p, c, ns, sheet, count, allReadable)
		all := map[[3]int64]bool{}
		o.each = func(sum int64) { all[readings(sum)] = true }
		if o.solve(); o.best == math.MaxInt64 {
			return
		}
		var want [][3]int64
		for a := range all {
			beaten := false
			for b := range all {
				beaten = beaten || a != b && b[0] <= a[0] && b[1] <= a[1] && b[2] <= a[2]
			}
			if !beaten {
				want = append(want, a)
			}
		}
		slices.SortFunc(want, func(a, b [3]int64) int { return slices.Compare(a[:], b[:]) })
		got, err := bill.TradeOffs(context.Background(), p, c, ns, sheet, count, 20)
		if err != nil || !got.Complete {
			t.Fatal(err, got.Complete)
		}
		var found [][3]int64
		for _, x := range got.Trades {
			found = append(found, tradeOf(x))
		}
		if fmt.Sprint(found) != fmt.Sprint(want) {
			t.Fatalf("found %v, trying everything gives %v", found, want)
		}
		most = max(most, len(found))
	})
	if most < 5 {
		t.Errorf("no home had more than %d trades", most)
	}
}

// The worth or the aim of a trade, written into the project, leads to it.
func TestTheWorthOfATradeLeadsToIt(t *testing.T) {
	leads := 0
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		got, err := bill.TradeOffs(context.Background(), p, c, ns, sheet, nil, 20)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range got.Trades {
			at := *p
			switch {
			case x.Worth != bill.Worth{}:
				at.Choices.Worth = model.Worth{Upkeep: float64(x.Worth.Hour) / 100, Loss: float64(x.Worth.Loss) / 100}
				leads++
			case len(x.Aims) > 0:
				at.Choices.Aim = string(x.Aims[0])
			default:
				continue // found in between, where no worth leads
			}
			b, err := bill.Cheapest(context.Background(), &at, c, ns, sheet)
			if err != nil {
				t.Fatal(err)
			}
			same := tradeOf(x) == [3]int64{net(b), int64(b.Upkeep.Seconds), int64(b.Losses.All())}
			if x.Worth == (bill.Worth{}) { // by an aim alone the toll that it is not about may be more
				same = net(b) == int64(x.Net)
			}
			if !same {
				t.Fatalf("%+v leads to %d %v %v", x, net(b), b.Upkeep, b.Losses)
			}
		}
	})
	if leads == 0 {
		t.Error("no trade had a worth")
	}
}

// None of a large home's trades beats another either, and each aim's bill is among them.
func TestTradesOfTheExampleHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		got, err := bill.TradeOffs(context.Background(), p, fixtures.Catalogue(), d.Needs, d.Sheet, nil, 12)
		if err != nil {
			t.Fatal(err)
		}
		aims := 0
		for i, a := range got.Trades {
			aims += len(a.Aims)
			for j, b := range got.Trades {
				x, y := tradeOf(a), tradeOf(b)
				if i != j && x[0] <= y[0] && x[1] <= y[1] && x[2] <= y[2] {
					t.Errorf("%s: %v beats %v", h.File, x, y)
				}
			}
		}
		if aims < len(bill.Aims) {
			t.Errorf("%s: of the aims' bills %d are among the trades", h.File, aims)
		}
	}
}

func BenchmarkTradeOffs(b *testing.B) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		b.Run(h.File, func(b *testing.B) {
			for b.Loop() {
				if _, err := bill.TradeOffs(context.Background(), p, fixtures.Catalogue(), d.Needs, d.Sheet, nil, 12); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
