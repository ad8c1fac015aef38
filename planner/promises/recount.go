package promises

import (
	"fmt"
	"slices"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// Line is one move of a story by its name.
type Line struct {
	At    int64 // seconds from the beginning
	Text  string
	State timed.State // after it
}

// Moment is what one line of a story came to on the whole sheet.
type Moment struct {
	At       int64 // seconds from the beginning
	Line     int   // of the story; -1 for what the rest of the house does meanwhile, and for the beginning
	People   int   // in the room, after it
	Happened []rules.Happening
	State    rules.State // after it
}

// Played is a story played on a whole sheet, second by second.
type Played struct {
	Program *rules.Program // of the whole sheet; the numbers in Moments are its numbers
	Moments []Moment       // the first is the beginning, before anything happens
	About   []string       // the things that the promise is about
	Slice   rules.Sheet    // what bears on them
}

// Recount plays a story that breaks the promise once more, and keeps what each line of it came to.
func (p Promise) Recount(sheet rules.Sheet, story []Line) (Played, error) {
	p.World.ByClock = true
	timedSystem, err := p.System(sheet)
	if err != nil {
		return Played{}, err
	}
	s, ok := timedSystem.(*system)
	if !ok {
		return Played{}, fmt.Errorf("%s: not a system of this package", p.ID)
	}
	whole, err := rules.Compile(sheet)
	if err != nil {
		return Played{}, err
	}
	whole = whole.On(p.World.Day)
	why := fmt.Errorf("%s: the story begins nowhere", p.ID)
	for _, begin := range s.Begin() {
		out := Played{Program: whole, About: slices.Clone(p.about), Slice: s.prog.Sheet()}
		pl := &player{s: s, whole: whole, seen: func(m Moment) { out.Moments = append(out.Moments, m) }}
		if why = pl.replay(begin, story); why == nil {
			return out, nil
		}
	}
	return Played{}, why
}

// do hands an event to the whole sheet.
func (p *player) do(e rules.Event) {
	if p.seen == nil {
		p.whole.Do(&p.state, e, nil)
		return
	}
	p.happened = p.whole.Do(&p.state, e, p.happened)
}

// note shows whoever looks on what has happened since the last time.
func (p *player) note(line int) {
	if p.seen == nil {
		return
	}
	p.seen(Moment{At: p.now, Line: line, People: p.people, Happened: p.happened, State: p.state.Clone()})
	p.happened = nil
}
