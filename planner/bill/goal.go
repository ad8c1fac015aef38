package bill

import (
	"example.org/roombrief/model"

	"example.org/roombrief/model/english"
)

// Aim is what a bill is the best at, before money decides.
type Aim string

// The aims. Whatever the aim, each need is served as well as can be first.
const (
	Cost       Aim = "cost"       // least money
	Upkeep     Aim = "upkeep"     // least time for cells and worn parts, then least money
	Resilience Aim = "resilience" // fewest needs lost by the failure of one thing, then least money
)

// Aims are all of them.
var Aims = []Aim{Cost, Upkeep, Resilience}

// Says names what the bill was made for, in a sentence.
func (b *Bill) Says() string {
	var at []string
	if b.Worth.Hour > 0 {
		at = append(at, b.Worth.Hour.In(b.Currency)+" for an hour less of upkeep a year")
	}
	if b.Worth.Loss > 0 {
		at = append(at, b.Worth.Loss.In(b.Currency)+" for a loss less")
	}
	worth := ""
	if len(at) > 0 {
		worth = ", where it may cost " + english.List(at)
	}
	switch b.Aim {
	case Upkeep:
		return "This is the bill with the least upkeep, and the cheapest such" + worth + "."
	case Resilience:
		return "This is the bill that loses least when something fails, and the cheapest such" + worth + "."
	}
	return "This is the cheapest bill" + worth + "."
}

// toll is the toll that an aim is about; -1 for money.
func (a Aim) toll() int {
	switch a {
	case Upkeep:
		return upkeep
	case Resilience:
		return losses
	}
	return -1
}

// Worth is what the tolls are worth in money: by so much a bill may cost more for less of them.
type Worth struct {
	Hour Money `json:"hour_of_upkeep"` // an hour a year
	Loss Money `json:"loss"`
}

// wish is what a project asks of its bill.
type wish struct {
	aim   Aim
	worth Worth
	minds [tolls]bool // tolls that count; the others are nowhere reckoned
}

// wishOf is the wish of a project: cost where it names no aim, nothing where it names no worth.
func wishOf(p *model.Project) wish {
	w := wish{aim: Cost, worth: Worth{minor(p.Choices.Worth.Upkeep), minor(p.Choices.Worth.Loss)}}
	if p.Choices.Aim != "" {
		w.aim = Aim(p.Choices.Aim)
	}
	w.minds = w.aim.minds()
	w.minds[upkeep] = w.minds[upkeep] || w.worth.Hour > 0
	w.minds[losses] = w.minds[losses] || w.worth.Loss > 0
	return w
}

// weights makes one sum of money and what the tolls are worth, in 3600ths of a minor unit where they are worth anything.
func (w Worth) weights() weights {
	if w == (Worth{}) {
		return weights{money: 1}
	}
	return weights{money: 3600, toll: [tolls]Money{upkeep: w.Hour, losses: 3600 * w.Loss}}
}

// minds is the toll that an aim is about.
func (a Aim) minds() (minds [tolls]bool) {
	if t := a.toll(); t >= 0 {
		minds[t] = true
	}
	return minds
}

// weights make one sum of money and tolls.
type weights struct {
	money Money
	toll  [tolls]Money
}

func (w weights) sum(m Money, t toll) Money {
	s := w.money * m
	for i, n := range t {
		s += w.toll[i] * Money(n)
	}
	return s
}

// goal is a sum to be made least, and tolls that may not be exceeded.
type goal struct {
	weights
	most toll
	haste
}

// haste is for homes of which a good one will do.
type haste struct {
	below Money // only less than this is of interest; 0 for no such bound
	nodes int   // of branch.go, after which the best so far is taken; 0 for as many as it takes
}

// noMost is tolls without a bound.
var noMost = toll{noBound, noBound}

// leastOf is the goal of the least of one toll, whatever it costs.
func leastOf(t int) goal {
	g := goal{most: noMost}
	g.weights.toll[t] = 1
	return g
}

// decider chooses again and again for one home and one set of controllers.
type decider struct {
	h     *home
	hosts []*chooserSet
}

// chooserSet is choosers for controllers that leave the home hanging on the same things outside.
type chooserSet struct {
	hosts *hosts
	extra toll
	by    map[weights]*chooser
}

