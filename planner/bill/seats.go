package bill

import (
	"math"
	"slices"
)

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
	nodes := c.nodes
	if groups == nil {
		nodes = 0 // plans of controllers alone are kept, and quick
	}
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
		least, found, ok, err := minimise(c.ctx, classes, demand, cost, c.pricesOf(kit, beyond), &c.space, nodes)
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

// more reports whether a controller has to be there besides those in named places.
func (h *hosts) more() bool {
	return slices.ContainsFunc(h.places, func(g placeGroup) bool { return g.beyond })
}
