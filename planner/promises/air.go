package promises

import (
	"example.org/roombrief/planner/rules"
)

// damp is what counts as damp air: over the ceiling, and over the house where there is a house to compare with.
type damp struct {
	room, house     int   // hygrometers, -1 for none
	ceiling, margin int   // percent, and points over the house
	enough          noted // the day's allowance is used up
}

var noDamp = damp{room: -1, house: -1, enough: noted{-1, -1}}

// wants reports whether the air is a reason to run the fan.
func (d damp) wants(x *exec) bool {
	if d.room < 0 || d.enough.stands(x) {
		return false
	}
	r := x.sys.value(x.w, d.room).Level
	return r > d.ceiling && (d.house < 0 || r-x.sys.value(x.w, d.house).Level > d.margin)
}

// cuts are the readings that matter to the promise itself, whether or not some rule looks at them.
func (d damp) cuts(thing int) []int {
	if thing != d.room || thing < 0 {
		return nil
	}
	return []int{d.ceiling}
}

// hours are quiet ones; from and to alike are none.
type hours struct{ from, to int }

func (h hours) in(clock int) bool { return h.from != h.to && inside(clock, h.from, h.to) }

// begun reports whether the hours began with this move.
func (h hours) begun(x *exec) bool {
	return h.in(x.w.rules.Clock()) && !h.in(x.before.rules.Clock())
}

// aired: damp air -> the fan runs within a time, for as long as the air is damp and the day's allowance lasts.
type aired struct {
	damp
	fans        []int
	quiet       hours // in which damp air waits
	within      int32
	whenStopped int32 // after somebody has switched it off
}

const stoppedTimer = watchTimer + 1

func (aired) begin(_ *system, w *world)                 { w.seen = make([]int8, 1) }
func (aired) see(*exec, rules.Event, []rules.Happening) {}

// need reports whether the fan should run and doesn't.
func (a aired) need(x *exec) bool {
	return a.wants(x) && x.w.rules.Powered() && !a.quiet.in(x.w.rules.Clock()) && !anyOn(x, a.fans)
}

// after gives air that becomes damp its time whatever somebody has switched off before.
func (a aired) after(x *exec) {
	x.w.met = x.w.met || a.wants(x)
	need, was := a.need(x), x.w.seen[0] != 0
	if x.w.seen[0] = 0; need {
		x.w.seen[0] = 1
	}
	if need && x.asked {
		x.start(stoppedTimer, a.whenStopped+1, a.whenStopped+1)
	}
	stopped := x.w.timer(stoppedTimer) != nil
	switch {
	case !need || x.asked && stopped:
		x.stop(watchTimer)
	case x.w.timer(watchTimer) == nil && !(stopped && was):
		x.start(watchTimer, a.within+1, a.within+1)
	}
}

// ended: either time is up, and the other doesn't run any more.
func (a aired) ended(x *exec, _ int16) {
	x.w.broken = a.need(x) && x.w.timer(watchTimer) == nil && x.w.timer(stoppedTimer) == nil
}

// press is a press of a button; thing -1 is a hand at the fan itself.
type press struct {
	thing int
	press rules.Press
}

func pressed(ps []press, e rules.Event) bool {
	for _, p := range ps {
		if e.Kind == rules.ButtonPress && e.Thing == p.thing && e.Press == p.press {
			return true
		}
	}
	return false
}

// wishKept: a run asked for lasts its full time, whatever else ends meanwhile.
type wishKept struct {
	fans  []int
	ask   press
	run   int32
	quiet hours // that end the run
}

func (wishKept) begin(*system, *world) {}
func (wishKept) ended(*exec, int16)    {}
func (wishKept) first(a, _ int16) bool { return a >= watchTimer }

func (k wishKept) see(x *exec, e rules.Event, _ []rules.Happening) {
	asks := e.Kind == rules.HandSet && k.ask.thing < 0 && contains(k.fans, e.Thing) && e.Value.On
	if k.ask.thing >= 0 && pressed([]press{k.ask}, e) {
		asks = !k.quiet.in(x.w.rules.Clock())
	}
	if asks {
		x.start(watchTimer, k.run, k.run)
		x.w.met = true
	}
}

func (k wishKept) after(x *exec) {
	if x.w.timer(watchTimer) == nil {
		return
	}
	on := anyOn(x, k.fans)
	switch {
	case !x.w.rules.Powered(), k.quiet.begun(x):
		x.stop(watchTimer)
	case on:
	case x.asked && !x.isFresh(watchTimer): // somebody wants it off again
		x.stop(watchTimer)
	default:
		x.w.broken = true
	}
}

// notForEver: the fan stops within a time after the last reason to run.
type notForEver struct {
	damp
	fans   []int
	use    inUse // the room, where people in it are a reason
	within int32
}

