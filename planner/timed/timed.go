// Package timed is the shape of what a proof explores: discrete states with deadlines running in them.
//
// Time is whole seconds and every bound is closed, so integer times lose nothing (Henzinger, Manna,
// Pnueli, What good are digital clocks?, ICALP 1992): a sequence of moves has a real schedule exactly when
// it has one in whole seconds.
package timed

// Timer is a deadline that runs. It ends once between Lo and Hi seconds have passed since it was started,
// and at Hi at the latest: time does not pass over it.
type Timer struct {
	ID     int16
	Lo, Hi int32 // seconds, 0 <= Lo <= Hi
}

// State is discrete: what everything is, and which deadlines run. How far they have run is not in it.
type State struct {
	Loc    string  // the values of everything, packed; equal strings are equal states
	Timers []Timer // by ascending ID; each ID once
	Num    int     // of the state in its system, from 1, where the system numbers its states; 0 where it doesn't
}

// Compare holds while the timer has run for Min to Max seconds, both included.
type Compare struct {
	Timer    int16
	Min, Max int32
}

// Move is one way on from a state, done in no time.
type Move struct {
	Label int       // for the system to name it: see System.Say
	Act   bool      // somebody does it; stories are judged by how few of these they need
	Fault bool      // something fails; at most one in a story
	Meets bool      // it meets the promise's premise
	When  []Compare // all must hold
	To    State
	Fresh []int16 // timers of To that start now; the others go on from where they are
}

// System is a room, its people and one promise about them, closed: nothing comes from outside.
// What a method returns says the same each time; a list of moves is the caller's until the next call.
type System interface {
	// Begin lists the states in which a story may begin; all their timers start there.
	Begin() []State
	// Acts lists what may happen in s at any instant.
	Acts(s State) []Move
	// Ended lists what may follow when the timer ends in s; never empty.
	Ended(s State, timer int16) []Move
	// First reports whether timer a is seen to first when a and b end in one instant. Where neither is
	// first, both orders are possible.
	First(a, b int16) bool
	// Broken reports whether the promise is broken in s.
	Broken(s State) bool
	// Met reports whether the promise's premise is met in s, whatever led there. A promise that neither a state nor
	// a move ever puts to the test is not kept but empty.
	Met(s State) bool
	// Say names a move for a story.
	Say(label int) string
}

// At returns the timer with that ID.
func (s State) At(id int16) (Timer, bool) {
	for _, t := range s.Timers {
		if t.ID == id {
			return t, true
		}
	}
	return Timer{}, false
}
