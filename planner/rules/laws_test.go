package rules

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

var waitNames = []string{"w0", "w1", "w2"}

func anyLiteral(t *rapid.T) Literal {
	l := Literal{Not: rapid.Bool().Draw(t, "not"), Kind: LiteralKind(rapid.IntRange(0, 3).Draw(t, "literal"))}
	switch l.Kind {
	case Is:
		l.Thing = rapid.SampledFrom([]string{"r/lamp", "r/fan", "r/motion", "r/flag", "r/other"}).Draw(t, "thing")
	case ReadsOver:
		l.Thing, l.Threshold = "r/air", rapid.IntRange(0, 9).Draw(t, "threshold")
		if rapid.Bool().Draw(t, "relative") {
			l.Than = "r/hall"
		}
	case Between:
		l.From, l.To = at(0, 0, rapid.IntRange(0, 59).Draw(t, "from")), at(0, 0, rapid.IntRange(0, 59).Draw(t, "to"))
	case Running:
		l.Wait = rapid.SampledFrom(waitNames).Draw(t, "wait")
	}
	return l
}

func anyEffect(t *rapid.T) Effect {
	switch rapid.IntRange(0, 3).Draw(t, "effect") {
	case 0:
		return begin(rapid.SampledFrom(waitNames).Draw(t, "wait"), rapid.IntRange(1, 30).Draw(t, "seconds"))
	case 1:
		return Effect{Kind: Stop, Wait: rapid.SampledFrom(waitNames).Draw(t, "wait")}
	case 2:
		return Effect{Kind: Tell, Text: "x"}
	}
	return set(rapid.SampledFrom([]string{"r/lamp", "r/fan", "r/flag", "r/other"}).Draw(t, "thing"), rapid.Bool().Draw(t, "on"))
}

func anyCause(t *rapid.T) Cause {
	c := Cause{Kind: CauseKind(rapid.IntRange(0, int(PowerBack)).Draw(t, "cause")), On: rapid.Bool().Draw(t, "on"),
		Threshold: rapid.IntRange(1, 6).Draw(t, "threshold"), For: secs(rapid.IntRange(1, 20).Draw(t, "for"))}
	switch c.Kind {
	case Reports:
		c.Thing = "r/motion"
	case Over, Under, Rises, StaysUnder:
		c.Thing = "r/air"
		if c.Kind < Rises && rapid.Bool().Draw(t, "relative") {
			c.Than = "r/hall"
		}
	case Pressed:
		c.Thing, c.Press = "r/button", Press(rapid.IntRange(0, 2).Draw(t, "press"))
	case Became:
		c.Thing = rapid.SampledFrom([]string{"r/lamp", "r/fan", "r/motion", "r/flag", "r/other", "r/air"}).Draw(t, "thing")
		c.Any, c.ByHand = rapid.Bool().Draw(t, "any"), rapid.Bool().Draw(t, "hand")
	case Clock:
		c.At = at(0, 0, rapid.IntRange(0, 59).Draw(t, "at"))
	case Ended:
		c.Wait = rapid.SampledFrom(waitNames).Draw(t, "wait")
	}
	return c
}

