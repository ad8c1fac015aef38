package promises

import "example.org/roombrief/planner/rules"

// neverDark: somebody inside -> the last lamp that lights them doesn't go off by a rule, moving or still.
type neverDark struct{ lamps []int }

func (neverDark) begin(*system, *world) {}

func (n neverDark) see(x *exec, _ rules.Event, happened []rules.Happening) {
	if x.w.people == 0 || x.before.people == 0 || x.asked || anyOn(x, n.lamps) {
		return
	}
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Rule >= 0 && h.From.On && !h.To.On && contains(n.lamps, h.Thing) {
			x.w.broken = true
		}
	}
}

func (n neverDark) after(x *exec) {
	if x.w.people > 0 && anyOn(x, n.lamps) {
		x.w.met = true
	}
}

func (neverDark) ended(*exec, int16) {}

// notLeftBurning: room empty -> every lamp off within a time.
type notLeftBurning struct {
	lamps  []int
	within int32
}

func (notLeftBurning) begin(*system, *world)                     {}
func (notLeftBurning) see(*exec, rules.Event, []rules.Happening) {}

func (n notLeftBurning) after(x *exec) {
	burning := x.w.people == 0 && anyOn(x, n.lamps)
	runs := x.w.timer(watchTimer) != nil
	switch {
	case burning && (!runs || x.before.people > 0 || x.asked || x.atDoor):
		x.start(watchTimer, n.within+1, n.within+1)
		x.w.met = true
	case !burning && runs:
		x.stop(watchTimer)
	}
}

func (notLeftBurning) ended(x *exec, _ int16) { x.w.broken = true }

// asAsked: a level set by hand stays until the room is empty or somebody changes it.
type asAsked struct{ lamps []int }

func (a asAsked) begin(_ *system, w *world) { w.seen = make([]int8, len(a.lamps)) }

func (a asAsked) see(x *exec, e rules.Event, happened []rules.Happening) {
	for i, lamp := range a.lamps {
		if e.Kind == rules.HandSet && e.Thing == lamp {
			x.w.seen[i] = 0
			if x.w.people > 0 {
				x.w.seen[i], x.w.met = 1, true
			}
		}
	}
	if e.Kind == rules.ButtonPress {
		clear(x.w.seen)
	}
	for _, h := range happened {
		if h.Kind != rules.Changed || h.Rule < 0 {
			continue
		}
		for i, lamp := range a.lamps {
			if lamp == h.Thing && x.w.seen[i] != 0 && x.w.people > 0 {
				x.w.broken = true
			}
		}
	}
}

func (a asAsked) after(x *exec) {
	if x.w.people == 0 {
		clear(x.w.seen)
	}
}

func (asAsked) ended(*exec, int16) {}

// notBlinding: between two moments no rule sets a lamp over a level.
type notBlinding struct {
	lamps    []int
	from, to int // seconds of the day
	level    int
}

func (notBlinding) begin(*system, *world) {}

func (n notBlinding) see(x *exec, _ rules.Event, happened []rules.Happening) {
	if !inside(x.w.rules.Clock(), n.from, n.to) || x.asked {
		return
	}
	for _, h := range happened {
		if h.Kind != rules.Changed || h.Rule < 0 || !h.To.On || !contains(n.lamps, h.Thing) {
			continue
		}
		x.w.met = true
		if h.To.Level > n.level {
			x.w.broken = true
		}
	}
}

func (notBlinding) after(*exec)        {}
func (notBlinding) ended(*exec, int16) {}

// onEntry: somebody comes in -> within a time each lamp of the period is at its level, unless the level is
// somebody's own or they have left again.
type onEntry struct {
	periods []litPeriod
	manual  int // flag of a level set by hand, -1 for none
	within  int32
}

// litPeriod is a period as the rules keep it.
type litPeriod struct {
	from, to int // seconds of the day
	lamps    []int
	level    int // 0 leaves the light alone
}

func (onEntry) looksAtLevels() bool { return true }

func (onEntry) begin(_ *system, w *world) { w.seen = make([]int8, 1) }

func (o onEntry) see(x *exec, e rules.Event, _ []rules.Happening) {
	if e.Kind == rules.HandSet || e.Kind == rules.ButtonPress {
		x.w.seen[0] = 1 // the light is somebody's own until all have gone
	}
}

func (o onEntry) after(x *exec) {
	if x.w.people == 0 {
		x.w.seen[0] = 0
		x.stop(watchTimer)
		return
	}
	lit, wanted := o.lit(x)
	came := x.w.people > x.before.people
	own := x.w.seen[0] != 0 || o.manual >= 0 && x.sys.value(x.w, o.manual).On
	switch {
	case !wanted || own:
		x.stop(watchTimer)
	case came:
		x.w.met = true
		if !lit && x.w.timer(watchTimer) == nil {
			x.start(watchTimer, o.within+1, o.within+1)
		}
	}
	if lit {
		x.stop(watchTimer)
	}
}

// lit reports whether the lamps are as the present period wants them, and whether it wants anything.
func (o onEntry) lit(x *exec) (lit, wanted bool) {
	now := x.w.rules.Clock()
	for _, p := range o.periods {
		if !inside(now, p.from, p.to) || p.level <= 0 || len(p.lamps) == 0 {
			continue
		}
		for _, lamp := range p.lamps {
			if v := x.sys.value(x.w, lamp); !v.On || v.Level != p.level {
				return false, true
			}
		}
		return true, true
	}
	return false, false
}

func (onEntry) ended(x *exec, _ int16) { x.w.broken = true }

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
