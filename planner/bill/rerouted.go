package bill

// routedRunners is how many groups of needs a home may have for its next best parts to be sought with their routes; in larger
// ones they are reckoned without looking at reach. routedLooks is how many homes are chosen for each.
const (
	routedRunners = 150
	routedLooks   = 40
)

// routes reports whether the home's next best parts are sought with their routes.
func (h *home) routes() bool {
	return h.routed != nil && len(h.groups) <= routedRunners && !h.routed.program
}

// routed finds the next best part for a line where devices have to be in reach: everything is chosen again with its routes.
func (r *runners) routed(e *entry) (answer, error) {
	h, hs := r.w.h, r.w.h.hosts
	fronts := h.fronts()
	switch {
	case e.repeater:
		h.router.stock(e.article)
		defer h.router.stock(nil)
	case e.host:
		var ok bool
		if hs, ok = hs.without(e.article); !ok {
			return answer{}, nil
		}
	default:
		for _, u := range e.uses {
			k := [2]int{h.itemOf[u.group], e.index}
			if r.fronts[k] == nil {
				r.fronts[k] = h.items[k[0]].front.without(e.article)
			}
			fronts[u.group] = r.fronts[k]
		}
	}
	most := h.router.most
	h.router.most = min(most, routedLooks)
	k, ok, err := h.router.choose(hs, fronts)
	h.router.most = most
	if err != nil || !ok || len(k.given) > len(h.routed.given) {
		return answer{}, err
	}
	next := h.routed.instead(k, e)
	a := answer{next: next, more: k.money - h.routed.money, toll: k.toll.plus(h.routed.toll, -1),
		n: k.bought(next, k.items) - h.routed.bought(next, h.routed.items), ways: map[int]*point{}}
	for _, u := range e.uses {
		if i := h.itemOf[u.group]; a.ways[i] == nil {
			a.ways[i] = k.taken[u.group]
		}
	}
	return a, nil
}

// instead names the part that does, in another choice, what the line's part does in this one.
func (k *routed) instead(other *routed, e *entry) (next *article) {
	switch {
	case e.repeater:
		if len(other.passed) > 0 {
			return other.passed[0]
		}
		for g, pt := range other.taken { // another part has come to pass the radio on, or to do without it
			for _, o := range pt.offers {
				if was := k.taken[g].doing(o); was != nil && was != o.article {
					return o.article
				}
			}
		}
	case e.host:
		had := map[*article]bool{}
		for _, x := range k.hosted.seated {
			for _, a := range append([]*article{x.article}, x.adapters...) {
				had[a] = true
			}
		}
		for _, x := range other.hosted.seated {
			for _, a := range append([]*article{x.article}, x.adapters...) {
				if next == nil || had[next] && !had[a] {
					next = a
				}
			}
		}
	default:
		next = other.taken[e.uses[0].group].doing(e.uses[0].offer)
	}
	return next
}
