package rules

// Step handles one event to its end and says what came about. It is pure: s is left as it was, and equal states and events give
// equal results. It is total: whatever the event, there is a next state, and the record starts with the event.
//
// What a rule does:
//
//   - An event is one cause or several: a report, a crossing and a change are told apart only by the rules that name
//     them. All rules that the event causes look at their guards at that moment, before any of them acts; those whose
//     guard holds then act in sheet order, each carrying out its effects in order.
//   - Reports is every report, also one that repeats the last. Became is a change only: of On, or with Any of level and
//     colour too. Over and Under are crossings: nothing is caused by a reading that stays on its side.
//   - A change that a rule makes is a cause too. Such causes wait in line until the rules of the present cause are done and
//     are then handled in the order in which they came about, guards looked at when their turn comes. No report comes in
//     between: the line is emptied first. A value that is set to what it is already is no change.
//   - A line that is longer than any that makes sense is cut off, and that is said: Endless.
//   - When the line is empty, holds are looked at: a running wait with a true literal among its holds is held, and a held
//     wait without one starts over for its HoldFor.
//   - Waits are urgent and their bounds are closed: a wait of n seconds ends in the n-th second after its start, neither before
//     nor after. No time passes while something is due. Its end stops it, and is a cause; rules that look at Running then see
//     that it doesn't.
//   - Between is [From, To) on the clock of the moment. A clock time is a cause once each time that the clock reaches it. A clock that
//     is put forward strikes at once, in order, what it leaps over; one that is put back comes to it again.
//   - Rises: the reading is Threshold or more above what it was at some moment of the last For, ends included, since the cause last
//     came about. StaysUnder counts from the crossing (or from the return of the power) and comes about once for each.
//   - A thing whose Feed is off is dead: orders to it are lost, and hands can't light it. When its Feed comes on it does what it does when the
//     mains come back, and one that would be as it was comes on. A thing that has failed stays as it is whatever rules order.
//   - In a power cut no rule acts and no wait runs; all waits are lost. Sensors go on seeing, and what they saw stands when the power
//     returns. Then things take their PowerUp values, the rules of PowerBack act, and after them the rules of what changed.
func (p *Program) Step(s State, e Event) (State, []Happening) {
	next := s.Clone()
	return next, p.Do(&next, e, nil)
}

// Do is Step in place: it changes s and appends what came about to into, which may be nil.
func (p *Program) Do(s *State, e Event, into []Happening) []Happening {
	x := run{p: p, w: s.words, out: into}
	x.event(e)
	return x.out
}

// cause is what rules are set off by: an event, or a change that a rule made.
type cause struct {
	thing    int32
	old, new int32
	report   bool // also when nothing changed
	hand     bool
	plain    bool // a lamp was switched on by hand, and no level named
	pressed  bool
	press    Press
}

// run is one Do.
type run struct {
	p     *Program
	w     []int32
	out   []Happening
	line  line
	risen []int32 // windows of Rises that came about with the reading in hand
}

// line is what waits its turn. The first few need no memory of their own, and more are rare.
type line struct {
	first [8]cause
	more  []cause
	n     int
}

func (l *line) push(c cause) {
	if l.n < len(l.first) {
		l.first[l.n] = c
	} else {
		l.more = append(l.more, c)
	}
	l.n++
}

func (l *line) at(i int) cause {
	if i < len(l.first) {
		return l.first[i]
	}
	return l.more[i-len(l.first)]
}

func (l *line) empty() { l.n, l.more = 0, l.more[:0] }

func (x *run) say(h Happening) { x.out = append(x.out, h) }

func blank(k HappeningKind) Happening {
	return Happening{Kind: k, Rule: -1, Thing: -1, Wait: -1, Effect: -1}
}

func (x *run) event(e Event) {
	came := blank(Came)
	came.Thing, came.To = e.Thing, e.Value
	switch e.Kind {
	case Reported, ReadingIs, HandSet, ButtonPress:
		x.say(came)
		x.act(e)
		return
	case TimePasses:
		came.Thing, came.Seconds = -1, x.pass(e.Seconds)
		x.say(came)
		return
	}
	came.Thing = -1
	x.say(came)
	switch e.Kind {
	case PowerFails:
		x.fail()
	case PowerReturns:
		x.restore()
	case ClockMoves:
		x.move(e.Seconds)
	case ClockStrikes:
		x.strike()
	case WaitEnds:
		x.end(e.Wait)
	case StayEnds:
		x.stayEnds(e.Wait)
	case Fails:
		x.thingFails(e.Thing)
	default:
		x.say(blank(Ignored))
	}
}

