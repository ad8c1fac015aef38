package bill

import (
	"context"
	"fmt"
	"slices"
	"sort"

	"example.org/roombrief/model/catalogue"
)

// front is the ways to cover a group that are worth considering: none is beaten by another that costs no
// more and takes no more radio slots. The cheapest stands first.
type front struct {
	points []point
	inputs coverInputs // to do it again with a part forbidden

	all     *front            // with what matters to radios told apart; see wide
	limited map[limit]*front  // see under
	dearer  [radios]*dearness // see least
}

// point is one way to cover a group.
type point struct {
	cost   Money
	toll   toll // as far as it counts
	count  int  // articles
	slots  slots
	inBox  int
	offers []*offer
	spacer *article // for the switch box
	air
}

// offer is one article at work, and how many spots of each type it covers.
type offer struct {
	*article
	n      int
	covers []int
	extras []extra
	price  Money
	toll   toll // as far as it counts
	pieces int
	slots  slots
	inBox  int
	air
}

// coverInputs is all that the ways to cover a group depend on.
type coverInputs struct {
	ctx      context.Context
	types    []spotType
	gangs    int           // in-box parts that the box has room for; 0 is no bound
	spacers  []*article    // nil is none
	servings [][][]serving // by spacer and type
	ban      *article
	minds    [tolls]bool // tolls that count
	wide     bool        // what matters to radios counts
}

// newFront finds every way to cover a group, for each spacer that may deepen its box. Each spot is served
// as well as can be; only then money counts.
func newFront(ctx context.Context, sh *shelf, hs *hosts, g *group, minds [tolls]bool) *front {
	in := coverInputs{ctx: ctx, types: g.types, gangs: g.gangs, minds: minds}
	for i := range g.types {
		plain := sh.served(g.types[i].spots[0], nil, hs.spoken)
		g.types[i].near, g.types[i].assumed = plain.near, plain.assumed
	}
	for _, spacer := range sh.usefulSpacers(g, hs.spoken) {
		byType := make([][]serving, len(g.types))
		for i := range g.types {
			byType[i] = sh.served(g.types[i].spots[0], spacer, hs.spoken).all
		}
		in.spacers = append(in.spacers, spacer)
		in.servings = append(in.servings, byType)
	}
	for i := range g.types {
		g.types[i].best = in.bestRank(i)
	}
	if g.gangs > 0 && len(in.ways()) == 0 {
		in.yield()
	}
	return &front{points: in.ways(), inputs: in}
}

// without is the front with a part forbidden; it is empty when nothing else serves as well.
func (f *front) without(a *article) *front {
	in := f.inputs
	in.ban = a
	return &front{points: in.ways(), inputs: in}
}

func firstWant(sp spot) catalogue.Ability {
	if len(sp.Wants) == 0 {
		return ""
	}
	return sp.Wants[0]
}

// bestRank is the first want of a type that any serving reaches, with any spacer.
func (in *coverInputs) bestRank(t int) int {
	best := unserved
	for _, byType := range in.servings {
		for _, v := range byType[t] {
			if best == unserved || v.rank < best {
				best = v.rank
			}
		}
	}
	return best
}

// yield settles an overfull box: spot by spot in the order of the needs, each is served if the box still
// has room with the later ones left out, and is left unserved otherwise.
func (in *coverInputs) yield() {
	order := make([]int, len(in.types))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return in.types[order[a]].spots[0].order < in.types[order[b]].spots[0].order })
	best := make([]int, len(in.types))
	for i := range in.types {
		best[i], in.types[i].best = in.types[i].best, unserved
	}
	for _, i := range order {
		in.types[i].best = best[i]
		if len(in.ways()) == 0 {
			in.types[i].best = unserved
			in.types[i].near = []refusal{{text: "finds no room in the switch box", remedy: "fit a box with more gangs"}}
		}
	}
}

