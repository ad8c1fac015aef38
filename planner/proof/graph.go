// Package proof explores timed systems, exactly and exhaustively, for a state in which a promise is broken.
package proof

import (
	"encoding/binary"
	"slices"

	"example.org/roombrief/planner/timed"
)

// graph is a system's discrete states, found as they are asked for and numbered in that order. All searches of one
// system walk it, so that the system is asked once about each state, also where they differ in how long a timer takes.
type graph struct {
	sys    timed.System
	number map[string]int32 // of states that the system doesn't number itself
	byNum  []int32          // 1 + the spot of each state that it does
	spots  []spot
	begin  []int32
	length func(timed.State, timed.Timer) timed.Timer // how long a timer takes, where not as the system says
	key    []byte
	small  pool[int8]
	checks pool[compare]
	many   pool[step]
	steps  []step // of the spot that is being opened
}

// spot is one discrete state with what leads on from it.
type spot struct {
	state  timed.State
	bounds []timed.Timer // the state's timers, with how long they take
	broken bool
	met    bool
	opened bool
	twin   int32 // the spot that is this one, reached by a move that meets the premise; 0 while there is none
	steps  []step
}

// step is a move with the timer whose end it is; ends is -1 when it may happen at any instant. Timers are places in the
// list of a spot's.
type step struct {
	carry []int8    // for each timer of the target: its place at the source, or -1 when it starts fresh
	wait  []int8    // timers that are seen to before this one
	when  []compare // all must hold
	label int32
	to    int32
	ends  int8
	act   bool
	meets bool
}

type compare struct {
	timer    int32
	min, max int32
}

func newGraph(sys timed.System) *graph {
	g := &graph{sys: sys, number: map[string]int32{}}
	for _, s := range sys.Begin() {
		if n := g.intern(s); !slices.Contains(g.begin, n) {
			g.begin = append(g.begin, n)
		}
	}
	return g
}

// measure has timers take as long as length says from now on; nil is as the system says.
func (g *graph) measure(length func(timed.State, timed.Timer) timed.Timer) {
	if length == nil && g.length == nil {
		return
	}
	g.length = length
	for i := range g.spots {
		g.bound(&g.spots[i])
	}
}

func (g *graph) bound(s *spot) {
	if g.length == nil {
		s.bounds = s.state.Timers
		return
	}
	s.bounds = make([]timed.Timer, len(s.state.Timers))
	for i, t := range s.state.Timers {
		s.bounds[i] = g.length(s.state, t)
	}
}

// name is an exact name of a state: nothing is hashed away. It is good until the next.
func (g *graph) name(s timed.State) []byte {
	b := g.key[:0]
	for _, t := range s.Timers {
		b = binary.LittleEndian.AppendUint16(b, uint16(t.ID))
		b = binary.LittleEndian.AppendUint32(b, uint32(t.Lo))
		b = binary.LittleEndian.AppendUint32(b, uint32(t.Hi))
	}
	b = append(b, byte(len(s.Timers)))
	g.key = append(b, s.Loc...)
	return g.key
}

func (g *graph) intern(s timed.State) int32 {
	if s.Num > 0 {
		for len(g.byNum) <= s.Num {
			g.byNum = append(g.byNum, 0)
		}
		if n := g.byNum[s.Num]; n > 0 {
			return n - 1
		}
		n := g.add(s)
		g.byNum[s.Num] = n + 1
		return n
	}
	k := g.name(s)
	if n, ok := g.number[string(k)]; ok {
		return n
	}
	n := g.add(s)
	g.number[string(k)] = n
	return n
}

func (g *graph) add(s timed.State) int32 {
	g.spots = append(g.spots, spot{state: s, broken: g.sys.Broken(s), met: g.sys.Met(s)})
	n := len(g.spots) - 1
	g.bound(&g.spots[n])
	return int32(n)
}

// aim is what a search looks for.
type aim int

