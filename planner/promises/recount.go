package promises

import (
	"fmt"

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

// breach is how a promise breaks.
type breach struct {
	c Case
	t Tale
}

// Broken is the promise with the story that breaks it, for Recount.
func (c Case) Broken(t Tale) Promise {
	p := c.Promise
	p.breach = &breach{c, t}
	return p
}

// Recount plays the story that breaks the promise once more, and keeps what each line of it came to.
func (p Promise) Recount(sheet rules.Sheet, story []Line) (Played, error) {
	if p.breach == nil || len(p.breach.t.beats) != len(story) {
		return Played{}, fmt.Errorf("%s: no such story was found", p.ID)
	}
	for i, l := range p.breach.c.Lines(p.breach.t) {
		if l.At != story[i].At || l.Text != story[i].Text {
			return Played{}, fmt.Errorf("%s: line %d is not of the story that was found", p.ID, i+1)
		}
	}
	whole, relays, err := NewIndex(sheet).whole(p.Fault)
	if err != nil {
		return Played{}, err
	}
	return p.breach.c.replay(p.breach.t, whole, relays, true)
}

// do hands an event to the whole sheet.
func (p *player) do(e rules.Event) { p.happened = p.whole.Do(&p.state, e, p.happened) }

// note shows whoever looks on what has happened since the last time.
func (p *player) note(line int) {
	if p.seen == nil {
		p.happened = p.happened[:0]
		return
	}
	p.seen(Moment{At: p.now, Line: line, People: p.people, Happened: p.happened, State: p.state.Clone()})
	p.happened = nil
}
