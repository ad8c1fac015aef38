package proof

import (
	"container/heap"
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
	Shown  bool        // a story was come by that the walk was to look out for
	Exact  bool        // false: a Nowhere of hulls, which is as sound, or a Found that needs another look

	from  int32   // spot in which the story begins
	steps []*step // of the story
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
	acts  int     // most acts, -1 for any number
	need  []int32 // fewest acts from each spot to the target, or nil: see graph.reach
	clock bool    // looks for the soonest of stories; one as late as until is of no use
	until int64   // seconds
}

type node struct {
	spot   int32
	parent int32
	step   int32 // index into the parent spot's steps, -1 at the beginning
	acts   int32
	zone   zone
}

// explorer walks the zone graph: in order of acts, breadth first inside each number of acts, or where it looks for
// the soonest story in order of time.
type explorer struct {
	g       *graph
	lim     limits
	target  aim
	nodes   []node
	passed  [][]int32 // by spot: nodes
	turns   [][]int32 // to expand, by the number of acts that a story through them needs at least
	turn    int
	soonest soonestFirst
	timers  int
	work    int // zones made
	narrow  zone
	next    zone
	ints    pool[int32]
	stop    func() bool
}

func newExplorer(ctx context.Context, g *graph, lim limits, target aim) *explorer {
	return &explorer{g: g, lim: lim, target: target, stop: stopper(ctx)}
}

// stopper asks now and then whether a context is done.
func stopper(ctx context.Context) func() bool {
	n := 0
	return func() bool {
		n++
		return n%256 == 0 && ctx.Err() != nil
	}
}

// width of the zones of a spot.
func (e *explorer) width(s *spot) int {
	if e.lim.clock {
		return len(s.bounds) + 2
	}
	return len(s.bounds) + 1
}

// run explores until the target is reached, nothing is left, or a limit is.
func (e *explorer) run() Outcome {
	for _, b := range e.g.begin {
		w := e.width(&e.g.spots[b])
		if e.lim.need == nil || e.hopeful(b, 0) {
			e.add(b, -1, -1, 0, make(zone, w*w))
		}
	}
	for {
		n, acts, any := e.pop()
		if !any {
			return e.outcome(Nowhere, 0)
		}
		if e.work > e.lim.zones || e.stop() {
			return e.outcome(Capped, acts)
		}
		// Seen when its turn comes and not when it is found, so that fewer acts, or less time, come first.
		if e.target.hit(&e.g.spots[e.nodes[n].spot]) {
			return e.found(n)
		}
		e.expand(n)
	}
}

// pop takes the next node, with the number of acts that are being looked at.
func (e *explorer) pop() (n int32, acts int, any bool) {
	if e.lim.clock {
		if e.soonest.Len() == 0 {
			return 0, 0, false
		}
		n := heap.Pop(&e.soonest).(timedNode).node
		return n, int(e.nodes[n].acts), true
	}
	for ; e.turn < len(e.turns); e.turn++ {
		if q := e.turns[e.turn]; len(q) > 0 {
			e.turns[e.turn] = q[1:]
			return q[0], e.turn, true
		}
	}
	return 0, 0, false
}

func (e *explorer) outcome(k OutcomeKind, depth int) Outcome {
	return Outcome{Kind: k, Zones: e.work, Spots: len(e.g.spots), Timers: e.timers, Depth: depth, Exact: true}
}

func (e *explorer) found(n int32) Outcome {
	out := e.outcome(Found, 0)
	out.tell(e.g, e.nodes, n)
	return out
}

// expand takes every step from a node.
func (e *explorer) expand(n int32) {
	from := e.nodes[n]
	steps := e.g.open(from.spot)
	bounds := e.g.spots[from.spot].bounds
	w := e.width(&e.g.spots[from.spot])
	for i := range steps {
		st := &steps[i]
		acts, to := from.acts, e.g.leads(st, e.target)
		if st.act {
			acts++
		}
		if e.lim.acts >= 0 && int(acts) > e.lim.acts || e.lim.need != nil && !e.hopeful(to, acts) {
			continue
		}
		e.narrow = append(e.narrow[:0], from.zone...)
		if !e.narrow.enabled(w, bounds, st) {
			continue
		}
		e.next = e.narrow.carry(e.next, w, st.carry, e.lim.clock)
		e.add(to, n, int32(i), acts, e.next)
	}
}

// hopeful reports whether a story may still reach the target from a spot, with no more acts than are allowed.
func (e *explorer) hopeful(to, acts int32) bool {
	if int(to) >= len(e.lim.need) || e.lim.need[to] >= far {
		return false
	}
	return e.lim.acts < 0 || int(acts+e.lim.need[to]) <= e.lim.acts
}

// add lets time pass in a new zone and keeps it unless it is known. The zone is the caller's.
func (e *explorer) add(to, parent, step, acts int32, z zone) {
	s := &e.g.spots[to]
	w := e.width(s)
	at := int64(0)
	if e.lim.clock {
		if at = -int64(z[w-1]); at >= e.lim.until {
			return
		}
	}
	if !z.pass(w, s.bounds) {
		return
	}
	e.timers = max(e.timers, len(s.bounds))
	for len(e.passed) < len(e.g.spots) {
		e.passed = append(e.passed, nil)
	}
	known := e.passed[to]
	for _, k := range known {
		if old := &e.nodes[k]; old.acts <= acts && old.zone.includes(z) {
			return
		}
	}
	kept := known[:0]
	for _, k := range known {
		if old := &e.nodes[k]; acts > old.acts || !z.includes(old.zone) {
			kept = append(kept, k)
		}
	}
	id := int32(len(e.nodes))
	own := zone(e.ints.take(w * w))
	copy(own, z)
	e.work++
	e.nodes = append(e.nodes, node{to, parent, step, acts, own})
	e.passed[to] = append(kept, id)
	if e.lim.clock {
		heap.Push(&e.soonest, timedNode{id, at})
		return
	}
	turn := int(acts)
	if e.lim.need != nil {
		turn += int(e.lim.need[to])
	}
	turn = max(turn, e.turn)
	for len(e.turns) <= turn {
		e.turns = append(e.turns, nil)
	}
	e.turns[turn] = append(e.turns[turn], id)
}

// soonestFirst orders nodes by the soonest second at which they are reached, then as they were found.
type soonestFirst []timedNode

type timedNode struct {
	node int32
	at   int64
}

func (q soonestFirst) Len() int      { return len(q) }
func (q soonestFirst) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q soonestFirst) Less(i, j int) bool {
	if q[i].at != q[j].at {
		return q[i].at < q[j].at
	}
	return q[i].node < q[j].node
}
func (q *soonestFirst) Push(x any) { *q = append(*q, x.(timedNode)) }
func (q *soonestFirst) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
