package rules

import (
	"errors"
	"fmt"
	"slices"

	q "example.org/roombrief/model/quantity"
)

// Bounds of what a State can hold.
const (
	MaxReading = 1<<16 - 1 // percent or watts
	MaxColour  = 1<<14 - 1 // kelvin
	MaxWait    = 1 << 28   // seconds, over eight years; longer waits end then
)

// Program is a sheet made ready to run: names are numbers, references are checked. It never changes, so many
// goroutines may step it at once. The numbers of things, waits and rules are their places in the sheet, waits
// in the order in which the rules first name them.
type Program struct {
	sheet   Sheet
	thingAt map[string]int
	waits   []string
	waitAt  map[string]int
	rules   []rule
	byThing [][]int32 // rules whose cause looks at the thing
	byWait  [][]int32 // rules of the wait's end
	power   []int32
	fedBy   []int32 // by thing: what its mains come through, -1 for nothing; nil where nothing feeds anything
	holds   []hold  // by wait
	held    []int32
	stays   []stay
	rises   []rise
	hours   []hour
	times   []q.DayTime
	day     Day

	// What the day decides.
	second []int32 // of times
	edges  []edge  // by second

	layout
}

// rule is a compiled rule.
type rule struct {
	kind                 CauseKind
	thing, than          int32 // -1 for none
	on, any, hand, plain bool
	threshold            int32
	press                Press
	time                 int32
	own                  int32 // of rises: its window
	guard                []literal
	effects              []effect
	again                Again
}

type literal struct {
	kind                LiteralKind
	not                 bool
	thing, than, wait   int32
	threshold, from, to int32 // from and to are places in Program.second
}

type effect struct {
	kind        EffectKind
	thing, wait int32
	value       int32 // packed
	seconds     int32
}

// hold of a wait: of all rules of its end together.
type hold struct {
	any     []literal
	seconds int32
}

// stay is a StaysUnder cause: its rules, and its clock in the state.
type stay struct {
	thing, threshold, seconds int32
	rules                     []int32
}

// rise is the window of one Rises cause; it takes threshold words of the state from at on.
type rise struct{ thing, threshold, seconds, at int32 }

// edge is a second of the day at which the clock causes something or a hold's window begins or ends.
type edge struct {
	second int32
	rules  []int32
}

// Problem is something that a sheet may not say.
type Problem struct {
	Rule string // "" for a thing
	Text string
}

func (p Problem) Error() string {
	if p.Rule == "" {
		return p.Text
	}
	return fmt.Sprintf("rule %s: %s", p.Rule, p.Text)
}

// Compile checks a sheet and makes it ready to run, on the Equinox. The error joins all Problems, not only the first.
func Compile(sheet Sheet) (*Program, error) {
	c := compiler{p: &Program{sheet: sheet, thingAt: map[string]int{}, waitAt: map[string]int{}}, started: map[string]bool{}}
	c.things()
	c.names()
	p := c.p
	p.byThing = make([][]int32, len(sheet.Things))
	p.byWait = make([][]int32, len(p.waits))
	p.holds = make([]hold, len(p.waits))
	for i := range sheet.Rules {
		c.rule(i)
	}
	if len(c.problems) > 0 {
		return nil, errors.Join(c.problems...)
	}
	for w := range p.holds {
		if len(p.holds[w].any) > 0 {
			p.held = append(p.held, int32(w))
		}
	}
	p.arrange()
	p.findHours()
	return p.On(Equinox), nil
}

// On is the same program on another day of sun.
func (p *Program) On(day Day) *Program {
	out := *p
	out.day = day
	out.second = make([]int32, len(p.times))
	for i, t := range p.times {
		out.second[i] = int32(day.Second(t))
	}
	at := map[int32][]int32{}
	for i := range out.rules {
		if r := &out.rules[i]; r.kind == Clock {
			at[out.second[r.time]] = append(at[out.second[r.time]], int32(i))
		}
	}
	for _, w := range out.held {
		for _, l := range out.holds[w].any {
			if l.kind == Between {
				for _, t := range []int32{l.from, l.to} {
					at[out.second[t]] = append(at[out.second[t]], nil...)
				}
			}
		}
	}
	out.edges = nil
	for s, rs := range at {
		out.edges = append(out.edges, edge{s, rs})
	}
	slices.SortFunc(out.edges, func(a, b edge) int { return int(a.second - b.second) })
	return &out
}

// Sheet is what was compiled. It must not be changed.
func (p *Program) Sheet() Sheet { return p.sheet }

// Day is the day of sun that the program runs on.
func (p *Program) Day() Day { return p.day }

// Thing is the number of a thing, and whether there is one.
func (p *Program) Thing(id string) (int, bool) { i, ok := p.thingAt[id]; return i, ok }

// Wait is the number of a wait, and whether there is one.
func (p *Program) Wait(id string) (int, bool) { i, ok := p.waitAt[id]; return i, ok }

// Waits are the names of the waits, by number.
func (p *Program) Waits() []string { return p.waits }