// anyProgram starts every wait somewhere, so that any rule may look at it.
func anyProgram(t *rapid.T) *Program {
	rs := []Rule{{ID: "start", Cause: press, Effects: []Effect{begin("w0", 7), begin("w1", 11), begin("w2", 13)}, Again: Keep}}
	for i := range rapid.IntRange(1, 12).Draw(t, "rules") {
		r := Rule{ID: fmt.Sprint(i), Cause: anyCause(t), Again: Again(rapid.IntRange(0, 3).Draw(t, "again"))}
		for range rapid.IntRange(0, 2).Draw(t, "guards") {
			r.Guard = append(r.Guard, anyLiteral(t))
		}
		for range rapid.IntRange(1, 3).Draw(t, "effects") {
			r.Effects = append(r.Effects, anyEffect(t))
		}
		if r.Cause.Kind == Ended && rapid.Bool().Draw(t, "held") {
			if l := anyLiteral(t); l.Kind != Running || l.Wait != r.Cause.Wait {
				r.Hold, r.HoldFor = []Literal{l}, secs(rapid.IntRange(0, 20).Draw(t, "hold for"))
			}
		}
		rs = append(rs, r)
	}
	sheet := Sheet{Things: slices.Clone(things), Rules: rs}
	sheet.Things[lamp].PowerUp = PowerUp(rapid.IntRange(0, 2).Draw(t, "power up"))
	p, err := Compile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// anyEvent may be nonsense: numbers of things that don't exist, waits that aren't due.
func anyEvent(t *rapid.T) Event {
	e := Event{Kind: EventKind(rapid.IntRange(0, int(StayEnds)+1).Draw(t, "event")), Thing: rapid.IntRange(-1, len(things)).Draw(t, "thing"),
		Wait: rapid.IntRange(-1, 3).Draw(t, "wait"), Press: Press(rapid.IntRange(0, 2).Draw(t, "press")),
		Value: Value{On: rapid.Bool().Draw(t, "on"), Level: rapid.IntRange(-1, 12).Draw(t, "level")}, Seconds: rapid.IntRange(-70, 70).Draw(t, "seconds")}
	switch e.Kind { // mostly sense
	case Reported:
		e.Thing = motion
	case ReadingIs:
		e.Thing = rapid.SampledFrom([]int{air, hall}).Draw(t, "reading")
	case ButtonPress:
		e.Thing = button
	case PowerFails: // rare, or nothing ever happens
		if e.Seconds > 0 {
			e.Kind = TimePasses
		}
	}
	return e
}

func TestStepIsDeterministicAndTotalAndLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProgram(t)
		s := p.Start(rapid.IntRange(0, DaySeconds).Draw(t, "clock"))
		for range rapid.IntRange(1, 60).Draw(t, "events") {
			e := anyEvent(t)
			before := s.Key()
			next, hs := p.Step(s, e)
			again, hs2 := p.Step(s, e)
			if s.Key() != before {
				t.Fatal("the step changed its own beginning")
			}
			if !next.Equal(again) || next.Key() != again.Key() || !slices.Equal(hs, hs2) {
				t.Fatal("two steps from one state differ")
			}
			if len(hs) == 0 || hs[0].Kind != Came {
				t.Fatal("the record doesn't begin with the event")
			}
			heard(t, p, s, e, hs)
			heldRight(t, p, next)
			s = next
		}
	})
}

// heard checks that every rule which an outer event causes acted or declined.
func heard(t *rapid.T, p *Program, s State, e Event, hs []Happening) {
	if !s.Powered() || e.Kind != Reported || e.Thing != motion {
		return
	}
	for i, r := range p.sheet.Rules {
		if r.Cause.Kind == Reports && r.Cause.On == e.Value.On &&
			!slices.ContainsFunc(hs, func(h Happening) bool { return h.Rule == i && (h.Kind == Acted || h.Kind == Declined) }) {
			t.Fatalf("rule %s never heard of the report", r.ID)
		}
	}
}

// heldRight checks that a running wait is held exactly while one of its holds stands.
func heldRight(t *rapid.T, p *Program, s State) {
	x := run{p: p, w: s.words}
	for _, w := range p.held {
		if left, ok := p.Left(s, int(w)); ok && s.words[bitsWord]&strikeBit == 0 && (left == -1) != x.any(p.holds[w].any) {
			t.Fatalf("wait %d has %d left, its hold is %v", w, left, x.any(p.holds[w].any))
		}
	}
}

// Waits that are started again: Longer never shortens, Keep changes nothing, Stack only adds.
func TestAgainLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProgram(t)
		s := p.Start(0)
		for range rapid.IntRange(1, 80).Draw(t, "events") {
			e := anyEvent(t)
			next, hs := p.Step(s, e)
			left := map[int]int{}
			for w := range p.waits {
				if n, ok := p.Left(s, w); ok {
					left[w] = max(n, 0)
				}
			}
			if e.Kind == TimePasses {
				s = next
				continue
			}
			for _, h := range hs {
				switch h.Kind {
				case WaitStopped, WaitEnded:
					delete(left, h.Wait)
				case WaitReleased, WaitHeld:
					left[h.Wait] = h.Seconds
				case WaitStarted:
					was, ran := left[h.Wait]
					switch again := p.rules[h.Rule].again; {
					case ran && again == Keep, ran && (again == Longer || again == Stack) && h.Seconds < was:
						t.Fatalf("again %d took a wait from %d to %d", again, was, h.Seconds)
					}
					left[h.Wait] = h.Seconds
				}
			}
			s = next
		}
	})
}

