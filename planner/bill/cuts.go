package bill

import (
	"fmt"
	"slices"
)

// slack is by how much a row has to be broken to be worth writing down.
const slack = 1e-4

// tiny is what rounding makes of nothing.
const tiny = 1e-9

// separate writes down rows that a choice in fractions breaks, and tells how many.
func (w *whole) separate(x []float64) (n int) {
	want := map[demand]float64{}
	var order []demand
	for i, u := range w.users {
		if _, ok := want[u.demand]; !ok {
			order = append(order, u.demand)
		}
		count := w.classes[u.class].count
		use, may := 0.0, x[w.uses[u.demand]]
		for _, v := range u.vars {
			use += x[v] / float64(count)
		}
		given, ok := w.given[repeaterAt{u.room, u.radio}]
		if ok {
			may += x[given]
		}
		if use > may+slack && !w.linked[i] {
			w.linked[i] = true
			r := row{terms: []term{{w.uses[u.demand], -count}}}
			if ok {
				r.terms = append(r.terms, term{given, -count})
			}
			for _, v := range u.vars {
				r.terms = append(r.terms, term{v, 1})
			}
			w.rows = append(w.rows, r)
			n++
		}
		want[u.demand] = max(want[u.demand], x[w.uses[u.demand]], use-may+x[w.uses[u.demand]])
	}
	var flows [radios]*flow
	for _, d := range order {
		if want[d] <= slack {
			continue
		}
		if flows[d.radio] == nil {
			flows[d.radio] = w.flow(d.radio, x)
		}
		if rooms, seats, broken := flows[d.radio].least(d, want[d]-slack); broken {
			n += w.cut(d, rooms, seats)
		}
	}
	return n
}

// cut says that a room uses a radio only if one of some rooms passes it on, or what sits in one of some seats speaks it.
func (w *whole) cut(d demand, rooms, seats []int) int {
	key := fmt.Sprint(d, rooms, seats)
	if w.cuts[key] {
		return 0
	}
	w.cuts[key] = true
	r := row{terms: []term{{w.uses[d], 1}}}
	put := func(vars []int) {
		for _, v := range vars {
			r.terms = append(r.terms, term{v, -1})
		}
	}
	for _, q := range rooms {
		put(w.passes[d.radio][q])
	}
	for _, s := range seats {
		put(w.speaks[d.radio][s])
	}
	w.rows = append(w.rows, r)
	return 1
}

// flow is how much of a radio's messages gets through rooms and to seats, in fractions: a net of nodes for rooms as they
// hear, rooms as they pass on, seats, the end and the start.
type flow struct {
	*whole
	radio int
	pass  []float64 // by room
	to    []int     // of each arc; that back stands beside it
	left  []float64
	full  []float64
	out   [][]int // arcs of each node
}

// plenty is more than any room wants.
const plenty = 1e6

func (w *whole) flow(radio int, x []float64) *flow {
	n, seats := len(w.rooms), len(w.seats)+1
	f := &flow{whole: w, radio: radio, pass: make([]float64, n), out: make([][]int, 2*n+seats+2)}
	for q, vars := range w.passes[radio] {
		for _, v := range vars {
			f.pass[q] += x[v]
		}
	}
	for q := range w.rooms {
		if f.pass[q] <= slack {
			continue
		}
		f.arc(q, n+q, f.pass[q])
		for _, o := range w.around(q, radio) {
			if o != q && f.pass[o] > slack {
				f.arc(n+q, o, plenty)
			}
		}
		for s := range seats {
			if w.hears(s, q, radio, false) {
				f.arc(n+q, 2*n+s, plenty)
			}
		}
	}
	for s := range seats {
		hear := 0.0
		for _, v := range w.speaks[radio][s] {
			hear += x[v]
		}
		f.arc(2*n+s, f.end(), hear)
	}
	f.full = slices.Clone(f.left)
	return f
}

// hears reports whether a controller in a seat hears a room; the last seat stands for places that nobody named.
func (w *whole) hears(seat, room, radio int, alarm bool) bool {
	if seat == len(w.seats) {
		seat = w.first()
	}
	return w.heard(room, w.node(seat), radio, alarm)
}

