package bill

// whole is the choice for a home with its routes as one program in whole numbers: which way each group takes, which rooms get a
// repeater, what sits in each place. Its rows say that slots go round, and that no room uses a radio unless something passes
// it on there or a controller hears it: of any set of rooms and seats by which all of the room's messages have to go, one has to. There
// are too many such sets to write them all down, so only those are that the choice at hand breaks (cuts.go). So Steiner trees
// are found by branch and cut (Koch and Martin, Networks 32, 1998); here what is bought for the rooms' needs may be part of the tree.
type whole struct {
	*router
	c       *chooser
	cutoff  Money // only less than this is of interest
	classes []spread
	vars    []place // of each variable
	rows    []row

	users   []user
	uses    map[demand]int     // variable: the room uses the radio
	given   map[repeaterAt]int // variable: the room may use it though nothing hears it
	speaks  [radios][][]int    // by seat, and last what stands in a place that nobody named: options that speak a radio
	passes  [radios][][]int    // by room: options that pass a radio on
	tallies []tally
	linked  map[int]bool // users whose row is written down
	cuts    map[string]bool

	fixed []bool  // variables that are 0 in all homes below cutoff
	price []int64 // of the rows at the root
	work  int     // cells that were reckoned
}

// demand is a room that uses a radio, or has alarms on batteries on it; room -1 stands for all that needs nothing but a controller
// that speaks the radio: cables, and rooms that nobody has drawn.
type demand struct {
	room, radio int
	alarm       bool
}

// spread is a class of the program. Its variables are numbered in the order of its options from first on.
type spread struct {
	class
	first  int
	rest   int    // the option that costs least, which takes what the others leave
	groups []int  // that it stands for
	front  *front // of them
	adds   repeaterAt
	seat   int // of a controller
	setups []*setup
	trunk  bool // worth branching on before others
}

// place of a variable.
type place struct{ class, option int }

// row is a sum of variables that is most at most.
type row struct {
	terms []term
	most  int
}

// term is a variable with its coefficient.
type term struct {
	v int
	a int
}

// user is a class with the options that use a radio in a room.
type user struct {
	demand
	class int
	vars  []int
}

// task is what a program is asked for.
type task struct {
	goal        // with no weights it is all about what is out of reach
	lost   bool // that is to be as little as can be
	spare  int  // that may be out of reach
	beyond bool // all named places are taken, and there may be controllers besides
}

func (r *router) newWhole(c *chooser, fronts []*front, t task) *whole {
	w := &whole{router: r, c: c, uses: map[demand]int{}, given: map[repeaterAt]int{}, linked: map[int]bool{}, cuts: map[string]bool{}}
	for i := range radios {
		w.passes[i], w.speaks[i] = make([][]int, len(r.rooms)), make([][]int, len(r.seats)+1)
	}
	w.addGroups(fronts, t)
	w.addRepeaters(t)
	w.addUses(t)
	w.addControllers(t)
	for _, cl := range ownedClasses(c.hosts.owned, t.weights) {
		w.put(spread{class: cl})
	}
	w.addSlots(t)
	w.addTallies()
	w.fixed = make([]bool, len(w.vars))
	return w
}

// put adds a class, and gives the number of its first variable.
func (w *whole) put(s spread) int {
	s.first = len(w.vars)
	for o := range s.options {
		if s.options[o].cost < s.options[s.rest].cost {
			s.rest = o
		}
		w.vars = append(w.vars, place{len(w.classes), o})
	}
	w.classes = append(w.classes, s)
	return s.first
}

func (w *whole) addGroups(fronts []*front, t task) {
	type key struct {
		room int
		f    *front
	}
	at := map[key]int{}
	for g, f := range fronts {
		room := w.room[g]
		if room >= 0 {
			f = f.wide()
		}
		k, ok := at[key{room, f}]
		if !ok {
			k = len(w.classes)
			at[key{room, f}] = k
			w.put(spread{class: class{options: w.options(f, t)}, front: f})
			w.noteAir(k, room)
		}
		w.classes[k].count++
		w.classes[k].groups = append(w.classes[k].groups, g)
	}
}

func (w *whole) options(f *front, t task) (all []option) {
	for i := range f.points {
		p := &f.points[i]
		o := option{cost: t.sum(p.cost, p.toll)}
		copy(o.use[:], p.slots[:])
		o.takes(p.toll, t.most)
		all = append(all, o)
	}
	return all
}

