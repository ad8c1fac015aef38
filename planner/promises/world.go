package promises

import (
	"sort"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// world is one discrete state of a slice: what the rules know, what is really the case, and what the promise
// has seen. How far its timers have run is not in it.
type world struct {
	rules  rules.State // running waits posed
	people int8        // in the room
	plant  []int8      // a word for each part of the plant that has a state: see system.slots
	seen   []int8      // the promise's own memory
	broken bool
	met    bool
	timers []timed.Timer // by ID
}

func (w *world) clone() *world {
	c := *w
	c.rules = w.rules.Clone()
	c.plant = append([]int8(nil), w.plant...)
	c.seen = append([]int8(nil), w.seen...)
	c.timers = append([]timed.Timer(nil), w.timers...)
	return &c
}

// loc packs everything but the timers.
func (w *world) loc() string {
	b := w.rules.AppendKey(make([]byte, 0, 96))
	b = append(b, byte(w.people), flag(w.broken)|flag(w.met)<<1)
	for _, x := range w.plant {
		b = append(b, byte(x))
	}
	for _, x := range w.seen {
		b = append(b, byte(x))
	}
	return string(b)
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

func (w *world) set(t timed.Timer) {
	if old := w.timer(t.ID); old != nil {
		*old = t
		return
	}
	w.timers = append(w.timers, t)
	sort.Slice(w.timers, func(i, j int) bool { return w.timers[i].ID < w.timers[j].ID })
}

func (w *world) drop(id int16) {
	for i := range w.timers {
		if w.timers[i].ID == id {
			w.timers = append(w.timers[:i], w.timers[i+1:]...)
			return
		}
	}
}
