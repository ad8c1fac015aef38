package page

import (
	"fmt"
	"strings"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/planner/rules"
)

// Proofs is what is known of the promises of a home. It is never changed once it has been shown.
type Proofs struct {
	Rooms map[string]Proved // by room; "" is the home as a whole
}

// Proved is what is known of the promises of one room.
type Proved struct {
	Verdicts []proof.Verdict
	Sheet    rules.Sheet // on which they were decided
	Stale    bool        // they follow an older document
	Fault    error       // why they could not be decided
	Blames   []planner.Blame

	Applied []remedy.Applied // what the plan has for the sake of the promises
	Told    bool             // Applied is known

	Faults    []proof.Verdict // what one fault at a time does to the kept ones
	Failed    bool            // Faults are known
	FailFault error           // why they could not be decided
}

// Blame is what is known of the limit that breaks a promise; "" when nothing is, or none does.
func (x Proved) Blame(v *proof.Verdict) string {
	for _, b := range x.Blames {
		if b.Promise == v.Promise.ID && b.Fault == v.Fault {
			return b.Text
		}
	}
	return ""
}

// FaultsOf are what one fault at a time does to a promise.
func (x Proved) FaultsOf(v *proof.Verdict) []*proof.Verdict {
	var out []*proof.Verdict
	for i := range x.Faults {
		f := &x.Faults[i]
		id := v.Promise.ID + "/" + strings.ReplaceAll(string(f.Fault.Kind), " ", "-")
		if f.Promise.ID == id || f.Promise.ID == id+"/"+f.Fault.Thing {
			out = append(out, f)
		}
	}
	return out
}

// Verdict is that of a promise by its name, also with a fault.
func (x Proved) Verdict(promise string) (proof.Verdict, bool) {
	for _, all := range [2][]proof.Verdict{x.Verdicts, x.Faults} {
		for _, v := range all {
			if v.Promise.ID == promise {
				return v, true
			}
		}
	}
	return proof.Verdict{}, false
}

// Of is what is known of a room, and whether anything is.
func (p *Proofs) Of(room string) (Proved, bool) {
	if p == nil {
		return Proved{}, false
	}
	x, ok := p.Rooms[room]
	return x, ok
}

// With is the same with one room anew.
func (p *Proofs) With(room string, x Proved) *Proofs {
	out := &Proofs{Rooms: map[string]Proved{room: x}}
	if p != nil {
		for id, old := range p.Rooms {
			if id != room {
				out.Rooms[id] = old
			}
		}
	}
	return out
}

// Aged is the same when the document has changed: all of it follows an older one. Rooms that are gone are
// left out.
func (p *Proofs) Aged(rooms []string) *Proofs {
	out := &Proofs{Rooms: map[string]Proved{}}
	for _, id := range rooms {
		if x, ok := p.Of(id); ok {
			x.Stale = true
			out.Rooms[id] = x
		}
	}
	return out
}

// Tally counts verdicts.
type Tally struct{ Kept, Broken, Empty, Undecided int }

// All is how many there are.
func (t Tally) All() int { return t.Kept + t.Broken + t.Empty + t.Undecided }

// Plus adds two tallies.
func (t Tally) Plus(o Tally) Tally {
	return Tally{t.Kept + o.Kept, t.Broken + o.Broken, t.Empty + o.Empty, t.Undecided + o.Undecided}
}

// Tally of one room.
func (x Proved) Tally() Tally {
	var t Tally
	for _, v := range x.Verdicts {
		switch v.State {
		case proof.Kept:
			t.Kept++
		case proof.Breaks:
			t.Broken++
		case proof.Empty:
			t.Empty++
		default:
			t.Undecided++
		}
	}
	return t
}

// Tally of the whole home, as far as it is known.
func (p *Proofs) Tally() Tally {
	var t Tally
	if p != nil {
		for _, x := range p.Rooms {
			t = t.Plus(x.Tally())
		}
	}
	return t
}

// Said prints a tally: "4 kept, 1 broken".
func Said(t Tally) string {
	var parts []string
	add := func(n int, word string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, word))
		}
	}
	add(t.Kept, "kept")
	add(t.Broken, "broken")
	add(t.Undecided, "undecided")
	add(t.Empty, "empty")
	return strings.Join(parts, ", ")
}
