package proof

import (
	"context"

	"example.org/roombrief/planner/timed"
)

// Outcome of one exploration.
type Outcome struct {
	Kind   OutcomeKind
	Begin  timed.State // of a Found: where the story begins
	Story  []Told      // of a Found; empty otherwise
	Acts   int         // human acts in the story
	Zones  int         // zones kept
	Spots  int         // discrete states seen
	Timers int         // most timers that ran at once
	Depth  int         // when Capped: no story with fewer acts than this exists
	Exact  bool        // false: a Nowhere of hulls, which is as sound, or a Found that needs another look
}

// OutcomeKind says how an exploration ended.
type OutcomeKind int

const (
	Nowhere OutcomeKind = iota // no story leads there: exhaustive
	Found
	Capped // ran out of zones, or was told to stop
)

// Told is one move of a story at its time, in seconds from the story's beginning.
type Told struct {
	At    int64
	Label int
	Act   bool
	State timed.State // after it
}

// limits of one exploration.
type limits struct {
	zones int
	hull  bool
	acts  int     // most acts, -1 for any number
	need  []int32 // fewest acts from each spot to the target, or nil: see graph.reach
	clock bool    // adds a clock that never stops, bounded by until
	until int64   // latest time, in seconds
}

type node struct {
	spot   int32
	parent int32
	step   int32 // index into the parent spot's steps, -1 at the beginning
	acts   int32
	zone   zone
}

// explorer walks the zone graph in order of acts, breadth first inside each number of acts.
type explorer struct {
	g      *graph
	lim    limits
	target func(*spot) bool
	nodes  []node
	passed map[int32][]int32 // spot -> nodes
	turns  [][]int32         // to expand, by the number of acts that a story through them needs at least
	turn   int
	queued map[int32]bool // hulls waiting: one that grows while it waits waits once
	timers int
	work   int   // zones made
	best   int32 // node that reached the target with the least time, -1
	stop   func() bool
}

func newExplorer(ctx context.Context, g *graph, lim limits, target func(*spot) bool) *explorer {
	n := 0
	return &explorer{g: g, lim: lim, target: target, passed: map[int32][]int32{}, queued: map[int32]bool{}, best: -1, stop: func() bool {
		n++
		return n%256 == 0 && ctx.Err() != nil
	}}
}

// extra is the number of clocks beside the spot's timers.
func (e *explorer) extra() int {
	if e.lim.clock {
		return 1
	}
	return 0
}

// hi is the bound of a clock of a spot: its timer's, or the latest time.
func (e *explorer) hi(s *spot) func(int) int32 {
	return func(i int) int32 {
		if i < len(s.state.Timers) {
			return s.state.Timers[i].Hi
		}
		return int32(e.lim.until)
	}
}

// run explores until the target is reached, nothing is left, or a limit is.
func (e *explorer) run() Outcome {
	for _, b := range e.g.begin {
		z := point(len(e.g.spots[b].state.Timers) + e.extra())
		if e.lim.need == nil || e.hopeful(b, 0) {
			e.add(b, -1, -1, 0, z)
		}
	}
	for ; e.turn < len(e.turns); e.turn++ {
		acts := e.turn
		for len(e.turns[acts]) > 0 {
			n := e.turns[acts][0]
			e.turns[acts] = e.turns[acts][1:]
			e.queued[n] = false
			if e.work > e.lim.zones || e.stop() {
				return e.outcome(Capped, acts)
			}
			// Seen when its turn comes and not when it is found, so that fewer acts come first.
			if !e.lim.clock && e.target(&e.g.spots[e.nodes[n].spot]) {
				return e.found(n)
			}
			e.expand(n)
		}
	}
	if e.best >= 0 {
		return e.found(e.best)
	}
	return e.outcome(Nowhere, 0)
}

func (e *explorer) outcome(k OutcomeKind, depth int) Outcome {
	return Outcome{Kind: k, Zones: e.work, Spots: len(e.g.spots), Timers: e.timers, Depth: depth, Exact: !e.lim.hull}
}

