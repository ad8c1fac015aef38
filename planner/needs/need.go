// Package needs says what a plan must buy, before anything is chosen: one need for each thing that the
// rules see or move, with the facts of the house that decide which parts can serve it.
package needs

import (
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
)

// Need is one thing that has to exist.
type Need struct {
	ID    string // the thing's path: shower-room/ceiling
	Room  string
	Goal  string
	Name  string              // to print: "ceiling light", "motion in the shower room"
	Why   string              // one plain sentence
	Wants []catalogue.Ability // what is asked first, then poorer stand-ins, each worse than the last
	Facts Facts
	Also  []string // further things of the rules that the same device is: the power meter of a plug
}

// Facts of the house that bear on a need; zero values do not apply.
type Facts struct {
	Box      string               // path of the switch box, "" when there is none or it is unknown
	Gangs    int                  // gangs of that box
	Neutral  model.Fact[bool]     // in the box
	Depth    model.Fact[q.Length] // of the box
	Lamps    int                  // on the circuit
	Base     string               // of the lamps
	Flux     q.Flux               // of one lamp
	Dimmable model.Fact[bool]
	Load     q.Power // switched, in all; for lamps of unknown power, from their light at 90 lm/W
	LoadKind catalogue.LoadKind
	Ingress  string   // least code: "IPX4"; "" is dry
	Zone     string   // of a wet room: "0", "1", "2"; "" is outside them, or nobody noted it
	Presses  []string // press, double, hold
	Pipe     model.Fact[q.Length]
	Fixed    bool   // appliance without a plug
	ComesOff bool   // has to be off when the mains come back: heat that nobody switched on
	Soon     q.Span // longest that a sensor may take to tell, or a valve to shut; 0 is any
	Blind    q.Span // longest that a motion sensor may say nothing after a report; 0 is any
}