// ways finds the front: for each spacer, an exact search over how many spots of each type are left.
func (in *coverInputs) ways() []point {
	var all []point
	for i, spacer := range in.spacers {
		base := point{spacer: spacer, air: air{wide: in.wide}}
		if spacer != nil {
			base.cost, base.count, base.slots = spacer.cost, spacer.count, spacer.slots
			base.toll = spacer.toll.minded(in.minds)
		}
		for _, p := range in.cover(in.offers(i), base) {
			all = keep(all, p)
		}
	}
	for i := range all {
		all[i].inBox = 0 // the box has room for any of these; only money and slots count from here
	}
	var kept []point
	for _, p := range all {
		kept = keep(kept, p)
	}
	sort.SliceStable(kept, func(i, j int) bool { return better(&kept[i], &kept[j]) })
	return kept
}

// cover is the search. left counts the spots of each type that are still to be covered, written as one
// number with a digit for each type. The first type with any left must be covered by the next offer, so
// each set of offers is met once. Every way to cover what is left then costs what the offer costs plus
// a way to cover the rest, and a beaten rest never makes a better whole: keeping the front is exact.
func (in *coverInputs) cover(offers []*offer, base point) []point {
	stride := make([]int, len(in.types)+1)
	stride[0] = 1
	for i, t := range in.types {
		n := 0
		if t.best != unserved {
			n = len(t.spots)
		}
		stride[i+1] = stride[i] * (n + 1)
	}
	byType := make([][]*offer, len(in.types))
	for _, o := range offers {
		for i, n := range o.covers {
			if n > 0 {
				byType[i] = append(byType[i], o)
			}
		}
	}
	fronts := make([][]point, stride[len(in.types)])
	fronts[0] = []point{base}
	for left := 1; left < len(fronts) && in.ctx.Err() == nil; left++ { // whoever cancels throws the rest away
		first := 0
		for left%stride[first+1] < stride[first] {
			first++
		}
		for _, o := range byType[first] {
			rest := left
			for i, n := range o.covers {
				if left%stride[i+1]/stride[i] < n {
					rest = -1
					break
				}
				rest -= n * stride[i]
			}
			if rest < 0 {
				continue
			}
			for _, p := range fronts[rest] {
				if in.gangs > 0 && p.inBox+o.inBox > in.gangs {
					continue
				}
				fronts[left] = keep(fronts[left], point{p.cost + o.price, p.toll.plus(o.toll, 1), p.count + o.pieces, p.slots.plus(o.slots, 1),
					p.inBox + o.inBox, append(slices.Clip(p.offers), o), p.spacer, p.air.and(o.air)})
			}
		}
	}
	return fronts[len(fronts)-1]
}

// keep adds a point to a front unless it is beaten, and drops what it beats.
func keep(front []point, p point) []point {
	for i := range front {
		if beats(&front[i], &p) {
			return front
		}
	}
	kept := front[:0]
	for i := range front {
		if !beats(&p, &front[i]) {
			kept = append(kept, front[i])
		}
	}
	return append(kept, p)
}

// beats reports whether a makes b pointless: no dearer, no more of the tolls that count, no more slots, no more of the
// box, no worse on the air where that counts, and the tie rule in its favour where all are equal.
func beats(a, b *point) bool {
	if a.cost > b.cost || a.inBox > b.inBox || !a.toll.within(b.toll) || !a.slots.within(b.slots) || !a.air.serves(b.air) {
		return false
	}
	if a.cost == b.cost && a.toll == b.toll && a.slots == b.slots && a.inBox == b.inBox && a.air == b.air {
		return !better(b, a)
	}
	return true
}

// better is the order of ties: less money, fewer articles, then the parts that stand first on the shelf.
func better(a, b *point) bool {
	switch {
	case a.cost != b.cost:
		return a.cost < b.cost
	case a.count != b.count:
		return a.count < b.count
	}
	for i := range a.offers {
		if i >= len(b.offers) {
			return false
		}
		x, y := a.offers[i], b.offers[i]
		if x.index != y.index {
			return x.index < y.index
		}
		if c := slices.Compare(x.covers, y.covers); c != 0 {
			return c > 0
		}
	}
	return len(a.offers) < len(b.offers)
}