// decider makes one for some controllers. Where losses count and some of them need the internet, the home is chosen
// without these first, then with them: then every need counts as lost with the internet, since which rules
// such a controller gets is settled only afterwards.
func (h *home) decider(hs *hosts) *decider {
	d := &decider{h: h}
	add := func(hs *hosts, extra toll) {
		d.hosts = append(d.hosts, &chooserSet{hosts: hs, extra: extra, by: map[weights]*chooser{}})
	}
	inside := func(s *setup) bool { return !h.sh.outside(s.article.Part) }
	if !h.minds[losses] || hs.all(inside) {
		add(hs, toll{})
		return d
	}
	within, _ := hs.keeping(inside)
	add(within, toll{})
	add(hs, toll{losses: h.served})
	return d
}

// best finds the home that is best by the aim, and then costs least.
func (d *decider) best(items []item) (solution, bool, error) {
	return d.bestFor(d.h.aim, d.h.worth, haste{}, items)
}

func (d *decider) bestFor(aim Aim, worth Worth, in haste, items []item) (solution, bool, error) {
	g := goal{worth.weights(), noMost, in}
	if t := aim.toll(); t >= 0 {
		toll := leastOf(t)
		toll.nodes, g.below = in.nodes, 0 // what may be dearer may still be better
		s, ok, err := d.least(toll, items)
		if err != nil || !ok {
			return s, ok, err
		}
		g.most[t] = s.toll[t]
	}
	return d.least(g, items)
}

func (set *chooserSet) chooser(d *decider, w weights) *chooser {
	if set.by[w] == nil {
		set.by[w] = d.h.chooser(set.hosts, w)
	}
	return set.by[w]
}

// least finds the home in which a goal's sum is least and its tolls are kept to. Of equal ones the one that needs less
// from outside wins.
func (d *decider) least(g goal, items []item) (best solution, found bool, err error) {
	for _, set := range d.hosts {
		c := set.chooser(d, g.weights)
		if c.most, c.haste = g.most, g.haste; !set.extra.within(g.most) {
			continue
		}
		if c.below > 0 {
			c.below = max(c.below-g.sum(0, set.extra), 1)
		}
		for i := range c.most {
			if c.most[i] != noBound {
				c.most[i] -= set.extra[i]
			}
		}
		s, ok, err := c.choose(items)
		if err != nil {
			return best, false, err
		}
		s.toll = s.toll.plus(set.extra, 1)
		if s.cost = g.sum(s.money, s.toll); ok && (!found || s.cost < best.cost) {
			best, found = s, true
		}
	}
	return best, found, nil
}

// value fills in what a choice comes to in money, less what is owned, and in tolls.
func (c *chooser) value(s *solution, items []item) {
	s.money, s.toll = 0, toll{}
	var used slots
	for i, picks := range s.picks {
		for k, n := range picks {
			p := &items[i].front.points[k]
			s.money += p.cost * Money(n)
			s.toll = s.toll.plus(p.toll, n)
			used = used.plus(p.slots, n)
		}
	}
	for _, x := range s.hosted.seated {
		s.money += x.setup.cost * Money(x.count)
		s.toll = s.toll.plus(x.setup.toll, x.count)
		used = used.plus(x.setup.brings, -x.count)
	}
	s.money = without(s.money, used, c.hosts.owned)
}

// all reports whether every controller is of a sort.
func (h *hosts) all(is func(*setup) bool) bool {
	list := h.free
	for _, g := range h.places {
		list = append(list[:len(list):len(list)], g.setups...)
	}
	for _, s := range list {
		if !is(s) {
			return false
		}
	}
	return true
}

// minded leaves only the tolls that count.
func (t toll) minded(minds [tolls]bool) toll {
	for i := range t {
		if !minds[i] {
			t[i] = 0
		}
	}
	return t
}

// tollOf is what an offer's devices come to besides money: the article itself with what comes with it, and each
// need that is lost with something outside.
func (in *coverInputs) tollOf(o *offer) (t toll) {
	t = t.plus(o.article.toll, o.n)
	for _, x := range o.extras {
		t = t.plus(x.article.toll, x.n)
	}
	controller, network := lossOf(o.article.Part)
	for _, k := range o.covers {
		t[losses] += k * (controller + network)
	}
	return t.minded(in.minds)
}
