package fitting

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// randomSheet draws a small sheet that uses everything that rules know. Devices and notes are set by causes from outside
// and by ends of waits, so that no cascade is endless.
func randomSheet(t *rapid.T) rules.Sheet {
	s := rules.Sheet{Things: []rules.Thing{
		{ID: "r/lamp", Room: "r", Kind: rules.Lamp, Name: "lamp"}, {ID: "r/fan", Room: "r", Kind: rules.Fan, Name: "fan"},
		{ID: "r/noted", Room: "r", Kind: rules.Flag, Name: "noted"}, {ID: "r/known", Room: "r", Kind: rules.Flag, Name: "known"},
		{ID: "r/motion", Room: "r", Kind: rules.Motion, Name: "motion in the room"}, {ID: "r/door", Room: "r", Kind: rules.Door, Name: "door"},
		{ID: "r/air", Room: "r", Kind: rules.Hygrometer, Name: "humidity"}, {ID: "r/button", Room: "r", Kind: rules.ButtonOf, Name: "button"},
	}}
	span := rapid.Custom(func(t *rapid.T) q.Span {
		return q.Span(time.Duration(rapid.SampledFrom([]int{7, 60, 61, 200, 400, 1300}).Draw(t, "span")) * time.Second)
	})
	at := rapid.Custom(func(t *rapid.T) q.DayTime {
		return clockAt(300 * rapid.IntRange(0, 287).Draw(t, "at"))
	})
	waits := []string{"r/one", "r/two"}
	// A wait has one policy, but for the first rules: as a rule would be written by hand.
	literal := rapid.Custom(func(t *rapid.T) rules.Literal {
		l := rules.Literal{Not: rapid.Bool().Draw(t, "not")}
		switch rapid.IntRange(0, 3).Draw(t, "literal") {
		case 0:
			l.Thing = rapid.SampledFrom([]string{"r/lamp", "r/fan", "r/noted", "r/known", "r/motion", "r/door"}).Draw(t, "is")
		case 1:
			l.Kind, l.Thing, l.Threshold = rules.ReadsOver, "r/air", rapid.SampledFrom([]int{50, 60, 70}).Draw(t, "over")
		case 2:
			l.Kind, l.From, l.To = rules.Between, at.Draw(t, "from"), at.Draw(t, "to")
		case 3:
			l.Kind, l.Wait = rules.Running, rapid.SampledFrom(waits).Draw(t, "wait")
		}
		return l
	})
	id := 0
	add := func(c rules.Cause, guard []rules.Literal, again rules.Again, effects ...rules.Effect) {
		id++
		s.Rules = append(s.Rules, rules.Rule{ID: fmt.Sprintf("r/rule-%d", id), Room: "r", Goal: "lighting", Purpose: fmt.Sprintf("Rule %d.", id),
			Cause: c, Guard: guard, Effects: effects, Again: again})
	}
	guard := rapid.SliceOfN(literal, 0, 2)
	effect := rapid.Custom(func(t *rapid.T) rules.Effect {
		switch rapid.IntRange(0, 5).Draw(t, "effect") {
		case 0, 1:
			return rules.Effect{Thing: rapid.SampledFrom([]string{"r/lamp", "r/fan"}).Draw(t, "set"), Value: rules.Value{On: rapid.Bool().Draw(t, "to")}}
		case 2:
			return rules.Effect{Thing: rapid.SampledFrom([]string{"r/noted", "r/known"}).Draw(t, "set"), Value: rules.Value{On: rapid.Bool().Draw(t, "to")}}
		case 3:
			return rules.Effect{Kind: rules.Stop, Wait: rapid.SampledFrom(waits).Draw(t, "stop")}
		}
		return rules.Effect{Kind: rules.Start, Wait: rapid.SampledFrom(waits).Draw(t, "start"), For: span.Draw(t, "for")}
	})
	outside := rapid.Custom(func(t *rapid.T) rules.Cause {
		switch rapid.IntRange(0, 6).Draw(t, "cause") {
		case 0:
			return rules.Cause{Kind: rules.Pressed, Thing: "r/button"}
		case 1:
			return rules.Cause{Kind: rules.Clock, At: at.Draw(t, "clock")}
		case 2:
			return rules.Cause{Kind: rules.StaysUnder, Thing: "r/air", Threshold: 60, For: span.Draw(t, "for")}
		case 3:
			return rules.Cause{Kind: rapid.SampledFrom([]rules.CauseKind{rules.Over, rules.Under}).Draw(t, "cross"), Thing: "r/air", Threshold: 60}
		case 4:
			return rules.Cause{Kind: rules.Became, Thing: rapid.SampledFrom([]string{"r/lamp", "r/fan"}).Draw(t, "thing"), On: rapid.Bool().Draw(t, "on"), ByHand: true}
		}
		return rules.Cause{Kind: rules.Reports, Thing: rapid.SampledFrom([]string{"r/motion", "r/door"}).Draw(t, "sensor"), On: rapid.Bool().Draw(t, "on")}
	})
	for _, w := range waits {
		add(rules.Cause{Kind: rules.Pressed, Thing: "r/button", Press: rules.Double}, nil, rules.Restart, rules.Effect{Kind: rules.Start, Wait: w, For: span.Draw(t, "for")})
		add(rules.Cause{Kind: rules.Ended, Wait: w}, nil, rules.Restart, rules.Effect{Thing: "r/lamp"})
		if last := &s.Rules[len(s.Rules)-1]; rapid.Bool().Draw(t, "held") {
			last.HoldFor = span.Draw(t, "hold")
			last.Hold = rapid.SliceOfN(literal, 1, 2).Filter(func(ls []rules.Literal) bool {
				return !slices.ContainsFunc(ls, func(l rules.Literal) bool {
					return l.Kind == rules.Running && (l.Not || l.Wait == w || w == waits[0]) || l.Kind == rules.Between && l.From == l.To
				})
			}).Draw(t, "holds")
		}
	}
	for range rapid.IntRange(2, 6).Draw(t, "rules") {
		c := outside.Draw(t, "cause")
		if rapid.IntRange(0, 3).Draw(t, "ended") == 0 {
			c = rules.Cause{Kind: rules.Ended, Wait: rapid.SampledFrom(waits).Draw(t, "of")}
		}
		add(c, guard.Draw(t, "guard"), rapid.SampledFrom([]rules.Again{rules.Restart, rules.Longer, rules.Keep}).Draw(t, "again"),
			rapid.SliceOfN(effect, 1, 3).Draw(t, "effects")...)
	}
	add(rules.Cause{Kind: rules.Became, Thing: "r/noted", On: rapid.Bool().Draw(t, "when")}, guard.Draw(t, "guard"), rules.Restart,
		rules.Effect{Thing: "r/fan", Value: rules.Value{On: rapid.Bool().Draw(t, "to")}})
	return s
}

