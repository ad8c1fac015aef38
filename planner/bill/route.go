package bill

import (
	"container/heap"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
)

// router finds the best home in which every device is in reach of a controller.
//
// The home is chosen without looking at reach first, which can only come out better. If all is heard, that is it. Where
// devices of a room are not, then in every home that is in reach one of these holds, and each is tried: the room
// does without that radio; or one of the rooms from which those devices could be heard gets something new that passes the radio on,
// be it a repeater or another way to cover needs of its own; or a controller that could hear them speaks the radio. Of all that
// is open the one that promises most is looked at first, so that the first that is in reach is the best.
// Only where none is, devices are left out of reach, as few rooms and radios as can be.
type router struct {
	*net
	h        *home
	aim      Aim
	worth    Worth
	room     []int // of each group; -1 where nobody knows where it is
	decide   map[string]*decider
	variant  map[string]*hosts
	repeater [radios]*article // the cheapest to buy
	passing  [radios]*front   // repeaters as ways to cover nothing: that one, and those that are there already
	most     int              // homes to choose before all is put into one program
	toil     int              // cells to reckon before it has to do with what it has
	prior    *prior           // nil where nothing is known
	haste                     // of the homes that are chosen
}

// routes of the home that are tried one by one, shared by its groups; where they don't do, all is put into one program (whole.go).
var routes = 2000

func newRouter(h *home, n *net) *router {
	if n == nil {
		return nil
	}
	r := &router{net: n, h: h, aim: h.aim, worth: h.worth, decide: map[string]*decider{}, variant: map[string]*hosts{}}
	for _, g := range h.groups {
		at, ok := n.at[g.room]
		if !ok {
			at = -1
		}
		r.room = append(r.room, at)
	}
	r.most = max(routes/max(len(h.groups), 1), 1)
	r.toil = toil
	r.stock(nil)
	return r
}

// stock chooses the repeaters of each radio: the cheapest but for one that is banned, and those of which the home has some.
func (r *router) stock(ban *article) {
	r.repeater, r.passing = [radios]*article{}, [radios]*front{}
	for _, a := range r.h.sh.articles {
		if !repeats(a) || a.avoided || a.lacks != "" || a == ban || !r.h.sh.forMains(a) {
			continue
		}
		if best := r.repeater[a.radio]; best == nil || a.cost < best.cost || a.cost == best.cost && a.count < best.count {
			r.repeater[a.radio] = a
		}
		if r.passing[a.radio] == nil {
			r.passing[a.radio] = &front{}
		}
		f := r.passing[a.radio]
		f.points = keep(f.points, point{cost: a.cost, toll: a.toll.minded(r.h.minds), count: a.count, slots: a.slots, offers: []*offer{{article: a, n: 1}}})
	}
}

// price is what a repeater of a radio costs at least: less where one is there already.
func (r *router) price(radio int) (least Money) {
	for i, p := range r.passing[radio].points {
		if cost := without(p.cost, p.slots, r.h.hosts.owned); i == 0 || cost < least {
			least = cost
		}
	}
	return least
}

// stay is one open branch: what it demands beyond the home's own limits.
type stay struct {
	limits map[int]limit // by group
	added  []repeaterAt
	speak  map[int]int // by seat: radios as bits that its controller must speak
	given  []repeaterAt
	merit          // no home of the branch is better
	known  *routed // the best home without looking at reach, once it has been chosen
	order  int
}

// merit orders homes: what is out of reach, then the aim's toll, then money with what the tolls are worth.
type merit struct {
	lost, toll int
	money      Money
}

func (a merit) less(b merit) bool {
	switch {
	case a.lost != b.lost:
		return a.lost < b.lost
	case a.toll != b.toll:
		return a.toll < b.toll
	}
	return a.money < b.money
}

// routed is a home with its routes.
type routed struct {
	solution
	taken  []*point
	added  []repeaterAt
	passed []*article   // the repeater of each added
	given  []repeaterAt // rooms and radios that stay out of reach
	limits map[int]limit
	hosts  *hosts
	heard  *hearing
	items  []item
	free   *solution // the best home without looking at reach
	open   unsought

	program bool // it was not found by trying routes one by one
	work    int  // but by reckoning so many cells of tables
}

