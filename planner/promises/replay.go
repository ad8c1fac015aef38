package promises

import (
	"fmt"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// Beat is one move of a story at its second.
type Beat struct {
	At    int64 // seconds from the beginning
	Label int
	State timed.State // after it
}

// Replay plays a story second by second on the whole sheet, with nothing abstracted, and holds every value of
// the slice against the story's own after each beat. A story that can't be played so is no story.
func (p Promise) Replay(sys timed.System, begin timed.State, story []Beat, sheet rules.Sheet) error {
	s, ok := sys.(*system)
	if !ok {
		return fmt.Errorf("%s: not a system of this package", p.ID)
	}
	whole, err := rules.Compile(sheet)
	if err != nil {
		return err
	}
	whole = whole.On(p.World.Day)
	pl := &player{s: s, whole: whole}
	return pl.replay(begin, s.told(story))
}

// told is a story with its moves by name.
func (s *system) told(story []Beat) []Line {
	out := make([]Line, len(story))
	for i, b := range story {
		out[i] = Line{b.At, s.Say(b.Label), b.State}
	}
	return out
}

func (p *player) replay(begin timed.State, story []Line) error {
	p.begin(begin)
	at := begin
	for i, l := range story {
		events, err := p.s.eventsOf(at, l)
		if err != nil {
			return err
		}
		if err := p.until(l.At); err != nil {
			return err
		}
		for _, e := range events {
			if err := p.play(e); err != nil {
				return err
			}
		}
		if err := p.compare(l); err != nil {
			return err
		}
		at = l.State
		p.people = int(p.s.at(at).people)
		p.note(i)
	}
	return nil
}

// eventsOf finds the events that a line of a story hands to the rules.
func (s *system) eventsOf(from timed.State, l Line) ([]rules.Event, error) {
	s.trail = map[string][]rules.Event{}
	defer func() { s.trail = nil }()
	s.Acts(from)
	for _, t := range from.Timers {
		s.Ended(from, t.ID)
	}
	label, known := s.number[l.Text]
	events, ok := s.trail[trailKey(label, l.State.Loc)]
	if !ok || !known {
		return nil, fmt.Errorf("the move %q doesn't lead where the story says", l.Text)
	}
	return events, nil
}

func trailKey(label int, loc string) string { return fmt.Sprint(label, " ", loc) }

// player is the plain second-by-second player.
type player struct {
	s     *system
	whole *rules.Program
	state rules.State
	now   int64

	people   int
	happened []rules.Happening // since the last note
	seen     func(Moment)      // nil when nobody looks on
}

// begin starts the whole sheet at a second of the day that the beginning of the story stands for.
func (p *player) begin(st timed.State) {
	w := p.s.at(st)
	second := 0
	if len(p.s.moments) > 0 {
		second = p.s.moments[p.s.stretch(w)]
	}
	p.state = p.whole.Start(second)
	for i, t := range p.s.prog.Sheet().Things {
		if n, ok := p.whole.Thing(t.ID); ok {
			p.state = p.whole.Put(p.state, n, p.s.value(w, i))
		}
	}
	p.people = int(w.people)
	p.note(-1)
}

// until lets time pass, seeing on the way to what falls due outside the slice. What the slice has due before
// then would be missing from the story.
func (p *player) until(at int64) error {
	for p.now < at {
		if err := p.others(); err != nil {
			return err
		}
		p.whole.Do(&p.state, rules.Event{Kind: rules.TimePasses, Seconds: 1}, nil)
		p.now++
	}
	return nil
}

// others sees to everything due that the slice doesn't know.
func (p *player) others() error {
	for {
		due := p.whole.Due(p.state, nil)
		done := false
		for _, e := range due {
			if p.inSlice(e) {
				if e.Kind == rules.ClockStrikes {
					continue
				}
				return fmt.Errorf("at second %d a wait of the slice is due that the story leaves out", p.now)
			}
			p.do(e)
			p.note(-1)
			done = true
			break
		}
		if !done {
			if len(due) > 0 {
				return fmt.Errorf("at second %d the clock strikes, which the story leaves out", p.now)
			}
			return nil
		}
	}
}

func (p *player) inSlice(e rules.Event) bool {
	switch e.Kind {
	case rules.WaitEnds:
		_, ok := p.s.prog.Wait(p.whole.Waits()[e.Wait])
		return ok
	case rules.ClockStrikes:
		for _, m := range p.s.moments {
			if m == p.state.Clock() {
				return true
			}
		}
	}
	return false
}

// play hands an event of the slice to the whole sheet.
func (p *player) play(e rules.Event) error {
	switch e.Kind {
	case rules.WaitEnds:
		n, ok := p.whole.Wait(p.s.prog.Waits()[e.Wait])
		if left, runs := p.whole.Left(p.state, n); !ok || !runs || left != 0 {
			return fmt.Errorf("at second %d the wait %s isn't over: %d s are left", p.now, p.s.prog.Waits()[e.Wait], left)
		}
		e.Wait = n
	case rules.StayEnds:
		for _, due := range p.whole.Due(p.state, nil) {
			if due.Kind == rules.StayEnds {
				e = due
			}
		}
	case rules.ClockStrikes:
	default:
		n, ok := p.whole.Thing(p.s.prog.Sheet().Things[e.Thing].ID)
		if !ok {
			return fmt.Errorf("the sheet has no %s", p.s.prog.Sheet().Things[e.Thing].ID)
		}
		e.Thing = n
	}
	p.do(e)
	return nil
}

// compare holds the slice's values against the whole sheet's. Lamps whose levels don't matter are compared by
// being on.
func (p *player) compare(l Line) error {
	w := p.s.at(l.State)
	for i, t := range p.s.prog.Sheet().Things {
		n, ok := p.whole.Thing(t.ID)
		if !ok {
			return fmt.Errorf("the sheet has no %s", t.ID)
		}
		want, got := p.s.value(w, i), p.whole.Value(p.state, n)
		if p.s.isDull(i) {
			want, got = rules.Value{On: want.On}, rules.Value{On: got.On}
		}
		if want != got {
			return fmt.Errorf("at second %d, after %q, %s is %+v when played and %+v in the story", p.now, l.Text, t.ID, got, want)
		}
	}
	return nil
}

func (s *system) isDull(thing int) bool {
	for _, d := range s.dull {
		if d.lamp == thing {
			return true
		}
	}
	return false
}
