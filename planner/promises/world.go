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
	met    bool
	timers []timed.Timer // by ID
	name   string        // once known: loc as a string
}

func (w *world) clone() *world {
	c := *w
	c.rules = w.rules.Clone()
	words := make([]int8, len(w.plant)+len(w.seen))
	c.plant, c.seen = words[:len(w.plant):len(w.plant)], words[len(w.plant):]
	copy(c.plant, w.plant)
	copy(c.seen, w.seen)
	c.timers = append(make([]timed.Timer, 0, len(w.timers)+2), w.timers...)
	return &c
}

// loc appends everything but the timers.
func (w *world) loc(b []byte) []byte {
	b = append(b, byte(w.people), flag(w.broken)|flag(w.met)<<1|byte(w.fault)<<2)
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