// inUse is how a room knows that it is in use: by a wait, or by what stands for one that is free, -1 is not at all; and by the note that
// somebody has been in for long enough.
type inUse struct {
	wait, stand int
	long        noted
}

func (u inUse) now(x *exec) bool {
	if u.long.stands(x) {
		return true
	}
	if u.stand >= 0 {
		return x.sys.value(x.w, u.stand).On
	}
	if u.wait < 0 {
		return false
	}
	_, runs := x.sys.prog.Left(x.w.rules, u.wait)
	return runs
}

// emptied: once all have gone and the doors have come to rest, the room stops to count as in use within a time.
type emptied struct {
	use    inUse
	within int32
}

func (emptied) looksAtPeople() bool                       { return true }
func (emptied) begin(*system, *world)                     {}
func (emptied) see(*exec, rules.Event, []rules.Happening) {}
func (emptied) ended(x *exec, _ int16)                    { x.w.broken = true }

func (n emptied) after(x *exec) {
	if x.w.people > 0 || !n.use.now(x) || !x.w.rules.Powered() {
		x.stop(watchTimer)
		return
	}
	x.w.met = true
	if x.asked || x.atDoor || x.failed() || x.before.people > 0 || x.w.timer(watchTimer) == nil {
		x.start(watchTimer, n.within+1, n.within+1)
	}
}

func (notForEver) begin(*system, *world)                     {}
func (notForEver) see(*exec, rules.Event, []rules.Happening) {}
func (notForEver) ended(x *exec, _ int16)                    { x.w.broken = true }

func (n notForEver) after(x *exec) {
	reason := n.wants(x) || n.use.now(x)
	if reason || !anyOn(x, n.fans) || !x.w.rules.Powered() {
		x.stop(watchTimer)
		return
	}
	x.w.met = true
	if x.asked || x.atDoor || x.failed() || x.w.timer(watchTimer) == nil {
		x.start(watchTimer, n.within+1, n.within+1)
	}
}

// quietHours: in quiet hours only the exceptions run the fan, and people who switch it on at itself.
type quietHours struct {
	damp
	fans              []int
	quiet             hours
	humidity, request bool  // may run it
	grace             int32 // that an exception may last beyond its reason
}

func (quietHours) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (quietHours) ended(x *exec, _ int16)    { x.w.broken = true }

func (k quietHours) see(x *exec, e rules.Event, happened []rules.Happening) {
	if e.Kind == rules.HandSet && contains(k.fans, e.Thing) && e.Value.On {
		x.w.seen[0] = 1
	}
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Rule >= 0 && h.To.On && contains(k.fans, h.Thing) && k.quiet.in(x.w.rules.Clock()) {
			if !(k.humidity && k.wants(x)) && !(k.request && x.asked) {
				x.w.broken = true
			}
		}
	}
}

func (k quietHours) after(x *exec) {
	in := k.quiet.in(x.w.rules.Clock())
	on := anyOn(x, k.fans) && x.w.rules.Powered()
	if !on || !in {
		x.w.seen[0] = 0
		x.stop(watchTimer)
	}
	x.w.met = x.w.met || in
	if !on || !in || x.w.seen[0] != 0 || k.humidity && k.wants(x) {
		x.stop(watchTimer)
		return
	}
	switch {
	case k.grace == 0:
		x.w.broken = true
	case k.request && x.asked, x.w.timer(watchTimer) == nil:
		x.start(watchTimer, k.grace+1, k.grace+1)
	}
}

// seeSaw: while people leave everything alone, a device changes no more often than so in a time, whenever one
// begins to count.
type seeSaw struct {
	thing  int
	most   int8
	within int32
}

func (seeSaw) begin(_ *system, w *world) { w.seen, w.met = make([]int8, 1), true }
func (seeSaw) ended(x *exec, _ int16)    { x.w.seen[0] = 0 }

func (k seeSaw) acts(s *system, w *world) {
	if w.timer(watchTimer) != nil {
		return
	}
	s.unseen(w, s.label("from here on the changes of the %s are counted", k.thing), func(x *exec) {
		x.start(watchTimer, k.within, k.within)
	})
}

func (k seeSaw) see(x *exec, _ rules.Event, happened []rules.Happening) {
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Thing == k.thing && h.Rule >= 0 && !x.asked && x.w.timer(watchTimer) != nil {
			if x.w.seen[0]++; x.w.seen[0] > k.most {
				x.w.broken = true
			}
		}
	}
}

func (k seeSaw) after(x *exec) {
	if x.asked || x.atDoor || x.w.people != x.before.people {
		x.w.seen[0] = 0
		x.stop(watchTimer)
	}
}
