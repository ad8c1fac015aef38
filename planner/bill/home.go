package bill

import (
	"context"

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
