package bill

import (
	"math"
	"sort"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
)

// writer turns a choice into a bill.
type writer struct {
	h      *home
	p      *model.Project
	sol    solution
	taken  []*point // by group
	roomAt map[string]int
	lines  []*entry
	byKey  map[[2]string]*entry
	bill   Bill
}

// entry is a line in the making.
type entry struct {
	Line
	*article
	first    int // order of the first need
	main     bool
	role     role
	for_     *article      // what it comes with
	uses     []use         // of a main part
	host     bool          // a controller or an adapter
	repeater bool          // for reach alone
	carries  string        // what, and by how many dB
	asked    []string      // needs for a controller itself, on the first controller's line
	spots    map[int]*spot // covered, by order
}

// use is one offer of a group's chosen way.
type use struct {
	group int
	offer *offer
}

// role of an article that comes with another.
type role int

const (
	itself role = iota
	goesWith
	newLamps
	guardPlate
	spareCells
	deepens
)

// What a bill says: what to buy; what that takes in a year besides; and why, with what would be next best.
const (
	bare = iota
	counted
	reasoned
)

// written is the bill of a choice, which says as much as is asked for.
func written(h *home, p *model.Project, sol solution, says int) (Bill, error) {
	w := &writer{h: h, p: p, sol: sol, roomAt: map[string]int{}, byKey: map[[2]string]*entry{}}
	w.bill = Bill{Currency: h.sh.currency, Dated: h.sh.dated, Terms: h.sh.terms, Aim: h.aim, Worth: h.worth, Devices: []Device{}, Lines: []Line{},
		Unmet: []Unmet{}, Assumed: assumptions(h.sh, p, h.spots), Rooms: []Total{}}
	for i, r := range p.Rooms {
		w.roomAt[r.ID] = i + 1
	}
	w.deal()
	for g := range h.groups {
		w.addGroup(g)
	}
	w.addHosts()
	w.addRepeaters()
	w.sortLines()
	for _, e := range w.lines {
		e.Covers = e.covers()
	}
	w.settle()
	if says >= reasoned {
		if err := w.reasons(); err != nil {
			return Bill{}, err
		}
	}
	w.unmet()
	w.totals()
	w.tolls()
	if says >= counted {
		w.year()
	}
	return w.bill, nil
}

// deal gives each group its way.
func (w *writer) deal() {
	if w.h.routed != nil {
		w.taken = w.h.routed.taken
		return
	}
	w.taken = dealt(w.sol.picks, w.h.items, w.h.itemOf)
}

func (w *writer) addGroup(g int) {
	gr := w.h.groups[g]
	next := make([]int, len(gr.types))
	for _, o := range w.taken[g].offers {
		var covered []*spot
		for t, n := range o.covers {
			for ; n > 0; n-- {
				covered = append(covered, &gr.types[t].spots[next[t]])
				next[t]++
			}
		}
		sort.Slice(covered, func(i, j int) bool { return covered[i].order < covered[j].order })
		w.addDevices(gr.room, o, covered)
		e := w.add(gr.room, o.article, o.n, itself, nil, covered)
		e.uses = append(e.uses, use{g, o})
		for _, x := range o.extras {
			as := newLamps
			if x.Kind == GuardKind {
				as = guardPlate
			}
			w.add(gr.room, x.article, x.n, as, o.article, covered)
		}
	}
	if s := w.taken[g].spacer; s != nil {
		var all []*spot
		for t := range gr.types {
			for i := range gr.types[t].spots {
				all = append(all, &gr.types[t].spots[i])
			}
		}
		deep := w.taken[g].offers[0]
		for _, o := range w.taken[g].offers {
			if o.inBox > deep.inBox {
				deep = o
			}
		}
		w.add(gr.room, s, 1, deepens, deep.article, all)
	}
}

func (w *writer) addDevices(room string, o *offer, covered []*spot) {
	var ids []string
	for _, sp := range covered {
		ids = append(ids, sp.ID)
	}
	for i := 0; i < o.n; i++ {
		id := ids[0]
		if i > 0 {
			id += "/" + itoa(i+1)
		}
		w.bill.Devices = append(w.bill.Devices, Device{ID: id, Part: o.ID, Room: room, Covers: ids})
	}
}

// add puts an article on its room's line, and what comes with it on theirs.
func (w *writer) add(room string, a *article, n int, as role, with *article, covered []*spot) *entry {
	if as == spareCells {
		room, covered = "", nil
	}
	key := [2]string{room, a.ID}
	e := w.byKey[key]
	if e == nil {
		e = &entry{article: a, role: as, for_: with, first: math.MaxInt, spots: map[int]*spot{}}
		e.Room, e.Line.Part, e.Line.Name, e.Each, e.Line.Caution = room, a.ID, a.Name, a.each, a.Caution
		e.Priced, e.Line.Supplier, e.Line.Article = w.h.sh.dated, a.Own.Supplier, a.Own.Article
		if a.Own.Dated != "" {
			e.Priced = a.Own.Dated
		}
		w.byKey[key] = e
		w.lines = append(w.lines, e)
	}
	if as == itself {
		e.main, e.role = true, itself
	}
	e.Quantity += n
	for _, sp := range covered {
		e.spots[sp.order] = sp
		e.first = min(e.first, sp.order)
	}
	for _, x := range a.with {
		as := goesWith
		if x.Kind == CellKind {
			as = spareCells
		}
		w.add(room, x.article, x.n*n, as, a, covered)
	}
	return e
}

