package promises

import (
	"slices"

	"example.org/roombrief/planner/rules"
)

// neverDark: somebody inside -> the last lamp that lights them doesn't go off by a rule, moving or still. Whoever has come into an empty
// room may be inside only once the report of it has come to the controller that acts: in the seconds until then no rule can know of them.
// Whoever asks for the dark has their way: in the room itself, and elsewhere as long as nobody is known to be in.
type neverDark struct {
	lamps  []int
	heard  bool
	inside noted // somebody is, as the room's doors tell
}

func (neverDark) looksAtPeople() bool      { return true }
func (notLeftBurning) looksAtPeople() bool { return true }

func (neverDark) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (neverDark) ended(*exec, int16)        {}

func (n neverDark) see(x *exec, e rules.Event, happened []rules.Happening) {
	if n.heard && x.sys.seen(e) {
		x.w.seen[0] = 0
	}
	if x.w.people == 0 || x.before.people == 0 || x.asked && !n.elsewhere(x, e) || e.Kind == rules.PowerReturns || x.w.seen[0] != 0 || anyOn(x, n.lamps) {
		return
	}
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Rule >= 0 && h.From.On && !h.To.On && contains(n.lamps, h.Thing) {
			x.w.broken = true
		}
	}
}

// elsewhere reports whether a button of another room asks, and somebody is known to be in this one. What a sensor sees is known
// to the controllers that have heard so.
func (n neverDark) elsewhere(x *exec, e rules.Event) bool {
	return e.Kind == rules.ButtonPress && x.sys.sheet.Things[e.Thing].Room != x.sys.of.Promise.Room &&
		(x.sys.heardOfSomebody(x.before) || n.inside.stands(x))
}

func (n neverDark) after(x *exec) {
	if n.heard && x.before.people == 0 {
		x.w.seen[0] = 1
	}
	if x.w.people == 0 || !x.sys.unheard(x.w) {
		x.w.seen[0] = 0
	}
	if x.w.people > 0 && anyOn(x, n.lamps) {
		x.w.met = true
	}
}

// notLeftBurning: room empty -> every lamp off within a time.
type notLeftBurning struct {
	lamps  []int
	within int32
}

func (notLeftBurning) begin(*system, *world)                     {}
func (notLeftBurning) see(*exec, rules.Event, []rules.Happening) {}

func (n notLeftBurning) after(x *exec) {
	burning := x.w.people == 0 && x.w.rules.Powered() && anyOn(x, n.lamps)
	runs := x.w.timer(watchTimer) != nil
	switch {
	case burning && (!runs || x.before.people > 0 || x.asked || x.atDoor || x.failed()):
		x.start(watchTimer, n.within+1, n.within+1)
		x.w.met = true
	case !burning && runs:
		x.stop(watchTimer)
	}
}

func (notLeftBurning) ended(x *exec, _ int16) { x.w.broken = true }

// asAsked: a level set by hand stays until the room is empty or somebody changes it.
type asAsked struct {
	lamp    int
	request bool // switching the lamp on without naming a level asks for the light of the period, and is no level of one's own
}

func (asAsked) looksAtPeople() bool { return true }

func (a asAsked) begin(_ *system, w *world) { w.seen = make([]int8, 1) }

func (a asAsked) see(x *exec, e rules.Event, happened []rules.Happening) {
	switch {
	case e.Kind == rules.HandSet && e.Thing == a.lamp:
		x.w.seen[0] = 0
		wasOn := x.before.rules.Powered() && x.sys.value(x.before, a.lamp).On
		if x.w.people > 0 && !(a.request && e.Value.On && e.Value.Level == 0 && !wasOn) {
			x.w.seen[0], x.w.met = 1, true
		}
	case x.asked, e.Kind == rules.PowerFails:
		x.w.seen[0] = 0
	}
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Rule >= 0 && h.Thing == a.lamp && x.w.seen[0] != 0 && x.w.people > 0 {
			x.w.broken = true
		}
	}
}

func (a asAsked) after(x *exec) {
	if x.w.people == 0 {
		x.w.seen[0] = 0
	}
}

func (asAsked) ended(*exec, int16) {}

// notBlinding: between two moments no rule sets a lamp over a level. It is put to the test when in those hours a rule sets
// the lamp on, or has its cause to and is kept from it by its guard; where no rule ever does, by the hours themselves.
type notBlinding struct {
	lamp     int
	from, to int // seconds of the day
	level    int
	lights   []int // rules that set the lamp on, or lead to it
}

// lighting are the rules of a program that set a lamp on, with those that start a wait or make a note by which they do: a controller
// may take a rule in steps, and look at the hour in the first.
func lighting(prog *rules.Program, lamp int) []int {
	sheet := prog.Sheet().Rules
	leads := func(e rules.Effect, to []int) bool {
		if e.Kind == rules.Set && e.Value.On && number(prog, e.Thing) == lamp {
			return true
		}
		return slices.ContainsFunc(to, func(i int) bool {
			c := &sheet[i].Cause
			return e.Kind == rules.Start && c.Kind == rules.Ended && c.Wait == e.Wait || e.Kind == rules.Set && c.Kind == rules.Became && c.Thing == e.Thing
		})
	}
	var out []int
	for n := -1; n < len(out); {
		n = len(out)
		for i := range sheet {
			if !slices.Contains(out, i) && slices.ContainsFunc(sheet[i].Effects, func(e rules.Effect) bool { return leads(e, out) }) {
				out = append(out, i)
			}
		}
	}
	return out
}