// noteAir notes what the options of a class use and pass on.
func (w *whole) noteAir(class, room int) {
	cl := &w.classes[class]
	for i := range radios {
		at := demand{room: room, radio: i}
		if wired(i) {
			at.room = -1
		}
		var use, loud []int
		for o := range cl.options {
			p, v := &cl.front.points[o], cl.first+o
			if p.slots[i] > 0 {
				use = append(use, v)
			}
			if p.slots[i] > 0 && p.loud>>i&1 == 1 {
				loud = append(loud, v)
			}
			if room >= 0 && p.pass>>i&1 == 1 {
				w.passes[i][room] = append(w.passes[i][room], v)
			}
		}
		if len(use) > 0 {
			w.users = append(w.users, user{at, class, use})
		}
		if at.alarm = true; len(loud) > 0 && at.room >= 0 {
			w.users = append(w.users, user{at, class, loud})
		}
	}
}

func (w *whole) addRepeaters(t task) {
	for i := range radios {
		if w.repeater[i] == nil {
			continue
		}
		for q := range w.rooms {
			options := append([]option{{}}, w.options(w.passing[i], t)...)
			first := w.put(spread{class: class{options: options, count: 1}, front: w.passing[i], adds: repeaterAt{q, i}, trunk: true})
			for o := 1; o < len(options); o++ {
				w.passes[i][q] = append(w.passes[i][q], first+o)
			}
		}
	}
}

// addUses adds for each room and radio whether it is used, and if need be whether it may be without being heard.
func (w *whole) addUses(t task) {
	for _, u := range w.users {
		if _, ok := w.uses[u.demand]; !ok {
			w.uses[u.demand] = 1 + w.put(spread{class: class{options: make([]option, 2), count: 1}, trunk: true})
		}
	}
	if !t.lost && t.spare == 0 {
		return
	}
	spares := row{most: t.spare}
	for _, u := range w.users {
		at := repeaterAt{u.room, u.radio}
		if _, ok := w.given[at]; !ok && u.room >= 0 {
			options := make([]option, 2)
			if t.lost {
				options[1].cost = 1
			}
			w.given[at] = len(w.vars) + 1
			w.put(spread{class: class{options: options, count: 1}, adds: at, trunk: true})
			spares.terms = append(spares.terms, term{w.given[at], 1})
		}
	}
	if !t.lost {
		w.rows = append(w.rows, spares)
	}
}

func (w *whole) addControllers(t task) {
	var most slots
	for _, cl := range w.classes {
		for i := range most {
			top := 0
			for _, o := range cl.options {
				top = max(top, o.use[i])
			}
			most[i] += top * cl.count
		}
	}
	for k, o := range w.c.hosts.owned {
		most[radios+k] = o.count
	}
	add := func(list []*setup, count int, empty bool, seat int) {
		cl := w.c.hostClass(list, count, empty, t.most)
		first := w.put(spread{class: cl, seat: seat, setups: list, trunk: true})
		for o, s := range list {
			for i := range radios {
				if s.brings[i] > 0 {
					w.speaks[i][seat] = append(w.speaks[i][seat], first+o)
				}
			}
		}
	}
	hs := w.c.hosts
	for _, g := range hs.places {
		seat := len(w.seats)
		if i, ok := w.seat[g.places[0].ID]; ok {
			seat = i
		}
		add(hs.trimmed(g.setups, g.except, most, w.c.rules, t.weights), len(g.places), !t.beyond && !g.taken, seat)
	}
	if t.beyond {
		list := hs.trimmed(hs.free, nil, most, w.c.rules, t.weights)
		add(list, enough(list, most, w.c.rules), true, len(w.seats))
	}
}

// addSlots says that no more slots, rules and tolls are used than there are.
func (w *whole) addSlots(t task) {
	need := [dims]int{forRules: w.c.rules}
	for i, n := range t.most {
		if n != noBound {
			need[forTolls+i] = -n
		}
	}
	for d := range dims {
		r := row{most: -need[d]}
		for v, p := range w.vars {
			if u := w.classes[p.class].options[p.option].use[d]; u != 0 {
				r.terms = append(r.terms, term{v, u})
			}
		}
		if len(r.terms) > 0 || need[d] > 0 {
			w.rows = append(w.rows, r)
		}
	}
}

// apart is the hosts with each place by itself.
func (h *hosts) apart() *hosts {
	o := *h
	o.places = nil
	for _, g := range h.places {
		for i := range g.places {
			one := g
			one.places = g.places[i : i+1]
			o.places = append(o.places, one)
		}
	}
	return &o
}
