package bill

import (
	"context"
	"math"
	"math/bits"
	"sort"
)

// chooser solves one home with one set of hosts, again and again with other items.
type chooser struct {
	ctx   context.Context
	hosts *hosts
	rules int
	goal
	plans map[slots]hostPlan
	freed *chooser // of the same home with owned kinds free; nil where nothing is owned

	shapes map[shapeKey]*shape
	prices map[priceKey]*[dims]int64
	space  space
}

// priceKey tells searches apart whose slot prices differ much.
type priceKey struct {
	kit    int // -1 for controllers alone
	beyond bool
}

func (h *home) chooser(hs *hosts, w weights) *chooser {
	c := &chooser{ctx: h.ctx, hosts: hs, rules: h.rules, goal: goal{weights: w, most: noMost}, plans: map[slots]hostPlan{},
		shapes: map[shapeKey]*shape{}, prices: map[priceKey]*[dims]int64{}}
	if len(hs.owned) > 0 {
		c.freed = h.chooser(hs.freed(), w)
	}
	return c
}

// trial is one kit of radios: what the groups cost when they keep to it, and the controllers that speak it.
type trial struct {
	kit   int
	base  Money
	picks []int // the cheapest point of each item within the kit
	used  slots
	floor Money // no home that uses just these radios is cheaper
}

// choose finds the home in which the goal's sum, here called its cost, is least. Each set of radios (at most 31) is tried, the one with the lowest floor
// first. With its radios settled, groups no longer touch each other except through slots; their cheapest
// ways together with the cheapest controllers that speak the kit are a floor, and mostly a home that
// works. Only when slots run short are groups and controllers weighed against each other (branch.go).
func (c *chooser) choose(items []item) (solution, bool, error) {
	if err := c.ctx.Err(); err != nil {
		return solution{}, false, err
	}
	trials, err := c.trials(items)
	if err != nil {
		return solution{}, false, err
	}
	best, found := solution{cost: math.MaxInt64}, false
	if c.below > 0 {
		best.cost = c.below
	}
	for _, t := range trials {
		if t.floor >= best.cost {
			break
		}
		var hp hostPlan
		if c.freed == nil { // else what is owned has to be shared out, and the floor is no choice
			if hp, err = c.controllers(t.used); err != nil {
				return best, false, err
			}
		}
		if hp.ok {
			s := solution{cost: t.base + hp.cost, picks: single(items, t.picks), hosted: hp}
			if c.value(&s, items); s.toll.within(c.most) {
				if s.cost < best.cost {
					best, found = s, true
				}
				if s.cost <= t.floor {
					continue
				}
			}
		}
		s, ok, err := c.weigh(items, t.kit, best.cost)
		if err != nil {
			return best, false, err
		}
		if ok {
			best, found = s, true
			c.value(&best, items)
		}
	}
	return best, found, nil
}

// trials makes the kits that can cover every item, by floor; ties by fewest radios, then their order.
func (c *chooser) trials(items []item) ([]trial, error) {
	radiosInUse := 0
	for _, it := range items {
		for _, p := range it.front.points {
			radiosInUse |= p.slots.kit()
		}
	}
	radiosInUse &= c.hosts.spoken
	var all []trial
	for kit := 0; kit < 1<<radios; kit++ {
		if kit&^radiosInUse != 0 {
			continue
		}
		t := trial{kit: kit, picks: make([]int, len(items))}
		ok, least := true, toll{}
		for i, it := range items {
			if it.count == 0 {
				continue
			}
			k, lightest := it.front.within(kit, c.weights)
			if k < 0 {
				ok = false
				break
			}
			p := &it.front.points[k]
			t.picks[i] = k
			t.base += c.floor(it.front, kit, k) * Money(it.count)
			t.used = t.used.plus(p.slots, it.count)
			least = least.plus(lightest, it.count)
		}
		if !ok || !least.within(c.most) {
			continue
		}
		var one slots
		for r := range radios {
			one[r] = kit >> r & 1
		}
		bare := c
		if c.freed != nil {
			bare = c.freed
		}
		hp, err := bare.controllers(one)
		if err != nil {
			return nil, err
		}
		if hp.ok {
			t.floor = t.base + hp.cost
			all = append(all, t)
		}
	}
	sort.SliceStable(all, func(i, j int) bool {
		a, b := all[i], all[j]
		if a.floor != b.floor {
			return a.floor < b.floor
		}
		return bits.OnesCount(uint(a.kit)) < bits.OnesCount(uint(b.kit))
	})
	return all, nil
}

// within is the point that keeps to a kit of radios and has the least sum, -1 when there is none, and the least
// of each toll that such points have.
func (f *front) within(kit int, w weights) (best int, lightest toll) {
	best, lightest = -1, noMost
	for i := range f.points {
		p := &f.points[i]
		if p.slots.kit()&^kit != 0 {
			continue
		}
		if best < 0 || w.sum(p.cost, p.toll) < w.sum(f.points[best].cost, f.points[best].toll) {
			best = i
		}
		for t := range lightest {
			lightest[t] = min(lightest[t], p.toll[t])
		}
	}
	return best, lightest
}

// floor is less than any point that keeps to a kit costs in any home; where nothing is owned it is what the best costs.
func (c *chooser) floor(f *front, kit, best int) Money {
	least := c.sum(f.points[best].cost, f.points[best].toll)
	if len(c.hosts.owned) == 0 {
		return least
	}
	for i := range f.points {
		if p := &f.points[i]; p.slots.kit()&^kit == 0 {
			least = min(least, c.sum(without(p.cost, p.slots, c.hosts.owned), p.toll))
		}
	}
	return least
}

func single(items []item, picks []int) [][]int {
	all := make([][]int, len(items))
	for i, it := range items {
		all[i] = make([]int, len(it.front.points))
		if it.count > 0 {
			all[i][picks[i]] = it.count
		}
	}
	return all
}

// weigh finds the cheapest home that keeps to a kit, groups and controllers at once, if it is below cutoff.
func (c *chooser) weigh(items []item, kit int, cutoff Money) (solution, bool, error) {
	m := c.merged(items, kit)
	var most slots
	for _, cl := range m.classes {
		for r := range most {
			top := 0
			for _, o := range cl.options {
				top = max(top, o.use[r])
			}
			most[r] += top * cl.count
		}
	}
	for k, o := range c.hosts.owned {
		most[radios+k] = o.count
	}
	hp, counts, cost, err := c.minimise(m.classes, kit, slots{}, most, cutoff-m.base, c.most)
	if err != nil || !hp.ok {
		return solution{}, false, err
	}
	return solution{cost: cost + m.base, picks: m.shared(items, counts), hosted: hp}, true, nil
}
