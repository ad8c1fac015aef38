package bill_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"pgregory.net/rapid"
)

// often checks a property on five times as many homes as one round does.
func often(t *testing.T, property func(*rapid.T)) {
	for range 5 {
		rapid.Check(t, property)
	}
}

// Whatever the aim, the bill is the least of it in every way that there is, and of those the cheapest.
func TestEachAimIsTheMinimumOfEverything(t *testing.T) {
	for aim, weigh := range map[bill.Aim][3]int64{bill.Cost: {1}, bill.Upkeep: byUpkeep, bill.Resilience: byLosses} {
		t.Run(string(aim), func(t *testing.T) {
			differs := 0
			often(t, func(t *rapid.T) {
				p, c, ns, sheet := randomHome(t)
				count := randomCount(t)
				p.Choices.Aim = string(aim)
				if rapid.Bool().Draw(t, "some is there") {
					p.Existing = randomExisting(t, c)
				}
				o := newOracle(p, c, ns, sheet, count, weigh)
				if o.solve(); o.best == math.MaxInt64 {
					return // no controllers hold it
				}
				b, err := bill.CheapestFor(context.Background(), p, c, ns, sheet, count)
				if err != nil {
					t.Fatal(err)
				}
				got := net(b)
				switch aim {
				case bill.Upkeep:
					got += big * int64(b.Upkeep.Seconds)
				case bill.Resilience:
					got += big * int64(b.Losses.All())
				}
				if got != o.best {
					t.Fatalf("bill is %d, the best of all is %d\n%s", got, o.best, bill.Text(b, 100, nil))
				}
				checkCovered(t, ns, o.rank, b)
				checkSums(t, b)
				if net(b) != brute(p, c, ns, sheet, count).best {
					differs++
				}
			})
			if (differs > 0) != (aim != bill.Cost) {
				t.Errorf("of all homes, %d cost more than they need to", differs)
			}
		})
	}
}

// At the price at which the next best part wins, what was chosen before is dearer than it need be.
func TestTheNextBestWinsAtItsPrice(t *testing.T) {
	turned := 0
	often(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		p.Choices.Aim = string(rapid.SampledFrom(bill.Aims).Draw(t, "aim"))
		if rapid.Bool().Draw(t, "some is there") {
			p.Existing = randomExisting(t, c)
		}
		b, err := bill.Cheapest(context.Background(), p, c, ns, sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range b.Lines {
			if l.RunnerWins == 0 {
				continue
			}
			turned++
			cheaper := *c
			cheaper.Parts = slices.Clone(c.Parts)
			i := slices.IndexFunc(c.Parts, func(x catalogue.Part) bool { return x.ID == l.RunnerUp })
			price := bill.Money(math.Round(c.Parts[i].Price["GBP"]*100)) - l.RunnerWins
			if price < 0 {
				t.Fatalf("%s wins at %d, below nothing", l.RunnerUp, price)
			}
			cheaper.Parts[i].Price = map[string]float64{"GBP": float64(price) / 100}
			now, err := bill.Cheapest(context.Background(), p, &cheaper, ns, sheet)
			if err != nil {
				t.Fatal(err)
			}
			was := net(b)
			for _, x := range b.Lines {
				if x.Part == l.RunnerUp {
					was -= int64(x.Quantity-x.Owned) * int64(l.RunnerWins)
				}
			}
			if net(now) >= was {
				t.Fatalf("%s at %d less: the bill is %d, and what was chosen before comes to %d", l.RunnerUp, l.RunnerWins, net(now), was)
			}
		}
	})
	if turned == 0 {
		t.Error("no next best part ever won")
	}
}

// Where less upkeep and fewer losses are worth money, the bill is the least of all three together.
func TestAWorthIsTheMinimumOfEverything(t *testing.T) {
	often(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		if rapid.Bool().Draw(t, "some is there") {
			p.Existing = randomExisting(t, c)
		}
		second, loss := rapid.IntRange(0, 9).Draw(t, "pence a second"), rapid.IntRange(0, 300).Draw(t, "pence a loss")
		p.Choices.Worth = model.Worth{Upkeep: 36 * float64(second), Loss: float64(loss) / 100}
		o := newOracle(p, c, ns, sheet, func(catalogue.Limits) int { return len(sheet.Rules) }, [3]int64{1, int64(second), int64(loss)})
		if o.solve(); o.best == math.MaxInt64 {
			return
		}
		b, err := bill.Cheapest(context.Background(), p, c, ns, sheet)
		if err != nil {
			t.Fatal(err)
		}
		if got := net(b) + int64(second*b.Upkeep.Seconds+loss*b.Losses.All()); got != o.best {
			t.Fatalf("bill and what it is worth come to %d, the least of all is %d", got, o.best)
		}
	})
}