// accepts says which events a kind of thing can have.
func accepts(k ThingKind, e EventKind) bool {
	switch k {
	case Motion, Presence, Door, Probe:
		return e == Reported
	case Hygrometer, Meter:
		return e == ReadingIs
	case ButtonOf:
		return e == ButtonPress
	case Flag:
		return false
	}
	return e == HandSet
}

// act handles what people and sensors do.
func (x *run) act(e Event) {
	things := x.p.sheet.Things
	if e.Thing < 0 || e.Thing >= len(things) || !accepts(things[e.Thing].Kind, e.Kind) {
		x.say(blank(Ignored))
		return
	}
	kind := things[e.Thing].Kind
	out := x.w[bitsWord]&outBit != 0
	if out && (kind == ButtonOf || e.Kind == HandSet && kind != Valve) || x.unfed(int32(e.Thing)) {
		x.say(blank(Unheard))
		return
	}
	at := &x.w[thingsAt+e.Thing]
	c := cause{thing: int32(e.Thing), old: *at, new: normal(kind, e.Value), report: e.Kind == Reported, hand: e.Kind == HandSet,
		plain:   e.Kind == HandSet && kind == Lamp && e.Value.On && e.Value.Level <= 0,
		pressed: e.Kind == ButtonPress, press: e.Press}
	*at = c.new
	if c.new != c.old {
		h := blank(Changed)
		h.Thing, h.From, h.To = e.Thing, unpack(c.old), unpack(c.new)
		x.say(h)
	}
	if out || x.failed(int32(e.Thing)) {
		x.say(blank(Unheard))
		return
	}
	if c.new != c.old {
		x.feed(c.thing)
	}
	if e.Kind == ReadingIs {
		x.reading(c)
	}
	x.cascade(c)
}

// cascade handles a cause, and then what its rules changed, until nothing is left.
func (x *run) cascade(c cause) {
	x.batch(x.p.byThing[c.thing], &c)
	x.settle()
}

// settle empties the line, and looks at the holds.
func (x *run) settle() {
	most := 32 + 8*len(x.p.rules)
	for i := 0; i < x.line.n; i++ {
		if i >= most {
			x.say(blank(Endless))
			break
		}
		c := x.line.at(i)
		x.batch(x.p.byThing[c.thing], &c)
	}
	x.line.empty()
	for _, w := range x.p.held {
		at := &x.w[x.p.waitsAt+int(w)]
		if *at == 0 {
			continue
		}
		stands := x.any(x.p.holds[w].any)
		switch {
		case stands && *at != held:
			*at = held
			h := blank(WaitHeld)
			h.Wait = int(w)
			x.say(h)
		case !stands && *at == held:
			*at = 1 + x.p.holds[w].seconds
			h := blank(WaitReleased)
			h.Wait, h.Seconds = int(w), int(x.p.holds[w].seconds)
			x.say(h)
		}
	}
}

// batch lets those of some rules that c causes look at their guards, and then act. A nil c causes all of them.
func (x *run) batch(rules []int32, c *cause) {
	var room [32]int32
	act := room[:0]
	for _, i := range rules {
		r := &x.p.rules[i]
		if c != nil && !x.causes(r, c) {
			continue
		}
		if x.all(r.guard) {
			act = append(act, i)
			continue
		}
		h := blank(Declined)
		h.Rule = int(i)
		x.say(h)
	}
	for _, i := range act {
		h := blank(Acted)
		h.Rule = int(i)
		x.say(h)
		x.effects(int(i))
	}
}

