// Package remedy looks for the cheapest changes of a project's decisions that keep every promise of a room.
//
// How it goes, file by file:
//
//	moves.go     what can be changed in a room
//	hosts.go     what can be changed about its controller
//	plan.go      a project with some moves made: its rules, its promises, its price
//	search.go    combinations of moves, cheapest first
//	bank.go      stories that broke a combination, played again on the next before anything is proved
//	undone.go    which faults undo a combination
//	change.go    what else a combination changes, in words
//	own.go       moves for promises that the household added
//	mandatory.go what the first plan can't do without
package remedy

import (
	"context"
	"fmt"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
)

// Remedy is a combination of moves that was proved to keep what it says.
type Remedy struct {
	Moves     []Move
	Words     string             // what to do, one sentence
	Price     bill.Money         // by how much the bill of the whole home, with labour and tax, goes up
	Currency  string             // of the price
	Household bool               // changes the brief: the household decides
	Changes   []string           // what else changes: devices, waits, numbers of promises
	Edits     []projectfile.Edit // of the project file
	Keeps     []string           // promises that are broken now and kept then
	Leaves    []string           // promises of the room that stay broken or undecided
	Undone    []promises.Fault   // each of which, alone, breaks the promise asked about all the same
}

// Effort bounds a search. Its bounds are numbers of things and not times, so that what is found doesn't depend
// on the machine.
type Effort struct {
	Moves   int // at most so many in a combination
	Proved  int // combinations that are proved; those that a banked story breaks don't count
	Wanted  int // remedies
	Promise proof.Effort
	Cache   *proof.Cache // what is known already; nil is nothing

	NoFaults bool // don't ask which faults undo a remedy
}

// Usual effort.
var Usual = Effort{Moves: 3, Proved: 16, Wanted: 3, Promise: proof.Usual}

// Result of a search.
type Result struct {
	Remedies     []Remedy // first those that keep every promise of the room, by price; of one price those first that the fewest faults undo. Then those that leave some broken
	Whole        int      // of them keep every promise
	Combinations int      // there are
	Proved       int      // of them
	Replayed     int      // that a banked story broke, without a proof
	Proofs       int      // of single promises
	Banked       int      // stories
	Unbroken     bool     // the plan keeps the promise
	Full         bool     // every combination was looked at, as far as that was called for
}

// Sentence says how far the search went, for people.
func (r Result) Sentence() string {
	looked := fmt.Sprintf("%d of %d combinations of changes were looked at", r.Proved+r.Replayed, r.Combinations)
	switch {
	case len(r.Remedies) > 0:
		return ""
	case r.Unbroken:
		return "It is not broken as things stand."
	case r.Combinations == 0:
		return "There is nothing to change in this room that the program knows of."
	case r.Full:
		return fmt.Sprintf("None of the %d combinations of changes that the program knows of mends it.", r.Combinations)
	}
	return looked + ", and none of them mends it."
}

// Mends reports whether the remedies, found for another promise of the room, are those of this one too: each mends it
// and leaves nothing as it is, so that it doesn't matter which one was asked about.
func (r Result) Mends(promise string) bool {
	for _, x := range r.Remedies {
		if len(x.Leaves) > 0 || !slices.Contains(x.Keeps, promise) {
			return false
		}
	}
	return len(r.Remedies) > 0
}

// Heading stands over the remedies.
func (r Result) Heading() string {
	if r.Whole < len(r.Remedies) {
		return "What would mend it, that which leaves nothing else broken first:"
	}
	return "What would mend it, cheapest first:"
}

// For looks for the cheapest remedies of a broken promise: the two or three best that keep every promise of its
// room, and break none elsewhere that is kept now. Where there are none of those, it gives the ones that keep
// that promise and break nothing that is kept, with what they leave broken.
func For(ctx context.Context, p *model.Project, c *catalogue.Catalogue, v proof.Verdict, e Effort) (Result, error) {
	s, err := newSearch(ctx, p, c, v.Promise.Room, e)
	if err != nil {
		return Result{}, err
	}
	return s.find(v.Promise.ID)
}
