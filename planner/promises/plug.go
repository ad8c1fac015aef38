package promises

import "example.org/roombrief/planner/rules"

// using is an appliance behind a plug with a meter.
type using struct {
	plug, meter int
	use         int // watts over which it counts as used
}

func (u using) on(x *exec) bool   { return x.sys.value(x.w, u.plug).On && x.w.rules.Powered() }
func (u using) used(x *exec) bool { return u.on(x) && x.sys.value(x.w, u.meter).Level > u.use }

// cuts are the readings that matter to the promise itself, whether or not some rule looks at them.
func (u using) cuts(thing int) []int {
	if thing != u.meter || thing < 0 {
		return nil
	}
	return []int{u.use}
}

// cutOff: in use -> off within its limit, counted from the first use on, unless somebody extends it or it rests
// for longer than a thermostat does.
type cutOff struct {
	using
	limit   int32
	rest    int32 // 0: it never rests
	extends []press
}

const restTimer = watchTimer + 1

func (cutOff) begin(_ *system, w *world) { w.seen = make([]int8, 1) }

func (c cutOff) see(x *exec, e rules.Event, _ []rules.Happening) {
	if pressed(c.extends, e) {
		x.w.seen[0] = 1
	}
}

// first: a rest that is long enough is seen to before whatever else comes about in that second.
func (cutOff) first(a, _ int16) bool { return a == restTimer }

func (c cutOff) after(x *exec) {
	defer func() { x.w.seen[0] = 0 }()
	if !c.on(x) {
		x.stop(watchTimer)
		x.stop(restTimer)
		return
	}
	running := x.w.timer(watchTimer) != nil
	used := c.used(x)
	if running && (x.w.seen[0] != 0 || x.failed()) || used && !running {
		x.start(watchTimer, c.limit+1, c.limit+1)
		x.w.met = true
	}
	switch {
	case used || x.w.timer(watchTimer) == nil:
		x.stop(restTimer)
	case c.rest > 0 && x.w.timer(restTimer) == nil:
		x.start(restTimer, c.rest, c.rest)
	}
}

func (cutOff) ended(x *exec, id int16) {
	if id == restTimer {
		x.stop(watchTimer)
		return
	}
	x.w.broken = true
}

// offWhenIdle: used, then idle for a time -> off.
type offWhenIdle struct {
	using
	within int32
}

func (offWhenIdle) begin(*system, *world)                     {}
func (offWhenIdle) see(*exec, rules.Event, []rules.Happening) {}
func (offWhenIdle) ended(x *exec, _ int16)                    { x.w.broken = true }

func (o offWhenIdle) after(x *exec) {
	was := x.before.rules.Powered() && x.sys.value(x.before, o.meter).Level > o.use
	switch {
	case !o.on(x) || o.used(x):
		x.stop(watchTimer)
	case was || !x.before.rules.Powered():
		x.start(watchTimer, o.within+1, o.within+1)
		x.w.met = true
	}
}

// warned: whoever is to hear it hears it so long before the appliance goes off at its limit.
type warned struct {
	using
	tells   []int
	early   int32
	extends []press
}

func (warned) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (warned) ended(*exec, int16)        {}
func (warned) first(a, _ int16) bool     { return a >= watchTimer }

func (k warned) see(x *exec, e rules.Event, happened []rules.Happening) {
	if pressed(k.extends, e) {
		x.w.seen[0] = 0
		x.stop(watchTimer)
	}
	for _, h := range happened {
		switch {
		case h.Kind == rules.Told && contains(k.tells, h.Rule):
			x.w.seen[0] = 1
			x.start(watchTimer, k.early, k.early)
		case h.Kind == rules.Changed && h.Thing == k.plug && h.Rule >= 0 && !h.To.On && e.Kind == rules.WaitEnds:
			x.w.met = true
			x.w.broken = x.w.seen[0] == 0 || x.w.timer(watchTimer) != nil
		}
	}
}

func (k warned) after(x *exec) {
	if !k.on(x) {
		x.w.seen[0] = 0
		x.stop(watchTimer)
	}
}

// neverOn: no rule switches it on.
type neverOn struct{ plug int }

func (neverOn) begin(_ *system, w *world) { w.met = true }
func (neverOn) after(*exec)               {}
func (neverOn) ended(*exec, int16)        {}

func (n neverOn) see(x *exec, _ rules.Event, happened []rules.Happening) {
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Thing == n.plug && h.Rule >= 0 && h.To.On {
			x.w.broken = true
		}
	}
}

// fires: a rule that acts, some time.
type fires struct{ rule int }

func (fires) begin(*system, *world) {}
func (fires) after(*exec)           {}
func (fires) ended(*exec, int16)    {}

func (f fires) see(x *exec, _ rules.Event, happened []rules.Happening) {
	for _, h := range happened {
		if h.Kind == rules.Acted && h.Rule == f.rule {
			x.w.met = true
		}
	}
}

// bothAct: two rules with one cause act in one instant, so that it is their order that decides.
type bothAct struct{ a, b int }

func (bothAct) begin(_ *system, w *world) { w.met = true }
func (bothAct) after(*exec)               {}
func (bothAct) ended(*exec, int16)        {}

func (k bothAct) see(x *exec, _ rules.Event, happened []rules.Happening) {
	first := false
	for _, h := range happened {
		switch {
		case h.Kind == rules.Declined:
			first = false // another cause has its turn
		case h.Kind == rules.Acted && h.Rule == k.a:
			first = true
		case h.Kind == rules.Acted && h.Rule == k.b && first:
			x.w.broken = true
		}
	}
}

// never: in some hours a lamp is not over a level, or a thing is not on, unless somebody asked for it.
type never struct {
	thing  int
	level  int // a lamp over it; 0 is on at all
	hours  hours
	always bool
	unless bool // asked
}

func (never) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (never) ended(*exec, int16)        {}

func (n never) grade(_, lamp, level, odd int) int {
	if lamp == n.thing && level <= n.level {
		return max(n.level, 1)
	}
	return max(odd, min(n.level+1, 100))
}

func (n never) see(x *exec, e rules.Event, happened []rules.Happening) {
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Thing == n.thing {
			x.w.seen[0] = int8(flag(x.asked && n.unless))
		}
	}
}

func (n never) after(x *exec) {
	in := n.always || n.hours.in(x.w.rules.Clock())
	x.w.met = x.w.met || in
	v := x.sys.value(x.w, n.thing)
	if in && v.On && x.w.rules.Powered() && (n.level == 0 || v.Level > n.level) && x.w.seen[0] == 0 {
		x.w.broken = true
	}
}
