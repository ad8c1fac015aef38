package promises

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// system is a slice of rules with the part of the house that it sees, the people in it, and one promise.
type system struct {
	prog    *rules.Program
	sheet   rules.Sheet
	of      Case
	world   World
	promise watcher
	longer  [][]int   // by rule: waits that it may lengthen
	lengths [][]int32 // by wait: what it is started for, ascending
	endless []bool    // by wait: it has no timer, because its end does nothing but start it over
	moments []int     // of the day
	parts   []part
	slots   int  // words of plant
	counted bool // sensors or doors of the room know of people in it
	lamps   []lampLevels
	meters  [][2]int         // meter and its plug
	sensors []int            // of people in the room
	dead    int              // thing that the fault silences, -1 for none
	known   map[string]int32 // name of a world, timers and all -> its number, from 1
	worlds  []*world         // by number less 1
	work    world            // that a move is tried on
	exec    exec             // that tries it
	room    store
	labels  []label
	number  map[label]int
	key     []byte
	trail   map[trailKey][]rules.Event // while a story is looked up: the events of each move
	day     bool                       // the day runs by the clock; otherwise its periods may change at any instant
}

// label of a move: its text has the name of a thing or wait of the slice put in.
type label struct {
	text  string
	thing int // -1 for none; waits count down from -2
}