// causes reports whether c, which is about a thing that the rule's cause looks at, causes it.
func (x *run) causes(r *rule, c *cause) bool {
	switch r.kind {
	case Reports:
		return c.report && (c.new&1 != 0) == r.on
	case Pressed:
		return c.pressed && c.press == r.press
	case Became:
		if r.hand && !c.hand || r.plain && !c.plain {
			return false
		}
		if r.any {
			return c.new != c.old
		}
		return (c.new^c.old)&1 != 0 && (c.new&1 != 0) == r.on
	case Over, Under:
		was, now := x.over(r, c, c.old), x.over(r, c, c.new)
		return was != now && now == (r.kind == Over)
	case Rises:
		for _, own := range x.risen {
			if own == r.own {
				return true
			}
		}
	}
	return false
}

// over is whether the rule's reading is over its threshold when the thing of c has the value v.
func (x *run) over(r *rule, c *cause, v int32) bool {
	of := func(thing int32) int32 {
		switch {
		case thing < 0:
			return 0
		case thing == c.thing:
			return level(v)
		}
		return level(x.w[thingsAt+thing])
	}
	return of(r.thing)-of(r.than) > r.threshold
}

func (x *run) all(ls []literal) bool {
	for i := range ls {
		if !x.holds(&ls[i]) {
			return false
		}
	}
	return true
}

func (x *run) any(ls []literal) bool {
	for i := range ls {
		if x.holds(&ls[i]) {
			return true
		}
	}
	return false
}

func (x *run) holds(l *literal) bool {
	var is bool
	switch l.kind {
	case Is:
		is = x.w[thingsAt+l.thing]&1 != 0
	case ReadsOver:
		n := level(x.w[thingsAt+l.thing])
		if l.than >= 0 {
			n -= level(x.w[thingsAt+l.than])
		}
		is = n > l.threshold
	case Between:
		is = within(x.w[clockWord], x.p.second[l.from], x.p.second[l.to])
	case Running:
		is = x.w[x.p.waitsAt+int(l.wait)] != 0
	}
	return is != l.not
}

// within reports whether a second of the day is in [from, to), over midnight where to comes first; from and to alike are the whole day.
func within(now, from, to int32) bool {
	switch {
	case from == to:
		return true
	case from < to:
		return from <= now && now < to
	}
	return now >= from || now < to
}

// effects carries out a rule.
func (x *run) effects(i int) {
	r := &x.p.rules[i]
	for n := range r.effects {
		e := &r.effects[n]
		switch e.kind {
		case Set:
			x.set(i, e)
		case Start:
			x.start(i, e, r.again)
		case Stop:
			if at := &x.w[x.p.waitsAt+int(e.wait)]; *at != 0 {
				*at = 0
				h := blank(WaitStopped)
				h.Rule, h.Wait = i, int(e.wait)
				x.say(h)
			}
		case Tell:
			h := blank(Told)
			h.Rule, h.Effect = i, n
			x.say(h)
		}
	}
}

func (x *run) set(i int, e *effect) {
	at := &x.w[thingsAt+e.thing]
	to := e.value
	if to>>17 == 0 && to&1 != 0 { // no colour asked for: as the lamp is
		to |= *at >> 17 << 17
	}
	if to == *at {
		return
	}
	if x.failed(e.thing) || x.unfed(e.thing) {
		h := blank(Deaf)
		h.Rule, h.Thing, h.To = i, int(e.thing), unpack(to)
		x.say(h)
		return
	}
	c := cause{thing: e.thing, old: *at, new: to}
	*at = to
	h := blank(Changed)
	h.Rule, h.Thing, h.From, h.To = i, int(e.thing), unpack(c.old), unpack(c.new)
	x.say(h)
	if len(x.p.byThing[e.thing]) > 0 {
		x.line.push(c)
	}
	x.feed(e.thing)
}

func (x *run) start(i int, e *effect, again Again) {
	at := &x.w[x.p.waitsAt+int(e.wait)]
	n := 1 + e.seconds
	if *at > 0 {
		switch again {
		case Longer:
			n = max(n, *at)
		case Keep:
			n = *at
		case Stack:
			n = min(*at+e.seconds, MaxWait)
		}
	}
	if *at == held || *at == n {
		return
	}
	*at = n
	h := blank(WaitStarted)
	h.Rule, h.Wait, h.Seconds = i, int(e.wait), int(n-1)
	x.say(h)
}
