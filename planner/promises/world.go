package promises

import (
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// world is one discrete state of a slice: what the rules know, what is really the case, and what the promise
// has seen. How far its timers have run is not in it.
type world struct {
	rules  rules.State // running waits posed
	people int8        // in the room
	fault  int8        // 0 nothing has failed, 1 it has
	plant  []int8      // a word for each part of the plant that has a state: see system.slots
	seen   []int8      // the promise's own memory
	broken bool
	met    bool          // the premise is met by the move that led here, or from the beginning; which move did isn't part of the state
	timers []timed.Timer // by ID
	state  timed.State   // once known
}

func (w *world) clone() *world {
	c := *w
	c.rules = w.rules.Clone()
	words := make([]int8, len(w.plant)+len(w.seen))
	c.plant, c.seen = words[:len(w.plant):len(w.plant)], words[len(w.plant):]
	copy(c.plant, w.plant)
	copy(c.seen, w.seen)
	c.timers = append(make([]timed.Timer, 0, len(w.timers)), w.timers...)
	return &c
}

// copyFrom makes w what o is, in w's own memory.
func (w *world) copyFrom(o *world) {
	w.rules.CopyFrom(o.rules)
	w.people, w.fault, w.broken, w.met = o.people, o.fault, o.broken, false
	w.plant = append(w.plant[:0], o.plant...)
	w.seen = append(w.seen[:0], o.seen...)
	w.timers = append(w.timers[:0], o.timers...)
}

// loc appends everything but the timers.
func (w *world) loc(b []byte) []byte {
	b = append(b, byte(w.people), flag(w.broken)|byte(w.fault)<<1)
	for _, x := range w.plant {
		b = append(b, byte(x))
	}
	for _, x := range w.seen {
		b = append(b, byte(x))
	}
	return w.rules.AppendKey(b)
}

func flag(b bool) byte {
	if b {
		return 1
	}
	return 0
}

// store holds the moves of one state, with their lists of timers, until those of the next are asked for.
type store struct {
	moves []timed.Move
	ids   []int16
	day   [1]timed.Compare
}

func (s *store) clear() { s.moves, s.ids = s.moves[:0], s.ids[:0] }

// list keeps a list of timers. Where it grows, lists from before stay good in the memory that they are in.
func (s *store) list(ids []int16) []int16 {
	n := len(s.ids)
	s.ids = append(s.ids, ids...)
	return s.ids[n:len(s.ids):len(s.ids)]
}

// timer is the timer with that ID, or nil.
func (w *world) timer(id int16) *timed.Timer {
	for i := range w.timers {
		if w.timers[i].ID == id {
			return &w.timers[i]
		}
	}
	return nil
}

// set puts a timer in its place by ID.
func (w *world) set(t timed.Timer) {
	for i := range w.timers {
		switch old := &w.timers[i]; {
		case old.ID == t.ID:
			*old = t
			return
		case old.ID > t.ID:
			w.timers = append(w.timers, timed.Timer{})
			copy(w.timers[i+1:], w.timers[i:])
			w.timers[i] = t
			return
		}
	}
	w.timers = append(w.timers, t)
}

func (w *world) drop(id int16) {
	for i := range w.timers {
		if w.timers[i].ID == id {
			w.timers = append(w.timers[:i], w.timers[i+1:]...)
			return
		}
	}
}
