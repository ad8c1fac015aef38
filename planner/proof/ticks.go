package proof

import (
	"container/heap"
	"context"
	"encoding/binary"

	"example.org/roombrief/planner/timed"
)

// ticked is the second engine: it counts every timer in whole steps of unit seconds. It is exact when unit
// divides every bound of the system, finds the soonest of the stories with fewest acts, and shares nothing
// with the zones but the graph.
type ticked struct {
	g      *graph
	unit   int32
	target aim
	seen   map[string]int32
	nodes  []tickNode
	queue  tickQueue
}

type tickNode struct {
	spot   int32
	parent int32
	step   int32 // index of the parent's step; -1 is a tick of time
	acts   int32
	at     int64
	read   []int32 // seconds that each timer has run
	done   bool
}

// Ticks explores in integer time. most bounds the states kept.
func Ticks(ctx context.Context, sys timed.System, unit int32, most int, target func(timed.State) bool) Outcome {
	return ticks(ctx, newGraph(sys), unit, most, broken, func(s *spot) bool { return target(s.state) })
}

// ticks walks as a search with an aim does, until it has hit.
func ticks(ctx context.Context, g *graph, unit int32, most int, target aim, hit func(*spot) bool) Outcome {
	t := &ticked{g: g, unit: unit, target: target, seen: map[string]int32{}}
	for _, b := range t.g.begin {
		t.put(tickNode{spot: b, parent: -1, step: -1, read: make([]int32, len(t.g.spots[b].bounds))})
	}
	timers := 0
	for n := 0; t.queue.Len() > 0; n++ {
		id := heap.Pop(&t.queue).(tickItem).id
		if t.nodes[id].done {
			continue
		}
		t.nodes[id].done = true
		s := &t.g.spots[t.nodes[id].spot]
		timers = max(timers, len(s.bounds))
		out := Outcome{Zones: len(t.nodes), Spots: len(t.g.spots), Timers: timers, Exact: true, Acts: int(t.nodes[id].acts)}
		if hit(s) {
			out.Kind, out.Story, out.Begin = Found, t.story(id), t.beginning(id)
			return out
		}
		if len(t.nodes) > most || (n%1024 == 0 && ctx.Err() != nil) {
			out.Kind, out.Depth = Capped, out.Acts
			return out
		}
		if !t.expand(id) {
			out.Kind, out.Depth, out.Exact = Capped, out.Acts, false
			return out
		}
	}
	return Outcome{Kind: Nowhere, Zones: len(t.nodes), Spots: len(t.g.spots), Timers: timers, Exact: true}
}

// expand takes every step and a tick of time; false when a bound is no multiple of the unit.
func (t *ticked) expand(id int32) bool {
	n := t.nodes[id]
	steps := t.g.open(n.spot)
	timers := t.g.spots[n.spot].bounds
	for _, x := range timers {
		if x.Lo%t.unit != 0 || x.Hi%t.unit != 0 {
			return false
		}
	}
	for i := range steps {
		st := &steps[i]
		if t.unit > 1 && t.offGrid(st) {
			return false
		}
		if !t.allowed(n, timers, st) {
			continue
		}
		to := tickNode{spot: t.g.leads(st, t.target), parent: id, step: int32(i), acts: n.acts, at: n.at, read: make([]int32, len(st.carry))}
		if st.act {
			to.acts++
		}
		for k, from := range st.carry {
			if from >= 0 {
				to.read[k] = n.read[from]
			}
		}
		if t.alive(to) {
			t.put(to)
		}
	}
	if len(timers) == 0 {
		return true // with nothing running, time changes nothing
	}
	later := tickNode{spot: n.spot, parent: id, step: -1, acts: n.acts, at: n.at + int64(t.unit), read: append([]int32(nil), n.read...)}
	for i := range later.read {
		later.read[i] += t.unit
	}
	if t.alive(later) {
		t.put(later)
	}
	return true
}

// offGrid reports whether a step depends on times between ticks.
func (t *ticked) offGrid(st *step) bool {
	for _, c := range st.when {
		if c.min%t.unit != 0 || c.max%t.unit != 0 {
			return true
		}
	}
	return len(st.wait) > 0
}

// alive reports whether no timer has been passed over.
func (t *ticked) alive(n tickNode) bool {
	for i, x := range t.g.spots[n.spot].bounds {
		if n.read[i] > x.Hi {
			return false
		}
	}
	return true
}

func (t *ticked) allowed(n tickNode, timers []timed.Timer, st *step) bool {
	for _, c := range st.when {
		if n.read[c.timer] < c.min || n.read[c.timer] > c.max {
			return false
		}
	}
	if st.ends >= 0 && n.read[st.ends] < timers[st.ends].Lo {
		return false
	}
	for _, first := range st.wait {
		if n.read[first] >= timers[first].Hi {
			return false
		}
	}
	return true
}

// put keeps a node unless the same readings were reached with no more acts and no later.
func (t *ticked) put(n tickNode) {
	b := binary.LittleEndian.AppendUint32(make([]byte, 0, 4+4*len(n.read)), uint32(n.spot))
	for _, r := range n.read {
		b = binary.LittleEndian.AppendUint32(b, uint32(r))
	}
	if old, ok := t.seen[string(b)]; ok {
		o := &t.nodes[old]
		if o.acts < n.acts || (o.acts == n.acts && o.at <= n.at) || o.done {
			return
		}
		*o = n
		heap.Push(&t.queue, tickItem{old, n.acts, n.at})
		return
	}
	id := int32(len(t.nodes))
	t.seen[string(b)] = id
	t.nodes = append(t.nodes, n)
	heap.Push(&t.queue, tickItem{id, n.acts, n.at})
}

func (t *ticked) beginning(id int32) timed.State {
	for t.nodes[id].parent >= 0 {
		id = t.nodes[id].parent
	}
	return t.g.spots[t.nodes[id].spot].state
}

func (t *ticked) story(id int32) []Told {
	var out []Told
	for at := id; t.nodes[at].parent >= 0; at = t.nodes[at].parent {
		n := t.nodes[at]
		if n.step >= 0 {
			st := t.g.spots[t.nodes[n.parent].spot].steps[n.step]
			out = append(out, Told{n.at, int(st.label), st.act, t.g.spots[n.spot].state})
		}
	}
	for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
		out[i], out[j] = out[j], out[i]
	}
	return out
}

// tickQueue orders by acts, then time, then the order in which nodes were found.
type tickQueue []tickItem

type tickItem struct {
	id   int32
	acts int32
	at   int64
}

func (q tickQueue) Len() int      { return len(q) }
func (q tickQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q tickQueue) Less(i, j int) bool {
	if q[i].acts != q[j].acts {
		return q[i].acts < q[j].acts
	}
	if q[i].at != q[j].at {
		return q[i].at < q[j].at
	}
	return q[i].id < q[j].id
}
func (q *tickQueue) Push(x any) { *q = append(*q, x.(tickItem)) }
func (q *tickQueue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