const (
	broken aim = iota // a state in which the promise is broken
	met               // one in which its premise is met, or a move that meets it
)

// hit reports whether a search that aims so has come to its end.
func (a aim) hit(s *spot) bool {
	if a == met {
		return s.met
	}
	return s.broken
}

// leads is the spot that a step leads to, as a search for something sees it: where it looks for moves that meet the premise,
// one has an end of its own, and no other search goes there.
func (g *graph) leads(st *step, a aim) int32 {
	if a != met || !st.meets || g.spots[st.to].met {
		return st.to
	}
	if t := g.spots[st.to].twin; t > 0 {
		return t
	}
	twin := g.spots[st.to]
	twin.met, twin.opened, twin.steps = true, false, nil
	g.spots = append(g.spots, twin)
	n := int32(len(g.spots) - 1)
	g.spots[st.to].twin = n
	return n
}

// open fills in the steps of a spot and returns them.
func (g *graph) open(n int32) []step {
	if g.spots[n].opened {
		return g.spots[n].steps
	}
	s := g.spots[n].state
	g.steps = g.steps[:0]
	acts := g.sys.Acts(s)
	for i := range acts {
		g.step(n, s, &acts[i], -1)
	}
	for i, t := range s.Timers {
		moves := g.sys.Ended(s, t.ID)
		for k := range moves {
			g.step(n, s, &moves[k], int8(i))
		}
	}
	steps := g.many.take(len(g.steps))
	copy(steps, g.steps)
	g.spots[n].steps, g.spots[n].opened = steps, true
	return steps
}

func (g *graph) step(n int32, s timed.State, m *timed.Move, ends int8) {
	st := step{label: int32(m.Label), act: m.Act, meets: m.Meets, ends: ends, to: g.intern(m.To)}
	st.carry = g.small.take(len(m.To.Timers))
	for k, t := range m.To.Timers {
		st.carry[k] = -1
		if !has(m.Fresh, t.ID) {
			st.carry[k] = index(s, t.ID)
		}
	}
	var wait [16]int8
	first := wait[:0]
	var when [4]compare
	checks := when[:0]
	for _, c := range m.When {
		i := index(s, c.Timer)
		if c.Min == 0 && c.Max == s.Timers[i].Hi-1 {
			first = append(first, i) // the timer goes first
			continue
		}
		checks = append(checks, compare{int32(i), c.Min, c.Max})
	}
	if ends >= 0 {
		for i, t := range s.Timers {
			if int8(i) != ends && g.sys.First(t.ID, s.Timers[ends].ID) {
				first = append(first, int8(i))
			}
		}
	}
	if st.to == n && still(st.carry) && !(m.Meets && !g.spots[n].met) {
		return // nothing comes of it
	}
	st.wait, st.when = g.small.keep(first), g.checks.keep(checks)
	g.steps = append(g.steps, st)
}

// still reports whether every timer goes on where it is.
func still(carry []int8) bool {
	for k, from := range carry {
		if int(from) != k {
			return false
		}
	}
	return true
}

func index(s timed.State, id int16) int8 {
	for i, t := range s.Timers {
		if t.ID == id {
			return int8(i)
		}
	}
	return -1
}

func has(ids []int16, id int16) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

// pool hands out slices of larger blocks, for the many small ones that live as long as their search.
type pool[T any] struct {
	free []T
	size int
}

// Blocks double from the least to the most.
const (
	leastBlock = 1 << 5
	mostBlock  = 1 << 11
)

func (p *pool[T]) take(n int) []T {
	if n > len(p.free) {
		p.size = min(max(2*p.size, leastBlock), mostBlock)
		p.free = make([]T, max(n, p.size))
	}
	out := p.free[:n:n]
	p.free = p.free[n:]
	return out
}

// keep is a copy that lasts.
func (p *pool[T]) keep(xs []T) []T {
	if len(xs) == 0 {
		return nil
	}
	out := p.take(len(xs))
	copy(out, xs)
	return out
}
