package model

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