func (f *flow) end() int   { return len(f.out) - 2 }
func (f *flow) start() int { return len(f.out) - 1 }

func (f *flow) arc(a, b int, most float64) {
	f.out[a] = append(f.out[a], len(f.to))
	f.out[b] = append(f.out[b], len(f.to)+1)
	f.to = append(f.to, b, a)
	f.left = append(f.left, most, 0)
}

// least finds rooms and seats by which all messages of a room have to go and that let less through than is wanted.
func (f *flow) least(d demand, want float64) (rooms, seats []int, broken bool) {
	around, hears := f.near(d)
	arcs, n := len(f.to), len(f.rooms)
	f.left = append(f.left[:0], f.full...)
	for _, q := range around {
		if f.pass[q] > slack {
			f.arc(f.start(), q, plenty)
		}
	}
	for s, ok := range hears {
		if ok {
			f.arc(f.start(), 2*n+s, plenty)
		}
	}
	from := make([]int, len(f.out))
	for got := 0.0; !broken && got < want; {
		if broken = !f.way(from); !broken {
			got += f.push(from, want)
		}
	}
	if broken {
		rooms, seats = f.rim(d, from, around, hears)
	}
	for a := arcs; a < len(f.to); a += 2 { // the room's own arcs go again
		b := f.to[a]
		f.out[b] = f.out[b][:len(f.out[b])-1]
	}
	f.out[f.start()] = f.out[f.start()][:0]
	f.to, f.left = f.to[:arcs], f.left[:arcs]
	return rooms, seats, broken
}

// near are the rooms that hear a room when they pass its radio on, and by seat which controllers do.
func (f *flow) near(d demand) (rooms []int, hears []bool) {
	hears = make([]bool, len(f.seats)+1)
	for s := range hears {
		hears[s] = d.room < 0 || f.hears(s, d.room, d.radio, d.alarm)
	}
	if d.room >= 0 && meshes(d.radio) {
		for _, q := range f.around(d.room, d.radio) {
			if !d.alarm || f.heard(q, d.room, d.radio, true) {
				rooms = append(rooms, q)
			}
		}
	}
	return rooms, hears
}

// way looks for one more way to the end: of each node the arc by which it is come to, -1 for none.
func (f *flow) way(from []int) bool {
	for i := range from {
		from[i] = -1
	}
	queue := []int{f.start()}
	for len(queue) > 0 && from[f.end()] < 0 {
		at := queue[0]
		queue = queue[1:]
		for _, a := range f.out[at] {
			if b := f.to[a]; f.left[a] > tiny && from[b] < 0 && b != f.start() {
				from[b] = a
				queue = append(queue, b)
			}
		}
	}
	return from[f.end()] >= 0
}

// push sends as much as goes, but no more than is wanted, along a way.
func (f *flow) push(from []int, want float64) float64 {
	for at := f.end(); at != f.start(); at = f.to[from[at]^1] {
		want = min(want, f.left[from[at]])
	}
	for at := f.end(); at != f.start(); at = f.to[from[at]^1] {
		f.left[from[at]] -= want
		f.left[from[at]^1] += want
	}
	return want
}

// rim is what hears the room, and the rooms behind which messages still come, but for those rooms.
func (f *flow) rim(d demand, from, around []int, hears []bool) (rooms, seats []int) {
	n := len(f.rooms)
	near := make([]bool, n)
	for _, q := range around {
		near[q] = true
	}
	for q := range n {
		if from[n+q] < 0 {
			continue
		}
		for _, o := range f.around(q, d.radio) {
			near[o] = true
		}
		for s := range hears {
			hears[s] = hears[s] || f.hears(s, q, d.radio, false)
		}
	}
	for q := range n {
		if near[q] && from[n+q] < 0 {
			rooms = append(rooms, q)
		}
	}
	for s, ok := range hears {
		if ok {
			seats = append(seats, s)
		}
	}
	return rooms, seats
}