// choose finds the best home where each group is covered in a way of its front.
func (r *router) choose(hs *hosts, fronts []*front) (*routed, bool, error) {
	root := &stay{limits: map[int]limit{}, speak: map[int]int{}}
	var queue stays
	heap.Push(&queue, root)
	met := map[string]bool{}
	chosen, order := 0, 0
	var first *routed
	for len(queue) > 0 {
		s := heap.Pop(&queue).(*stay)
		if s.known == nil {
			if chosen++; chosen > r.most {
				heap.Push(&queue, s)
				return r.seek(hs, fronts, queue, first)
			}
			ok, err := r.look(s, hs, fronts)
			if err != nil {
				return nil, false, err
			}
			if !ok {
				if s == root {
					return nil, false, nil
				}
				continue
			}
			if s == root {
				first = s.known
			}
			heap.Push(&queue, s) // it may have come out worse than others promise
			continue
		}
		missing := s.missing()
		if len(missing) == 0 {
			k := *s.known
			k.added, k.given, k.limits, k.free, k.open = s.added, s.given, s.limits, &first.solution, unsought{}
			return &k, true, nil
		}
		for _, next := range r.branch(s, missing, fronts) {
			if key := next.key(); !met[key] {
				met[key] = true
				order++
				next.order = order
				heap.Push(&queue, next)
			}
		}
	}
	return nil, false, nil
}

// look chooses the best home of a branch without looking at reach.
func (r *router) look(s *stay, hs *hosts, fronts []*front) (bool, error) {
	hosts, d := r.with(hs, s.speak)
	if hosts == nil {
		return false, nil
	}
	var items []item
	at := map[*front]int{}
	put := func(f *front) int {
		i, ok := at[f]
		if !ok {
			i = len(items)
			at[f] = i
			items = append(items, item{front: f})
		}
		items[i].count++
		return i
	}
	of := make([]int, len(fronts))
	for g, f := range fronts {
		if f = f.under(s.limits[g]); len(f.points) == 0 {
			return false, nil
		}
		of[g] = put(f)
	}
	for _, a := range s.added {
		of = append(of, put(r.passing[a.radio]))
	}
	sol, ok, err := d.bestFor(r.aim, r.worth, r.haste, items)
	if err != nil || !ok {
		return false, err
	}
	taken := dealt(sol.picks, items, of)
	k := &routed{solution: sol, taken: taken[:len(fronts)], hosts: hosts, items: items}
	for _, pt := range taken[len(fronts):] {
		k.passed = append(k.passed, pt.offers[0].article)
	}
	k.heard = r.listen(k.taken, s.added, hosts, sol.hosted)
	s.known = k
	s.merit = r.merit(k)
	s.lost = len(s.given)
	return true, nil
}

// dealt gives each group its way: within an item the earlier group gets the cheaper one.
func dealt(picks [][]int, items []item, of []int) []*point {
	left := make([][]int, len(picks))
	for i, p := range picks {
		left[i] = append([]int(nil), p...)
	}
	taken := make([]*point, len(of))
	for g, i := range of {
		for k, n := range left[i] {
			if n > 0 {
				left[i][k]--
				taken[g] = &items[i].front.points[k]
				break
			}
		}
	}
	return taken
}

// with is the controllers where some seats must speak some radios, and what decides with them.
func (r *router) with(hs *hosts, speak map[int]int) (*hosts, *decider) {
	key := fmt.Sprintf("%p %v", hs, speak)
	if d, ok := r.decide[key]; ok {
		return r.variant[key], d
	}
	o := hs.requiring(r.net, speak)
	r.variant[key] = o
	if o != nil {
		r.decide[key] = r.h.decider(o)
	} else {
		r.decide[key] = nil
	}
	return o, r.decide[key]
}

// unnamed stands among seats for a place that nobody named.
const unnamed = -1

// requiring is the hosts with those seats set apart, nil where nothing that may sit there speaks so.
func (h *hosts) requiring(n *net, speak map[int]int) *hosts {
	if len(speak) == 0 {
		return h
	}
	o := *h
	o.places = nil
	for _, g := range h.places {
		rest := g
		rest.places = nil
		for _, place := range g.places {
			i, known := n.seat[place.ID]
			if !known || speak[i] == 0 {
				rest.places = append(rest.places, place)
				continue
			}
			own := g
			own.places, own.setups, own.taken = []model.Controller{place}, nil, true
			for _, s := range g.setups {
				if speak[i]&^s.brings.kit() == 0 {
					own.setups = append(own.setups, s)
				}
			}
			if len(own.setups) == 0 {
				return nil
			}
			o.places = append(o.places, own)
		}
		if len(rest.places) > 0 {
			o.places = append(o.places, rest)
		}
	}
	if radios := speak[unnamed]; radios != 0 {
		one := placeGroup{places: make([]model.Controller, 1), taken: true, beyond: true}
		for _, s := range h.free {
			if radios&^s.brings.kit() == 0 {
				one.setups = append(one.setups, s)
			}
		}
		if len(one.setups) == 0 {
			return nil
		}
		o.places = append(o.places, one)
	}
	return &o
}