// World is what is assumed of the people and things around the rules. Every assumption is printed with the
// verdict that leans on it.
type World struct {
	People    int   // at most so many in the room
	StillFor  int32 // seconds; whoever is inside moves at least this often; 0 is not ever
	Blind     int32 // seconds that a motion sensor says nothing after a report
	Gone      int32 // seconds that a presence sensor takes to notice that nobody is left
	DoorsSeen bool  // people pass only open doors, where the door has a contact
	Hands     bool  // people set lamps and fans by hand, and press buttons
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

func newSystem(c Case, w World) *system {
	prog := c.prog.On(w.Day)
	s := &system{prog: prog, sheet: c.slice, of: c, world: w, promise: c.facet.watch(prog), known: map[string]int32{},
		number: map[label]int{}, day: w.ByClock, moments: c.moments(), dead: -1}
	s.lengths = make([][]int32, len(prog.Waits()))
	for i := range s.sheet.Rules {
		r := &s.sheet.Rules[i]
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
	s.endless = make([]bool, len(prog.Waits()))
	for i, id := range prog.Waits() {
		s.endless[i] = c.endless(id)
	}
	if n, ok := prog.Thing(c.Promise.Fault.Thing); ok && c.Promise.Fault.Kind == BatteryDead {
		s.dead = n
	}
	s.furnish()
	s.levels()
	return s
}

// endless reports whether all that the end of a wait does is to start it over. It runs until some rule stops it, like a
// note that a controller without notes of its own keeps so, and how long it still has is nothing to anybody.
func (c Case) endless(wait string) bool {
	found := false
	for i := range c.slice.Rules {
		r := &c.slice.Rules[i]
		if r.Cause.Kind != rules.Ended || r.Cause.Wait != wait {
			continue
		}
		if found || len(r.Guard)+len(r.Hold) > 0 || len(r.Effects) != 1 || r.Effects[0].Kind != rules.Start || r.Effects[0].Wait != wait || slices.Contains(c.facet.keep, r.ID) {
			return false
		}
		found = true
	}
	return found
}

// watcher of the case, on its day.
func (c Case) watcher() watcher { return c.facet.watch(c.prog.On(c.Promise.World.Day)) }

// moments are the seconds of the day at which something that the case looks at changes. Between two of them
// all seconds are alike.
func (c Case) moments() []int {
	var out []int
	for _, t := range c.times() {
		out = append(out, c.Promise.World.Day.Second(t))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (s *system) length(wait string, d time.Duration) {
	if n, ok := s.prog.Wait(wait); ok {
		s.lengths[n] = append(s.lengths[n], int32(d/time.Second))
	}
}

func (s *system) stacks(rule int) bool {
	return rule >= 0 && s.sheet.Rules[rule].Again == rules.Stack
}

// keep remembers a world under its name and gives its state. The world stays the caller's.
func (s *system) keep(w *world) timed.State {
	s.key = w.loc(s.key[:0])
	n := len(s.key)
	for _, t := range w.timers {
		s.key = binary.LittleEndian.AppendUint16(s.key, uint16(t.ID))
		s.key = binary.LittleEndian.AppendUint32(s.key, uint32(t.Lo))
		s.key = binary.LittleEndian.AppendUint32(s.key, uint32(t.Hi))
	}
	if n, ok := s.known[string(s.key)]; ok {
		return s.worlds[n-1].state
	}
	name, c := string(s.key), w.clone()
	s.worlds = append(s.worlds, c)
	s.known[name] = int32(len(s.worlds))
	c.state = timed.State{Loc: name[:n], Timers: c.timers, Num: len(s.worlds)}
	return c.state
}

// at is the world of a state. It is not to be changed.
func (s *system) at(st timed.State) *world { return s.worlds[st.Num-1] }

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
	if s.day {
		lo, hi := s.lasts(k), s.lasts(k)
		if l, h, ok := s.of.stretch(k); ok {
			lo, hi = l, h
		}
		w.set(timed.Timer{ID: dayTimer, Lo: lo, Hi: hi})
	}
}

// lasts is how long the stretch after moment k lasts on the system's day, in seconds.
func (s *system) lasts(k int) int32 {
	next := s.moments[(k+1)%len(s.moments)]
	return int32((next-s.moments[k]+rules.DaySeconds-1)%rules.DaySeconds + 1)
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
	if x.w.rules.Powered() && s.prog.PutStrike(&x.w.rules, s.moments[k]) {
		x.event(rules.Event{Kind: rules.ClockStrikes})
	}
	x.w.drop(dayTimer)
	s.clock(x.w, k)
	if t := x.w.timer(dayTimer); t != nil {
		x.start(dayTimer, t.Lo, t.Hi)
	}
}

// done is wrapped round every change, so that the promise sees whole moves.
func (s *system) done(change func(*exec)) func(*exec) {
	return func(x *exec) {
		change(x)
		for _, m := range s.meters {
			if now := s.value(x.w, m[0]); now.Level > 0 && !s.value(x.w, m[1]).On {
				x.event(rules.Event{Kind: rules.ReadingIs, Thing: m[0]}) // nothing is drawn through a plug that is off
			}
		}
		s.promise.after(x)
		for i := range s.lamps {
			s.lamps[i].settle(s, x.w)
		}
	}
}

// lampLevels is how finely a lamp's level matters. Where no rule and no promise looks, all levels are one, a
// level that no rule gives, so that every rule that gives one is seen to.
type lampLevels struct {
	thing int
	odd   int  // a level that neither rules nor hands give
	touch bool // only a hand's touch matters: it is always off
	grade grader
}

// grader is a promise for which levels of lamps differ: it gives the level that stands for a level at a time.
type grader interface {
	grade(clock, lamp, level, odd int) int
}

func (l *lampLevels) settle(s *system, w *world) {
	v := s.value(w, l.thing)
	switch {
	case !v.On:
		return
	case l.touch:
		v = rules.Value{}
	case l.grade != nil:
		v = rules.Value{On: true, Level: l.grade.grade(w.rules.Clock(), l.thing, v.Level, l.odd)}
	default:
		v = rules.Value{On: true, Level: l.odd}
	}
	s.prog.PutValue(&w.rules, l.thing, v)
}

// levels finds how finely the levels of lamps matter.
func (s *system) levels() {
	for i, t := range s.sheet.Things {
		if s.of.touch[t.ID] && t.Kind != rules.Lamp {
			s.lamps = append(s.lamps, lampLevels{thing: i, touch: true})
		}
	}
	grade, _ := s.promise.(grader)
	watched := map[string]bool{}
	for i := range s.sheet.Rules {
		if c := &s.sheet.Rules[i].Cause; c.Kind == rules.Became && c.Any && !c.ByHand {
			watched[c.Thing] = true
		}
	}
	for i, t := range s.sheet.Things {
		if t.Kind == rules.Lamp && !watched[t.ID] {
			s.lamps = append(s.lamps, lampLevels{i, s.settings(t.ID)[1].Level - 1, s.of.touch[t.ID], grade})
		}
	}
}

// Acts of timed.System.
func (s *system) Acts(st timed.State) []timed.Move {
	w := s.at(st)
	if w.broken {
		return nil
	}
	out := make([]timed.Move, 0, 12)
	for _, p := range s.parts {
		out = append(out, p.acts(s, w)...)
	}
	if a, ok := s.promise.(interface {
		acts(*system, *world) []timed.Move
	}); ok {
		out = append(out, a.acts(s, w)...)
	}
	if !s.day && len(s.moments) > 0 {
		out = append(out, s.moves(w, s.label("the day goes on to its next period", -1), false, s.done(s.strike))...)
	}
	out = append(out, s.faults(w)...)
	if t := w.timer(dayTimer); t != nil {
		// A controller sees to its clock before anything else in a second.
		first := []timed.Compare{{Timer: dayTimer, Max: t.Hi - 1}}
		for i := range out {
			if len(out[i].When) == 0 {
				out[i].When = first
			} else {
				out[i].When = append(first[:1:1], out[i].When...)
			}
		}
	}
	return out
}

// Ended of timed.System.
func (s *system) Ended(st timed.State, id int16) []timed.Move {
	w := s.at(st)
	if w.broken {
		return s.moves(w, s.label("nothing", -1), false, func(x *exec) { x.stop(id) })
	}
	waits := len(s.lengths)
	switch {
	case int(id) < waits:
		return s.moves(w, s.label("the wait %s runs out", -2-int(id)), false, s.done(func(x *exec) {
			x.event(rules.Event{Kind: rules.WaitEnds, Wait: int(id)})
		}))
	case int(id) < waits+s.prog.Stays():
		return s.moves(w, s.label("it has stayed so for long enough", -1), false, s.done(func(x *exec) {
			x.event(rules.Event{Kind: rules.StayEnds, Wait: int(id) - waits})
		}))
	case id == dayTimer:
		return s.moves(w, s.label("the clock comes to the next period", -1), false, s.done(s.strike))
	case id >= watchTimer:
		return s.moves(w, s.label("the time of the promise is up", -1), false, func(x *exec) {
			x.stop(id)
			s.promise.ended(x, id)
		})
	}
	for _, p := range s.parts {
		if m := p.ended(s, w, id); m != nil {
			return m
		}
	}
	return s.moves(w, s.label("nothing", -1), false, func(x *exec) { x.stop(id) })
}

// First of timed.System: a run that is promised for a time has had it when the wait that ends it ends.
func (s *system) First(a, b int16) bool {
	if a == dayTimer || b == dayTimer {
		return a == dayTimer
	}
	m, ok := s.promise.(interface{ first(a, b int16) bool })
	return ok && m.first(a, b)
}

// Broken of timed.System.
func (s *system) Broken(st timed.State) bool { return s.at(st).broken }

// Met of timed.System.
func (s *system) Met(st timed.State) bool { return s.at(st).met }

// Say of timed.System.
func (s *system) Say(n int) string { return s.labels[n].say(s.sheet, s.prog.Waits()) }

func (l label) say(sheet rules.Sheet, waits []string) string {
	switch {
	case l.thing >= 0:
		return fmt.Sprintf(l.text, sheet.Things[l.thing].Name)
	case l.thing < -1:
		name := waits[-2-l.thing]
		if at := strings.LastIndex(name, "/"); at >= 0 {
			name = name[at+1:]
		}
		return fmt.Sprintf(l.text, "\""+strings.ReplaceAll(name, "-", " ")+"\"")
	}
	return l.text
}

func (s *system) label(text string, thing int) int {
	l := label{text, thing}
	if n, ok := s.number[l]; ok {
		return n
	}
	n := len(s.labels)
	s.labels, s.number[l] = append(s.labels, l), n
	return n
}

// value of a thing in a world.
func (s *system) value(w *world, thing int) rules.Value { return s.prog.Value(w.rules, thing) }
