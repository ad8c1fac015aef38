package bill

import (
	"fmt"
	"math"
	"sort"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/rules"
)

// noBound stands for a capacity that the shelf gives no figure for.
const noBound = 1 << 30

// setup is a controller with the radio adapters that are plugged into it.
type setup struct {
	*article // the controller
	adapters []*article
	cost     Money
	toll     toll
	weighed  Money // the sum that is to be made least; set by trimmed
	count    int
	brings   slots // devices that it can hold, by radio
	rules    int   // of the ideal sheet that it can hold; set by trimmed
}

// placeGroup is places that ask for the same of their controller.
type placeGroup struct {
	limits string // named set, "" for any
	except map[string]string
	places []model.Controller
	setups []*setup // that may sit there
	taken  bool     // never empty
	beyond bool     // no named place, but one more once all of those are taken
}

// hosts is every controller that the home may have, and where.
type hosts struct {
	places []placeGroup
	free   []*setup // for places that nobody has named yet
	spoken int      // kit of all radios that any setup speaks
	unmet  []Unmet  // places that nothing on the shelf suits

	sh    *shelf
	owned []owned // kinds that are weighed with the rest
	count Count
	ideal int            // rules of the sheet
	holds map[string]int // of the ideal rules, by limits and what is other than they
}

// capacity is how many of the home's ideal rules a controller holds: as many as it takes rules, if it takes one for each. Where
// its limits make more of them, or fewer, its rules are shared out over all ideal ones alike; so a controller
// that holds all of the home is told exactly from one that doesn't.
func (h *hosts) capacity(s *setup, except map[string]string) int {
	key := fmt.Sprint(s.Host.Limits, except)
	n, ok := h.holds[key]
	if !ok {
		lim, _ := h.sh.limits[s.Host.Limits].Except(except)
		n = noBound
		if lim.Rules > 0 {
			n = lim.Rules
			if fitted := h.count(lim); h.ideal > 0 && fitted > 0 {
				n = n * h.ideal / fitted
			}
		}
		h.holds[key] = n
	}
	return n
}

// newHosts pairs controllers with adapters. Each place takes one controller at most. A controller in a
// place that nobody named is bought only when all named places are taken.
//
// A controller that can't look at states, or doesn't know a press that the rules use, is not chosen for
// them; where a place names a set of limits, that is the user's decision and stands.
func newHosts(sh *shelf, p *model.Project, sheet rules.Sheet, count Count) *hosts {
	h := &hosts{sh: sh, owned: sh.weighed(), count: count, ideal: len(sheet.Rules), holds: map[string]int{}}
	if count == nil {
		h.count = func(catalogue.Limits) int { return h.ideal }
	}
	all := setups(sh)
	for _, s := range all {
		if runs(sh.limits[s.Host.Limits], sheet) && !s.avoided {
			h.free = append(h.free, s)
		}
	}
	if len(h.free) == 0 {
		for _, s := range all {
			if !s.avoided {
				h.free = append(h.free, s)
			}
		}
	}
	for _, place := range p.Controllers {
		h.addPlace(place, all, p.Choices)
	}
	for _, g := range h.places {
		for _, s := range g.setups {
			h.spoken |= s.brings.kit()
		}
	}
	for _, s := range h.free {
		h.spoken |= s.brings.kit()
	}
	return h
}

func (h *hosts) addPlace(place model.Controller, all []*setup, choices model.Choices) {
	use := choices.Use["controllers/"+place.ID]
	if use == "" {
		use = choices.Use[place.ID]
	}
	key := fmt.Sprint(place.Limits, "!", use, "!", place.Except)
	for i := range h.places {
		if h.places[i].limits == key {
			h.places[i].places = append(h.places[i].places, place)
			return
		}
	}
	g := placeGroup{limits: key, except: place.Except, places: []model.Controller{place}}
	candidates := h.free
	if place.Limits != "" || use != "" {
		candidates = nil
		for _, s := range all {
			if (place.Limits == "" || s.Host.Limits == place.Limits) && (use == "" && !s.avoided || s.ID == use) {
				candidates = append(candidates, s)
			}
		}
	}
	g.setups = candidates
	if len(candidates) == 0 {
		asked, remedy := "a controller", "put a controller on the shelf"
		if place.Limits != "" {
			asked, remedy = "a controller with the limits "+place.Limits, "name another set of limits, or none, at controllers/"+place.ID
		}
		if use != "" {
			asked, remedy = use, "choose another part at choices/use"
		}
		h.unmet = append(h.unmet, Unmet{Need: "controllers/" + place.ID, Asked: asked,
			Reason: "Nothing on the shelf is that.", Remedy: remedy})
		return
	}
	h.places = append(h.places, g)
}

