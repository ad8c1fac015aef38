package promises

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// Beat is one move of a story at its second.
type Beat struct {
	At    int64 // seconds from the beginning
	Label int
	State timed.State // after it
}

// Tale is a story in a form that serves every case of one key: it names nothing.
type Tale struct {
	second int // of the day at which it begins
	begin  []rules.Value
	beats  []taleBeat
}

type taleBeat struct {
	at     int64
	label  label
	late   string // how late a report comes to another controller, in words; "" where none does, or at once
	act    bool
	people int
	events []rules.Event
	after  []rules.Value // of the slice's things
}

// Tale takes a story out of the system that it was found in.
func (c Case) Tale(sys timed.System, begin timed.State, story []Beat) (Tale, error) {
	s, ok := sys.(*system)
	if !ok {
		return Tale{}, fmt.Errorf("%s: not a system of this package", c.Promise.ID)
	}
	var t Tale
	w := s.at(begin)
	if len(s.moments) > 0 {
		t.second = s.moments[s.stretch(w)]
	}
	t.begin = s.values(w)
	at, under := begin, post{}
	for _, b := range story {
		events, act, err := s.eventsOf(at, b)
		if err != nil {
			return t, err
		}
		t.beats = append(t.beats, taleBeat{b.At, s.labels[b.Label], s.late(&under, events, b.At), act, int(s.at(b.State).people), events, s.values(s.at(b.State))})
		at = b.State
	}
	return t, nil
}

// late says how late a report comes that reaches another controller with some events, and whether it comes ahead of one that was made before it.
func (s *system) late(under *post, events []rules.Event, now int64) string {
	late := ""
	for _, e := range events {
		switch e.Kind {
		case rules.PowerFails:
			*under = post{}
		case rules.Reported, rules.ReadingIs, rules.ButtonPress:
			if l, ahead, ok := under.take(e); ok {
				late = ""
				if now > l.at {
					late += fmt.Sprintf(" %s later", spanOf(int32(now-l.at)))
				}
				if ahead {
					late += ", ahead of one that was made before it"
				}
			}
			for _, in := range s.inbox {
				if sent := in.event; in.from == e.Thing {
					sent.Thing = e.Thing
					if sent == e {
						under.send(in.event.Thing, e, now, in.takes)
					}
				}
			}
		}
	}
	return late
}

// values of the things of the slice; lamps whose levels don't matter are on at no level.
func (s *system) values(w *world) []rules.Value {
	out := make([]rules.Value, len(s.sheet.Things))
	for i := range out {
		out[i] = s.value(w, i)
	}
	for _, l := range s.lamps {
		out[l.thing].Level = 0
	}
	return out
}

// TaleLine is one move of a tale in words.
type TaleLine struct {
	At   int64
	Text string
	Act  bool
}

// Second of the day at which the tale begins.
func (t Tale) Second() int { return t.second }

// Lines words a tale with the names of a case.
func (c Case) Lines(t Tale) []TaleLine {
	out := make([]TaleLine, len(t.beats))
	for i, b := range t.beats {
		out[i] = TaleLine{b.at, b.label.say(c.slice, c.prog.Waits()), b.act}
		out[i].Text += b.late
	}
	return out
}

// Replay plays a story second by second on the whole sheet, with nothing abstracted, and holds every value of
// the slice against the story's own after each beat. A story that can't be played so is no story.
func (c Case) Replay(t Tale, ix *Index) error {
	whole, relays, err := ix.whole(c.Promise.Fault)
	if err != nil {
		return err
	}
	_, err = c.replay(t, whole, relays, false)
	return err
}

// replay is Replay that keeps what each beat came to, if it is asked to.
func (c Case) replay(t Tale, whole *rules.Program, relays []relay, keep bool) (Played, error) {
	out := Played{Program: whole.On(c.Promise.World.Day), About: slices.Clone(c.facet.things), Slice: c.slice}
	out.Slice.Things = unheard(out.Slice.Things)
	pl := &player{c: c, whole: out.Program, moments: c.moments(), relays: relays}
	if keep {
		pl.seen = func(m Moment) { out.Moments = append(out.Moments, m) }
	}
	pl.begin(t)
	for i, b := range t.beats {
		if err := pl.until(b.at); err != nil {
			return Played{}, err
		}
		for _, e := range b.events {
			if err := pl.play(e); err != nil {
				return Played{}, err
			}
		}
		if err := pl.compare(b); err != nil {
			return Played{}, err
		}
		pl.people = b.people
		pl.note(i)
	}
	return out, nil
}

// eventsOf finds the events that a beat hands to the rules.
func (s *system) eventsOf(from timed.State, b Beat) ([]rules.Event, bool, error) {
	s.trail = map[trailKey][]rules.Event{}
	defer func() { s.trail = nil }()
	act := false
	for _, m := range s.Acts(from) {
		act = act || m.Act && m.Label == b.Label && m.To.Loc == b.State.Loc
	}
	for _, t := range from.Timers {
		s.Ended(from, t.ID)
	}
	events, ok := s.trail[trailKey{b.Label, b.State.Loc}]
	if !ok {
		return nil, false, fmt.Errorf("the move %q doesn't lead where the story says", s.Say(b.Label))
	}
	return events, act, nil
}

type trailKey struct {
	label int
	loc   string
}