func (notBlinding) begin(_ *system, w *world) { w.seen = make([]int8, 1) }

func (n notBlinding) see(x *exec, e rules.Event, happened []rules.Happening) {
	if !inside(x.w.rules.Clock(), n.from, n.to) {
		return
	}
	x.w.met = x.w.met || len(n.lights) == 0 || slices.ContainsFunc(happened, func(h rules.Happening) bool {
		return h.Kind == rules.Declined && slices.Contains(n.lights, h.Rule)
	})
	if x.asked {
		return
	}
	for _, h := range happened {
		if h.Kind != rules.Changed || h.Thing != n.lamp || !h.To.On {
			continue
		}
		if h.Rule < 0 && e.Kind != rules.PowerReturns {
			continue
		}
		x.w.met = true
		if h.To.Level > n.level {
			x.w.seen[0] = 1
		} else {
			x.w.seen[0] = 0
		}
	}
}

// after: a lamp that came back with the mains may be put right in the same instant.
func (n notBlinding) after(x *exec) {
	if x.w.seen[0] != 0 && x.sys.value(x.w, n.lamp).On {
		x.w.broken = true
	}
	x.w.seen[0] = 0
}
func (notBlinding) ended(*exec, int16) {}

// onEntry: somebody comes in -> within a time the lamp is as the period wants it, unless its level is
// somebody's own or they have left again.
type onEntry struct {
	lamp    int
	periods []litPeriod
	manual  noted // a level set by hand
	within  int32
}

// litPeriod is a period as the rules keep it.
type litPeriod struct {
	from, to int // seconds of the day
	level    int // 0 leaves the lamp alone
}

func (onEntry) looksAtPeople() bool { return true }

// grade: what matters of a level is whether it is the one that is wanted.
func (o onEntry) grade(clock, lamp, level, odd int) int {
	if lamp == o.lamp && level == o.wanted(clock) {
		return level
	}
	return odd
}

func (onEntry) begin(_ *system, w *world) { w.seen = make([]int8, 1) }

func (o onEntry) see(x *exec, e rules.Event, _ []rules.Happening) {
	if x.asked {
		x.w.seen[0] = 1 // the light is somebody's own until all have gone, and the sensor says so
	}
}

func (o onEntry) after(x *exec) {
	if x.w.people == 0 || !x.w.rules.Powered() {
		if !x.sys.noticed(x.w) {
			x.w.seen[0] = 0
		}
		x.stop(watchTimer)
		return
	}
	if x.failed() && x.sys.of.Promise.Fault.Kind == ClockChange {
		x.w.seen[0] = 1 // whoever is in keeps the light that they have
	}
	want := o.wanted(x.w.rules.Clock())
	v := x.sys.value(x.w, o.lamp)
	lit := v.On && v.Level == want
	if x.w.fault != 0 && x.sys.of.Promise.Fault.Kind == ClockChange { // the light may be that of the hour before or after
		lit = v.On || o.beside(x.w.rules.Clock())
	}
	came := x.w.people > x.before.people
	own := x.w.seen[0] != 0 || o.manual.stands(x)
	switch {
	case want == 0 || own || lit:
		x.stop(watchTimer)
	case came && x.w.timer(watchTimer) == nil:
		x.start(watchTimer, o.within+1, o.within+1)
	}
	if came && want > 0 && !own {
		x.w.met = true
	}
}

// wanted is the level of the present period, 0 where it wants nothing.
func (o onEntry) wanted(clock int) int {
	for _, p := range o.periods {
		if inside(clock, p.from, p.to) {
			return p.level
		}
	}
	return 0
}

// beside reports whether the period before or after the present one leaves the lamp alone.
func (o onEntry) beside(clock int) bool {
	now := slices.IndexFunc(o.periods, func(p litPeriod) bool { return inside(clock, p.from, p.to) })
	return now >= 0 && slices.ContainsFunc(o.periods, func(p litPeriod) bool {
		return p.level == 0 && (p.from == o.periods[now].to || p.to == o.periods[now].from)
	})
}

func (onEntry) ended(x *exec, _ int16) { x.w.broken = true }

// onRequest: a lamp that somebody switches on without naming a level is at once as the period wants it.
type onRequest struct{ onEntry }

func (o onRequest) see(x *exec, e rules.Event, _ []rules.Happening) {
	if e.Kind == rules.HandSet && e.Thing == o.lamp && e.Value.On && e.Value.Level == 0 && !x.sys.value(x.before, o.lamp).On && o.wanted(x.w.rules.Clock()) > 0 {
		x.w.seen[0], x.w.met = 1, true
	}
}

func (o onRequest) after(x *exec) {
	if v := x.sys.value(x.w, o.lamp); x.w.seen[0] != 0 && v.Level != o.wanted(x.w.rules.Clock()) {
		x.w.broken = true
	}
	x.w.seen[0] = 0
}

func contains(xs []int, x int) bool {
	for _, y := range xs {
		if x == y {
			return true
		}
	}
	return false
}

func anyOn(x *exec, things []int) bool {
	for _, t := range things {
		if x.sys.value(x.w, t).On {
			return true
		}
	}
	return false
}

// inside reports whether a second of the day is in [from, to), over midnight where to comes first; alike are the
// whole day.
func inside(now, from, to int) bool {
	switch {
	case from == to:
		return true
	case from < to:
		return from <= now && now < to
	}
	return now >= from || now < to
}
