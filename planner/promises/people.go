package promises

import (
	"slices"
	"strings"

	"example.org/roombrief/planner/rules"
)

// forPeople: somebody has been in for a time, and is seen -> the fan runs, until a time after the last has left.
type forPeople struct {
	fans          []int
	motion, still []int // sensors: one that sees still people goes on seeing whoever is in
	offs          []press
	enough, runOn int32
	quiet         hours // in which nothing is due
	slack         int32 // that devices have
}

// What forPeople knows of the people in the room.
const (
	tooShort int8 = iota // nobody has been in for long enough
	longEnough
	due   // somebody was, and was seen: the fan is to run
	given // up: somebody has switched the fan off, or the power was gone, and they haven't all left since
)

const lateTimer = watchTimer + 1

func (forPeople) looksAtPeople() bool       { return true }
func (forPeople) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (forPeople) first(a, _ int16) bool     { return a >= watchTimer }

func (f forPeople) see(x *exec, e rules.Event, _ []rules.Happening) {
	switch {
	case e.Kind == rules.HandSet && contains(f.fans, e.Thing) && !e.Value.On, pressed(f.offs, e):
		x.w.seen[0] = given
	case e.Kind == rules.Reported && e.Value.On && contains(f.motion, e.Thing) && x.w.people > 0:
		f.seen(x)
	}
}

// seen is somebody inside who is seen.
func (f forPeople) seen(x *exec) {
	long := x.w.seen[0] == longEnough || x.w.seen[0] == tooShort && f.enough == 0
	if long && x.w.rules.Powered() && !f.quiet.in(x.w.rules.Clock()) {
		x.w.seen[0] = due
	}
}

func (f forPeople) after(x *exec) {
	w := x.w
	if !w.rules.Powered() || x.failed() {
		w.seen[0] = given
	}
	empty := w.people == 0
	switch quiet := f.quiet.in(w.rules.Clock()); {
	case w.seen[0] == given && empty && !x.sys.noticed(w), w.seen[0] == longEnough && empty, w.seen[0] == due && quiet && empty:
		w.seen[0] = tooShort
	case w.seen[0] == due && quiet:
		w.seen[0] = longEnough
	}
	counts := w.seen[0] == tooShort && !empty && f.enough > 0 || w.seen[0] == due && empty && f.runOn > 0
	switch {
	case !counts:
		x.stop(watchTimer)
	case !empty && w.timer(watchTimer) == nil:
		x.start(watchTimer, f.enough+1, f.enough+1) // nothing is due in the second itself
	case empty && (w.timer(watchTimer) == nil || x.before.people > 0):
		x.start(watchTimer, f.runOn, f.runOn)
	}
	if w.seen[0] == due && empty && f.runOn == 0 {
		w.seen[0] = tooShort
	}
	f.runs(x)
}

// runs holds the fan to what is due.
func (f forPeople) runs(x *exec) {
	if x.w.people > 0 && anyOn(x, f.still) {
		f.seen(x)
	}
	x.w.met = x.w.met || x.w.seen[0] == due
	switch {
	case x.w.seen[0] != due || anyOn(x, f.fans):
		x.stop(lateTimer)
	case x.w.timer(lateTimer) == nil:
		x.start(lateTimer, f.slack+1, f.slack+1)
	}
}

func (f forPeople) ended(x *exec, id int16) {
	switch {
	case id == lateTimer:
		x.w.broken = true
		return
	case x.w.people > 0:
		x.w.seen[0] = longEnough
	default:
		x.w.seen[0] = tooShort
	}
	f.runs(x)
}

// notSooner: the fan doesn't come on for people within a time of the first coming in, nor in an empty room.
type notSooner struct {
	rules  []int // by which it does
	enough int32
	empty  int32 // how long a room may count as in use after everybody has left
}

const emptyTimer = watchTimer + 1

func (notSooner) looksAtPeople() bool       { return true }
func (notSooner) begin(_ *system, w *world) { w.seen = []int8{1} } // nobody was in for long
func (notSooner) first(a, _ int16) bool     { return a >= watchTimer }

func (n notSooner) see(x *exec, _ rules.Event, happened []rules.Happening) {
	if !acted(n.rules, happened) {
		return
	}
	x.w.met = true
	alone := x.w.people == 0 && !x.sys.noticed(x.w)
	x.w.broken = x.w.broken || alone || x.w.timer(watchTimer) != nil || n.enough > 0 && x.w.seen[0] != 0
}

// acted reports whether one of some rules has.
func acted(some []int, happened []rules.Happening) bool {
	return slices.ContainsFunc(happened, func(h rules.Happening) bool { return h.Kind == rules.Acted && contains(some, h.Rule) })
}

func (n notSooner) after(x *exec) {
	w := x.w
	switch {
	case w.people > 0:
		x.stop(emptyTimer)
		if w.seen[0] != 0 && n.enough > 0 {
			x.start(watchTimer, n.enough, n.enough)
		}
		w.seen[0] = 0
	case w.seen[0] == 0 && (w.timer(emptyTimer) == nil || x.before.people > 0 || x.atDoor || x.asked || x.failed()):
		x.start(emptyTimer, n.empty+1, n.empty+1)
	}
}

func (n notSooner) ended(x *exec, id int16) {
	if id == emptyTimer {
		x.w.seen[0] = 1
	}
}

// goesOn reports whether a wait is the one of that name, or one that goes on with it where it is too long for a controller.
func goesOn(wait, id string) bool { return wait == id || strings.HasPrefix(wait, id+"-") }

// ruleNumbers are the numbers of rules in a program; those that it doesn't know are left out.
func ruleNumbers(prog *rules.Program, ids []string) []int {
	var out []int
	for i, r := range prog.Sheet().Rules {
		if slices.Contains(ids, r.ID) {
			out = append(out, i)
		}
	}
	return out
}

// notForNothing: some rules act only for damp air, or when somebody asks.
type notForNothing struct {
	damp
	rules []int
	slack int32 // that devices have
}

func (notForNothing) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (notForNothing) ended(x *exec, _ int16)    { x.w.seen[0] = 0 }

// see gives a rule that acts in steps the time that devices have as well, from when there was a reason.
func (n notForNothing) see(x *exec, _ rules.Event, happened []rules.Happening) {
	if acted(n.rules, happened) {
		x.w.met = true
		x.w.broken = x.w.broken || !x.asked && !n.wants(x) && x.w.seen[0] == 0
	}
}

func (n notForNothing) after(x *exec) {
	switch {
	case n.wants(x):
		x.w.seen[0] = 1
		x.stop(watchTimer)
	case x.asked, x.w.seen[0] != 0 && x.w.timer(watchTimer) == nil:
		x.w.seen[0] = 1
		x.start(watchTimer, n.slack+1, n.slack+1)
	}
}
