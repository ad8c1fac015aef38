// Package promises says what a brief promises: in a plain sentence, and exactly, as a watcher of what rules,
// people and the house do. A promise is closed into a timed system by the part of the house that it speaks of
// and by assumptions about people, each of which is printed with its verdict.
package promises

import (
	"fmt"
	"time"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// Kind of a promise.
type Kind string

// The kinds.
const (
	LightOnEntry   Kind = "light on entry"
	NeverDark      Kind = "never dark on someone"
	NotLeftBurning Kind = "not left burning"
	AsAsked        Kind = "as asked"
	NotBlinding    Kind = "not blinding"
)

// Promise is one checkable sentence.
type Promise struct {
	ID       string // room/kind, as in shower-room/never-dark
	Room     string
	Goal     string
	Kind     Kind
	Sentence string
	Assumes  []Assumption
	World    World

	about []string // things whose rules bear on it
	told  bool     // messages matter
	watch func(*rules.Program) watcher
}

// Assumption is something that the verdict leans on.
type Assumption struct {
	ID   string
	Text string
}

// System closes the promise over a sheet of rules.
func (p Promise) System(sheet rules.Sheet) (timed.System, error) {
	prog, err := rules.Compile(Slice(sheet, p.about, p.told))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.ID, err)
	}
	return newSystem(prog, p.World, p.watch(prog)), nil
}

// Still is the promise under the assumption that whoever is inside moves at least so often.
func (p Promise) Still(every time.Duration) Promise {
	p.World.StillFor = int32(every / time.Second)
	return p
}