// addHosts puts controllers in their places.
func (w *writer) addHosts() {
	places := w.h.hosts.places
	if w.h.routed != nil {
		places = w.h.routed.hosts.places
	}
	next := make([]int, len(places))
	nameless := 0
	var asked []string
	for _, n := range w.h.asked {
		asked = append(asked, n.ID)
	}
	for _, s := range w.sol.hosted.seated {
		for i := 0; i < s.count; i++ {
			d := Device{Part: s.ID, Covers: []string{}, Speaks: s.speaks()}
			if s.group >= 0 {
				place := places[s.group].places[next[s.group]]
				next[s.group]++
				d.ID, d.Room = place.ID, place.Room
			}
			if d.ID == "" {
				nameless++
				d.ID = "controller-" + itoa(nameless)
			}
			if asked != nil {
				d.Covers = asked // the first controller answers for all
				asked = nil
			}
			w.bill.Devices = append(w.bill.Devices, d)
		}
		e := w.add("", s.article, s.count, itself, nil, nil)
		e.host = true
		if len(w.h.asked) > 0 && e == w.firstHost() {
			for _, n := range w.h.asked {
				e.asked = append(e.asked, n.ID)
			}
		}
		for _, a := range s.adapters {
			w.add("", a, s.count, itself, nil, nil).host = true
		}
	}
}

// firstHost is the line of the first controller.
func (w *writer) firstHost() *entry {
	for _, e := range w.lines {
		if e.host {
			return e
		}
	}
	return nil
}

// sortLines puts rooms in the order of the project, each by its needs, main parts before what comes with
// them; then the home's own: controllers, adapters, what goes with them, cells.
func (w *writer) sortLines() {
	room := func(e *entry) int {
		if e.Room == "" {
			return len(w.p.Rooms) + 2
		}
		if at := w.roomAt[e.Room]; at > 0 {
			return at
		}
		return len(w.p.Rooms) + 1
	}
	sort.SliceStable(w.lines, func(i, j int) bool {
		a, b := w.lines[i], w.lines[j]
		if x, y := room(a), room(b); x != y {
			return x < y
		}
		if a.Room == "" && a.role != b.role {
			return a.role < b.role
		}
		if a.first != b.first {
			return a.first < b.first
		}
		if a.role != b.role {
			return a.role < b.role
		}
		return a.index < b.index
	})
	order := map[string]int{}
	for _, sp := range w.h.spots {
		order[sp.ID] = sp.order + 1
	}
	at := func(d Device) int {
		if len(d.Covers) > 0 && order[d.Covers[0]] > 0 {
			return order[d.Covers[0]]
		}
		return math.MaxInt // controllers
	}
	sort.SliceStable(w.bill.Devices, func(i, j int) bool { return at(w.bill.Devices[i]) < at(w.bill.Devices[j]) })
}

// totals adds up. Every line is whole minor units already; only tax is rounded, once.
func (w *writer) totals() {
	b := &w.bill
	rooms := map[string]*Total{}
	var order []string
	for _, e := range w.lines {
		e.Line.Minutes = e.Quantity * e.article.Minutes
		bought := Money(e.Quantity-e.Owned) * e.each
		e.Amount = bought + Money(e.Quantity)*e.work
		b.Parts += bought
		b.Labour += Money(e.Quantity) * e.work
		b.Minutes += e.Line.Minutes
		b.Lines = append(b.Lines, e.Line)
		if rooms[e.Room] == nil {
			rooms[e.Room] = &Total{Room: e.Room}
			order = append(order, e.Room)
		}
		rooms[e.Room].Amount += e.Amount
	}
	for _, d := range b.Devices {
		room := d.Room
		if does(w.h.sh.byID[d.Part].Part, catalogue.Host) {
			room = "" // a controller is the whole home's
		}
		if t := rooms[room]; t != nil {
			t.Devices++
		}
	}
	for _, r := range order {
		if room, ok := w.p.Room(r); ok {
			rooms[r].Name = room.Title()
		} else if r != "" {
			rooms[r].Name = model.Titled(r)
		}
		b.Rooms = append(b.Rooms, *rooms[r])
	}
	net := b.Parts + b.Labour
	b.Tax = percent(net, b.Terms.Tax)
	b.Total = net + b.Tax
}
