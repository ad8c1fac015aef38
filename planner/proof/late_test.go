package proof

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"

	"pgregory.net/rapid"
)

// drawApart is a random table of rules of one controller, the cellar, of whose motion sensor, button and probe some are joined to another,
// the attic, from which it hears within a second or two.
func drawApart(r *rapid.T) rules.Sheet {
	s := drawSheet(r)
	s.Links = map[string]time.Duration{"cellar": time.Duration(rapid.IntRange(1, 2).Draw(r, "link")) * time.Second, "attic": time.Second}
	for i := range s.Rules {
		s.Rules[i].Controller = "cellar"
	}
	for i := range s.Things {
		switch s.Things[i].Kind {
		case rules.Motion, rules.ButtonOf, rules.Probe:
			s.Things[i].At = rapid.SampledFrom([]string{"attic", "attic", "cellar"}).Draw(r, "at")
		case rules.Lamp:
			s.Things[i].At = "cellar"
		}
	}
	return s
}

// TestTheTwoEnginesAgreeWhereReportsComeLate is as the test of random tables, with reports under way.
func TestTheTwoEnginesAgreeWhereReportsComeLate(t *testing.T) {
	ctx := context.Background()
	kinds, unplayed, late, walked := map[OutcomeKind]int{}, 0, 0, 0
	w := promises.World{People: 1, Blind: 2, StillFor: 5, Hands: true}
	checks := 200
	if testing.Short() {
		checks = 100
	}
	check := func(r *rapid.T) {
		sheet := drawApart(r)
		if _, err := rules.Compile(sheet); err != nil {
			return
		}
		c, err := promises.Whole(sheet, "a", "a/lamp", 50, w)
		if err != nil {
			r.Fatal(err)
		}
		other := c.System(true)
		b := Ticks(ctx, other, 1, 20_000, other.Broken)
		if b.Kind == Capped {
			kinds[b.Kind]++
			return
		}
		l := &ladder{c: c, e: Usual}
		a := search(ctx, l.realDay(w.StillFor, true), Usual, broken)
		if a.Kind == Capped {
			return
		}
		kinds[a.Kind]++
		if a.Kind != b.Kind || a.Acts != b.Acts || end(a) != end(b) {
			r.Fatalf("zones: %v with %d acts at %d, ticks: %v with %d acts at %d\n%+v", a.Kind, a.Acts, end(a), b.Kind, b.Acts, end(b), sheet)
		}
		if d := decide(ctx, c, Usual); a.Kind == Found && (d.state == Kept || d.state == Empty) || a.Kind == Nowhere && d.state == Breaks {
			r.Fatalf("the ladder says %s, and both engines %v\n%+v", d.state, a.Kind, sheet)
		}
		if a.Kind == Nowhere {
			if how := wanderApart(sheet, w, 600); how != "" {
				r.Fatalf("it is kept, and yet %s\n%+v", how, sheet)
			}
			return
		}
		if wanderApart(sheet, w, 600) != "" {
			walked++
		}
		out := l.told(answer{}, a, l.real.sys)
		if out.state != Breaks {
			r.Fatalf("%s\n%+v", out.why, sheet)
		}
		for _, line := range c.Lines(out.tale) {
			if strings.Contains(line.Text, "reaches the other controller") {
				late++
				break
			}
		}
		if err := c.Replay(out.tale, promises.NewIndex(sheet)); err != nil {
			if !strings.Contains(err.Error(), "controller") {
				r.Fatalf("%v\n%v\n%+v", err, c.Lines(out.tale), sheet)
			}
			unplayed++ // of many reports under way it isn't known how many there are
		}
	}
	for n := 0; n < checks; n += 100 {
		rapid.Check(t, check)
	}
	if kinds[Found] == 0 || kinds[Nowhere] == 0 || late == 0 || walked == 0 {
		t.Fatalf("the random tables are all of one kind: %v, %d with a report under way, %d broken by a walk", kinds, late, walked)
	}
	if 20*unplayed > kinds[Found] {
		t.Errorf("of %d stories %d don't play", kinds[Found], unplayed)
	}
	t.Log(kinds, late, walked, unplayed)
}