// Time goes forward by what was asked, second by second or at a leap, and nothing due is passed over.
func TestTimeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProgram(t)
		s := p.Start(rapid.IntRange(0, DaySeconds-1).Draw(t, "clock"))
		for range rapid.IntRange(1, 25).Draw(t, "events") {
			s, _ = p.Step(s, anyEvent(t))
			for due := p.Due(s, nil); len(due) > 0; due = p.Due(s, nil) {
				if held, _ := p.Step(s, Event{Kind: TimePasses, Seconds: 5}); held.Clock() != s.Clock() {
					t.Fatal("time passed while something was due")
				}
				s, _ = p.Step(s, due[0])
			}
			n := rapid.IntRange(0, 90).Draw(t, "seconds")
			leap, hs := p.Advance(s, n)
			total := 0
			for _, h := range hs {
				if h.Kind == Came {
					if h.Seconds < 0 {
						t.Fatal("time went backwards")
					}
					total += h.Seconds
				}
			}
			if total != n || leap.Clock() != (s.Clock()+n)%DaySeconds {
				t.Fatalf("%d s became %d, clock %d to %d", n, total, s.Clock(), leap.Clock())
			}
			slow := s
			for range n {
				slow, _ = p.Advance(slow, 1)
			}
			if !slow.Equal(leap) {
				t.Fatal("second by second ends elsewhere than at a leap")
			}
			s = leap
		}
	})
}

// The window of a Rises cause against the definition, worked out from all readings.
func TestRisesAgainstItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		threshold, span := rapid.IntRange(1, 8).Draw(t, "threshold"), rapid.IntRange(1, 12).Draw(t, "span")
		p, err := Compile(Sheet{Things: things, Rules: []Rule{{ID: "a", Cause: Cause{Kind: Rises, Thing: "r/air", Threshold: threshold, For: secs(span)},
			Effects: []Effect{{Kind: Tell}}}}})
		if err != nil {
			t.Fatal(err)
		}
		s, now := p.Start(0), 0
		type stretch struct{ level, from, to int } // a reading stood from one second to another
		past := []stretch{{0, 0, 0}}
		for range rapid.IntRange(1, 40).Draw(t, "readings") {
			n := rapid.IntRange(0, 6).Draw(t, "seconds")
			s, _ = p.Advance(s, n)
			now += n
			past[len(past)-1].to = now
			l := rapid.IntRange(0, 20).Draw(t, "level")
			want := false
			for _, o := range past {
				want = want || l > past[len(past)-1].level && l-o.level >= threshold && now-o.to <= span
			}
			past = append(past, stretch{l, now, now})
			if want {
				past = past[len(past)-1:]
			}
			var acted string
			s, acted = play(p, s, reads(air, l))
			if (acted != "") != want {
				t.Fatalf("at %d s, reading %d: acted %q, want %v; %v", now, l, acted, want, past)
			}
		}
	})
}

func benchProgram(b *testing.B) *Program {
	rs := []Rule{
		{Cause: seen, Effects: []Effect{begin("w", 360)}},
		{Cause: seen, Guard: []Literal{{Kind: Between, From: at(6, 0, 0), To: at(22, 0, 0)}, {Kind: Is, Thing: "r/flag", Not: true}}, Effects: []Effect{set("r/lamp", true)}},
		{Cause: Cause{Kind: Became, Thing: "r/lamp", Any: true, ByHand: true}, Effects: []Effect{set("r/flag", true)}},
		{Cause: Cause{Kind: Ended, Wait: "w"}, Effects: []Effect{set("r/lamp", false), set("r/flag", false)}, Hold: []Literal{{Kind: Is, Thing: "r/motion"}}, HoldFor: secs(360)},
		{Cause: Cause{Kind: Over, Thing: "r/air", Threshold: 65}, Effects: []Effect{set("r/fan", true)}},
	}
	return compiled(b, rs...)
}

func BenchmarkStep(b *testing.B) {
	p := benchProgram(b)
	s := p.Start(8 * 3600)
	events := []Event{seenNow(), {Kind: Reported, Thing: motion}, reads(air, 70), reads(air, 40), {Kind: HandSet, Thing: lamp, Value: Value{On: true, Level: 10}}}
	b.Run("copying", func(b *testing.B) {
		b.ReportAllocs()
		for i := range b.N {
			p.Step(s, events[i%len(events)])
		}
	})
	b.Run("in place", func(b *testing.B) {
		b.ReportAllocs()
		room, s := make([]Happening, 0, 64), s.Clone()
		for i := range b.N {
			room = p.Do(&s, events[i%len(events)], room[:0])
		}
	})
}

func BenchmarkAdvanceADay(b *testing.B) {
	p := benchProgram(b)
	s := p.Start(8 * 3600)
	room := make([]Happening, 0, 64)
	b.ReportAllocs()
	for b.Loop() {
		room = p.Do(&s, seenNow(), room[:0])
		room = p.Do(&s, Event{Kind: Reported, Thing: motion}, room[:0])
		room = p.DoAdvance(&s, DaySeconds, room[:0])
	}
}
