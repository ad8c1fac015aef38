package bill_test

import (
	"math"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// The oracle tries every way to give every need a part, every sharing of parts, and every set of
// controllers up to a number that can't be too small, and takes the cheapest. It shares no code with
// the planner: eligibility is written again, for the facts that the random homes have.

type oracle struct {
	cat    *catalogue.Catalogue
	p      *model.Project
	ns     []needs.Need
	rules  int
	sheet  int // rules of the sheet
	count  bill.Count
	best   int64
	rank   []int            // best rank of each need
	hosts  map[[5]int]int64 // cheapest controllers by demand
	spoken map[string]bool
	deeper map[string]bool                      // boxes with a spacer
	banned func(part string, n needs.Need) bool // nil bans nothing
	owned  map[string]int                       // parts that are there already
	weigh  [3]int64                             // of money, seconds of upkeep and losses in every sum
	inside bool                                 // only controllers that work without the internet
	each   func(sum int64)                      // of every way that is met, when it isn't nil; then none is cut short
}

// Sums in which upkeep, or losses, come before money; and one in which all three can be read.
const big = int64(1e7)

var (
	byUpkeep    = [3]int64{1, big, 0}
	byLosses    = [3]int64{1, 0, big}
	allReadable = [3]int64{1, big, big * big / 10}
)

// readings are money, seconds of upkeep and losses of a sum by allReadable.
func readings(sum int64) [3]int64 {
	return [3]int64{sum % big, sum / big % (big / 10), sum / (big * big / 10)}
}

// buy is so many of a part.
type buy struct {
	part string
	n    int
}

// basket is what has been taken so far, with its cost after what is owned.
type basket struct {
	cost int64
	took map[string]int // of owned parts
}

// add takes more: what is owned costs its labour, as far as it goes. It never makes a basket cheaper.
func (o *oracle) add(b basket, more ...buy) basket {
	out := basket{b.cost, b.took}
	if len(o.owned) > 0 {
		out.took = map[string]int{}
		for k, n := range b.took {
			out.took[k] = n
		}
	}
	var put func(id string, n int)
	put = func(id string, n int) {
		p := o.part(id)
		out.cost += int64(n) * (int64(math.Round(p.Price["GBP"]*100)) + int64(p.Minutes)*100)
		work := float64(p.Moving*p.Minutes) * 60 / 14
		if p.Battery.Count > 0 {
			work += 600 / p.Battery.Years
		}
		out.cost += int64(n) * o.weigh[1] * int64(math.Round(work))
		if have := o.owned[id]; have > 0 {
			saved := min(have, out.took[id]+n) - min(have, out.took[id])
			out.cost -= int64(saved) * int64(math.Round(p.Price["GBP"]*100))
			out.took[id] += n
		}
		for _, x := range p.Also {
			put(x.Part, n*max(x.Each, 1))
		}
	}
	for _, x := range more {
		put(x.part, x.n)
	}
	return out
}

var radioNames = []string{"zigbee", "thread", "wifi", "ble", "wired"}

func slot(radio string) int {
	for i, r := range radioNames {
		if r == radio {
			return i
		}
	}
	return -1
}

func has(p *catalogue.Part, a catalogue.Ability) bool {
	for _, d := range p.Does {
		if d == a {
			return true
		}
	}
	return false
}

func (o *oracle) part(id string) *catalogue.Part {
	for i := range o.cat.Parts {
		if o.cat.Parts[i].ID == id {
			return &o.cat.Parts[i]
		}
	}
	return nil
}

// va of a small motor: a power factor of 0.45 up to 30 W, rising evenly to 0.8 at 150 W.
func va(load q.Power) float64 {
	if load <= 30 {
		return float64(load) / 0.45
	}
	return float64(load) / (0.45 + 0.35*float64(load-30)/120)
}

// alone is what part p takes for need n with ability a: how many, what else, and whether it can. Random terms are a rate of
// 60 an hour and no markup.
func (o *oracle) alone(p *catalogue.Part, n needs.Need, a catalogue.Ability) (count int, extra []buy, ok bool) {
	if o.banned != nil && o.banned(p.ID, n) {
		return 0, nil, false
	}
	if !has(p, a) || p.Radio != "" && !o.spoken[p.Radio] {
		return 0, nil, false
	}
	f := n.Facts
	switch a {
	case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan:
		if p.Place == "lamp" {
			return f.Lamps, []buy{{"plate", 1}}, p.Base == f.Base
		}
		if v, known := f.Neutral.Get(); p.Neutral == "needed" && (!known || !v) {
			return 0, nil, false
		}
		depth := f.Depth.Or(0.025)
		if o.deeper[shares(n)] {
			depth += o.part("spacer").Depth
		}
		if p.Depth+0.015 > depth+1e-9 {
			return 0, nil, false
		}
		kind := catalogue.LED
		if a == catalogue.SwitchFan {
			kind = catalogue.Motor
		}
		rating, rated := p.Ratings[kind]
		if !rated {
			return 0, nil, false
		}
		fits := func(load q.Power) bool {
			if kind == catalogue.Motor && va(load) > float64(rating) {
				return false
			}
			return load <= rating && load >= p.LeastLoad
		}
		if !has(p, catalogue.DimLamp) {
			return 1, nil, fits(f.Load)
		}
		if v, known := f.Dimmable.Get(); known && v && fits(f.Load) {
			return 1, nil, true
		}
		lamp := o.part("plain")
		return 1, []buy{{"plain", f.Lamps}}, lamp.Base == f.Base && fits(lamp.Uses*q.Power(f.Lamps))
	}
	return 1, nil, true
}

// together reports whether one part may serve the needs listed at once.
func (o *oracle) together(p *catalogue.Part, set []int) bool {
	if len(set) == 1 {
		return true
	}
	seen := map[catalogue.Ability]bool{}
	for _, i := range set {
		n, first := o.ns[i], o.ns[set[0]]
		a, b := n.Wants[o.rank[i]], first.Wants[o.rank[set[0]]]
		switch a {
		case catalogue.SenseMotion, catalogue.SenseHumidity:
			if b != catalogue.SenseMotion && b != catalogue.SenseHumidity || n.Room != first.Room || seen[a] {
				return false
			}
			seen[a] = true
		case catalogue.SenseWet:
			if b != a || n.Room != first.Room || len(set) > max(p.Channels, 1) {
				return false
			}
		case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan:
			if p.Place != "box" || n.Facts.Box != first.Facts.Box || n.Facts.Box == "" || len(set) > max(p.Channels, 1) {
				return false
			}
		default:
			return false
		}
	}
	return true
}

// lost is how many things a need is lost with when a part serves it: the controller, but for parts with the wall switch
// before them, and the Wi-Fi network.
func lost(p *catalogue.Part) (n int64) {
	if p.Place != "box" {
		n++
	}
	if p.Radio == "wifi" {
		n++
	}
	return n
}

// solve tries the home with controllers of its own first, where losses count: with any other, all needs are lost
// once more.
func (o *oracle) solve() {
	o.best = math.MaxInt64
	o.hosts, o.inside = map[[5]int]int64{}, o.weigh[2] > 0
	o.everyWay()
	if o.inside {
		o.hosts, o.inside = map[[5]int]int64{}, false
		o.everyWay()
	}
}

// solveRanks finds the best want of each need that anything serves, and the boxes that may get a spacer.
func (o *oracle) solveRanks() (boxes []string) {
	o.rank = make([]int, len(o.ns))
	any := false
	o.deeper = map[string]bool{}
	for _, n := range o.ns {
		if n.Facts.Lamps > 0 && !o.deeper[shares(n)] {
			boxes = append(boxes, shares(n))
			o.deeper[shares(n)] = true
		}
	}
	for i, n := range o.ns {
		o.rank[i] = -1
		for r, a := range n.Wants {
			for k := range o.cat.Parts {
				if _, _, ok := o.alone(&o.cat.Parts[k], n, a); ok && o.rank[i] < 0 {
					o.rank[i] = r
					any = true
				}
			}
		}
	}
	if !any {
		o.rules = 0
	}
	return boxes
}

func (o *oracle) everyWay() {
	boxes := o.solveRanks()
	away := int64(0)
	for i := range o.ns {
		if o.rank[i] >= 0 && !o.inside {
			away += o.weigh[2]
		}
	}
	for mask := 0; mask < 1<<len(boxes); mask++ {
		taken := basket{cost: away}
		for i, b := range boxes {
			if o.deeper[b] = mask>>i&1 == 1; o.deeper[b] {
				taken = o.add(taken, buy{"spacer", 1})
			}
		}
		o.assign(make([]bool, len(o.ns)), taken, [5]int{})
	}
}

func (o *oracle) assign(done []bool, taken basket, used [5]int) {
	first := -1
	for i := range done {
		if !done[i] && o.rank[i] >= 0 {
			first = i
			break
		}
	}
	if taken.cost >= o.best && o.each == nil {
		return
	}
	if first < 0 {
		if h := o.controllers(used); h < math.MaxInt64 {
			o.best = min(o.best, taken.cost+h)
			if o.each != nil {
				o.each(taken.cost + h)
			}
		}
		return
	}
	var rest []int
	for i := first + 1; i < len(done); i++ {
		if !done[i] && o.rank[i] >= 0 {
			rest = append(rest, i)
		}
	}
	for k := range o.cat.Parts {
		p := &o.cat.Parts[k]
		for mask := 0; mask < 1<<len(rest); mask++ {
			set := []int{first}
			for b, i := range rest {
				if mask>>b&1 == 1 {
					set = append(set, i)
				}
			}
			if !o.together(p, set) {
				continue
			}
			extras, count, able := []buy(nil), 1, true
			for _, i := range set {
				c, extra, ok := o.alone(p, o.ns[i], o.ns[i].Wants[o.rank[i]])
				able = able && ok
				count = max(count, c)
				extras = append(extras, extra...)
			}
			if !able {
				continue
			}
			next, u := append([]bool(nil), done...), used
			for _, i := range set {
				next[i] = true
			}
			if s := slot(p.Radio); s >= 0 {
				u[s] += count
			}
			more := o.add(taken, append(extras, buy{p.ID, count})...)
			more.cost += o.weigh[2] * lost(p) * int64(len(set))
			o.assign(next, more, u)
		}
	}
}

// kit is one controller with adapters, as the oracle counts them.
type kit struct {
	limits string
	parts  []buy
	caps   [5]int
	rules  int
}

// holds is how many of the sheet's rules a controller takes, when its own rules serve all of them alike.
func (o *oracle) holds(limits, except string) int {
	l := catalogue.Limits{}
	for _, x := range o.cat.Limits {
		if x.ID == limits {
			l = x
		}
	}
	if except != "" {
		l.Rules = int(except[0] - '0')
	}
	if l.Rules == 0 {
		return 1000
	}
	if o.sheet == 0 {
		return l.Rules
	}
	most := 0 // rules of the sheet of which each takes fitted/sheet
	for fitted := o.count(l); (most+1)*fitted <= l.Rules*o.sheet; {
		most++
	}
	return most
}

// away reports whether a set of limits doesn't work without the internet.
func (o *oracle) away(limits string) bool {
	for _, l := range o.cat.Limits {
		if l.ID == limits {
			return !l.Offline
		}
	}
	return true
}

func (o *oracle) kits() (all []kit) {
	for i := range o.cat.Parts {
		p := &o.cat.Parts[i]
		if !has(p, catalogue.Host) || o.inside && o.away(p.Host.Limits) {
			continue
		}
		k := kit{limits: p.Host.Limits, parts: []buy{{p.ID, 1}}, rules: o.holds(p.Host.Limits, "")}
		for _, r := range p.Host.Radios {
			k.caps[slot(r)] = p.Host.Children[r]
		}
		all = append(all, k)
		for j := range o.cat.Parts {
			ad := &o.cat.Parts[j]
			if !has(ad, catalogue.Speak) {
				continue
			}
			r := ad.Host.Radios[0]
			if k.caps[slot(r)] == 0 {
				w := k
				w.parts = append(k.parts[:1:1], buy{ad.ID, 1})
				w.caps[slot(r)] = ad.Host.Children[r]
				all = append(all, w)
			}
		}
	}
	return all
}

// controllers tries every list of controllers, place by place and then beyond them. A slot that a list
// doesn't fill is not missed, so trying at most one for each device, rule and place is enough.
func (o *oracle) controllers(used [5]int) int64 {
	if c, ok := o.hosts[used]; ok {
		return c
	}
	all := o.kits()
	best := int64(math.MaxInt64)
	var place func(i int, left [5]int, rules int, took basket, empty bool)
	var beyond func(from int, left [5]int, rules int, took basket)
	done := func(left [5]int, rules int) bool {
		for _, n := range left {
			if n > 0 {
				return false
			}
		}
		return rules <= 0
	}
	take := func(k kit, left [5]int) [5]int {
		for r := range left {
			left[r] -= k.caps[r]
		}
		return left
	}
	beyond = func(from int, left [5]int, rules int, took basket) {
		if took.cost >= best {
			return
		}
		if done(left, rules) {
			best = took.cost
			return
		}
		for i := from; i < len(all); i++ {
			helps := rules > 0 && all[i].rules > 0
			for r := range left {
				helps = helps || left[r] > 0 && all[i].caps[r] > 0
			}
			if helps {
				beyond(i, take(all[i], left), rules-all[i].rules, o.add(took, all[i].parts...))
			}
		}
	}
	place = func(i int, left [5]int, rules int, took basket, empty bool) {
		if i == len(o.p.Controllers) {
			if done(left, rules) {
				best = min(best, took.cost)
			} else if !empty {
				beyond(0, left, rules, took)
			}
			return
		}
		want := o.p.Controllers[i].Limits
		possible := false
		for _, k := range o.shelfKits() {
			possible = possible || want == "" || k.limits == want
		}
		if !possible {
			place(i+1, left, rules, took, empty)
			return
		}
		place(i+1, left, rules, took, true)
		for _, k := range all {
			if want == "" || k.limits == want {
				place(i+1, take(k, left), rules-o.holds(k.limits, o.p.Controllers[i].Except["rules"]), o.add(took, k.parts...), empty)
			}
		}
	}
	place(0, used, o.rules, basket{}, false)
	o.hosts[used] = best
	return best
}

// shelfKits are all controllers, also those that need the internet.
func (o *oracle) shelfKits() []kit {
	was := o.inside
	o.inside = false
	defer func() { o.inside = was }()
	return o.kits()
}

func brute(p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet, count bill.Count) *oracle {
	o := newOracle(p, c, ns, sheet, count, [3]int64{1})
	o.solve()
	return o
}

func newOracle(p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet, count bill.Count, weigh [3]int64) *oracle {
	owned := map[string]int{}
	for _, e := range p.Existing {
		owned[e.Part] += e.Count
	}
	o := &oracle{owned: owned, cat: c, p: p, ns: ns, rules: len(sheet.Rules), sheet: len(sheet.Rules), count: count, weigh: weigh,
		hosts: map[[5]int]int64{}, spoken: map[string]bool{}}
	for _, k := range o.kits() {
		for r, n := range k.caps {
			if n > 0 {
				o.spoken[radioNames[r]] = true
			}
		}
	}
	return o
}
