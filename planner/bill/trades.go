package bill

import (
	"context"
	"math"
	"sort"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// tradedNodes is how many nodes of branch.go are visited for a bill between the aims. Sums of money and tolls hardly ever come out even, and
// what is won by going on is small.
const tradedNodes = 3000

// Trades are bills of which none is beaten by another: whatever is better in one of money, upkeep and losses is worse
// in another of them.
type Trades struct {
	Currency string  `json:"currency"`
	Trades   []Trade `json:"trades"`   // by money
	Complete bool    `json:"complete"` // there are no others; else there may be more in between
}

// Trade is one such bill.
type Trade struct {
	Total   Money    `json:"total"`  // with tax
	Net     Money    `json:"net"`    // before tax
	Upkeep  Care     `json:"upkeep"` // each year
	Losses  Losses   `json:"losses"`
	Aims    []Aim    `json:"aims"`    // that it is the best by
	Worth   Worth    `json:"worth"`   // at which it is the best bill; zero where there is none but an aim
	Instead []string `json:"instead"` // what it has more of than the cheapest bill, most first

	counts map[string]int // of devices, by the name of the part
}

// mark is where a bill stands: money before tax, and tolls.
type mark struct {
	money Money
	toll
}

// beats reports whether a bill is nowhere worse than another and somewhere better.
func (m mark) beats(o mark) bool {
	return m != o && m.money <= o.money && m.toll.within(o.toll)
}

// TradeOffs finds bills of a home that none beats. First those that are best by an aim, then those that are best where
// tolls are worth something in money: the worths come from the plane through three bills found before, which the
// next bill lies under or, where there is none, on; then the triangle is left alone. Each is the best at its worth, or nearly where that
// takes long; of those found none beats another. A small home's are found all (every), also those that no worth leads to. effort is how many
// worths are tried. The project's own aim and worths are left aside.
func TradeOffs(ctx context.Context, p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet, count Count, effort int) (Trades, error) {
	free := *p
	free.Choices.Aim, free.Choices.Worth = "", model.Worth{}
	a, err := NewAgain(&free, c, sheet, count)
	if err != nil {
		return Trades{}, err
	}
	a.minds = [tolls]bool{true, true}
	h, cheapest, err := a.solve(ctx, &free, ns)
	if err != nil {
		return Trades{}, err
	}
	t := &trader{d: h.decider(h.hosts), left: effort, found: map[mark]traded{}, best: map[Aim]mark{}}
	out := Trades{Currency: h.sh.currency, Trades: []Trade{}}
	if h.short {
		t.add(traded{solution: cheapest})
	} else if err = t.search(); err == nil {
		out.Complete, err = t.every()
	}
	if err == nil {
		out.Trades, err = t.written(&free)
	}
	return out, err
}

// trader finds bills.
type trader struct {
	d     *decider
	left  int // worths that may still be tried
	found map[mark]traded
	best  map[Aim]mark
}

// traded is a choice with a worth that leads to it.
type traded struct {
	solution
	worth  Worth
	routed *routed
}

func (t *trader) add(s traded) mark {
	m := mark{s.money, s.toll}
	if old, ok := t.found[m]; !ok || old.worth == (Worth{}) {
		t.found[m] = s
	}
	return m
}

// choose finds the bill that is best by an aim or at a worth, with its routes where devices have to be in reach.
func (t *trader) choose(aim Aim, w Worth) (traded, bool, error) {
	h, in := t.d.h, haste{}
	if w != (Worth{}) {
		in.nodes = tradedNodes // it is one of many
	}
	if h.router == nil {
		s, ok, err := t.d.bestFor(aim, w, in, h.items)
		return traded{s, w, nil}, ok, err
	}
	h.router.aim, h.router.worth, h.router.toil, h.router.haste = aim, w, toil, in
	if w != (Worth{}) {
		h.router.toil = toil / 60
	}
	k, ok, err := h.router.choose(h.hosts, h.fronts())
	if err != nil || !ok {
		return traded{}, ok, err
	}
	return traded{k.solution, w, k}, true, nil
}

// search starts from the bills that are best by an aim and looks under the plane through them.
func (t *trader) search() error {
	var corners []mark
	for _, aim := range Aims {
		s, ok, err := t.choose(aim, Worth{})
		if err != nil || !ok {
			return err
		}
		m := t.add(s)
		t.best[aim] = m
		corners = append(corners, m)
	}
	open := [][3]mark{{corners[0], corners[1], corners[2]}}
	for len(open) > 0 && t.left > 0 {
		now := open[0]
		open = open[1:]
		w, ok := worthOf(now)
		if !ok {
			continue
		}
		t.left--
		s, ok, err := t.choose(Cost, w)
		if err != nil || !ok {
			return err
		}
		m := t.add(s)
		if m == now[0] || m == now[1] || m == now[2] {
			continue
		}
		for i := range now {
			next := now
			next[i] = m
			open = append(open, next)
		}
	}
	return nil
}

// worthOf is the worth at which three bills are equally good, rounded to what people write; where there is none, that
// between the two of them that differ most in one toll. ok is false when there is nothing in between.
func worthOf(b [3]mark) (w Worth, ok bool) {
	v := func(i int) [3]float64 {
		return [3]float64{float64(b[i].money - b[0].money), float64(b[i].toll[upkeep] - b[0].toll[upkeep]), float64(b[i].toll[losses] - b[0].toll[losses])}
	}
	x, y := v(1), v(2)
	n := [3]float64{x[1]*y[2] - x[2]*y[1], x[2]*y[0] - x[0]*y[2], x[0]*y[1] - x[1]*y[0]}
	hour, loss := 3600*n[1]/n[0], n[2]/n[0]
	if n[0] == 0 || hour < 0 || loss < 0 {
		hour, loss = between(b, upkeep)*3600, between(b, losses)
	}
	w = Worth{round(hour), round(loss)}
	return w, w.Hour > 0 && w.Loss > 0
}

// between is the money that one of a toll costs from the bill that has most of it to the one that has least; at least
// one minor unit.
func between(b [3]mark, toll int) float64 {
	most, least := b[0], b[0]
	for _, m := range b {
		if m.toll[toll] > most.toll[toll] {
			most = m
		}
		if m.toll[toll] < least.toll[toll] {
			least = m
		}
	}
	if most.toll[toll] == least.toll[toll] || least.money <= most.money {
		return 1
	}
	return float64(least.money-most.money) / float64(most.toll[toll]-least.toll[toll])
}

// round leaves two figures of money, and at least one minor unit.
func round(minor float64) Money {
	unit := 1.0
	for minor/unit >= 100 {
		unit *= 10
	}
	return max(Money(math.Round(minor/unit)*unit), 1)
}

// unbeaten are the marks of those found that none beats, by money, then by upkeep.
func (t *trader) unbeaten() (all []mark) {
	for m := range t.found {
		beaten := false
		for o := range t.found {
			beaten = beaten || o.beats(m)
		}
		if !beaten {
			all = append(all, m)
		}
	}
	sort.Slice(all, func(i, j int) bool {
		a, b := all[i], all[j]
		if a.money != b.money {
			return a.money < b.money
		}
		return a.toll[upkeep] < b.toll[upkeep]
	})
	return all
}

// written makes the trades of what was found.
func (t *trader) written(p *model.Project) ([]Trade, error) {
	out := []Trade{}
	for _, m := range t.unbeaten() {
		t.d.h.routed = t.found[m].routed
		b, err := written(t.d.h, p, t.found[m].solution, bare)
		if err != nil {
			return nil, err
		}
		x := Trade{Total: b.Total, Net: m.money, Upkeep: b.Upkeep, Losses: b.Losses, Worth: t.found[m].worth, Aims: []Aim{}, Instead: []string{},
			counts: map[string]int{}}
		for _, aim := range Aims {
			if best, ok := t.best[aim]; ok && m.money == best.money && m.toll.minded(aim.minds()) == best.toll.minded(aim.minds()) {
				x.Aims = append(x.Aims, aim) // of bills that are as good at it, the one that is not beaten
			}
		}
		for _, dev := range b.Devices {
			x.counts[t.d.h.sh.byID[dev.Part].Name]++
		}
		if len(out) > 0 {
			x.Instead = extraParts(x.counts, out[0].counts)
		}
		out = append(out, x)
	}
	return out, nil
}

// extraParts lists what one bill has more of than another, most first.
func extraParts(has, than map[string]int) (out []string) {
	var names []string
	for name, n := range has {
		if n > than[name] {
			names = append(names, name)
		}
	}
	sort.Slice(names, func(i, j int) bool {
		a, b := has[names[i]]-than[names[i]], has[names[j]]-than[names[j]]
		if a != b {
			return a > b
		}
		return names[i] < names[j]
	})
	for _, name := range names {
		out = append(out, itoa(has[name]-than[name])+" x "+name)
	}
	return out
}