// wanderApart plays a sheet of drawApart at random, with a queue of reports and no proof's system, second by second. It says how the
// lamp came to be over 50 % unasked, "" when it never did.
func wanderApart(sheet rules.Sheet, w promises.World, steps int) string {
	p, err := rules.Compile(sheet)
	if err != nil {
		return ""
	}
	type coming struct {
		e  rules.Event
		at int
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	state, now, blind, people, moved := p.Start(0), 0, -1, 0, 0
	var way []coming
	asked, said := false, ""
	do := func(e rules.Event) {
		var hs []rules.Happening
		state, hs = p.Step(state, e)
		for _, h := range hs {
			if h.Kind == rules.Changed && h.Thing == 0 {
				asked = e.Kind == rules.ButtonPress || e.Kind == rules.HandSet
			}
		}
		if v := p.Value(state, 0); v.On && v.Level > 50 && !asked {
			said = "the lamp is over its level"
		}
	}
	links := int(sheet.Links["cellar"] / time.Second)
	report := func(e rules.Event) {
		if sheet.Things[e.Thing].At == "attic" {
			way = append(way, coming{e, now + rnd.IntN(links+1)})
			return
		}
		do(e)
	}
	stands := map[int]bool{}
	tell := func(thing int, on bool) {
		stands[thing] = on
		report(rules.Event{Kind: rules.Reported, Thing: thing, Value: rules.Value{On: on}})
	}
	move := func() {
		moved = now
		if blind < 0 {
			blind = now
			tell(2, true)
		}
	}
	for n := 0; n < steps && said == ""; n++ {
		// whatever is due now, in any order with what is done
		for again := true; again && said == ""; {
			again = false
			due := p.Due(state, nil)
			var ready []int
			for i, c := range way {
				if c.at <= now {
					ready = append(ready, i)
				}
			}
			over := blind >= 0 && now-blind >= int(w.Blind)
			must := people > 0 && now-moved >= int(w.StillFor)
			k := len(due) + len(ready)
			if over {
				k++
			}
			if must {
				k++
			}
			if rnd.IntN(3) == 0 || k == 0 {
				switch rnd.IntN(9) {
				case 0:
					if people == 0 {
						people = 1
						move()
					}
				case 1:
					if people == 1 {
						move()
						people = 0
					}
				case 2:
					if people > 0 {
						move()
					}
				case 3:
					if people > 0 {
						report(rules.Event{Kind: rules.ButtonPress, Thing: 3})
					}
				case 4:
					tell(4, !stands[4])
				case 5:
					if people > 0 {
						do(rules.Event{Kind: rules.HandSet, Thing: 0, Value: rules.Value{On: rnd.IntN(2) == 0, Level: 33}})
					}
				}
				again = k > 0
				continue
			}
			again = true
			switch i := rnd.IntN(k); {
			case i < len(due):
				do(due[i])
			case i < len(due)+len(ready):
				c := way[ready[i-len(due)]]
				way = append(way[:ready[i-len(due)]:ready[i-len(due)]], way[ready[i-len(due)]+1:]...)
				do(c.e)
			case over && i == len(due)+len(ready):
				blind = -1
				tell(2, false)
			default:
				move()
			}
		}
		do(rules.Event{Kind: rules.TimePasses, Seconds: 1})
		now++
	}
	return said
}

// A note that somebody is seen, and a lamp for when that is over: the first report always says "seen", so that the note stands when the second
// comes. Where both are on their way at once they may come the other way round.
func TestAPairOfReportsMayComeTheOtherWayRound(t *testing.T) {
	set := func(thing string, v rules.Value) []rules.Effect {
		return []rules.Effect{{Kind: rules.Set, Thing: thing, Value: v}}
	}
	sheet := func(link time.Duration) rules.Sheet {
		return rules.Sheet{
			Links: map[string]time.Duration{"cellar": link},
			Things: []rules.Thing{
				{ID: "a/lamp", Room: "a", Kind: rules.Lamp, Name: "lamp", At: "cellar"},
				{ID: "a/note", Room: "a", Kind: rules.Flag, Name: "note"},
				{ID: "a/motion", Room: "a", Kind: rules.Motion, Name: "motion in a", At: "attic"},
			},
			Rules: []rules.Rule{
				{ID: "a/seen", Room: "a", Purpose: "x", Controller: "cellar", Cause: rules.Cause{Kind: rules.Reports, Thing: "a/motion", On: true}, Effects: set("a/note", rules.Value{On: true})},
				{ID: "a/over", Room: "a", Purpose: "x", Controller: "cellar", Cause: rules.Cause{Kind: rules.Reports, Thing: "a/motion"},
					Guard: []rules.Literal{{Not: true, Kind: rules.Is, Thing: "a/note"}}, Effects: set("a/lamp", rules.Value{On: true, Level: 80})},
			},
		}
	}
	for _, c := range []struct {
		blind int32 // seconds from one report to the other
		link  time.Duration
		story string
	}{
		{2, 0, ""},
		{2, time.Second, ""}, // the first has come before the second is made
		{2, 2 * time.Second, "0s somebody comes in; 2s motion in a is over, as the sensor says; 2s motion in a: the report reaches the other controller, ahead of one that was made before it"},
		{1, 2 * time.Second, "0s somebody comes in; 1s motion in a is over, as the sensor says; 1s motion in a: the report reaches the other controller, ahead of one that was made before it"},
	} {
		w := promises.World{People: 1, Blind: c.blind}
		s := sheet(c.link)
		one, err := promises.Whole(s, "a", "a/lamp", 50, w)
		if err != nil {
			t.Fatal(err)
		}
		a := decide(context.Background(), one, Usual)
		if c.story == "" {
			if a.state != Kept {
				t.Errorf("%d s apart, %s late: it is %s %s", c.blind, c.link, a.state, a.why)
			}
			continue
		}
		if a.state != Breaks {
			t.Errorf("%d s apart, %s late: it is %s %s", c.blind, c.link, a.state, a.why)
			continue
		}
		if err := one.Replay(a.tale, promises.NewIndex(s)); err != nil {
			t.Error(err)
		}
		if got := spoken(one, a); got != c.story {
			t.Errorf("%d s apart, %s late:\ngot  %s\nwant %s", c.blind, c.link, got, c.story)
		}
	}
}

// The lamp goes to its night level two seconds after motion, unless somebody moves again. What was seen just before the wait ends comes after it.
func TestAReportThatComesLateLosesAgainstAWait(t *testing.T) {
	wait := func(d time.Duration) []rules.Effect {
		return []rules.Effect{{Kind: rules.Start, Wait: "a/still", For: q.Span(d)}}
	}
	sheet := rules.Sheet{
		Links: map[string]time.Duration{"cellar": 2 * time.Second},
		Things: []rules.Thing{
			{ID: "a/lamp", Room: "a", Kind: rules.Lamp, Name: "lamp", At: "cellar"},
			{ID: "a/motion", Room: "a", Kind: rules.Motion, Name: "motion in a", At: "attic"},
		},
		Rules: []rules.Rule{
			{ID: "a/seen", Room: "a", Purpose: "x", Controller: "cellar", Cause: rules.Cause{Kind: rules.Reports, Thing: "a/motion", On: true}, Effects: wait(11 * time.Second)},
			{ID: "a/still", Room: "a", Purpose: "x", Controller: "cellar", Cause: rules.Cause{Kind: rules.Ended, Wait: "a/still"},
				Guard: []rules.Literal{{Kind: rules.Is, Thing: "a/motion"}}, Effects: []rules.Effect{{Kind: rules.Set, Thing: "a/lamp", Value: rules.Value{On: true, Level: 80}}}},
		},
	}
	// A sensor that is blind for 10 s says that motion is over before 11 s have gone, and at once again only for new motion, which starts the wait over.
	w := promises.World{People: 1, Blind: 10}
	near := sheet
	near.Links = nil
	for _, c := range []struct {
		sheet rules.Sheet
		state State
	}{{near, Kept}, {sheet, Breaks}} {
		one, err := promises.Whole(c.sheet, "a", "a/lamp", 50, w)
		if err != nil {
			t.Fatal(err)
		}
		a := decide(context.Background(), one, Usual)
		if a.state != c.state {
			t.Fatalf("it is %s: %s", a.state, a.why)
		}
		if a.state == Kept {
			continue
		}
		if err := one.Replay(a.tale, promises.NewIndex(c.sheet)); err != nil {
			t.Error(err)
		}
		if got := spoken(one, a); !strings.Contains(got, "the report reaches the other controller") {
			t.Errorf("nothing comes late in %s", got)
		} else {
			t.Log(got)
		}
	}
}

// A wait whose end starts it over, no shorter than what is left of it: nothing is left. It was taken to have a second left or more, and such an end
// for one that can't come.
func TestAWaitThatHasRunOutHasNothingLeft(t *testing.T) {
	start := func(d time.Duration) rules.Effect {
		return rules.Effect{Kind: rules.Start, Wait: "a/two", For: q.Span(d)}
	}
	sheet := rules.Sheet{
		Things: []rules.Thing{{ID: "a/lamp", Room: "a", Kind: rules.Lamp, Name: "lamp"}, {ID: "a/motion", Room: "a", Kind: rules.Motion, Name: "motion in a"}},
		Rules: []rules.Rule{
			{ID: "a/seen", Room: "a", Purpose: "x", Cause: rules.Cause{Kind: rules.Reports, Thing: "a/motion", On: true}, Effects: []rules.Effect{start(2 * time.Second)}},
			{ID: "a/over", Room: "a", Purpose: "x", Cause: rules.Cause{Kind: rules.Ended, Wait: "a/two"}, Again: rules.Longer,
				Effects: []rules.Effect{{Kind: rules.Set, Thing: "a/lamp", Value: rules.Value{On: true, Level: 80}}, start(time.Second)}},
		},
	}
	c, err := promises.Whole(sheet, "a", "a/lamp", 50, promises.World{People: 1, Blind: 2})
	if err != nil {
		t.Fatal(err)
	}
	if a := decide(context.Background(), c, Usual); a.state != Breaks {
		t.Errorf("the lamp is at 80 %% after two seconds, and it is %s", a.state)
	}
}

// spoken is the story of an answer on one line.
func spoken(c promises.Case, a answer) string {
	var out []string
	for _, l := range c.Lines(a.tale) {
		out = append(out, q.Span(time.Duration(l.At)*time.Second).String()+" "+l.Text)
	}
	return strings.Join(out, "; ")
}