// least is less than any plan costs that has more controllers than named places: each place has its cheapest, and there is one more.
func (h *hosts) least(w weights) Money {
	cheapest := func(all []*setup) Money {
		least := Money(math.MaxInt64)
		for _, s := range all {
			least = min(least, w.sum(s.cost, s.toll))
		}
		return least
	}
	if len(h.free) == 0 {
		return math.MaxInt64
	}
	sum := cheapest(h.free)
	for _, g := range h.places {
		if g.beyond {
			sum -= cheapest(h.free) // that is the one more
		}
		sum += cheapest(g.setups) * Money(len(g.places))
	}
	return sum
}

// setups lists each controller with each choice of adapters for radios that it lacks: at most one adapter
// a radio, for once it has the radio it no longer lacks it.
func setups(sh *shelf) []*setup {
	var adapters [radios][]*article
	for _, a := range sh.articles {
		if does(a.Part, catalogue.Speak) && !a.avoided && a.lacks == "" && sh.forMains(a) {
			for _, r := range adapterRadios(a) {
				adapters[r] = append(adapters[r], a)
			}
		}
	}
	var all []*setup
	for _, a := range sh.articles {
		if !does(a.Part, catalogue.Host) || a.lacks != "" || !sh.forMains(a) {
			continue
		}
		s := &setup{article: a, cost: a.cost, toll: a.toll, count: a.count}
		for _, name := range a.Host.Radios {
			if r := radioOf(name); r >= 0 {
				s.brings[r] = bound(a.Host.Children[name])
			}
		}
		s.bring(a)
		all = append(all, s)
		from := len(all) - 1
		for r := range adapters {
			for i, end := from, len(all); i < end; i++ {
				for _, ad := range adapters[r] {
					if all[i].brings[r] == 0 {
						all = append(all, all[i].with(ad))
					}
				}
			}
		}
	}
	return all
}

// with is the setup with one more adapter.
func (s *setup) with(ad *article) *setup {
	t := *s
	t.adapters = append(append([]*article(nil), s.adapters...), ad)
	t.cost += ad.cost
	t.toll = t.toll.plus(ad.toll, 1)
	t.count += ad.count
	for _, r := range adapterRadios(ad) {
		if t.brings[r] == 0 {
			t.brings[r] = bound(ad.Host.Children[Radios[r]])
		}
	}
	t.bring(ad)
	return &t
}

// speaks lists its radios, with those of its adapters.
func (s *setup) speaks() []string {
	names := []string{}
	for r, name := range Radios {
		if s.brings[r] > 0 {
			names = append(names, name)
		}
	}
	return names
}

// bring adds the uses of owned kinds.
func (s *setup) bring(a *article) {
	for k := radios; k < held; k++ {
		s.brings[k] -= a.slots[k]
	}
}

func adapterRadios(a *article) (rs []int) {
	for _, name := range a.Host.Radios {
		if r := radioOf(name); r >= 0 {
			rs = append(rs, r)
		}
	}
	if len(rs) == 0 && a.radio >= 0 {
		rs = []int{a.radio}
	}
	return rs
}

// bound reads a figure of the shelf where none means no bound.
func bound(n int) int {
	if n <= 0 {
		return noBound
	}
	return n
}

// runs reports whether a controller can run the rules of a sheet at all: look at states where guards
// do, and know the presses that are used.
func runs(l catalogue.Limits, sheet rules.Sheet) bool {
	states := l.Guards == "" || l.Guards == "state" || l.Guards == "both"
	names := map[rules.Press]string{rules.Single: "press", rules.Double: "double", rules.Hold: "hold"}
	for _, r := range sheet.Rules {
		if r.Cause.Kind == rules.Pressed && len(l.Presses) > 0 && !listed(l.Presses, names[r.Cause.Press]) {
			return false
		}
		if states {
			continue
		}
		for _, g := range append(append([]rules.Literal(nil), r.Guard...), r.Hold...) {
			if g.Kind != rules.Between {
				return false
			}
		}
	}
	return true
}

// trimmed keeps the setups worth having for a demand: capacities above the demand count as the demand,
// and a setup that brings no more than another and costs no less is dropped.
func (h *hosts) trimmed(all []*setup, except map[string]string, demand slots, most int, w weights) []*setup {
	var kept []*setup
	for _, s := range all {
		t := *s
		t.weighed = w.sum(s.cost, s.toll)
		t.rules = h.capacity(s, except)
		for r := range t.brings {
			t.brings[r] = min(t.brings[r], demand[r])
		}
		t.rules = min(t.rules, most)
		kept = append(kept, &t)
	}
	sort.SliceStable(kept, func(i, j int) bool {
		a, b := kept[i], kept[j]
		if a.weighed != b.weighed {
			return a.weighed < b.weighed
		}
		if a.cost != b.cost {
			return a.cost < b.cost
		}
		return a.count < b.count
	})
	var out []*setup
	for _, s := range kept {
		beaten := false
		for _, o := range out {
			beaten = beaten || s.brings.within(o.brings) && s.rules <= o.rules && o.toll.within(s.toll)
		}
		if !beaten {
			out = append(out, s)
		}
	}
	return out
}
