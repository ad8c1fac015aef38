package bill

import (
	"fmt"
	"sort"
	"strings"
)

// runners finds next best parts: the whole home is chosen again with a line's part forbidden for the needs
// that it covers there, and for those that could share a part with them. Everything else may change with
// it. Lines alike are reckoned once.
type runners struct {
	w       *writer
	choose  *decider
	fronts  map[[2]int]*front // by item and article: the item's front without it
	answers map[string]answer
	reach   *[radios][]uint8 // by radio and room, on the home's own routes; nil before it is needed
}

// answer is the next best part for a line, and by how much more of it is bought and everything costs; next is
// nil when nothing else serves as well.
type answer struct {
	next *article
	more Money
	toll toll
	n    int            // of the next best part, more than now
	ways map[int]*point // by item: how its groups are covered then, the first of them
}

func newRunners(w *writer) *runners {
	return &runners{w: w, choose: w.h.decider(w.h.hosts), fronts: map[[2]int]*front{}, answers: map[string]answer{}}
}

// after gives the next best part for a line and what the bill would cost more with it, before tax.
func (r *runners) after(e *entry) (answer, error) {
	if r.w.h.reaching() != unrouted {
		return r.routed(e)
	}
	if e.repeater {
		return answer{}, nil
	}
	if e.host {
		return r.afterHost(e)
	}
	counts := map[int]int{} // groups by item
	seen := map[int]bool{}
	for _, u := range e.uses {
		if !seen[u.group] {
			seen[u.group] = true
			counts[r.w.h.itemOf[u.group]]++
		}
	}
	var its []int
	for i := range counts {
		its = append(its, i)
	}
	sort.Ints(its)
	var key strings.Builder
	fmt.Fprint(&key, e.index)
	for _, i := range its {
		fmt.Fprint(&key, ",", i, "x", counts[i])
	}
	if a, ok := r.answers[key.String()]; ok {
		return a, nil
	}
	a, err := r.reckon(e, its, counts)
	if err == nil {
		r.answers[key.String()] = a
	}
	return a, err
}

func (r *runners) reckon(e *entry, its []int, counts map[int]int) (answer, error) {
	items := append([]item(nil), r.w.h.items...)
	for _, i := range its {
		items[i].count -= counts[i]
		k := [2]int{i, e.index}
		if r.fronts[k] == nil {
			r.fronts[k] = items[i].front.without(e.article)
		}
		items = append(items, item{front: r.fronts[k], count: counts[i]})
	}
	s, ok, err := r.choose.best(items)
	if err != nil || !ok {
		return answer{}, err
	}
	at := len(r.w.h.items)
	a := r.against(instead(items[at].front, s.picks[at], e), s, items)
	a.ways = map[int]*point{}
	for k, i := range its {
		for p, n := range s.picks[at+k] {
			if n > 0 {
				a.ways[i] = &items[at+k].front.points[p]
				break
			}
		}
	}
	return a, nil
}

// uses is the part that serves each need of a line then.
func (a answer) uses(w *writer, e *entry) map[string]string {
	out := map[string]string{}
	for _, u := range e.uses {
		way := a.ways[w.h.itemOf[u.group]]
		for t, n := range u.offer.covers {
			for _, sp := range w.h.groups[u.group].types[t].spots {
				if n > 0 && way != nil && e.spots[sp.order] != nil {
					if next := way.serving(t); next != nil {
						out[sp.ID] = next.ID
					}
				}
			}
		}
	}
	return out
}

// against compares another choice for the home with the one that was taken.
func (r *runners) against(next *article, s solution, items []item) answer {
	now := &r.w.sol
	if k := r.w.h.routed; k != nil {
		now = k.free // of two homes chosen without looking at reach
	}
	return answer{next: next, more: s.money - now.money, toll: s.toll.plus(now.toll, -1),
		n: s.bought(next, items) - now.bought(next, r.w.h.items)}
}

// bought is how many of an article serve needs or run rules in a choice, without those that only come with another.
func (s *solution) bought(a *article, items []item) (n int) {
	for i, picks := range s.picks {
		for k, times := range picks {
			for _, o := range items[i].front.points[k].offers {
				if times > 0 && o.article == a {
					n += times * o.n
				}
			}
		}
	}
	for _, x := range s.hosted.seated {
		if x.hasPart(a) {
			n += x.count
		}
	}
	return n
}

// wins is how much less each of the next best part must cost, with markup, for it to win: more than what it costs
// more in all, over how many more of it there would be. ok is false when no price does it, not even none; and for a part
// of which the home has some, since a price doesn't touch those.
func (a answer) wins(has []owned) (less Money, ok bool) {
	for _, o := range has {
		if o.article == a.next {
			return 0, false
		}
	}
	if a.next == nil || a.n <= 0 || a.toll != (toll{}) { // what tolls are worth is not in a price
		return 0, false
	}
	less = a.more/Money(a.n) + 1
	return less, less <= a.next.each
}

// instead names the part that does, in a choice without it, what e's part did.
func instead(f *front, picks []int, e *entry) *article {
	for k, n := range picks {
		if n == 0 {
			continue
		}
		return f.points[k].doing(e.uses[0].offer)
	}
	return nil
}

func (r *runners) afterHost(e *entry) (answer, error) {
	hs, ok := r.w.h.hosts.without(e.article)
	if !ok {
		return answer{}, nil
	}
	s, ok, err := r.w.h.decider(hs).best(r.w.h.items)
	if err != nil || !ok {
		return answer{}, err
	}
	had := map[*article]bool{}
	for _, x := range r.w.sol.hosted.seated {
		had[x.article] = true
		for _, ad := range x.adapters {
			had[ad] = true
		}
	}
	var next *article
	for _, x := range s.hosted.seated {
		for _, a := range append([]*article{x.article}, x.adapters...) {
			if next == nil || had[next] && !had[a] {
				next = a
			}
		}
	}
	return r.against(next, s, r.w.h.items), nil
}

// without is the hosts with a controller or adapter forbidden; ok is false when a place has no other.
func (h *hosts) without(a *article) (*hosts, bool) {
	return h.keeping(func(s *setup) bool { return !s.hasPart(a) })
}

// keeping is the hosts with controllers of one sort only. full is false when a named place is left without any; then
// there is nothing beyond the named places either, since these come first.
func (h *hosts) keeping(is func(*setup) bool) (o *hosts, full bool) {
	keep := func(all []*setup) (kept []*setup) {
		for _, s := range all {
			if is(s) {
				kept = append(kept, s)
			}
		}
		return kept
	}
	o, full = &hosts{free: keep(h.free), sh: h.sh, owned: h.owned, count: h.count, ideal: h.ideal, holds: h.holds}, true
	for _, g := range h.places {
		g.setups = keep(g.setups)
		full = full && len(g.setups) > 0
		o.places = append(o.places, g)
		for _, s := range g.setups {
			o.spoken |= s.brings.kit()
		}
	}
	if !full {
		o.free = nil
	}
	for _, s := range o.free {
		o.spoken |= s.brings.kit()
	}
	return o, full
}

// hasPart reports whether a setup is made with an article.
func (s *setup) hasPart(a *article) bool {
	for _, ad := range s.adapters {
		if ad == a {
			return true
		}
	}
	return s.article == a
}
