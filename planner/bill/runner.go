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
	choose  *chooser
	fronts  map[[2]int]*front // by item and article: the item's front without it
	answers map[string]answer
}

type answer struct {
	next *article
	more Money
}

func newRunners(w *writer) *runners {
	return &runners{w: w, choose: w.h.chooser(w.h.hosts), fronts: map[[2]int]*front{}, answers: map[string]answer{}}
}

// after gives the next best part for a line and what the bill would cost more with it, before tax; nil when
// nothing else serves as well.
func (r *runners) after(e *entry) (*article, Money, error) {
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
		return a.next, a.more, nil
	}
	a, err := r.reckon(e, its, counts)
	if err == nil {
		r.answers[key.String()] = a
	}
	return a.next, a.more, err
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
	s, ok, err := r.choose.choose(items)
	if err != nil || !ok {
		return answer{}, err
	}
	at := len(r.w.h.items)
	return answer{instead(items[at].front, s.picks[at], e), s.cost - r.w.sol.cost}, nil
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

func (r *runners) afterHost(e *entry) (*article, Money, error) {
	hs, ok := r.w.h.hosts.without(e.article)
	if !ok {
		return nil, 0, nil
	}
	s, ok, err := r.w.h.chooser(hs).choose(r.w.h.items)
	if err != nil || !ok {
		return nil, 0, err
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
	return next, s.cost - r.w.sol.cost, nil
}

// without is the hosts with a controller or adapter forbidden; ok is false when a place has no other.
func (h *hosts) without(a *article) (*hosts, bool) {
	keep := func(all []*setup) (kept []*setup) {
		for _, s := range all {
			has := s.article == a
			for _, ad := range s.adapters {
				has = has || ad == a
			}
			if !has {
				kept = append(kept, s)
			}
		}
		return kept
	}
	o := &hosts{free: keep(h.free), sh: h.sh, owned: h.owned, count: h.count, ideal: h.ideal, holds: h.holds}
	for _, g := range h.places {
		g.setups = keep(g.setups)
		if len(g.setups) == 0 {
			return nil, false
		}
		o.places = append(o.places, g)
		for _, s := range g.setups {
			o.spoken |= s.brings.kit()
		}
	}
	for _, s := range o.free {
		o.spoken |= s.brings.kit()
	}
	return o, true
}
