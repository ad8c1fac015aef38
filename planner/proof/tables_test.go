package proof

import (
	"context"
	"os"
	"strconv"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"

	"pgregory.net/rapid"
)

// drawSheet is a random table of rules about a lamp, a flag, a motion sensor, a button and a probe, with short waits.
func drawSheet(r *rapid.T) rules.Sheet {
	s := rules.Sheet{Things: []rules.Thing{
		{ID: "a/lamp", Room: "a", Kind: rules.Lamp, Name: "lamp"},
		{ID: "a/note", Room: "a", Kind: rules.Flag, Name: "note"},
		{ID: "a/motion", Room: "a", Kind: rules.Motion, Name: "motion in a"},
		{ID: "a/button", Room: "a", Kind: rules.ButtonOf, Name: "button"},
		{ID: "a/wet", Room: "a", Kind: rules.Probe, Name: "water"},
	}}
	waits := []string{"a/one", "a/two"}
	effects := func() []rules.Effect {
		var out []rules.Effect
		for n := rapid.IntRange(1, 2).Draw(r, "effects"); n > 0; n-- {
			switch rapid.IntRange(0, 4).Draw(r, "effect") {
			case 0:
				out = append(out, rules.Effect{Kind: rules.Set, Thing: "a/lamp", Value: rules.Value{On: true, Level: rapid.SampledFrom([]int{20, 80}).Draw(r, "level")}})
			case 1:
				out = append(out, rules.Effect{Kind: rules.Set, Thing: "a/lamp"})
			case 2:
				out = append(out, rules.Effect{Kind: rules.Set, Thing: "a/note", Value: rules.Value{On: rapid.Bool().Draw(r, "note")}})
			case 3:
				out = append(out, rules.Effect{Kind: rules.Start, Wait: rapid.SampledFrom(waits).Draw(r, "wait"), For: q.Span(time.Duration(rapid.IntRange(1, 4).Draw(r, "for")) * time.Second)})
			case 4:
				out = append(out, rules.Effect{Kind: rules.Stop, Wait: rapid.SampledFrom(waits).Draw(r, "wait")})
			}
		}
		return out
	}
	literals := func(most int) []rules.Literal {
		var out []rules.Literal
		for n := rapid.IntRange(0, most).Draw(r, "literals"); n > 0; n-- {
			l := rules.Literal{Not: rapid.Bool().Draw(r, "not")}
			if rapid.Bool().Draw(r, "running") {
				l.Kind, l.Wait = rules.Running, rapid.SampledFrom(waits).Draw(r, "wait")
			} else {
				l.Thing = rapid.SampledFrom([]string{"a/note", "a/motion", "a/lamp", "a/wet"}).Draw(r, "thing")
			}
			out = append(out, l)
		}
		return out
	}
	causes := []rules.Cause{
		{Kind: rules.Reports, Thing: "a/motion", On: true}, {Kind: rules.Reports, Thing: "a/motion"},
		{Kind: rules.Pressed, Thing: "a/button"}, {Kind: rules.Reports, Thing: "a/wet", On: true},
		{Kind: rules.Became, Thing: "a/note", On: true}, {Kind: rules.Became, Thing: "a/lamp", On: true, ByHand: true},
		{Kind: rules.Ended, Wait: "a/one"}, {Kind: rules.Ended, Wait: "a/two"},
	}
	for n := rapid.IntRange(3, 6).Draw(r, "rules"); n > 0; n-- {
		x := rules.Rule{ID: "a/" + strconv.Itoa(n), Room: "a", Purpose: "x", Cause: rapid.SampledFrom(causes).Draw(r, "cause"), Guard: literals(2), Effects: effects(),
			Again: rapid.SampledFrom([]rules.Again{rules.Restart, rules.Longer, rules.Keep}).Draw(r, "again")}
		if x.Cause.Kind == rules.Ended && rapid.IntRange(0, 2).Draw(r, "held") == 0 {
			x.Hold, x.HoldFor = literals(1), q.Span(time.Duration(rapid.IntRange(1, 3).Draw(r, "hold for"))*time.Second)
		}
		s.Rules = append(s.Rules, x)
	}
	for i, w := range waits { // each wait is started by somebody
		s.Rules = append(s.Rules, rules.Rule{ID: "a/start-" + strconv.Itoa(i), Room: "a", Purpose: "x", Cause: causes[rapid.IntRange(0, 3).Draw(r, "starter")],
			Effects: []rules.Effect{{Kind: rules.Start, Wait: w, For: q.Span(time.Duration(rapid.IntRange(1, 4).Draw(r, "for")) * time.Second)}}})
	}
	return s
}

// TestTheTwoEnginesAgreeOnRandomTablesOfRules lets zones and ticks decide random sheets, and the plain player play
// whatever story they find. TABLES in the environment is a number of sheets in place of the usual.
func TestTheTwoEnginesAgreeOnRandomTablesOfRules(t *testing.T) {
	checks := 2000
	if n, err := strconv.Atoi(os.Getenv("TABLES")); err == nil {
		checks = n
	}
	if testing.Short() {
		checks = 200
	}
	ctx := context.Background()
	kinds := map[OutcomeKind]int{}
	w := promises.World{People: 1, Blind: 2, StillFor: 5, Hands: true}
	check := func(r *rapid.T) {
		sheet := drawSheet(r)
		if _, err := rules.Compile(sheet); err != nil {
			return // it says something that no sheet may say
		}
		c, err := promises.Whole(sheet, "a", "a/lamp", 50, w)
		if err != nil {
			r.Fatal(err)
		}
		l := &ladder{c: c, e: Usual}
		a := search(ctx, l.realDay(w.StillFor, true), Usual, broken)
		other := c.System(true)
		b := Ticks(ctx, other, 1, 200_000, other.Broken)
		if b.Kind == Capped || a.Kind == Capped {
			return
		}
		kinds[a.Kind]++
		if a.Kind != b.Kind || a.Acts != b.Acts || end(a) != end(b) {
			r.Fatalf("zones: %v with %d acts at %d, ticks: %v with %d acts at %d\n%+v", a.Kind, a.Acts, end(a), b.Kind, b.Acts, end(b), sheet)
		}
		if a.Kind != Found {
			return
		}
		if out := l.told(answer{}, a, l.real.sys); out.state != Breaks {
			r.Fatalf("%s\n%+v", out.why, sheet)
		} else if err := c.Replay(out.tale, promises.NewIndex(sheet)); err != nil {
			r.Fatalf("%v\n%v\n%+v", err, c.Lines(out.tale), sheet)
		}
	}
	for n := 0; n < checks; n += 100 {
		rapid.Check(t, check)
	}
	if kinds[Found] == 0 || kinds[Nowhere] == 0 {
		t.Fatalf("the random tables are all of one kind: %v", kinds)
	}
	t.Log(kinds)
}
