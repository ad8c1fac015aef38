// Package proof explores timed systems, exactly and exhaustively, for a state in which a promise is broken.
package proof

import (
	"encoding/binary"

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
	ints   slab
}

// spot is one discrete state with what leads on from it.
type spot struct {
	state  timed.State
	bounds []timed.Timer // the state's timers, with how long they take
	broken bool
	met    bool
	opened bool
	steps  []step
}

// step is a move with the timer whose end it is; ends is -1 when it may happen at any instant.
type step struct {
	move  timed.Move
	ends  int32 // index into the spot's timers, or -1
	to    int32
	carry []int32   // for each timer of the target: its index at the source, or -1 when it starts fresh
	wait  []int32   // indices of timers that are seen to before this one
	when  []compare // by index
}

type compare struct {
	timer    int32
	min, max int32
}

func newGraph(sys timed.System) *graph {
	g := &graph{sys: sys, number: map[string]int32{}}
	for _, s := range sys.Begin() {
		g.begin = append(g.begin, g.intern(s))
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

// open fills in the steps of a spot and returns them.
func (g *graph) open(n int32) []step {
	if g.spots[n].opened {
		return g.spots[n].steps
	}
	s := g.spots[n].state
	acts := g.sys.Acts(s)
	steps := make([]step, 0, len(acts)+len(s.Timers))
	for i := range acts {
		steps = append(steps, g.step(s, &acts[i], -1))
	}
	for i, t := range s.Timers {
		moves := g.sys.Ended(s, t.ID)
		for k := range moves {
			steps = append(steps, g.step(s, &moves[k], int32(i)))
		}
	}
	g.spots[n].steps, g.spots[n].opened = steps, true
	return steps
}

func (g *graph) step(s timed.State, m *timed.Move, ends int32) step {
	st := step{move: *m, ends: ends, to: g.intern(m.To), carry: g.ints.take(len(m.To.Timers))}
	for k, t := range m.To.Timers {
		st.carry[k] = -1
		if !has(m.Fresh, t.ID) {
			st.carry[k] = index(s, t.ID)
		}
	}
	for _, c := range m.When {
		i := index(s, c.Timer)
		if c.Min == 0 && c.Max == s.Timers[i].Hi-1 {
			st.wait = append(st.wait, i) // the timer goes first
			continue
		}
		st.when = append(st.when, compare{i, c.Min, c.Max})
	}
	if ends >= 0 {
		for i, t := range s.Timers {
			if int32(i) != ends && g.sys.First(t.ID, s.Timers[ends].ID) {
				st.wait = append(st.wait, int32(i))
			}
		}
	}
	return st
}

func index(s timed.State, id int16) int32 {
	for i, t := range s.Timers {
		if t.ID == id {
			return int32(i)
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

// slab hands out slices of one block, for the many small ones that live as long as their search.
type slab struct{ free []int32 }

const slabSize = 1 << 13

func (s *slab) take(n int) []int32 {
	if n > len(s.free) {
		s.free = make([]int32, max(n, slabSize))
	}
	out := s.free[:n:n]
	s.free = s.free[n:]
	return out
}
