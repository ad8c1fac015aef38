// Package proof explores timed systems, exactly and exhaustively, for a state in which a promise is broken.
package proof

import (
	"encoding/binary"

	"example.org/roombrief/planner/timed"
)

// graph is a system's discrete states, found as they are asked for and numbered in that order. Both engines
// walk it, so that the system is asked once about each state.
type graph struct {
	sys    timed.System
	number map[string]int32
	spots  []spot
	begin  []int32
}

// spot is one discrete state with what leads on from it.
type spot struct {
	state  timed.State
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

// key is an exact name of a state: nothing is hashed away.
func key(s timed.State) string {
	b := make([]byte, 0, len(s.Loc)+10*len(s.Timers)+4)
	for _, t := range s.Timers {
		b = binary.LittleEndian.AppendUint16(b, uint16(t.ID))
		b = binary.LittleEndian.AppendUint32(b, uint32(t.Lo))
		b = binary.LittleEndian.AppendUint32(b, uint32(t.Hi))
	}
	b = append(b, byte(len(s.Timers)))
	return string(append(b, s.Loc...))
}

func (g *graph) intern(s timed.State) int32 {
	k := key(s)
	if n, ok := g.number[k]; ok {
		return n
	}
	n := int32(len(g.spots))
	g.number[k] = n
	g.spots = append(g.spots, spot{state: s, broken: g.sys.Broken(s), met: g.sys.Met(s)})
	return n
}

// open fills in the steps of a spot and returns them.
func (g *graph) open(n int32) []step {
	if g.spots[n].opened {
		return g.spots[n].steps
	}
	s := g.spots[n].state
	var steps []step
	for _, m := range g.sys.Acts(s) {
		steps = append(steps, g.step(s, m, -1))
	}
	for i, t := range s.Timers {
		for _, m := range g.sys.Ended(s, t.ID) {
			steps = append(steps, g.step(s, m, int32(i)))
		}
	}
	g.spots[n].steps, g.spots[n].opened = steps, true
	return steps
}

func (g *graph) step(s timed.State, m timed.Move, ends int32) step {
	st := step{move: m, ends: ends, to: g.intern(m.To)}
	for _, t := range m.To.Timers {
		from := int32(-1)
		if !has(m.Fresh, t.ID) {
			from = index(s, t.ID)
		}
		st.carry = append(st.carry, from)
	}
	for _, c := range m.When {
		st.when = append(st.when, compare{index(s, c.Timer), c.Min, c.Max})
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
