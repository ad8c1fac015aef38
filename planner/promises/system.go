package promises

import (
	"slices"
	"sort"
	"time"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// system is a slice of rules with the part of the house that it sees, the people in it, and one promise.
type system struct {
	prog    *rules.Program
	world   World
	promise watcher
	longer  [][]int   // by rule: waits that it may lengthen
	lengths [][]int32 // by wait: what it is started for, ascending
	moments []int     // of the day
	parts   []part
	slots   int // words of plant
	dull    []dull
	known   map[string]*world
	labels  []string
	number  map[string]int
	trail   map[string][]rules.Event // while a story is looked up: the events of each move
	day     bool                     // the day runs by the clock; otherwise its periods may change at any instant
}

// World is what is assumed of the people and things around the rules. Every assumption is printed with the
// verdict that leans on it.
type World struct {
	People    int   // at most so many in the room
	StillFor  int32 // seconds; whoever is inside moves at least this often; 0 is not ever
	Blind     int32 // seconds that a motion sensor says nothing after a report
	Gone      int32 // seconds that a presence sensor takes to notice that nobody is left
	DoorsSeen bool  // people pass only open doors, where the door has a contact
	Hands     bool  // people set lamps and fans by hand
	Day       rules.Day
	ByClock   bool // the day runs by the clock; otherwise its periods may change at any instant
}

// part of the plant: a sensor, a door, a button, a lamp that hands may set. Its state is one word of the world.
type part interface {
	// acts are what may happen here now.
	acts(s *system, w *world) []timed.Move
	// ended is what follows when a timer of the part ends; nil when the timer isn't the part's.
	ended(s *system, w *world, id int16) []timed.Move
}

// watcher is a promise as it looks on.
type watcher interface {
	// begin sets the promise's memory up.
	begin(s *system, w *world)
	// see looks at what an event did to the rules.
	see(x *exec, e rules.Event, happened []rules.Happening)
	// after looks at a move as a whole, when all its events are done.
	after(x *exec)
	// ended is called when a timer of the promise ends.
	ended(x *exec, id int16)
}

// Timer IDs: waits first, then StaysUnder clocks, then the rest.
const (
	dayTimer   = int16(1000)
	stillTimer = int16(1001)
	partTimer  = int16(1100) // and on
	watchTimer = int16(2000) // and on
)

func waitTimer(wait int) int16             { return int16(wait) }
func (s *system) stayTimer(stay int) int16 { return int16(len(s.prog.Waits()) + stay) }

func newSystem(prog *rules.Program, w World, p watcher) *system {
	s := &system{prog: prog.On(w.Day), world: w, promise: p, known: map[string]*world{}, number: map[string]int{}, day: w.ByClock}
	s.moments = s.prog.Moments()
	s.lengths = make([][]int32, len(prog.Waits()))
	for _, r := range prog.Sheet().Rules {
		var longer []int
		if r.Cause.Kind == rules.Ended && len(r.Hold) > 0 {
			s.length(r.Cause.Wait, time.Duration(r.HoldFor))
		}
		for _, e := range r.Effects {
			if e.Kind != rules.Start {
				continue
			}
			s.length(e.Wait, time.Duration(e.For))
			if n, ok := prog.Wait(e.Wait); ok && (r.Again == rules.Longer || r.Again == rules.Stack) {
				longer = append(longer, n)
			}
		}
		s.longer = append(s.longer, longer)
	}
	for i := range s.lengths {
		slices.Sort(s.lengths[i])
		s.lengths[i] = slices.Compact(s.lengths[i])
	}
	s.furnish()
	s.dulls()
	return s
}

func (s *system) length(wait string, d time.Duration) {
	if n, ok := s.prog.Wait(wait); ok {
		s.lengths[n] = append(s.lengths[n], int32(d/time.Second))
	}
}

func (s *system) stacks(rule int) bool {
	return rule >= 0 && s.prog.Sheet().Rules[rule].Again == rules.Stack
}

// keep remembers a world under its name and gives its state.
func (s *system) keep(w *world) timed.State {
	loc := w.loc()
	if _, ok := s.known[loc]; !ok {
		s.known[loc] = w
	}
	return timed.State{Loc: loc, Timers: w.timers}
}

// at is the world of a state.
func (s *system) at(st timed.State) *world {
	w := *s.known[st.Loc]
	w.timers = st.Timers
	return &w
}

// Begin is a quiet room, at each moment of the day.
func (s *system) Begin() []timed.State {
	var out []timed.State
	n := max(len(s.moments), 1)
	for k := 0; k < n; k++ {
		w := &world{rules: s.prog.Start(0), plant: make([]int8, s.slots)}
		if len(s.moments) > 0 {
			s.clock(w, k)
		}
		for _, p := range s.parts {
			if b, ok := p.(interface{ begin(*system, *world) }); ok {
				b.begin(s, w)
			}
		}
		s.promise.begin(s, w)
		out = append(out, s.keep(w))
	}
	return out
}

// clock puts a world into the stretch that follows moment k: its clock stands at the last second of it.
func (s *system) clock(w *world, k int) {
	next := s.moments[(k+1)%len(s.moments)]
	s.prog.PutClock(&w.rules, next-1)
	if s.day && len(s.moments) > 1 {
		d := int32((next - s.moments[k] + rules.DaySeconds) % rules.DaySeconds)
		w.set(timed.Timer{ID: dayTimer, Lo: d, Hi: d})
	}
}

// stretch is the number of the moment that a world's stretch of the day follows.
func (s *system) stretch(w *world) int {
	if len(s.moments) == 0 {
		return 0
	}
	next := (w.rules.Clock() + 1) % rules.DaySeconds
	i, _ := slices.BinarySearch(s.moments, next)
	return (i + len(s.moments) - 1) % len(s.moments)
}

// strike turns the day to its next stretch.
func (s *system) strike(x *exec) {
	k := (s.stretch(x.w) + 1) % len(s.moments)
	if s.prog.PutStrike(&x.w.rules, s.moments[k]) {
		x.event(rules.Event{Kind: rules.ClockStrikes})
	}
	x.w.drop(dayTimer)
	s.clock(x.w, k)
	if x.w.timer(dayTimer) != nil {
		x.fresh[dayTimer] = true
	}
}

// done is wrapped round every change, so that the promise sees whole moves.
func (s *system) done(change func(*exec)) func(*exec) {
	return func(x *exec) {
		change(x)
		s.promise.after(x)
		for _, d := range s.dull {
			if s.value(x.w, d.lamp).On {
				s.prog.PutValue(&x.w.rules, d.lamp, d.lit)
			}
		}
	}
}

// dull is a lamp of which it doesn't matter how bright it is once it is on: no rule and no promise looks. All
// its levels are one then, a level that no rule gives, so that every rule that gives one is seen to.
type dull struct {
	lamp int
	lit  rules.Value
}

// dulls finds the lamps whose levels don't matter.
func (s *system) dulls() {
	if l, ok := s.promise.(interface{ looksAtLevels() bool }); ok && l.looksAtLevels() {
		return
	}
	sheet := s.prog.Sheet()
	watched := map[string]bool{}
	for _, r := range sheet.Rules {
		if r.Cause.Kind == rules.Became && r.Cause.Any && !r.Cause.ByHand {
			watched[r.Cause.Thing] = true
		}
	}
	for i, t := range sheet.Things {
		if t.Kind == rules.Lamp && !watched[t.ID] {
			s.dull = append(s.dull, dull{i, s.settings(t.ID)[1]})
		}
	}
}

// Acts of timed.System.
func (s *system) Acts(st timed.State) []timed.Move {
	w := s.at(st)
	if w.broken {
		return nil
	}
	var out []timed.Move
	for _, p := range s.parts {
		out = append(out, p.acts(s, w)...)
	}
	if !s.day && len(s.moments) > 1 {
		out = append(out, s.moves(w, s.label("the day goes on to its next period"), false, s.done(s.strike))...)
	}
	return out
}

// Ended of timed.System.
func (s *system) Ended(st timed.State, id int16) []timed.Move {
	w := s.at(st)
	waits := len(s.prog.Waits())
	switch {
	case int(id) < waits:
		return s.moves(w, s.label("wait "+s.prog.Waits()[id]+" runs out"), false, s.done(func(x *exec) {
			x.event(rules.Event{Kind: rules.WaitEnds, Wait: int(id)})
		}))
	case int(id) < waits+s.prog.Stays():
		return s.moves(w, s.label("it has stayed so for long enough"), false, s.done(func(x *exec) {
			x.event(rules.Event{Kind: rules.StayEnds, Wait: int(id) - waits})
		}))
	case id == dayTimer:
		return s.moves(w, s.label("the clock comes to the next period"), false, s.done(s.strike))
	case id >= watchTimer:
		return s.moves(w, s.label("the time of the promise is up"), false, func(x *exec) {
			x.stop(id)
			s.promise.ended(x, id)
		})
	}
	for _, p := range s.parts {
		if m := p.ended(s, w, id); m != nil {
			return m
		}
	}
	return s.moves(w, s.label("nothing"), false, func(x *exec) { x.stop(id) })
}

// First of timed.System: a run that is promised for a time has had it when the wait that ends it ends.
func (s *system) First(a, b int16) bool {
	m, ok := s.promise.(interface{ first(a, b int16) bool })
	return ok && m.first(a, b)
}

// Broken of timed.System.
func (s *system) Broken(st timed.State) bool { return s.known[st.Loc].broken }

// Met of timed.System.
func (s *system) Met(st timed.State) bool { return s.known[st.Loc].met }

// Say of timed.System.
func (s *system) Say(label int) string { return s.labels[label] }

func (s *system) label(text string) int {
	if n, ok := s.number[text]; ok {
		return n
	}
	n := len(s.labels)
	s.labels, s.number[text] = append(s.labels, text), n
	return n
}

// thing is the number of a thing of the slice.
func (s *system) thing(id string) (int, bool) { return s.prog.Thing(id) }

// value of a thing in a world.
func (s *system) value(w *world, thing int) rules.Value { return s.prog.Value(w.rules, thing) }

// furnish makes the parts of the plant from the things of the slice.
func (s *system) furnish() {
	slot := func() int { s.slots++; return s.slots - 1 }
	var room people
	for i, t := range s.prog.Sheet().Things {
		switch t.Kind {
		case rules.Motion:
			room.motion = append(room.motion, sensor{thing: i, slot: slot(), timer: partTimer + int16(i)})
		case rules.Presence:
			room.presence = append(room.presence, sensor{thing: i, slot: slot(), timer: partTimer + int16(i)})
		case rules.Door:
			room.doors = append(room.doors, i)
		case rules.Lamp:
			if s.world.Hands {
				s.parts = append(s.parts, hand{thing: i, name: t.Name, settings: s.settings(t.ID)})
			}
		case rules.Fan, rules.Plug, rules.Valve:
			if s.world.Hands {
				s.parts = append(s.parts, hand{thing: i, name: t.Name, settings: []rules.Value{{}, {On: true}}})
			}
		case rules.ButtonOf:
			for _, p := range s.presses(t.ID) {
				s.parts = append(s.parts, button{thing: i, press: p, name: t.Name})
			}
		case rules.Probe:
			s.parts = append(s.parts, probe{thing: i, name: t.Name})
		case rules.Hygrometer, rules.Meter:
			s.parts = append(s.parts, gauge{thing: i, name: t.Name, readings: s.readings(t.ID)})
		}
	}
	s.parts = append([]part{room}, s.parts...)
}

// settings are the levels that a hand may leave a lamp at: off, and one that no rule gives.
func (s *system) settings(lamp string) []rules.Value {
	used := map[int]bool{}
	for _, r := range s.prog.Sheet().Rules {
		for _, e := range r.Effects {
			if e.Kind == rules.Set && e.Thing == lamp {
				used[e.Value.Level] = true
			}
		}
	}
	level := 55
	for used[level] {
		level++
	}
	return []rules.Value{{}, {On: true, Level: level}}
}

// presses of a button that some rule knows.
func (s *system) presses(id string) []rules.Press {
	seen := map[rules.Press]bool{}
	for _, r := range s.prog.Sheet().Rules {
		if r.Cause.Kind == rules.Pressed && r.Cause.Thing == id {
			seen[r.Cause.Press] = true
		}
	}
	var out []rules.Press
	for _, p := range []rules.Press{rules.Single, rules.Double, rules.Hold} {
		if seen[p] {
			out = append(out, p)
		}
	}
	return out
}

// readings are one reading for each stretch between the thresholds that the rules have for a gauge.
func (s *system) readings(id string) []int {
	cuts := map[int]bool{}
	add := func(thing string, n int) {
		if thing == id {
			cuts[n] = true
		}
	}
	for _, r := range s.prog.Sheet().Rules {
		switch r.Cause.Kind {
		case rules.Over, rules.Under, rules.StaysUnder:
			add(r.Cause.Thing, r.Cause.Threshold)
		}
		for _, ls := range [][]rules.Literal{r.Guard, r.Hold} {
			for _, l := range ls {
				if l.Kind == rules.ReadsOver {
					add(l.Thing, l.Threshold)
				}
			}
		}
	}
	var out []int
	for n := range cuts {
		out = append(out, n)
	}
	sort.Ints(out)
	return append([]int{0}, increments(out)...)
}

// increments puts a reading just over each cut.
func increments(cuts []int) []int {
	out := make([]int, len(cuts))
	for i, c := range cuts {
		out[i] = c + 1
	}
	return out
}
