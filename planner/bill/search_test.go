package bill

import (
	"context"
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// everything tries all counts of all classes.
func everything(classes []class, use [dims]int, cost Money) Money {
	if len(classes) == 0 {
		for _, u := range use {
			if u > 0 {
				return math.MaxInt64
			}
		}
		return cost
	}
	best := Money(math.MaxInt64)
	var fill func(o, left int, use [dims]int, cost Money)
	fill = func(o, left int, use [dims]int, cost Money) {
		if o == len(classes[0].options)-1 {
			for d, u := range classes[0].options[o].use {
				use[d] += left * u
			}
			best = min(best, everything(classes[1:], use, cost+Money(left)*classes[0].options[o].cost))
			return
		}
		for n := 0; n <= left; n++ {
			u := use
			for d, x := range classes[0].options[o].use {
				u[d] += n * x
			}
			fill(o+1, left-n, u, cost+Money(n)*classes[0].options[o].cost)
		}
	}
	fill(0, classes[0].count, use, cost)
	return best
}

// Classes with many spots and tight slots, where branching goes deep.
func TestSearchIsTheMinimumOfAllCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var classes []class
		for i := rapid.IntRange(1, 4).Draw(t, "classes"); i > 0; i-- {
			cl := class{count: rapid.IntRange(0, 7).Draw(t, "count"), host: rapid.Bool().Draw(t, "host")}
			for j := rapid.IntRange(1, 3).Draw(t, "options"); j > 0; j-- {
				o := option{cost: Money(rapid.IntRange(0, 60).Draw(t, "cost"))}
				for d := 0; d < 3; d++ {
					o.use[d] = rapid.IntRange(0, 3).Draw(t, "use")
					if cl.host {
						o.use[d] *= -2
					}
				}
				cl.options = append(cl.options, o)
			}
			classes = append(classes, cl)
		}
		var demand [dims]int
		for d := 0; d < 3; d++ {
			demand[d] = rapid.IntRange(-6, 12).Draw(t, "demand")
		}
		want := everything(classes, demand, 0)
		cost, counts, ok, err := minimise(context.Background(), classes, demand, math.MaxInt64, &[dims]int64{}, &space{})
		if err != nil || ok != (want < math.MaxInt64) || ok && cost != want {
			t.Fatalf("found %d (%v, %v), the least of all is %d", cost, ok, err, want)
		}
		if ok {
			checkCounts(t, classes, demand, counts, cost)
			_, _, better, _ := minimise(context.Background(), classes, demand, cost, &[dims]int64{3 * unit, 0, unit}, &space{})
			if better {
				t.Fatal("found something below the least")
			}
		}
	})
}

func checkCounts(t *rapid.T, classes []class, use [dims]int, counts [][]int, cost Money) {
	for c, cl := range classes {
		n := 0
		for o, k := range counts[c] {
			n += k
			cost -= Money(k) * cl.options[o].cost
			for d, u := range cl.options[o].use {
				use[d] += k * u
			}
		}
		if n != cl.count {
			t.Fatalf("class %d: %d spots of %d", c, n, cl.count)
		}
	}
	if cost != 0 {
		t.Fatalf("counts don't add up to the cost: %d over", cost)
	}
	for _, u := range use {
		if u > 0 {
			t.Fatal("more slots used than brought")
		}
	}
}

func TestSearchStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	classes := []class{{options: []option{{cost: 3}}, count: 2}}
	if _, _, _, err := minimise(ctx, classes, [dims]int{}, math.MaxInt64, &[dims]int64{}, &space{}); !errors.Is(err, context.Canceled) {
		t.Fatalf("err is %v", err)
	}
}

// Prices so high that sums pass 64 bits must not cut anything off.
func TestBoundNeverLiesAtHugePrices(t *testing.T) {
	classes := []class{{options: []option{{cost: 5, use: [dims]int{1}}, {cost: 9}}, count: 1 << 20},
		{options: []option{{cost: 1000, use: [dims]int{-1 << 20}}, {}}, count: 1 << 20, host: true}}
	want := Money(5<<20 + 1000)
	cost, _, ok, err := minimise(context.Background(), classes, [dims]int{}, math.MaxInt64, &[dims]int64{1 << 55}, &space{})
	if err != nil || !ok || cost != want {
		t.Fatalf("cost is %d (%v, %v), want %d", cost, ok, err, want)
	}
}