func TestRandomSheetsKeepTheirMeaning(t *testing.T) {
	for _, c := range oneLimit {
		t.Run(c.name, func(t *testing.T) {
			lim := limitSet(t, "open")
			c.set(&lim)
			randomMeaning(t, lim, c.cuts)
		})
	}
}

func randomMeaning(t *testing.T, lim catalogue.Limits, cuts bool) {
	rapid.Check(t, func(r *rapid.T) {
		sheet := randomSheet(r)
		if _, err := rules.Compile(sheet); err != nil {
			r.Skip(err)
		}
		fit := Fit(sheet, lim, Info{})
		if slices.ContainsFunc(fit.Notes, func(n Note) bool { return n.Moment }) {
			r.Skip("fitting says itself what differs")
		}
		for _, x := range fit.Sheet.Rules {
			if err := Enterable(fit.Sheet, x, lim, Info{}); err != nil {
				r.Fatal(err)
			}
		}
		story := happenings(r, sheet, cuts)
		begin := rapid.IntRange(0, rules.DaySeconds-1).Draw(r, "begin")
		if err := compare(t, sheet, fit.Sheet, begin, fit.Slack, story); err != nil {
			text := ""
			for _, x := range sheet.Rules {
				w := rules.Words(sheet, x)
				text += fmt.Sprintf("%s: %s [%s] %s {%s}\n", x.ID, w.Cause, w.Guard, w.Effect, w.Hold)
			}
			text += "fitted\n"
			for _, x := range fit.Sheet.Rules {
				w := rules.Words(fit.Sheet, x)
				text += fmt.Sprintf("%s: %s [%s] %s {%s}\n", x.ID, w.Cause, w.Guard, w.Effect, w.Hold)
			}
			r.Fatal(text, err)
		}
	})
}

// randomLimits draws limits that no shelf has.
func randomLimits(t *rapid.T) catalogue.Limits {
	l := catalogue.Limits{ID: "drawn"}
	for _, b := range []*bool{&l.Restarts, &l.Stacks, &l.Keeps, &l.Holds, &l.OverMidnight, &l.EndInclusive, &l.SunTimes, &l.SeenFor, &l.RisesBy, &l.Flags, &l.Ordered, &l.SeesOthers, &l.Offline, &l.RestoresWaits} {
		*b = rapid.Bool().Draw(t, "can")
	}
	l.Rules = rapid.SampledFrom([]int{0, 1, 20}).Draw(t, "rules")
	l.MostGuards = rapid.IntRange(0, 4).Draw(t, "guards")
	l.Guards = rapid.SampledFrom([]string{"", "none", "time", "state", "both"}).Draw(t, "kinds")
	l.LongestWait = q.Span(time.Duration(rapid.SampledFrom([]int{0, 1, 30, 3600}).Draw(t, "longest")) * time.Second)
	l.ClockStep = q.Span(time.Duration(rapid.SampledFrom([]int{0, 1, 60, 900}).Draw(t, "step")) * time.Second)
	l.Presses = rapid.SampledFrom([][]string{nil, {"press"}, {"press", "hold"}}).Draw(t, "presses")
	l.ToggleOnly = rapid.SampledFrom([][]string{nil, {"relay"}}).Draw(t, "toggles")
	return l
}

func TestWhateverTheLimitsTheSheetCanBeEntered(t *testing.T) {
	info := Info{Parts: map[string]catalogue.Part{"r/fan": {Kind: "relay"}}}
	rapid.Check(t, func(r *rapid.T) {
		sheet, lim := randomSheet(r), randomLimits(r)
		if _, err := rules.Compile(sheet); err != nil {
			r.Skip(err)
		}
		fit := Fit(sheet, lim, info)
		if _, err := rules.Compile(fit.Sheet); err != nil {
			r.Fatal(err)
		}
		for _, x := range fit.Sheet.Rules {
			if err := Enterable(fit.Sheet, x, lim, info); err != nil {
				r.Fatalf("%v\n%+v", err, x)
			}
		}
		if len(Entries(fit, lim, info)) != len(fit.Sheet.Rules) {
			r.Fatal("an entry is missing")
		}
	})
}
