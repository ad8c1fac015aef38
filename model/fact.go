package model

import q "example.org/roombrief/model/quantity"

// Fact is something a survey may fail to find out. The zero Fact was never looked at.
type Fact[T any] struct {
	State FactState
	Value T // meaningful when State is Known
}

// FactState tells a fact that nobody asked for from one that nobody knows.
type FactState int

const (
	Absent FactState = iota
	Unknown
	Known
)

// Know makes a known fact.
func Know[T any](v T) Fact[T] { return Fact[T]{State: Known, Value: v} }

// Get returns the value and whether it is known.
func (f Fact[T]) Get() (T, bool) { return f.Value, f.State == Known }

// Or returns the value, or d when it isn't known.
func (f Fact[T]) Or(d T) T {
	if f.State == Known {
		return f.Value
	}
	return d
}

// Ceiling is a humidity that a room should come back under: one that the household states, or the word `reckoned`, by which
// the planner works it out from the room, its fan and the seasons. The zero Ceiling is none.
type Ceiling struct {
	Reckoned bool
	Stated   q.Percent // meaningful when it isn't reckoned
}

// State makes a ceiling of the household's own.
func State(v q.Percent) Ceiling { return Ceiling{Stated: v} }

// Wanted reports whether there is one.
func (c Ceiling) Wanted() bool { return c.Reckoned || c.Stated > 0 }

// String is the ceiling as the file has it.
func (c Ceiling) String() string {
	if c.Reckoned {
		return c.Word()
	}
	return c.Stated.String()
}

// Word stands in the file for a ceiling that the planner works out.
func (c *Ceiling) Word() string { return "reckoned" }

// TakeWord has the planner work it out.
func (c *Ceiling) TakeWord() { *c = Ceiling{Reckoned: true} }

// TakeValue makes the ceiling the household's own; the file's value goes where it points.
func (c *Ceiling) TakeValue() any {
	c.Reckoned = false
	return &c.Stated
}

// Goal is a goal of a brief: unasked, declined or wanted.
type Goal[T any] struct {
	State GoalState
	Want  T // meaningful when State is Wanted
}

// GoalState of a goal. In the file, declined is the scalar `none`.
type GoalState int

const (
	Unasked GoalState = iota
	Declined
	Wanted
)

// Wanted reports whether the household wants it.
func (g Goal[T]) Wanted() bool { return g.State == Wanted }

// Word stands in the file for a fact that nobody knows.
func (f *Fact[T]) Word() string { return "unknown" }

// TakeWord makes the fact unknown.
func (f *Fact[T]) TakeWord() { *f = Fact[T]{State: Unknown} }

// TakeValue makes the fact known; the file's value goes where it points.
func (f *Fact[T]) TakeValue() any {
	f.State = Known
	return &f.Value
}

// Word stands in the file for a goal that the household doesn't want.
func (g *Goal[T]) Word() string { return "none" }

// TakeWord makes the goal declined.
func (g *Goal[T]) TakeWord() { *g = Goal[T]{State: Declined} }

// TakeValue makes the goal wanted; what the file says of it goes where it points.
func (g *Goal[T]) TakeValue() any {
	g.State = Wanted
	return &g.Want
}
