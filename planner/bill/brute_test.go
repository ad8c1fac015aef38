package bill_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
	"pgregory.net/rapid"
)

// The oracle tries every way to give every need a part, every sharing of parts, and every set of
// controllers up to a number that can't be too small, and takes the cheapest. It shares no code with
// the planner: eligibility is written again, for the facts that the random homes have.

type oracle struct {
	cat    *catalogue.Catalogue
	p      *model.Project
	ns     []needs.Need
	rules  int
	best   int64
	rank   []int            // best rank of each need
	hosts  map[[5]int]int64 // cheapest controllers by demand
	spoken map[string]bool
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
	o.assign(make([]bool, len(o.ns)), 0, [5]int{})
}

func (o *oracle) assign(done []bool, cost int64, used [5]int) {
	first := -1
	for i := range done {
		if !done[i] && o.rank[i] >= 0 {
			first = i
			break
		}
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

func (o *oracle) kits() (all []kit) {
	const plenty = 1000
	for i := range o.cat.Parts {
		p := &o.cat.Parts[i]
		if !has(p, catalogue.Host) {
			continue
		}
		k := kit{limits: p.Host.Limits, cost: o.price(p), rules: plenty}
		for _, l := range o.cat.Limits {
			if l.ID == k.limits && l.Rules > 0 {
				k.rules = l.Rules
			}
		}
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
			helps := rules > 0
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
				place(i+1, take(k, left), rules-k.rules, cost+k.cost, empty)
			}
		}
	}
	place(0, used, o.rules, 0, false)
	o.hosts[used] = best
	return best
}

// randomHome draws a home small enough to try everything, and a shelf on which slots run short.
func randomHome(t *rapid.T) (*model.Project, *catalogue.Catalogue, []needs.Need, rules.Sheet) {
	price := func(name string) map[string]float64 {
		return map[string]float64{"GBP": float64(rapid.IntRange(1, 40).Draw(t, name)) / 2}
	}
	radio := func(name string) string {
		return rapid.SampledFrom([]string{"zigbee", "zigbee", "wifi", "thread"}).Draw(t, name)
	}
	c := &catalogue.Catalogue{Version: 1, Dated: "2026-03"}
	c.Limits = []catalogue.Limits{{ID: "small", Rules: rapid.IntRange(1, 5).Draw(t, "small")}, {ID: "big"}}
	add := func(p catalogue.Part) {
		p.ID = fmt.Sprintf("%s-%d", p.ID, len(c.Parts))
		p.Name, p.Minutes = p.ID, rapid.IntRange(0, 5).Draw(t, "minutes")
		c.Parts = append(c.Parts, p)
	}
	for i := rapid.IntRange(1, 2).Draw(t, "hosts"); i > 0; i-- {
		h := catalogue.HostSpec{Children: map[string]int{}, Limits: rapid.SampledFrom([]string{"small", "big"}).Draw(t, "limits")}
		for _, r := range []string{"zigbee", "wifi", "thread"} {
			if rapid.Bool().Draw(t, r) {
				h.Radios = append(h.Radios, r)
				h.Children[r] = rapid.IntRange(1, 4).Draw(t, "children")
			}
		}
		add(catalogue.Part{ID: "host", Kind: "controller", Does: []catalogue.Ability{catalogue.Host}, Host: h, Price: price("host")})
	}
	if rapid.Bool().Draw(t, "adapter") {
		r := radio("adapter radio")
		add(catalogue.Part{ID: "adapter", Kind: "radio adapter", Does: []catalogue.Ability{catalogue.Speak}, Price: price("adapter"),
			Host: catalogue.HostSpec{Radios: []string{r}, Children: map[string]int{r: rapid.IntRange(1, 3).Draw(t, "adapter children")}}})
	}
	randomParts(t, add, radio, price)
	c.Parts = append(c.Parts, catalogue.Part{ID: "plate", Name: "plate", Kind: bill.GuardKind, Price: price("plate")},
		catalogue.Part{ID: "plain", Name: "plain", Kind: "plain lamp", Place: "lamp", Base: "GU10", Dimmable: true, Uses: 5, Price: price("plain")})
	p := &model.Project{}
	p.Home.Currency, p.Home.Mains.Voltage = "GBP", 230
	p.Home.Terms.Labour = q.HourlyRate{Amount: 60, Currency: "GBP"}
	for i := rapid.IntRange(0, 2).Draw(t, "places"); i > 0; i-- {
		p.Controllers = append(p.Controllers, model.Controller{ID: fmt.Sprint("place", i),
			Limits: rapid.SampledFrom([]string{"", "small", "big", "none such"}).Draw(t, "place limits")})
	}
	ns := randomNeeds(t)
	sheet := rules.Sheet{Rules: make([]rules.Rule, rapid.IntRange(0, 6).Draw(t, "rules"))}
	return p, c, ns, sheet
}

