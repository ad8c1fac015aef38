package bill

import (
	"fmt"
	"sort"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
)

// ownable is how many kinds of owned part are weighed at once with everything else; of further kinds the
// bill uses what it would have bought anyway.
const ownable = 8

// owned is a kind of part that the home has some of. Each unit that the home can use saves the price of
// one; its labour stays. So a choice costs its money less, for each kind, the price of one times the lesser of
// what it uses and what is there.
//
// In the search a use of an owned kind is a slot that is brought, and each owned unit is a spot of its own
// that may take one such slot and with it save the price of one (ownedClasses). A choice that fills all it
// can is the cheapest, and nothing has to be known of who uses which unit.
type owned struct {
	*article
	count int
}

// saves is the money that n uses of the kind save.
func (o owned) saves(n int) Money { return o.each * Money(min(n, o.count)) }

// uses is how many of the k-th owned kind are used; slots count them as brought, below zero.
func (s slots) uses(k int) int { return -s[radios+k] }

// own reads what the project says is there already, dearest kinds first, which are the ones to weigh.
func (s *shelf) own(existing []model.Existing) {
	at := map[string]int{}
	for _, e := range existing {
		a := s.byID[e.Part]
		switch i, known := at[e.Part]; {
		case a == nil:
			s.assume("existing", "the price of "+e.Part, "nothing", fmt.Sprintf(
				"%d × %s is there already, but the shelf has no such part at a price in %s, so nothing is taken off for it; price it in your own list, or take it out of existing.", max(e.Count, 1), e.Part, s.currency))
		case known:
			s.owned[i].count += max(e.Count, 1)
		default:
			at[e.Part] = len(s.owned)
			s.owned = append(s.owned, owned{a, max(e.Count, 1)})
		}
	}
	sort.SliceStable(s.owned, func(i, j int) bool {
		return s.owned[i].saves(s.owned[i].count) > s.owned[j].saves(s.owned[j].count)
	})
	if len(s.owned) > ownable {
		var names []string
		for _, o := range s.owned[ownable:] {
			names = append(names, english.Lower(o.Name))
		}
		s.assume("existing", "whether more of what is there could be used", "only as bought anyway", fmt.Sprintf(
			"Of what is there already, the %d kinds that are worth most are weighed; of the others (%s) only what the bill would have bought anyway; take out of existing what isn't worth using.",
			ownable, strings.Join(names, ", ")))
	}
	for k := range s.owned[:min(len(s.owned), ownable)] {
		s.owned[k].article.owned = k + 1
	}
}

// weighed are the owned kinds that the search knows of.
func (s *shelf) weighed() []owned { return s.owned[:min(len(s.owned), ownable)] }

// without is what a way costs once every owned kind is free to it: less than it can cost in any home.
func without(cost Money, used slots, kinds []owned) Money {
	for k, o := range kinds {
		cost -= o.saves(used.uses(k))
	}
	return cost
}

// worth is what all owned units together can save.
func worth(kinds []owned) (sum Money) {
	for _, o := range kinds {
		sum += o.saves(o.count)
	}
	return sum
}

// ownedClasses are the owned units as spots: each lies idle, or is used and saves its price.
func ownedClasses(kinds []owned, w weights) (all []class) {
	for k, o := range kinds {
		used := option{cost: -w.money * o.each}
		used.use[radios+k] = 1
		all = append(all, class{options: []option{{}, used}, count: o.count, owned: true})
	}
	return all
}

// fill uses as many owned units as a choice has use for. use is that of the choice without them.
func (s *search) fill(counts [][]int, use *[dims]int, cost *Money) {
	for c, cl := range s.classes {
		if !cl.owned {
			continue
		}
		for d, u := range cl.options[1].use {
			if u > 0 {
				n := min(max(-use[d], 0), cl.count)
				counts[c][0], counts[c][1] = cl.count-n, n
				use[d] += n
				*cost += Money(n) * cl.options[1].cost
			}
		}
	}
}

// freed is the hosts with owned kinds at no price and out of the reckoning: no controllers cost less.
func (h *hosts) freed() *hosts {
	kinds := h.owned
	bare := func(all []*setup) (out []*setup) {
		for _, s := range all {
			t := *s
			for k := range kinds {
				t.cost -= kinds[k].saves(t.brings[radios+k])
				t.brings[radios+k] = 0
			}
			out = append(out, &t)
		}
		return out
	}
	o := *h
	o.owned, o.free, o.places = nil, bare(h.free), nil
	for _, g := range h.places {
		g.setups = bare(g.setups)
		o.places = append(o.places, g)
	}
	return &o
}

// settle deals the owned units out to the lines, first lines first, and takes their price off.
func (w *writer) settle() {
	left := map[*article]int{}
	for _, o := range w.h.sh.owned {
		left[o.article] = o.count
	}
	for _, e := range w.lines {
		e.Owned = min(e.Quantity, left[e.article])
		left[e.article] -= e.Owned
		w.bill.Saved += Money(e.Owned) * e.each
	}
}

// there says of a line that some or all of it is there already; "" when nothing is.
func (e *entry) there() string {
	switch {
	case e.Owned == 0:
		return ""
	case e.Owned == e.Quantity:
		return "There already, so it costs only its labour. "
	}
	return fmt.Sprintf("%d of the %d are there already and cost only their labour. ", e.Owned, e.Quantity)
}
