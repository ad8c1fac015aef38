package promises

import "example.org/roombrief/planner/rules"

// told: water at a point -> everybody who is to hear of it is told within a time.
type told struct {
	probe  int
	within int32
	tells  []int // rules that tell them all
	sound  int   // a sounder, which is heard when messages don't get out; -1 for none
}

func (told) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (told) ended(x *exec, _ int16)    { x.w.broken = true }

func (t told) see(x *exec, e rules.Event, happened []rules.Happening) {
	wet := x.sys.value(x.w, t.probe).On && x.w.rules.Powered()
	if wet && (e.Kind == rules.Reported && e.Thing == t.probe || e.Kind == rules.PowerReturns) {
		x.w.seen[0], x.w.met = 1, true
	}
	for _, h := range happened {
		if h.Kind == rules.Told && contains(t.tells, h.Rule) && !x.sys.offline(x.w) {
			x.w.seen[0] = 0
		}
	}
}

func (t told) after(x *exec) {
	if t.sound >= 0 && x.sys.value(x.w, t.sound).On {
		x.w.seen[0] = 0
	}
	switch {
	case x.w.seen[0] == 0 || !x.w.rules.Powered():
		x.stop(watchTimer)
	case x.w.timer(watchTimer) == nil:
		x.start(watchTimer, t.within+1, t.within+1)
	}
}

// toldAgain: from the first message on there is another each time, until somebody acknowledges.
type toldAgain struct {
	again int32
	tells []int
	acks  []press
}

func (toldAgain) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (toldAgain) ended(x *exec, _ int16)    { x.w.broken = true }

func (t toldAgain) see(x *exec, e rules.Event, happened []rules.Happening) {
	if pressed(t.acks, e) {
		x.w.seen[0] = 0
	}
	for _, h := range happened {
		if h.Kind == rules.Told && contains(t.tells, h.Rule) {
			x.w.seen[0], x.w.met = 1, true
			x.start(watchTimer, t.again+1, t.again+1)
		}
	}
}

func (t toldAgain) after(x *exec) {
	switch {
	case x.w.seen[0] == 0 || !x.w.rules.Powered():
		x.stop(watchTimer)
	case x.failed() || x.w.timer(watchTimer) == nil:
		x.start(watchTimer, t.again+1, t.again+1)
	}
}

// waterShut: water -> the valve is shut within a time, and no rule opens it.
type waterShut struct {
	probe, valve int
	within       int32
}

func (waterShut) begin(_ *system, w *world) { w.seen = make([]int8, 1) }
func (waterShut) ended(x *exec, _ int16)    { x.w.broken = true }

func (v waterShut) see(x *exec, e rules.Event, happened []rules.Happening) {
	wet := x.sys.value(x.w, v.probe).On && x.w.rules.Powered()
	if wet && (e.Kind == rules.Reported && e.Thing == v.probe || e.Kind == rules.PowerReturns) {
		x.w.seen[0], x.w.met = 1, true
	}
	for _, h := range happened {
		if h.Kind == rules.Changed && h.Thing == v.valve && h.Rule >= 0 && !h.To.On {
			x.w.broken = true
		}
	}
}

func (v waterShut) after(x *exec) {
	if x.sys.value(x.w, v.valve).On || x.asked {
		x.w.seen[0] = 0 // shut, or somebody who is there sees to it
	}
	switch {
	case x.w.seen[0] == 0 || !x.w.rules.Powered():
		x.stop(watchTimer)
	case x.w.timer(watchTimer) == nil:
		x.start(watchTimer, v.within+1, v.within+1)
	}
}

// ofWater: people are told of water in a room only where some has been since somebody last acknowledged.
type ofWater struct {
	probes []int
	tells  []int
	acks   []press
	slack  int32 // until every controller has heard that somebody did
}

func (ofWater) begin(_ *system, w *world) { w.seen = make([]int8, 1) }

func (o ofWater) ended(x *exec, _ int16) { x.w.seen[0] = int8(flag(anyOn(x, o.probes))) }

func (o ofWater) see(x *exec, e rules.Event, happened []rules.Happening) {
	switch {
	case anyOn(x, o.probes):
		x.w.seen[0] = 1
		x.stop(watchTimer)
	case pressed(o.acks, e) && x.w.seen[0] != 0:
		x.start(watchTimer, o.slack+1, o.slack+1)
	}
	for _, h := range happened {
		if h.Kind == rules.Told && contains(o.tells, h.Rule) {
			x.w.met = true
			x.w.broken = x.w.broken || x.w.seen[0] == 0
		}
	}
}

func (ofWater) after(*exec) {}
