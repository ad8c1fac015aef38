package promises

import (
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
	meters  [][2]int // meter and its plug
	sensors []int    // of people in the room
	inbox   []inbox  // reports on their way between controllers
	dead    int      // thing that the fault silences, -1 for none
	known
	work    world // that a move is tried on
	exec    exec  // that tries it
	found   store // the moves of the state in hand
	labels  []label
	number  [][]int                    // by thing of a label, counted from that of the last wait: the labels
	trail   map[trailKey][]rules.Event // while a story is looked up: the events of each move
	day     bool                       // the day runs by the clock; otherwise its periods may change at any instant
	anyHour bool                       // the hour is no part of a state: each move is made at every hour that makes a difference to it
	hour    int                        // number of the stretch in which a move is tried, where it is any
	hourly  []bool                     // by rule: its guard looks at the hour
	looked  bool                       // such a rule had its cause since the hour was last put
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
	acts(s *system, w *world)
	// ended is what follows when a timer of the part ends; false when the timer isn't the part's.
	ended(s *system, w *world, id int16) bool
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
	inboxTimer = int16(3000) // and on
)

func waitTimer(wait int) int16             { return int16(wait) }
func (s *system) stayTimer(stay int) int16 { return int16(len(s.prog.Waits()) + stay) }

func newSystem(c Case, w World) *system {
	prog := c.prog.On(w.Day)
	s := &system{prog: prog, sheet: c.slice, of: c, world: w, promise: c.facet.watch(prog), day: w.ByClock, moments: c.moments(), dead: -1}
	s.lengths = make([][]int32, len(prog.Waits()))
	s.number = make([][]int, len(prog.Waits())+2+len(s.sheet.Things))
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
		s.hourly = append(s.hourly, slices.ContainsFunc(r.Guard, hourly))
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

// at is the world of a state. It is not to be changed.
func (s *system) at(st timed.State) *world { return s.worlds[st.Num-1] }

// Begin is a quiet room, at each moment of the day.
func (s *system) Begin() []timed.State {
	var out []timed.State
	n := max(len(s.moments), 1)
	for k := 0; k < n; k++ {
		w := &world{rules: s.prog.Start(0), plant: make([]int8, s.slots)}
		if len(s.moments) > 0 {
			w.rules = s.prog.Start(s.moments[(k+1)%len(s.moments)] - 1) // what the hour has noted
			s.clock(w, k)
		}
		for _, p := range s.parts {
			if b, ok := p.(interface{ begin(*system, *world) }); ok {
				b.begin(s, w)
			}
		}
		s.promise.begin(s, w)
		if s.anyHour {
			s.putHour(w, 0)
		}
		out = append(out, s.keep(w))
	}
	return out
}

// done ends a change, so that the promise sees whole moves.
func (s *system) done(x *exec) {
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
	s.found.clear()
	for _, p := range s.parts {
		p.acts(s, w)
	}
	if a, ok := s.promise.(interface{ acts(*system, *world) }); ok {
		a.acts(s, w)
	}
	switch goesOn := s.label("the day goes on to its next period", -1); {
	case s.anyHour:
		for s.hour = range s.moments {
			s.put(w, goesOn, false, true, s.strike)
		}
	case !s.day && len(s.moments) > 0:
		s.moves(w, goesOn, false, s.strike)
	}
	s.faults(w)
	out := s.found.moves
	if t := w.timer(dayTimer); t != nil {
		// A controller sees to its clock before anything else in a second.
		s.found.day[0] = timed.Compare{Timer: dayTimer, Max: t.Hi - 1}
		for i := range out {
			if len(out[i].When) == 0 {
				out[i].When = s.found.day[:]
			} else {
				out[i].When = append(s.found.day[:1:1], out[i].When...)
			}
		}
	}
	return out
}

// Ended of timed.System.
func (s *system) Ended(st timed.State, id int16) []timed.Move {
	s.found.clear()
	s.end(s.at(st), id)
	return s.found.moves
}

// end is what may follow when a timer ends.
func (s *system) end(w *world, id int16) {
	waits := len(s.lengths)
	switch {
	case w.broken:
	case int(id) < waits:
		s.moves(w, s.label("the wait %s runs out", -2-int(id)), false, func(x *exec) {
			x.event(rules.Event{Kind: rules.WaitEnds, Wait: int(id)})
		})
		return
	case int(id) < waits+s.prog.Stays():
		s.moves(w, s.label("it has stayed so for long enough", -1), false, func(x *exec) {
			x.event(rules.Event{Kind: rules.StayEnds, Wait: int(id) - waits})
		})
		return
	case id == dayTimer:
		s.moves(w, s.label("the clock comes to the next period", -1), false, s.strike)
		return
	case id >= watchTimer && id < inboxTimer:
		s.unseen(w, s.label("the time of the promise is up", -1), func(x *exec) {
			x.stop(id)
			s.promise.ended(x, id)
		})
		return
	default:
		for _, p := range s.parts {
			if p.ended(s, w, id) {
				return
			}
		}
	}
	s.unseen(w, s.label("nothing", -1), func(x *exec) { x.stop(id) })
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

// label is the number of a label.
func (s *system) label(text string, thing int) int {
	of := &s.number[thing+2+len(s.lengths)]
	for _, n := range *of {
		if s.labels[n].text == text {
			return n
		}
	}
	n := len(s.labels)
	s.labels, *of = append(s.labels, label{text, thing}), append(*of, n)
	return n
}

// value of a thing in a world.
func (s *system) value(w *world, thing int) rules.Value { return s.prog.Value(w.rules, thing) }
