package open

import (
	"context"
	"slices"
	"strings"

	"example.org/roombrief/planner/bill"
)

// pairUp lays out the pairs of points that may come to something else together than one by one, those that touch each other
// directly first, and after them the promises.
//
// Points of one box, or of a circuit and the box behind it, bear on the same parts: each answer is planned with each. Others touch
// only through controllers, their radios and their slots. There an answer counts for nothing but what it makes of the ways
// to cover its own box; an answer that leaves those as they are comes to nothing with any other.
// A point that bears on the air of rooms alone, and changes no line of the bill, touches none.
func (w *Weighing) pairUp(ctx context.Context) error {
	type pair struct{ x, y *weighed }
	var close, apart []pair
	for i, x := range w.points {
		for _, y := range w.points[i+1:] {
			switch {
			case x.fact == nil || y.fact == nil || len(x.values) == 0 || len(y.values) == 0 || x.airy() || y.airy():
			case w.near(x, y):
				close = append(close, pair{x, y})
			default:
				apart = append(apart, pair{x, y})
			}
		}
	}
	for _, p := range append(close, apart...) {
		w.todo = append(w.todo, func(ctx context.Context) error { return w.pair(ctx, p.x, p.y) })
	}
	w.todo = append(w.todo, w.proveUp)
	return nil
}

// airy reports whether only the air of rooms hangs on a point: where fans start, and what comes of it.
func (x *weighed) airy() bool {
	if k := x.fact.key(); k != "coldest" && k != "outdoor" {
		return false
	}
	return !slices.ContainsFunc(x.each, func(a Answer) bool { return a.More != 0 || len(a.Gains)+len(a.Loses)+len(a.Lines) > 0 })
}

func (w *Weighing) near(x, y *weighed) bool {
	other := near(w.project, *y.fact)
	return slices.ContainsFunc(near(w.project, *x.fact), func(at string) bool { return slices.Contains(other, at) })
}

// pair plans two points together and keeps what they come to beyond the sum of both.
func (w *Weighing) pair(ctx context.Context, x, y *weighed) error {
	xs, ys, plan := all(x), all(y), w.world
	if !w.near(x, y) { // what both make of their boxes has not been planned before
		xs, ys, plan = w.kinds(x), w.kinds(y), w.anew
		if w.far += len(xs) * len(ys); w.far > w.o.Combos {
			w.tried.Skip++
			return nil
		}
	}
	w.tried.Pairs++
	room := x.Room
	if y.Room != room {
		room = "" // each thing is named with its room
	}
	grid := make([][]Answer, len(xs))
	var most bill.Money
	best := [2]int{-1, -1}
	for i, a := range xs {
		for j, b := range ys {
			_, d, err := plan(ctx, with(with(w.project, *x.fact, x.values[a].is), *y.fact, y.values[b].is), room)
			if err != nil {
				return err
			}
			grid[i] = append(grid[i], d)
			apart := beyond(d, x.each[a], y.each[b])
			more := apart > most || apart == most && best[0] >= 0 && apart > 0 && d.More < grid[best[0]][best[1]].More
			if more || best[0] < 0 && things(d, x.each[a], y.each[b]) {
				most, best = apart, [2]int{i, j}
			}
		}
	}
	if best[0] < 0 {
		return nil
	}
	i, j := best[0], best[1]
	t := Together{With: [2]string{x.At, y.At}, Most: grid[i][j], Only: !x.alone() && !y.alone(),
		Sum: x.each[xs[i]].More + y.each[ys[j]].More}
	same := func(a, b int) bool {
		return grid[a][b].same(t.Most) && x.each[xs[a]].More+y.each[ys[b]].More == t.Sum
	}
	t.Most.Words = w.both(x, y, w.run(x, xs, i, func(k int) bool { return same(k, j) }), w.run(y, ys, j, func(k int) bool { return same(i, k) }))
	for _, p := range []*weighed{x, y} {
		p.Together = append(p.Together, t)
		p.Stake = p.Stake.or(stakeOf([]Answer{t.Most}))
	}
	return nil
}

// both are two answers in words, each with its place where they are not of one thing.
func (w *Weighing) both(x, y *weighed, a, b string) string {
	if x.fact.thing() != y.fact.thing() {
		a, b = w.placed(x, a), w.placed(y, b)
	}
	return a + " and " + b
}

func (w *Weighing) placed(x *weighed, words string) string {
	steps := strings.Split(x.fact.at(), "/")
	if x.Room == "" || len(steps) != 4 {
		return words + " (" + x.Asks + ")"
	}
	return words + " (" + strings.TrimPrefix(w.thingName(x.Room, steps[1], steps[2]), "the ") + ", " + w.the(x.Room) + ")"
}

// alone reports whether a point matters by itself.
func (x *weighed) alone() bool {
	return slices.ContainsFunc(x.Answers, func(a Answer) bool { return !a.AsPlanned() })
}

// all are the values of a point.
func all(x *weighed) (out []int) {
	for i := range x.values {
		out = append(out, i)
	}
	return out
}

// kinds are the values of a point of which each makes something else of the ways to cover its box than the plan and the other
// kinds do.
func (w *Weighing) kinds(x *weighed) (out []int) {
	seen := map[string]bool{w.base.ways: true}
	for i, world := range x.worlds {
		if world.ways == "" || !seen[world.ways] {
			seen[world.ways] = true
			out = append(out, i)
		}
	}
	return out
}

// beyond is by how much two answers together save more, or cost more, than their sum; 0 where they come to less than that, as when both
// save the same thing.
func beyond(both, a, b Answer) bill.Money {
	d := both.net - a.net - b.net
	switch {
	case d < 0 && both.net < 0:
		return -d
	case d > 0 && both.net > 0:
		return d
	}
	return 0
}

// things reports whether two answers together have something served better or worse that neither has by itself.
func things(both, a, b Answer) bool {
	neither := func(list, x, y []string) bool {
		return slices.ContainsFunc(list, func(s string) bool { return !slices.Contains(x, s) && !slices.Contains(y, s) })
	}
	return neither(both.better, a.better, b.better) || neither(both.worse, a.worse, b.worse)
}

// run puts a value in words, with those beside it that come to the same. A value that wasn't picked comes to the same as one that makes
// as much of the ways to cover its box; what lies between two that were picked may be as planned.
func (w *Weighing) run(x *weighed, picked []int, at int, same func(int) bool) string {
	if !x.ranged {
		return x.values[picked[at]].words
	}
	alike := func(i int) bool {
		k := slices.Index(picked, i)
		if k < 0 && x.worlds[i].ways != "" {
			k = slices.IndexFunc(picked, func(v int) bool { return x.worlds[v].ways == x.worlds[i].ways })
		}
		return k >= 0 && same(k)
	}
	low, next := picked[at], picked[at]+1
	for low > 0 && alike(low-1) {
		low--
	}
	for next < len(x.values) && alike(next) {
		next++
	}
	var end any
	if next < len(x.values) {
		end = x.values[next].is
	}
	return w.stretch(x.values[low].is, end, low == 0)
}