// offers lists every use of one article for spots of the group: for one spot, or shared among as many as
// it has channels for. A sensor of a room's air serves one spot for each thing that it senses.
func (in *coverInputs) offers(spacer int) []*offer {
	byArticle := map[*article][]*serving{}
	var order []*article
	for i := range in.types {
		for j := range in.servings[spacer][i] {
			v := &in.servings[spacer][i][j]
			if v.rank != in.types[i].best || v.article == in.ban {
				continue
			}
			if byArticle[v.article] == nil {
				byArticle[v.article] = make([]*serving, len(in.types))
				order = append(order, v.article)
			}
			byArticle[v.article][i] = v
		}
	}
	sort.Slice(order, func(i, j int) bool { return order[i].index < order[j].index })
	var all []*offer
	for _, a := range order {
		in.share(a, byArticle[a], 0, make([]int, len(in.types)), 0, &all)
	}
	return unbeaten(all)
}

// unbeaten drops offers that another one for the same spots makes pointless: no way to cover the group
// gets better by the beaten one.
func unbeaten(all []*offer) []*offer {
	best := map[string][]point{}
	var order []string
	for _, o := range all {
		key := fmt.Sprint(o.covers)
		if best[key] == nil {
			order = append(order, key)
		}
		best[key] = keep(best[key], point{cost: o.price, toll: o.toll, count: o.pieces, slots: o.slots, inBox: o.inBox, offers: []*offer{o}, air: o.air})
	}
	var kept []*offer
	for _, key := range order {
		for _, p := range best[key] {
			kept = append(kept, p.offers[0])
		}
	}
	return kept
}

// share counts through the uses of one article, type by type from t on.
func (in *coverInputs) share(a *article, vs []*serving, t int, covers []int, n int, all *[]*offer) {
	if t == len(vs) {
		if n > 0 {
			*all = append(*all, in.offer(a, vs, covers))
		}
		return
	}
	most := 0
	if vs[t] != nil {
		most = in.room(a, vs, t, covers, n)
	}
	for k := 0; k <= min(most, len(in.types[t].spots)); k++ {
		covers[t] = k
		in.share(a, vs, t+1, covers, n+k, all)
	}
	covers[t] = 0
}

// room is how many spots of type t an article can still take on, with n taken on already.
func (in *coverInputs) room(a *article, vs []*serving, t int, covers []int, n int) int {
	sp := in.types[t].spots[0]
	channels := max(a.Channels, 1)
	for i, k := range covers[:t] {
		if k > 0 && vs[i].n > 1 {
			return 0 // lamps serve their own circuit only
		}
	}
	switch {
	case vs[t].n > 1 || a.Place == "lamp" || a.Place == "fitting":
		return max(1-n, 0)
	case family(firstWant(sp)) == inAir:
		want := sp.Wants[vs[t].rank]
		for i, k := range covers[:t] {
			if k > 0 && in.types[i].spots[0].Wants[vs[i].rank] == want {
				return 0
			}
		}
		return 1
	case family(firstWant(sp)) == alone:
		return max(1-n, 0)
	}
	return max(channels-n, 0)
}

func (in *coverInputs) offer(a *article, vs []*serving, covers []int) *offer {
	o := &offer{article: a, n: 1, covers: slices.Clone(covers)}
	for i, k := range covers {
		if k == 0 {
			continue
		}
		o.n = max(o.n, vs[i].n)
		for _, x := range vs[i].extras {
			o.extras = append(o.extras, extra{x.article, x.n * k})
			o.price += Money(x.n*k) * x.cost
			o.pieces += x.n * k * x.count
			o.slots = o.slots.plus(x.slots, x.n*k)
		}
	}
	o.price += Money(o.n) * a.cost
	o.pieces += o.n * a.count
	o.slots = o.slots.plus(a.slots, o.n)
	if a.Place == "box" && in.gangs > 0 {
		o.inBox = o.n
	}
	o.toll = in.tollOf(o)
	o.air = in.airOf(o)
	return o
}
