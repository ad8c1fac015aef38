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

// price of one part with what comes with it: random terms are a rate of 60 an hour and no markup.
func (o *oracle) price(p *catalogue.Part) int64 {
	sum := int64(math.Round(p.Price["GBP"]*100)) + int64(p.Minutes)*100
	for _, x := range p.Also {
		sum += int64(max(x.Each, 1)) * o.price(o.part(x.Part))
	}
	return sum
}

// alone is what part p costs for need n with ability a: how many, the extra money, and whether it can.
func (o *oracle) alone(p *catalogue.Part, n needs.Need, a catalogue.Ability) (count int, extra int64, ok bool) {
	if o.banned != nil && o.banned(p.ID, n) {
		return 0, 0, false
	}
	if !has(p, a) || p.Radio != "" && !o.spoken[p.Radio] {
		return 0, 0, false
	}
	f := n.Facts
	switch a {
	case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan:
		if p.Place == "lamp" {
			plate := o.price(o.part("plate"))
			return f.Lamps, plate, p.Base == f.Base
		}
		if v, known := f.Neutral.Get(); p.Neutral == "needed" && (!known || !v) {
			return 0, 0, false
		}
		depth := f.Depth.Or(0.025)
		if o.deeper[shares(n)] {
			depth += o.part("spacer").Depth
		}
		if p.Depth+0.015 > depth+1e-9 {
			return 0, 0, false
		}
		kind := catalogue.LED
		if a == catalogue.SwitchFan {
			kind = catalogue.Motor
		}
		rating, rated := p.Ratings[kind]
		if !rated {
			return 0, 0, false
		}
		fits := func(load q.Power) bool { return load <= rating && load >= p.LeastLoad }
		if !has(p, catalogue.DimLamp) {
			return 1, 0, fits(f.Load)
		}
		if v, known := f.Dimmable.Get(); known && v && fits(f.Load) {
			return 1, 0, true
		}
		lamp := o.part("plain")
		return 1, int64(f.Lamps) * o.price(lamp), lamp.Base == f.Base && fits(lamp.Uses*q.Power(f.Lamps))
	}
	return 1, 0, true
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

func (o *oracle) solve() {
	o.best = math.MaxInt64
	o.rank = make([]int, len(o.ns))
	any := false
	var boxes []string
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
	for mask := 0; mask < 1<<len(boxes); mask++ {
		cost := int64(0)
		for i, b := range boxes {
			if o.deeper[b] = mask>>i&1 == 1; o.deeper[b] {
				cost += o.price(o.part("spacer"))
			}
		}
		o.assign(make([]bool, len(o.ns)), cost, [5]int{})
	}
}

func (o *oracle) assign(done []bool, cost int64, used [5]int) {
	first := -1
	for i := range done {
		if !done[i] && o.rank[i] >= 0 {
			first = i
			break
		}
	}
	if cost >= o.best {
		return
	}
	if first < 0 {
		if h := o.controllers(used); h < math.MaxInt64 {
			o.best = min(o.best, cost+h)
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
			sum, count, able := int64(0), 1, true
			for _, i := range set {
				c, extra, ok := o.alone(p, o.ns[i], o.ns[i].Wants[o.rank[i]])
				able = able && ok
				count = max(count, c)
				sum += extra
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
			o.assign(next, cost+sum+int64(count)*o.price(p), u)
		}
	}
}

// kit is one controller with adapters, as the oracle counts them.
type kit struct {
	limits string
	cost   int64
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

func (o *oracle) kits() (all []kit) {
	for i := range o.cat.Parts {
		p := &o.cat.Parts[i]
		if !has(p, catalogue.Host) {
			continue
		}
		k := kit{limits: p.Host.Limits, cost: o.price(p), rules: o.holds(p.Host.Limits, "")}
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
				w.cost += o.price(ad)
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
	var place func(i int, left [5]int, rules int, cost int64, empty bool)
	var beyond func(from int, left [5]int, rules int, cost int64)
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
	beyond = func(from int, left [5]int, rules int, cost int64) {
		if cost >= best {
			return
		}
		if done(left, rules) {
			best = cost
			return
		}
		for i := from; i < len(all); i++ {
			helps := rules > 0 && all[i].rules > 0
			for r := range left {
				helps = helps || left[r] > 0 && all[i].caps[r] > 0
			}
			if helps {
				beyond(i, take(all[i], left), rules-all[i].rules, cost+all[i].cost)
			}
		}
	}
	place = func(i int, left [5]int, rules int, cost int64, empty bool) {
		if i == len(o.p.Controllers) {
			if done(left, rules) {
				best = min(best, cost)
			} else if !empty {
				beyond(0, left, rules, cost)
			}
			return
		}
		want := o.p.Controllers[i].Limits
		possible := false
		for _, k := range all {
			possible = possible || want == "" || k.limits == want
		}
		if !possible {
			place(i+1, left, rules, cost, empty)
			return
		}
		place(i+1, left, rules, cost, true)
		for _, k := range all {
			if want == "" || k.limits == want {
				place(i+1, take(k, left), rules-o.holds(k.limits, o.p.Controllers[i].Except["rules"]), cost+k.cost, empty)
			}
		}
	}
	place(0, used, o.rules, 0, false)
	o.hosts[used] = best
	return best
}

func brute(p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet, count bill.Count) *oracle {
	o := &oracle{cat: c, p: p, ns: ns, rules: len(sheet.Rules), sheet: len(sheet.Rules), count: count, hosts: map[[5]int]int64{}, spoken: map[string]bool{}}
	for _, k := range o.kits() {
		for r, n := range k.caps {
			if n > 0 {
				o.spoken[radioNames[r]] = true
			}
		}
	}
	o.solve()
	return o
}