// expand takes every step from a node.
func (e *explorer) expand(n int32) {
	from := e.nodes[n]
	steps := e.g.open(from.spot)
	source := e.g.spots[from.spot].state
	w := len(source.Timers) + 1 + e.extra()
	for i := range steps {
		st := &steps[i]
		acts := from.acts
		if st.move.Act {
			acts++
		}
		if e.lim.acts >= 0 && int(acts) > e.lim.acts || e.lim.need != nil && !e.hopeful(st.to, acts) {
			continue
		}
		z := append(zone(nil), from.zone...)
		if e.lim.clock && !z.tighten(w, w-1, 0, int32(e.lim.until)) {
			return // a quicker story was found since
		}
		if !enabled(z, w, source, st) {
			continue
		}
		carry := st.carry
		if e.extra() == 1 {
			carry = append(append([]int32(nil), carry...), int32(len(source.Timers)))
		}
		e.add(st.to, n, int32(i), acts, z.carry(w, carry))
	}
}

// hopeful reports whether a story may still reach the target from a spot, with no more acts than are allowed.
func (e *explorer) hopeful(to, acts int32) bool {
	if int(to) >= len(e.lim.need) || e.lim.need[to] >= far {
		return false
	}
	return e.lim.acts < 0 || int(acts+e.lim.need[to]) <= e.lim.acts
}

// enabled narrows a zone to the readings in which a step may be taken.
func enabled(z zone, w int, source timed.State, st *step) bool {
	for _, c := range st.when {
		i := int(c.timer) + 1
		if !z.tighten(w, i, 0, c.max) || !z.tighten(w, 0, i, -c.min) {
			return false
		}
	}
	if st.ends < 0 {
		return true
	}
	if !z.tighten(w, 0, int(st.ends)+1, -source.Timers[st.ends].Lo) {
		return false
	}
	for _, first := range st.wait {
		if !z.tighten(w, int(first)+1, 0, source.Timers[first].Hi-1) {
			return false
		}
	}
	return true
}

// add lets time pass in a new zone and keeps it unless it is known.
func (e *explorer) add(to, parent, step, acts int32, z zone) {
	s := &e.g.spots[to]
	n := len(s.state.Timers) + e.extra()
	if e.lim.clock {
		soonest := -int64(z[n]) // row 0, the clock that never stops
		if soonest > e.lim.until {
			return
		}
		if e.target(s) {
			e.best = e.keep(node{to, parent, step, acts, z})
			e.lim.until = soonest - 1
			return
		}
	}
	if !z.pass(n+1, e.hi(s)) {
		return
	}
	e.timers = max(e.timers, len(s.state.Timers))
	if e.lim.hull {
		e.grow(to, parent, step, acts, z)
		return
	}
	known := e.passed[to]
	kept := known[:0:0]
	for _, k := range known {
		old := &e.nodes[k]
		if old.acts <= acts && old.zone.includes(z) {
			return
		}
		if acts > old.acts || !z.includes(old.zone) {
			kept = append(kept, k)
		}
	}
	id := e.keep(node{to, parent, step, acts, z})
	e.passed[to] = append(kept, id)
	e.queue(id)
}

// grow keeps one hull a spot. Acts count only for the first way there: hulls tell no stories.
func (e *explorer) grow(to, parent, step, acts int32, z zone) {
	known := e.passed[to]
	if len(known) == 0 {
		id := e.keep(node{to, parent, step, acts, z})
		e.passed[to] = []int32{id}
		e.queue(id)
		return
	}
	if e.nodes[known[0]].zone.join(z) {
		e.work++
		e.queue(known[0])
	}
}

func (e *explorer) keep(n node) int32 {
	e.work++
	e.nodes = append(e.nodes, n)
	return int32(len(e.nodes) - 1)
}

// queue puts a node where its number of acts belongs.
func (e *explorer) queue(id int32) {
	if e.queued[id] {
		return
	}
	e.queued[id] = true
	n := e.nodes[id]
	turn := 0
	if !e.lim.hull {
		turn = int(n.acts)
		if e.lim.need != nil {
			turn += int(e.lim.need[n.spot])
		}
	}
	turn = max(turn, e.turn)
	for len(e.turns) <= turn {
		e.turns = append(e.turns, nil)
	}
	e.turns[turn] = append(e.turns[turn], id)
}
