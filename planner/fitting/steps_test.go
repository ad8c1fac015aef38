package fitting

import (
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// small is a controller whose guards have two statements, that remembers by waits alone and looks again where it can't hold.
func small(t *testing.T) catalogue.Limits {
	lim := limitSet(t, "open")
	lim.Flags, lim.Holds, lim.Keeps, lim.Ordered, lim.MostGuards, lim.LongestWait = false, false, false, false, 2, 60*minute
	return lim
}

func fitsTo(t *testing.T, sheet rules.Sheet, lim catalogue.Limits, want []string) Fitted {
	t.Helper()
	fit := Fit(sheet, lim, Info{})
	if got := worded(fit.Sheet); !slices.Equal(got, want) {
		t.Errorf("fitted to\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	enterable(t, fit, lim, Info{})
	return fit
}

// Two causes lead to one thing by one step, because all that is left to look at is the same: whether it has been locked. What the rule does
// at once and what it does only while its wait doesn't run go by that step together.
func TestOneStepForAllThatIsLeft(t *testing.T) {
	over := rules.Literal{Kind: rules.ReadsOver, Thing: "r/air", Threshold: 60}
	airing := one("air", rules.Cause{Kind: rules.Became, Thing: "r/noted", On: true}, []rules.Literal{not(running("r/locked"))}, turn("r/fan", true), run("r/most", 20*minute))
	airing.Again = rules.Keep
	sheet := rules.Sheet{Things: []rules.Thing{fan(), lamp(), noted(), air(), button(), motion()}, Rules: []rules.Rule{
		one("damp", rules.Cause{Kind: rules.Over, Thing: "r/air", Threshold: 60}, []rules.Literal{is("r/motion")}, turn("r/noted", true)),
		one("damp-too", seen(true), []rules.Literal{over}, turn("r/noted", true)),
		one("dry", rules.Cause{Kind: rules.Under, Thing: "r/air", Threshold: 60}, nil, turn("r/noted", false)),
		airing, one("lock", pressed(rules.Single), nil, run("r/locked", 30*minute)), one("over", ended("r/most"), nil, turn("r/fan", false))}}
	lim := small(t)
	fitsTo(t, sheet, lim, []string{
		`r/damp: Humidity in the room goes over 60 %, motion is seen in the room: start the wait "noted" for 1h, again from now`,
		`r/damp-too: Motion is seen in the room, humidity in the room is over 60 %: start the wait "noted" for 1h, again from now`,
		`r/dry: Humidity in the room comes back to 60 %: stop the wait "noted"; stop the wait "air step"`,
		`r/lock: The button is pressed once: start the wait "locked" for 30m, again from now`,
		`r/over: The wait "most" runs out: extract fan off`,
		`r/air: Humidity in the room goes over 60 %, the wait "noted" does not run, and motion is seen in the room: start the wait "air step" for 1s, again from now`,
		`r/air~2: Motion is seen in the room, the wait "noted" does not run, and humidity in the room is over 60 %: start the wait "air step" for 1s, again from now`,
		`r/damp~2: The wait "noted" runs out: start the wait "noted" for 1h, again from now`,
		`r/air~3: The wait "air step" runs out, the wait "locked" does not run: extract fan on`,
		`r/air~4: The wait "air step" runs out, the wait "locked" does not run, and the wait "most" does not run: start the wait "most" for 20m, again from now`,
	})
	sameMeaning(t, sheet, lim, Info{}, false)
}

// Guards that look whether a chain of waits runs look at one wait that runs as long as any of them.
func TestOneWaitTellsThatAChainGoesOn(t *testing.T) {
	r := one("run", pressed(rules.Single), nil, turn("r/fan", true), run("r/asked", 150*minute))
	r.Again = rules.Keep
	sheet := rules.Sheet{Things: []rules.Thing{fan(), button()}, Rules: []rules.Rule{r, one("end", ended("r/asked"), nil, turn("r/fan", false)),
		one("stop", pressed(rules.Double), []rules.Literal{running("r/asked")}, turn("r/fan", false), rules.Effect{Kind: rules.Stop, Wait: "r/asked"})}}
	lim := small(t)
	fitsTo(t, sheet, lim, []string{
		`r/run: The button is pressed once: extract fan on`,
		`r/run~2: The button is pressed once, the wait "asked goes on" does not run: start the wait "asked part 3" for 30m, again from now; start the wait "asked goes on" for 1h, again from now`,
		`r/end: The wait "asked" runs out: stop the wait "asked goes on"; extract fan off`,
		`r/stop: The button is pressed twice, the wait "asked goes on" runs: extract fan off; stop the wait "asked"; stop the wait "asked part 2"; stop the wait "asked part 3"; stop the wait "asked goes on"`,
		`r/run~3: The wait "asked part 3" runs out: start the wait "asked part 2" for 1h, again from now`,
		`r/run~4: The wait "asked part 2" runs out: start the wait "asked" for 1h, again from now`,
		`r/run~5: The wait "asked goes on" runs out: start the wait "asked goes on" for 1h, again from now`})
	sameMeaning(t, sheet, lim, Info{}, true)
}

// A held wait that is started because its reason has come about need not be spared: it runs for the span of its hold after the reason, from
// whenever. One whose reason isn't known to stand is spared.
func TestAStartWithItsReasonSparesNothing(t *testing.T) {
	sheet := func(c rules.Cause) rules.Sheet {
		on := one("on", c, nil, turn("r/lamp", true), run("r/empty", 6*minute))
		on.Again = rules.Keep
		return rules.Sheet{Things: []rules.Thing{lamp(), motion(), button()}, Rules: []rules.Rule{on,
			{ID: "r/off", Room: "r", Purpose: "Off.", Cause: ended("r/empty"), Effects: []rules.Effect{turn("r/lamp", false)}, Hold: []rules.Literal{is("r/motion")}, HoldFor: 6 * minute}}}
	}
	lim := small(t)
	looks := func(s rules.Sheet) bool {
		return slices.ContainsFunc(Fit(s, lim, Info{}).Sheet.Rules, func(r rules.Rule) bool { return slices.Contains(r.Guard, not(running("r/empty"))) })
	}
	came, press := sheet(rules.Cause{Kind: rules.Became, Thing: "r/motion", On: true}), sheet(pressed(rules.Single))
	if looks(came) || !looks(press) {
		t.Errorf("by its reason %q, by a press %q", worded(Fit(came, lim, Info{}).Sheet), worded(Fit(press, lim, Info{}).Sheet))
	}
	sameMeaning(t, came, lim, Info{}, true)
	sameMeaning(t, press, lim, Info{}, true)
}

// No wait runs when the power comes back, so no rule looks for one, unless the controller keeps its waits.
func TestNoRuleLooksForAWaitAfterAPowerCut(t *testing.T) {
	sheet := rules.Sheet{Things: []rules.Thing{lamp(), button()}, Rules: []rules.Rule{
		one("alarm", pressed(rules.Single), nil, turn("r/lamp", true), run("r/alarm", 10*minute)), one("over", ended("r/alarm"), nil, turn("r/lamp", false)),
		one("again", rules.Cause{Kind: rules.PowerBack}, []rules.Literal{running("r/alarm")}, turn("r/lamp", true)),
		one("dark", rules.Cause{Kind: rules.PowerBack}, []rules.Literal{not(running("r/alarm"))}, turn("r/lamp", false))}}
	for _, restores := range []bool{false, true} {
		lim := small(t)
		lim.RestoresWaits = restores
		var guards []int
		for _, r := range Fit(sheet, lim, Info{}).Sheet.Rules {
			if r.Cause.Kind == rules.PowerBack {
				guards = append(guards, len(r.Guard))
			}
		}
		if want := map[bool][]int{false: {0}, true: {1, 1}}[restores]; !slices.Equal(guards, want) {
			t.Errorf("waits restored %v: guards of %v statements, want %v", restores, guards, want)
		}
	}
}

// A note that is forgotten as soon as it is made stands at no cause from outside: nothing looks at it, and nothing keeps it in mind.
func TestAPulseNeedsNoWait(t *testing.T) {
	became := rules.Cause{Kind: rules.Became, Thing: "r/noted", On: true}
	sheet := rules.Sheet{Things: []rules.Thing{lamp(), fan(), noted(), button(), motion()}, Rules: []rules.Rule{
		one("all", pressed(rules.Single), nil, turn("r/fan", false), turn("r/noted", true)), one("done", became, nil, turn("r/noted", false)),
		one("left", became, []rules.Literal{not(is("r/motion"))}, turn("r/lamp", false)), one("seen", seen(true), nil, turn("r/lamp", true), turn("r/fan", true))}}
	fitsTo(t, sheet, small(t), []string{
		`r/all: The button is pressed once: extract fan off`,
		`r/seen: Motion is seen in the room: ceiling light to 0 %; extract fan on`,
		`r/left: The button is pressed once, no motion is seen in the room: ceiling light off`})
	sameMeaning(t, sheet, small(t), Info{}, true)
}

// A step ends when the note for whose sake it looks further is forgotten meanwhile: dry air within the second is no damp air.
func TestAStepEndsWithItsNote(t *testing.T) {
	cross := func(k rules.CauseKind) rules.Cause { return rules.Cause{Kind: k, Thing: "r/air", Threshold: 60} }
	sheet := rules.Sheet{Things: []rules.Thing{fan(), lamp(), noted(), air(), motion()}, Rules: []rules.Rule{
		one("damp", cross(rules.Over), nil, turn("r/noted", true)), one("dry", cross(rules.Under), nil, turn("r/noted", false)),
		one("air", rules.Cause{Kind: rules.Became, Thing: "r/noted", On: true}, []rules.Literal{not(is("r/lamp")), not(is("r/motion"))}, turn("r/fan", true))}}
	fit := Fit(sheet, small(t), Info{})
	y := newPlayer(t, fit.Sheet, 0)
	for _, level := range []int{70, 50} {
		if err := y.act(happening{thing: "r/air", event: rules.Event{Kind: rules.ReadingIs, Value: rules.Value{Level: level}}}); err != nil {
			t.Fatal(err)
		}
	}
	if err := y.pass(5); err != nil {
		t.Fatal(err)
	}
	if i, _ := y.p.Thing("r/fan"); fit.Slack == 0 || y.p.Value(y.s, i).On {
		t.Errorf("slack %d s; the fan runs for air that is dry: %q", fit.Slack, worded(fit.Sheet))
	}
	sameMeaning(t, sheet, small(t), Info{}, false)
}

// Alder Row's rooms with a fan came to 93, 95 and 100 rules and 30 to 41 waits on the modest set before rules went by common steps.
func TestAiringStaysSmallOnModest(t *testing.T) {
	fit := Fit(homeSheet(t, "alder-row.yaml"), limitSet(t, "modest"), Info{})
	count, waits := map[string]int{}, map[string]map[string]bool{}
	for _, r := range fit.Sheet.Rules {
		count[r.Room]++
		for _, e := range r.Effects {
			if e.Kind == rules.Start && e.For == q.Span(1e9) {
				if waits[r.Room] == nil {
					waits[r.Room] = map[string]bool{}
				}
				waits[r.Room][e.Wait] = true
			}
		}
	}
	for room, most := range map[string][2]int{"kitchen": {68, 3}, "utility": {67, 3}, "shower-room": {77, 4}} {
		if count[room] > most[0] || len(waits[room]) > most[1] {
			t.Errorf("%s has %d rules and %d steps, want at most %d and %d", room, count[room], len(waits[room]), most[0], most[1])
		}
	}
}

// A rule that switches the fan on and off again doesn't do what another does that switches it on, so that one stays.
func TestWhatARuleUndoesItselfIsNotDone(t *testing.T) {
	sheet := rules.Sheet{Things: []rules.Thing{fan(), noted(), button()}, Rules: []rules.Rule{
		one("blink", pressed(rules.Single), nil, turn("r/fan", true), turn("r/fan", false), turn("r/noted", true)), one("off", pressed(rules.Double), nil, turn("r/noted", false)),
		one("on", rules.Cause{Kind: rules.Became, Thing: "r/noted", On: true}, nil, turn("r/fan", true))}}
	lim := small(t)
	lim.Ordered = true
	sameMeaning(t, sheet, lim, Info{}, false)
}

// A step from the end of a wait to what starts that wait again takes its second in each round, which is said.
func TestARoundWithAStepInItIsSaid(t *testing.T) {
	guard := []rules.Literal{is("r/motion"), not(is("r/fan")), is("r/door")}
	for _, back := range []bool{true, false} {
		on := one("again", ended("r/tick"), guard, run("r/tock", minute))
		to := "r/tick"
		if !back {
			to = "r/other"
		}
		sheet := rules.Sheet{Things: []rules.Thing{fan(), motion(), button(), {ID: "r/door", Room: "r", Kind: rules.Door, Name: "door"}}, Rules: []rules.Rule{
			one("begin", pressed(rules.Single), nil, run("r/tick", minute)), on, one("round", ended("r/tock"), nil, run(to, minute)), one("done", ended("r/other"), nil, turn("r/fan", true))}}
		fit := Fit(sheet, small(t), Info{})
		if said := slices.ContainsFunc(fit.Notes, func(n Note) bool { return n.Moment && strings.Contains(n.Costs, "round") }); said != back {
			t.Errorf("back to its own wait %v, said %v: %+v", back, said, fit.Notes)
		}
	}
}
