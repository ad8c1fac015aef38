package bill

import (
	"context"
	"math"
	"math/bits"
	"slices"
	"sort"

	"example.org/roombrief/planner/needs"
)

// item is groups that are covered in the same ways.
type item struct {
	front *front
	count int
}

// home is what has to be chosen.
type home struct {
	ctx    context.Context
	sh     *shelf
	hosts  *hosts
	groups []*group
	items  []item
	itemOf []int        // of each group
	rules  int          // that controllers must hold
	asked  []needs.Need // for a controller itself
	spots  []placedSpot // in the order of the needs
	short  bool         // no controllers hold the home
	served int          // needs that something serves
	wish
	router *router // nil where nobody knows where controllers are
	routed *routed // the choice with its routes
}

// solution is a choice for the whole home, before tax.
type solution struct {
	cost   Money // the sum that was made least
	money  Money
	toll   toll
	picks  [][]int // by item and point: how many groups are covered in that way
	hosted hostPlan
}

// hostPlan is controllers for a demand.
type hostPlan struct {
	cost   Money
	seated []seated
	ok     bool
}

// seated is setups alike: in places of one group (-1: in places not yet named).
type seated struct {
	*setup
	group int
	count int
}

func newHome(ctx context.Context, sh *shelf, hs *hosts, gs []*group, ns []needs.Need, ruleCount int) *home {
	h := &home{ctx: ctx, sh: sh, hosts: hs, groups: gs, spots: inOrder(gs)}
	at := map[*front]int{}
	served := false
	for _, g := range gs {
		i, ok := at[g.front]
		if !ok {
			i = len(h.items)
			at[g.front] = i
			h.items = append(h.items, item{front: g.front})
		}
		h.items[i].count++
		h.itemOf = append(h.itemOf, i)
		for _, t := range g.types {
			if t.best != unserved {
				served = true
				h.served += len(t.spots)
			}
		}
	}
	for _, n := range ns {
		if forHost(n) {
			h.asked = append(h.asked, n)
			ruleCount = max(ruleCount, 1) // a controller that is asked for is there to hold something
		}
	}
	if (served || len(h.asked) > 0) && len(hs.free)+len(hs.places) > 0 {
		h.rules = ruleCount
	}
	return h
}

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
	c := &chooser{ctx: h.ctx, hosts: hs, rules: h.rules, goal: goal{w, noMost}, plans: map[slots]hostPlan{},
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

// controllers is the cheapest plan of controllers for a number of devices on each radio and the rules.
func (c *chooser) controllers(need slots) (hostPlan, error) {
	if hp, ok := c.plans[need]; ok {
		return hp, nil
	}
	hp, _, _, err := c.minimise(nil, -1, need, need, math.MaxInt64, noMost)
	if err == nil {
		c.plans[need] = hp
	}
	return hp, err
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

// minimise puts controllers to classes of groups, first with named places only, of which some may stay
// empty, then with all of them taken and more besides.
func (c *chooser) minimise(groups []class, kit int, need, most slots, cutoff Money, bound toll) (hp hostPlan, counts [][]int, cost Money, err error) {
	demand := [dims]int{forRules: c.rules}
	copy(demand[:], need[:])
	for t, n := range bound {
		if n != noBound {
			demand[forTolls+t] = -n
		}
	}
	cost = cutoff
	for _, beyond := range []bool{false, true} {
		if !beyond && (len(c.hosts.places) == 0 || c.hosts.more()) || beyond && c.hosts.least(c.weights)-c.money*worth(c.hosts.owned) >= cost {
			continue
		}
		classes := append([]class(nil), groups...)
		seats := [][]*setup{}
		for _, g := range c.hosts.places {
			list := c.hosts.trimmed(g.setups, g.except, most, c.rules, c.weights)
			classes = append(classes, c.hostClass(list, len(g.places), !beyond && !g.taken, bound))
			seats = append(seats, list)
		}
		if beyond {
			list := c.hosts.trimmed(c.hosts.free, nil, most, c.rules, c.weights)
			classes = append(classes, c.hostClass(list, enough(list, most, c.rules), true, bound))
			seats = append(seats, list)
		}
		classes = append(classes, ownedClasses(c.hosts.owned, c.weights)...)
		least, found, ok, err := minimise(c.ctx, classes, demand, cost, c.pricesOf(kit, beyond), &c.space)
		if err != nil {
			return hp, nil, 0, err
		}
		if ok {
			cost, counts = least, found[:len(groups)]
			hp = c.seat(seats, found[len(groups):])
		}
	}
	return hp, counts, cost, nil
}

// enough is a number of controllers that no cheapest plan exceeds. Each of its controllers is missed for
// some radio, or for the rules, if it is taken away; and for each of these no more can be missed than it
// takes of the smallest to hold them all.
func enough(list []*setup, most slots, ruleCount int) (n int) {
	for d := 0; d <= radios; d++ {
		want, least := ruleCount, 0
		if d < radios {
			want = most[d]
		}
		for _, s := range list {
			brings := s.rules
			if d < radios {
				brings = s.brings[d]
			}
			if brings > 0 && (least == 0 || brings < least) {
				least = brings
			}
		}
		if least > 0 {
			n += (want + least - 1) / least
		}
	}
	return n
}

// hostClass is places with what may sit in them.
func (c *chooser) hostClass(list []*setup, count int, mayBeEmpty bool, bound toll) class {
	cl := class{count: count, host: true, options: make([]option, 0, len(list)+1)}
	for _, s := range list {
		o := option{cost: c.sum(s.cost, s.toll)}
		for r, n := range s.brings {
			o.use[r] = -n
		}
		o.use[forRules] = -s.rules
		o.takes(s.toll, bound)
		cl.options = append(cl.options, o)
	}
	if mayBeEmpty {
		cl.options = append(cl.options, option{})
	}
	return cl
}

func (c *chooser) seat(seats [][]*setup, counts [][]int) hostPlan {
	hp := hostPlan{ok: true}
	for g, list := range seats {
		at := g
		if g >= len(c.hosts.places) {
			at = -1
		}
		for i, s := range list {
			if n := counts[g][i]; n > 0 {
				hp.seated = append(hp.seated, seated{s, at, n})
				hp.cost += c.sum(s.cost, s.toll) * Money(n)
			}
		}
	}
	return hp
}

// takes makes an option use up its tolls, of those that are bounded.
func (o *option) takes(t, bound toll) {
	for i, n := range t {
		if bound[i] != noBound {
			o.use[forTolls+i] = n
		}
	}
}

// cheapest chooses for the home as it is. When no controllers that may be used here hold it, the parts are
// still planned, and short says so.
func (h *home) cheapest() (solution, error) {
	if h.router != nil {
		k, ok, err := h.router.choose(h.hosts, h.fronts())
		if err != nil || ok {
			h.routed = k
			if ok {
				return k.solution, nil
			}
			return solution{}, err
		}
	}
	d := h.decider(h.hosts)
	s, ok, err := d.best(h.items)
	if err == nil && !ok {
		h.short = true
		w := h.worth.weights()
		if t := h.aim.toll(); t >= 0 {
			w = leastOf(t).weights
		}
		picks := make([]int, len(h.items)) // of equal ones the first, which is the cheapest
		for i, it := range h.items {
			picks[i], _ = it.front.within(1<<radios-1, w)
		}
		s = solution{picks: single(h.items, picks)}
		d.hosts[0].chooser(d, w).value(&s, h.items)
	}
	return s, err
}

// fronts are those of the groups.
func (h *home) fronts() []*front {
	all := make([]*front, len(h.groups))
	for g := range h.groups {
		all[g] = h.groups[g].front
	}
	return all
}

// more reports whether a controller has to be there besides those in named places.
func (h *hosts) more() bool {
	return slices.ContainsFunc(h.places, func(g placeGroup) bool { return g.beyond })
}