// missing lists what is out of reach but for what has been given up.
func (s *stay) missing() []lost {
	return slices.DeleteFunc(s.known.heard.missing(), func(l lost) bool { return slices.Contains(s.given, repeaterAt{l.room, l.radio}) })
}

// branch lists what may bring the devices of one room into reach: of several rooms that with the fewest ways.
func (r *router) branch(s *stay, missing []lost, fronts []*front) (all []*stay) {
	l := missing[0]
	for _, m := range missing[1:] {
		if len(m.near)+len(m.seats) < len(l.near)+len(l.seats) {
			l = m
		}
	}
	if len(l.near)+len(l.seats) == 0 {
		return r.forced(s, missing)
	}
	bit := uint8(1) << l.radio
	all = append(all, s.without(r, l))
	dist := r.distances(s, fronts, l.radio)
	for _, q := range r.useful(l.near, l.radio) {
		if r.repeater[l.radio] != nil && !math.IsInf(dist[q], 1) {
			next := s.then()
			next.added = append(next.added, repeaterAt{q, l.radio})
			slices.SortFunc(next.added, repeaterAt.compare)
			next.dearer(r, r.price(l.radio)+Money(dist[q]))
			all = append(all, next)
		}
	}
	for g, room := range r.room {
		if room < 0 || !slices.Contains(l.near, room) || math.IsInf(dist[room], 1) {
			continue
		}
		x := s.limits[g]
		if d := fronts[g].least(x, l.radio); d.can {
			next := s.then()
			x.pass |= bit
			next.limits[g] = x
			next.dearer(r, d.more+Money(dist[room]))
			all = append(all, next)
		}
	}
	seats := l.seats
	if slices.Contains(seats, r.first()) {
		seats = append(slices.Clone(seats), unnamed)
	}
	for _, i := range seats {
		if s.speak[i]>>l.radio&1 == 0 {
			next := s.then()
			next.speak[i] |= 1 << l.radio
			all = append(all, next)
		}
	}
	return append(all, s.giving(l))
}

// forced has all rooms do without a radio that nothing would bring to them, or gives one of them up.
func (r *router) forced(s *stay, missing []lost) (all []*stay) {
	without := s
	for _, l := range missing {
		if len(l.near)+len(l.seats) == 0 {
			without = without.without(r, l)
			all = append(all, s.giving(l))
		}
	}
	return append(all, without)
}

// giving is the branch in which a room stays out of a radio's reach.
func (s *stay) giving(l lost) *stay {
	o := s.then()
	o.given = append(o.given, repeaterAt{l.room, l.radio})
	slices.SortFunc(o.given, repeaterAt.compare)
	o.known, o.lost = s.known, s.lost+1 // it demands nothing more
	return o
}

// dearer raises the bound of a branch by money that it costs more at least, with no less of any toll.
func (s *stay) dearer(r *router, more Money) {
	s.money += r.worth.weights().money * more
}

// then is a branch with the same demands, to which another is added.
func (s *stay) then() *stay {
	o := &stay{limits: make(map[int]limit, len(s.limits)+1), added: slices.Clone(s.added), speak: make(map[int]int, len(s.speak)+1),
		given: slices.Clone(s.given), merit: s.merit}
	for k, v := range s.limits {
		o.limits[k] = v
	}
	for k, v := range s.speak {
		o.speak[k] = v
	}
	return o
}

// without is the branch in which a room does without a radio, or without alarms on batteries there.
func (s *stay) without(r *router, l lost) *stay {
	o := s.then()
	for g, room := range r.room {
		if room == l.room {
			x := o.limits[g]
			if l.alarm {
				x.calm |= 1 << l.radio
			} else {
				x.avoid |= 1 << l.radio
			}
			o.limits[g] = x
		}
	}
	return o
}

// key tells branches apart by what they demand.
func (s *stay) key() string {
	var b strings.Builder
	groups := make([]int, 0, len(s.limits))
	for g := range s.limits {
		groups = append(groups, g)
	}
	sort.Ints(groups)
	for _, g := range groups {
		fmt.Fprint(&b, g, s.limits[g])
	}
	fmt.Fprint(&b, s.added, s.speak, s.given)
	return b.String()
}

// repeats reports whether an article is on the shelf to pass a radio on and for nothing else.
func repeats(a *article) bool {
	return a.radio >= 0 && meshes(a.radio) && does(a.Part, catalogue.Repeat) && a.passes()>>a.radio&1 == 1
}
