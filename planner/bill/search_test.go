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
		cost, counts, ok, err := minimise(context.Background(), classes, demand, math.MaxInt64, &[dims]int64{}, &space{}, 0)
		if err != nil || ok != (want < math.MaxInt64) || ok && cost != want {
			t.Fatalf("found %d (%v, %v), the least of all is %d", cost, ok, err, want)
		}
		if ok {
			checkCounts(t, classes, demand, counts, cost)
			_, _, better, _ := minimise(context.Background(), classes, demand, cost, &[dims]int64{3 * unit, 0, unit}, &space{}, 0)
			if better {
				t.Fatal("found something below the least")
			}
		}
		some, counts, ok, err := minimise(context.Background(), classes, demand, math.MaxInt64, &[dims]int64{}, &space{}, rapid.IntRange(1, 3).Draw(t, "nodes"))
		if err != nil || ok && some < want {
			t.Fatalf("found %d (%v) in haste, the least of all is %d", some, err, want)
		}
		if ok {
			checkCounts(t, classes, demand, counts, some)
		}
	})
}

// Slots that go over in lumps at one price, where only some sums come out even: rounding misses those, and so
// mend has to work, and may only make it better.
func TestSearchFindsSumsOfLumps(t *testing.T) {
	mended := 0
	rapid.Check(t, func(t *rapid.T) {
		var classes []class
		most := 0
		for i := rapid.IntRange(2, 4).Draw(t, "classes"); i > 0; i-- {
			lump, count := rapid.IntRange(2, 7).Draw(t, "lump"), rapid.IntRange(1, 12).Draw(t, "count")
			dearer := rapid.IntRange(0, 1).Draw(t, "dearer")
			classes = append(classes, class{count: count, options: []option{
				{use: [dims]int{lump, 0}}, {cost: Money(319*lump + dearer), use: [dims]int{0, lump}},
			}})
			most += lump * count
		}
		room := rapid.IntRange(1, most).Draw(t, "room")
		demand := [dims]int{-room, -most}
		s := &search{ctx: context.Background(), classes: classes, demand: demand, best: math.MaxInt64, space: &space{},
			prices: &[dims]int64{}, patience: 1}
		root := node{lo: ragged[int](classes), hi: ragged[int](classes)}
		for c, cl := range classes { // all of them over: fits, and is the dearest choice
			root.hi[c][0], root.hi[c][1] = cl.count, cl.count
		}
		s.counts, s.found, s.best = ragged[int](classes), true, 0
		for c, cl := range classes {
			s.counts[c][1] = cl.count
			s.best += Money(cl.count) * cl.options[1].cost
		}
		before := s.best
		s.mend([dims]int64{319 * unit}, 0)
		checkCounts(t, classes, demand, s.counts, s.best)
		if s.best > before {
			t.Fatalf("made it dearer: %d, was %d", s.best, before)
		}
		if s.best < before {
			mended++
		}
		s.put(root, *s.prices, math.MinInt64)
		if err := s.run(); err != nil || s.best != everything(classes, demand, 0) {
			t.Fatalf("found %d (%v), the least is %d", s.best, err, everything(classes, demand, 0))
		}
		checkCounts(t, classes, demand, s.counts, s.best)
	})
	if mended == 0 {
		t.Error("mend never did anything")
	}
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
	if _, _, _, err := minimise(ctx, classes, [dims]int{}, math.MaxInt64, &[dims]int64{}, &space{}, 0); !errors.Is(err, context.Canceled) {
		t.Fatalf("err is %v", err)
	}
}

// Prices so high that sums pass 64 bits must not cut anything off.
func TestBoundNeverLiesAtHugePrices(t *testing.T) {
	classes := []class{{options: []option{{cost: 5, use: [dims]int{1}}, {cost: 9}}, count: 1 << 20},
		{options: []option{{cost: 1000, use: [dims]int{-1 << 20}}, {}}, count: 1 << 20, host: true}}
	want := Money(5<<20 + 1000)
	cost, _, ok, err := minimise(context.Background(), classes, [dims]int{}, math.MaxInt64, &[dims]int64{1 << 55}, &space{}, 0)
	if err != nil || !ok || cost != want {
		t.Fatalf("cost is %d (%v, %v), want %d", cost, ok, err, want)
	}
}
