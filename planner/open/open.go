// Package open puts a price on what nobody knows yet: for each unknown fact and each parked question it plans the home under
// every possible answer, and says what the bill and the promises become.
//
//	list.go      what is open, in words
//	facts.go     facts of a project by path: reading them, and making a project in which one is otherwise
//	answers.go   the possible answers to a fact: from its type, and from where parts of the shelf begin to fit
//	asked.go     the same for a parked question of the interview
//	weigh.go     planning each answer, step by step
//	together.go  points that only matter together, or that come to more together than one by one
//	promises.go  which promises an answer breaks or mends
//	words.go     all of it in sentences; text.go: as a list; flips.go: by line of the bill
package open

import (
	"cmp"
	"slices"

	"example.org/roombrief/planner/bill"
)

// Point is a parked question or an unknown fact.
type Point struct {
	At     string // path in the project, without rooms/ before a room
	Room   string // "" is the home
	Text   string // what is open, and who will know: "is there a neutral in box 1, ask electrician"
	Asks   string // the same without who will know
	Ask    string // who will know, by name; "" when nobody is named
	Words  string // what was said about it
	Parked bool   // it is on the project's list of parked questions
	Fact   bool   // it is a fact of the house, not a wish
}

// Priced is a point with what hangs on it.
type Priced struct {
	Point
	Planned  string     // what the plan takes it for: "no neutral"; "" where it says nothing of it
	Answers  []Answer   // every possible one; those that come to the same are one
	Together []Together // with other points
	Stake    Stake
	Proved   bool   // its promises have been looked at
	Why      string // why its answers can't be planned, or not all of them; "" when they could
}

// Matters reports whether anything hangs on the answer.
func (p Priced) Matters() bool {
	return p.Stake.any() || slices.ContainsFunc(p.Answers, func(a Answer) bool { return len(a.Parts)+len(a.Starts) > 0 }) || len(p.Together) > 0
}

// Answer is what the plan becomes with one possible answer, or with several that come to the same.
type Answer struct {
	Words  string     // "a neutral", "38 mm or more"
	More   bill.Money // than the plan as it is, with tax; less than 0 is a saving
	Gains  []string   // things that are served better: names of needs
	Loses  []string   // things that are served worse, or not at all
	Airs   []string   // rooms whose air is dry in the time that was asked, and isn't as planned
	Damp   []string   // rooms whose air isn't, and is as planned
	Clear  []string   // rooms whose coldest surface stays free of mould, and doesn't as planned
	Mould  []string   // rooms where it doesn't, and does as planned
	Starts []string   // fans that start at another humidity than planned, and at which: "the fan of the bathroom at 58 %"
	Parts  []Part     // that come and go
	Lines  []LineMore // of the bill that do
	Breaks []string   // promises that are kept as planned and not with this: sentences
	Mends  []string   // promises that are broken as planned and kept with this
	Drops  []string   // promises that are no longer made
	Makes  []string   // promises that are made anew and kept
	net    bill.Money // More before tax: it adds up to the penny
	better []string   // needs
	worse  []string
	plan   *planned
}

// AsPlanned reports whether the answer changes nothing.
func (a Answer) AsPlanned() bool {
	return a.More == 0 && len(a.Gains)+len(a.Loses)+len(a.Airs)+len(a.Damp)+len(a.Clear)+len(a.Mould)+len(a.Starts)+len(a.Parts)+len(a.Breaks)+len(a.Mends)+len(a.Drops)+len(a.Makes) == 0
}

// Part comes or goes with an answer.
type Part struct {
	ID, Name string
	More     int // less than 0 are left out
}

// Together is two points that come to something else together than one by one.
type Together struct {
	With   [2]string  // paths of the points
	Only   bool       // neither matters by itself
	Most   Answer     // the two answers together that differ most from what they come to one by one
	Sum    bill.Money // what these two come to one by one, added up, with tax
	Proved bool
}

// Stake is how far the answers lie apart, and the plan with them.
type Stake struct {
	Promises int        // that some answer breaks or mends
	Things   int        // that some answer has served better or worse
	Money    bill.Money // between the cheapest and the dearest, with tax
}

func (s Stake) any() bool { return s != Stake{} }

// compare puts what is at stake most first: promises, then things that are served, then money.
func (s Stake) compare(o Stake) int {
	return cmp.Or(cmp.Compare(o.Promises, s.Promises), cmp.Compare(o.Things, s.Things), cmp.Compare(o.Money, s.Money))
}

func (s Stake) or(o Stake) Stake {
	return Stake{max(s.Promises, o.Promises), max(s.Things, o.Things), max(s.Money, o.Money)}
}

// Look is a place to look at, with the points that it settles.
type Look struct {
	At     string // path of the thing, or of the question
	Room   string // "" is the home
	Words  string // what to do: "look in the switch box by the door"
	Points []Priced
	Stake  Stake
}

// Points is what is open in a home. It is never changed once it has been handed out.
type Points struct {
	Currency string
	Total    bill.Money // of the plan as it is, with tax
	Looks    []Look     // where something is at stake, most first
	Idle     []Priced   // points on which nothing hangs
	Left     []Point    // that are still to be priced
	Tried    Tried
	Done     bool // all that there is to do
	Proved   bool // the promises are looked at too
}

// Tried says what was looked at, so that nothing is claimed beyond it.
type Tried struct {
	Plans int // homes planned
	Pairs int // pairs of points planned together
	Skip  int // pairs that were left out, because there are too many

	Routes bool // answers keep to the routes for radio of the plan as it is
}

// Of is what is known of a point by its path, and whether anything is.
func (p *Points) Of(at string) (Priced, bool) {
	if p == nil {
		return Priced{}, false
	}
	for _, l := range p.Looks {
		for _, x := range l.Points {
			if x.At == at {
				return x, true
			}
		}
	}
	for _, x := range p.Idle {
		if x.At == at {
			return x, true
		}
	}
	return Priced{}, false
}
