package bill

import (
	"fmt"
	"slices"
	"sort"
)

// routedRunners is how many groups of needs a home may have for its next best parts to be sought with routes of their own, keptRunners for them
// to be sought with the routes that the home has; in larger ones they are reckoned without looking at reach. routedLooks is how many
// homes are chosen for each.
const (
	routedRunners = 150
	keptRunners   = 1000
	routedLooks   = 40
)

// reaching tells how the home's next best parts are sought.
type reaching int

const (
	unrouted reaching = iota
	rerouted
	kept // with its routes
)

func (h *home) reaching() reaching {
	switch {
	case h.routed == nil || len(h.groups) > keptRunners:
		return unrouted
	case h.routed.program || len(h.groups) > routedRunners:
		return kept
	}
	return rerouted
}

// routedKey is equal for lines alike whose next best parts come to the same on the home's own routes: all that matters of a group is its ways and
// what is in reach of its room.
func (r *runners) routedKey(e *entry) string {
	h := r.w.h
	if r.reach == nil {
		reach, _ := h.router.flood(h.router.layout(h.routed, h.routed.added))
		r.reach = &reach
	}
	seen, parts := map[int]bool{}, []string{}
	for _, u := range e.uses {
		if seen[u.group] {
			continue
		}
		seen[u.group] = true
		part := fmt.Sprint(h.itemOf[u.group])
		if q := h.router.room[u.group]; q >= 0 {
			for radio := range radios {
				part += fmt.Sprint(" ", r.reach[radio][q])
			}
		}
		parts = append(parts, part)
	}
	sort.Strings(parts)
	return fmt.Sprint(e.index, parts)
}

// routed finds the next best part for a line where devices have to be in reach. Where the home's own routes do without the line's part, lines
// alike are reckoned once.
func (r *runners) routed(e *entry) (answer, error) {
	if r.w.h.reaching() != kept || e.host || e.repeater {
		a, _, err := r.rechosen(e)
		return a, err
	}
	key := r.routedKey(e)
	if a, ok := r.answers[key]; ok && !r.leansOn(e) {
		return a, nil
	}
	a, own, err := r.rechosen(e)
	if err == nil && own {
		r.answers[key] = a
	}
	return a, err
}

// rechosen chooses everything again without a line's part there. own says that the routes are the home's own.
func (r *runners) rechosen(e *entry) (a answer, own bool, err error) {
	h, hs := r.w.h, r.w.h.hosts
	fronts := h.fronts()
	switch {
	case e.repeater:
		h.router.stock(e.article)
		defer h.router.stock(nil)
	case e.host:
		var ok bool
		if hs, ok = hs.without(e.article); !ok {
			return answer{}, false, nil
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
	k, own, err := r.otherwise(e, hs, fronts)
	if err != nil || k == nil || len(k.given) > len(h.routed.given) {
		return answer{}, false, err
	}
	next := h.routed.instead(k, e)
	a = answer{next: next, more: k.money - h.routed.money, toll: k.toll.plus(h.routed.toll, -1),
		n: k.bought(next, k.items) - h.routed.bought(next, h.routed.items), ways: map[int]*point{}}
	for _, u := range e.uses {
		if i := h.itemOf[u.group]; a.ways[i] == nil {
			a.ways[i] = k.taken[u.group]
		}
	}
	return a, own, nil
}

// otherwise chooses the home anew with other fronts or controllers; it is nil where there is none. Of a home that took a program it keeps the
// routes, with repeaters in place of what is forbidden; where that won't do, it looks for others for a while.
func (r *runners) otherwise(e *entry, hs *hosts, fronts []*front) (k *routed, own bool, err error) {
	h := r.w.h
	defer func(most, toil int) { h.router.most, h.router.toil = most, toil }(h.router.most, h.router.toil)
	h.router.most = min(h.router.most, routedLooks)
	if h.reaching() == kept {
		for _, l := range r.without(e) {
			s, ok, err := h.router.settle(l, hs, fronts)
			if err != nil {
				return nil, false, err
			}
			if ok {
				s.known.given = s.given
				return s.known, !r.leansOn(e), nil
			}
		}
		h.router.most, h.router.toil = 1, toil/200
	}
	k, ok, err := h.router.choose(hs, fronts)
	if !ok {
		k = nil
	}
	return k, false, err
}

// leansOn reports whether a line's devices pass radio on.
func (r *runners) leansOn(e *entry) bool {
	return slices.ContainsFunc(e.uses, func(u use) bool { return r.w.taken[u.group].passes() != 0 })
}

// without is the home's layout without what a line's devices pass on, and the same with repeaters in their place.
func (r *runners) without(e *entry) []layout {
	k := r.w.h.routed
	l := r.w.h.router.layout(k, slices.DeleteFunc(slices.Clone(k.added), func(at repeaterAt) bool { return r.w.h.router.passing[at.radio] == nil }))
	l.given = k.given
	var gone []repeaterAt
	for _, u := range e.uses {
		for at, g := range l.passes {
			if g == u.group {
				delete(l.passes, at)
				if r.w.h.router.repeater[at.radio] != nil {
					gone = append(gone, at)
				}
			}
		}
	}
	if len(gone) == 0 {
		return []layout{l}
	}
	slices.SortFunc(gone, repeaterAt.compare)
	with := l
	with.added = append(slices.Clone(l.added), gone...)
	return []layout{l, with}
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