// player is the plain second-by-second player.
type player struct {
	c       Case
	whole   *rules.Program
	moments []int
	state   rules.State
	now     int64

	relays []relay
	post   post

	people   int
	happened []rules.Happening // since the last note
	seen     func(Moment)      // nil when nobody looks on
}

// begin starts the whole sheet at a second of the day that the beginning of the story stands for.
func (p *player) begin(t Tale) {
	p.state = p.whole.Start(t.second)
	for i, thing := range p.c.slice.Things {
		if n, ok := p.whole.Thing(thing.ID); ok {
			p.state = p.whole.Put(p.state, n, t.begin[i])
		}
	}
	for _, r := range p.relays {
		if _, ours := p.c.prog.Thing(r.heard); !ours {
			p.state = p.whole.Put(p.state, number(p.whole, r.heard), p.whole.Value(p.state, number(p.whole, r.thing)))
		}
	}
	p.note(-1)
}

// until lets time pass, seeing on the way to what falls due outside the slice. What the slice has due before
// then would be missing from the story.
func (p *player) until(at int64) error {
	if p.post.overdue(at) {
		return fmt.Errorf("before second %d a report comes to another controller that the story leaves out", at)
	}
	for p.now < at {
		if err := p.others(); err != nil {
			return err
		}
		next, ok := p.whole.Next(p.state)
		step := at - p.now
		if ok {
			step = min(step, int64(max(next, 1)))
		}
		p.whole.Do(&p.state, rules.Event{Kind: rules.TimePasses, Seconds: int(step)}, nil)
		p.now += step
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
		id := p.whole.Waits()[e.Wait]
		_, ok := p.c.prog.Wait(id)
		return ok && !p.c.endless(id)
	case rules.ClockStrikes:
		return slices.Contains(p.moments, p.state.Clock())
	}
	return false
}

// play hands an event of the slice to the whole sheet, in the whole sheet's numbers.
func (p *player) play(e rules.Event) error {
	switch e.Kind {
	case rules.WaitEnds:
		name := p.c.prog.Waits()[e.Wait]
		n, ok := p.whole.Wait(name)
		if left, runs := p.whole.Left(p.state, n); !ok || !runs || left != 0 {
			return fmt.Errorf("at second %d the wait %s isn't over: %d s are left", p.now, name, left)
		}
		e.Wait = n
	case rules.StayEnds:
		found := false
		for _, due := range p.whole.Due(p.state, nil) {
			if due.Kind == rules.StayEnds {
				e, found = due, true
			}
		}
		if !found {
			return fmt.Errorf("at second %d nothing has stayed for long enough", p.now)
		}
	case rules.ClockStrikes, rules.PowerFails, rules.PowerReturns, rules.ClockMoves:
	default:
		id := p.c.slice.Things[e.Thing].ID
		n, ok := p.whole.Thing(id)
		if !ok {
			return fmt.Errorf("the sheet has no %s", id)
		}
		e.Thing = n
		if now := p.whole.Value(p.state, n); e.Kind == rules.HandSet && e.Value.On && now.On && e.Value.Level == now.Level && now.Level > 0 {
			e.Value.Level ^= 1 // a hand that leaves the level as it is would change nothing
		}
		if err := p.arrives(id, e); err != nil {
			return err
		}
	}
	p.do(e)
	p.relay(e)
	return nil
}

// arrives takes what a controller hears late out of what is under way; nothing else may be heard so.
func (p *player) arrives(id string, e rules.Event) error {
	if !strings.HasPrefix(id, hearsays) || !p.state.Powered() {
		return nil
	}
	if _, _, ok := p.post.take(e); !ok {
		return fmt.Errorf("at second %d the report to another controller isn't under way that the story has come", p.now)
	}
	return nil
}

// relay puts on its way what controllers hear late of an event. What the slice doesn't know comes at once.
func (p *player) relay(e rules.Event) {
	switch e.Kind {
	case rules.PowerFails:
		p.post = post{}
	case rules.Reported, rules.ReadingIs, rules.ButtonPress:
		id := p.whole.Sheet().Things[e.Thing].ID
		for _, r := range p.relays {
			if r.thing != id {
				continue
			}
			heard := number(p.whole, r.heard)
			if _, ours := p.c.prog.Thing(r.heard); !ours {
				e.Thing = heard
				p.do(e)
			} else if p.state.Powered() {
				p.post.send(heard, e, p.now, r.takes)
			}
		}
	}
}

// compare holds the slice's values against the whole sheet's. Lamps are compared by being on.
func (p *player) compare(b taleBeat) error {
	text := b.label.say(p.c.slice, p.c.prog.Waits())
	for i, t := range p.c.slice.Things {
		n, ok := p.whole.Thing(t.ID)
		if !ok {
			return fmt.Errorf("the sheet has no %s", t.ID)
		}
		if p.c.touch[t.ID] {
			continue
		}
		want, got := b.after[i], p.whole.Value(p.state, n)
		if t.Kind == rules.Lamp {
			want, got = rules.Value{On: want.On}, rules.Value{On: got.On}
		}
		if want != got {
			return fmt.Errorf("at second %d, after %q, %s is %+v when played and %+v in the story", p.now, text, t.ID, got, want)
		}
	}
	return nil
}

// Ends is the second at which the tale ends.
func (t Tale) Ends() int64 {
	if len(t.beats) == 0 {
		return 0
	}
	return t.beats[len(t.beats)-1].at
}