func randomParts(t *rapid.T, add func(catalogue.Part), radio func(string) string, price func(string) map[string]float64) {
	type does = []catalogue.Ability
	kinds := []does{{catalogue.SenseMotion}, {catalogue.SenseHumidity}, {catalogue.SenseMotion, catalogue.SenseHumidity},
		{catalogue.SenseWet}, {catalogue.SenseWet}, {catalogue.SwitchLamp, catalogue.SwitchFan}, {catalogue.SwitchLamp, catalogue.SwitchFan},
		{catalogue.SwitchLamp, catalogue.DimLamp}}
	for _, k := range kinds {
		for i := rapid.IntRange(0, 2).Draw(t, "of a kind"); i > 0; i-- {
			p := catalogue.Part{ID: "part", Kind: "x", Does: k, Radio: radio("radio"), Channels: rapid.IntRange(1, 2).Draw(t, "channels"), Price: price("price")}
			switch k[0] {
			case catalogue.SwitchLamp:
				p.Place = rapid.SampledFrom([]string{"box", "box", "lamp"}).Draw(t, "place")
				p.Base = "GU10"
				p.Neutral = rapid.SampledFrom([]string{"needed", "not needed"}).Draw(t, "neutral")
				p.Ratings = map[catalogue.LoadKind]q.Power{catalogue.LED: q.Power(rapid.IntRange(10, 60).Draw(t, "led")), catalogue.Motor: 30}
				p.LeastLoad = q.Power(rapid.IntRange(0, 12).Draw(t, "least"))
				if p.Place == "lamp" {
					p.Does = does{catalogue.SwitchLamp, catalogue.DimLamp}
				}
			}
			add(p)
		}
	}
}

func randomNeeds(t *rapid.T) (ns []needs.Need) {
	unsure := rapid.SampledFrom([]model.Fact[bool]{{}, {State: model.Unknown}, model.Know(true), model.Know(true), model.Know(false)})
	for i := rapid.IntRange(1, 6).Draw(t, "needs"); i > 0; i-- {
		room := rapid.SampledFrom([]string{"a", "b"}).Draw(t, "room")
		n := needs.Need{ID: fmt.Sprintf("%s/n%d", room, i), Room: room, Name: "thing"}
		want := rapid.SampledFrom([]catalogue.Ability{catalogue.SenseMotion, catalogue.SenseHumidity, catalogue.SenseWet,
			catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan}).Draw(t, "want")
		n.Wants = []catalogue.Ability{want}
		if want == catalogue.DimLamp {
			n.Wants = append(n.Wants, catalogue.SwitchLamp)
		}
		switch want {
		case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan:
			n.Facts = needs.Facts{Box: room + "/box", Gangs: 6, Neutral: unsure.Draw(t, "neutral"), Dimmable: unsure.Draw(t, "dimmable"),
				Lamps: rapid.IntRange(1, 3).Draw(t, "lamps"), Base: rapid.SampledFrom([]string{"GU10", "E27"}).Draw(t, "base"),
				Load: q.Power(rapid.IntRange(3, 40).Draw(t, "load"))}
			if rapid.Bool().Draw(t, "no box") {
				n.Facts.Box = ""
			}
		}
		ns = append(ns, n)
	}
	return ns
}

// net is a bill before tax.
func net(b bill.Bill) int64 { return int64(b.Parts + b.Labour) }

func brute(p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet) *oracle {
	o := &oracle{cat: c, p: p, ns: ns, rules: len(sheet.Rules), hosts: map[[5]int]int64{}, spoken: map[string]bool{}}
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

func TestCheapestIsTheMinimumOfEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		b, err := bill.Cheapest(context.Background(), p, c, ns, sheet)
		if err != nil {
			t.Fatal(err)
		}
		o := brute(p, c, ns, sheet)
		if net(b) != o.best {
			t.Fatalf("bill is %d, the cheapest of all is %d\n%s", net(b), o.best, bill.Text(b, 100, nil))
		}
		checkCovered(t, ns, o.rank, b)
		checkSums(t, b)
	})
}

// checkCovered: every need is covered by exactly one device or unmet, once, and poorer service is said.
func checkCovered(t *rapid.T, ns []needs.Need, rank []int, b bill.Bill) {
	covered, unmet := map[string]bool{}, map[string]bill.Unmet{}
	for _, d := range b.Devices {
		for _, id := range d.Covers {
			covered[id] = true
		}
	}
	for _, u := range b.Unmet {
		if _, twice := unmet[u.Need]; twice {
			t.Fatalf("%s is unmet twice", u.Need)
		}
		unmet[u.Need] = u
	}
	for i, n := range ns {
		u, listed := unmet[n.ID]
		if want := rank[i] >= 0; covered[n.ID] != want || listed != (rank[i] != 0) || listed && (u.Got != "") != want {
			t.Fatalf("%s: covered %v, unmet %v (%+v), best want %d", n.ID, covered[n.ID], listed, u, rank[i])
		}
	}
}

// checkSums: lines, rooms and totals say the same money.
func checkSums(t *rapid.T, b bill.Bill) {
	var lines, rooms bill.Money
	minutes := 0
	for _, l := range b.Lines {
		lines += l.Amount
		minutes += l.Minutes
	}
	for _, r := range b.Rooms {
		rooms += r.Amount
	}
	if lines != b.Parts+b.Labour || rooms != lines || minutes != b.Minutes || b.Total != lines+b.Tax {
		t.Fatalf("lines %d, rooms %d, parts and labour %d, minutes %d of %d", lines, rooms, b.Parts+b.Labour, minutes, b.Minutes)
	}
}
