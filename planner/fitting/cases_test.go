package fitting

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

func clock(t testing.TB, s string) q.DayTime {
	t.Helper()
	var d q.DayTime
	if err := d.UnmarshalText([]byte(s)); err != nil {
		t.Fatal(err)
	}
	return d
}

const minute = q.Span(time.Minute)

func lamp() rules.Thing {
	return rules.Thing{ID: "r/lamp", Room: "r", Kind: rules.Lamp, Name: "ceiling light"}
}
func fan() rules.Thing {
	return rules.Thing{ID: "r/fan", Room: "r", Kind: rules.Fan, Name: "extract fan"}
}
func motion() rules.Thing {
	return rules.Thing{ID: "r/motion", Room: "r", Kind: rules.Motion, Name: "motion in the room"}
}
func air() rules.Thing {
	return rules.Thing{ID: "r/air", Room: "r", Kind: rules.Hygrometer, Name: "humidity in the room"}
}
func button() rules.Thing {
	return rules.Thing{ID: "r/button", Room: "r", Kind: rules.ButtonOf, Name: "button"}
}
func noted() rules.Thing {
	return rules.Thing{ID: "r/noted", Room: "r", Kind: rules.Flag, Name: "set by hand"}
}

func one(id string, c rules.Cause, guard []rules.Literal, effects ...rules.Effect) rules.Rule {
	return rules.Rule{ID: "r/" + id, Room: "r", Goal: "lighting", Purpose: "To show " + id + ".", Cause: c, Guard: guard, Effects: effects}
}

func turn(thing string, on bool) rules.Effect {
	return rules.Effect{Kind: rules.Set, Thing: thing, Value: rules.Value{On: on}}
}
func run(wait string, d q.Span) rules.Effect {
	return rules.Effect{Kind: rules.Start, Wait: wait, For: d}
}
func seen(on bool) rules.Cause {
	return rules.Cause{Kind: rules.Reports, Thing: "r/motion", On: on}
}
func pressed(p rules.Press) rules.Cause {
	return rules.Cause{Kind: rules.Pressed, Thing: "r/button", Press: p}
}
func window(t testing.TB, from, to string) rules.Literal {
	return rules.Literal{Kind: rules.Between, From: clock(t, from), To: clock(t, to)}
}

// worded is a sheet in words, a line for each rule.
func worded(s rules.Sheet) []string {
	var out []string
	for _, r := range s.Rules {
		w := rules.Words(s, r)
		line := r.ID + ": " + w.Cause
		if w.Guard != "" {
			line += ", " + w.Guard
		}
		line += ": " + w.Effect
		if w.Hold != "" {
			line += "; " + w.Hold
		}
		out = append(out, line)
	}
	return out
}

// TestEachLimitByHand shows the ideal rule and the fitted rules of each limit, worked out on paper, and plays stories on both.
func TestEachLimitByHand(t *testing.T) {
	for _, c := range []struct {
		name  string
		limit func(*catalogue.Limits)
		sheet rules.Sheet
		want  []string
		cuts  bool
	}{
		{"a window over midnight", func(l *catalogue.Limits) { l.OverMidnight = false },
			rules.Sheet{Things: []rules.Thing{lamp(), motion()}, Rules: []rules.Rule{
				one("night", seen(true), []rules.Literal{window(t, "22:45", "06:20")}, turn("r/lamp", true))}},
			[]string{`r/night: Motion is seen in the room, between 22:45 and 00:00: ceiling light to 0 %`,
				`r/night~2: Motion is seen in the room, between 00:00 and 06:20: ceiling light to 0 %`}, true},
		{"a wait that is too long", func(l *catalogue.Limits) { l.LongestWait = 60 * minute },
			rules.Sheet{Things: []rules.Thing{fan(), button()}, Rules: []rules.Rule{
				one("run", pressed(rules.Single), nil, turn("r/fan", true), run("r/asked", 150*minute)),
				one("end", ended("r/asked"), nil, turn("r/fan", false))}},
			[]string{
				`r/run: The button is pressed once: extract fan on; stop the wait "asked"; stop the wait "asked part 2"; start the wait "asked part 3" for 30m, again from now`,
				`r/end: The wait "asked" runs out: extract fan off`,
				`r/run~2: The wait "asked part 3" runs out: start the wait "asked part 2" for 1h, again from now`,
				`r/run~3: The wait "asked part 2" runs out: start the wait "asked" for 1h, again from now`}, true},
		{"a wait that can't be restarted", func(l *catalogue.Limits) { l.Restarts, l.Keeps = false, false },
			rules.Sheet{Things: []rules.Thing{lamp(), motion()}, Rules: []rules.Rule{
				one("seen", seen(true), nil, turn("r/lamp", true), run("r/empty", 6*minute)), one("off", ended("r/empty"), nil, turn("r/lamp", false))}},
			[]string{
				`r/seen: Motion is seen in the room: ceiling light to 0 %; stop the wait "empty"; start the wait "empty" for 6m, unless it runs already`,
				`r/off: The wait "empty" runs out: ceiling light off`}, true},
		{"a short wish and a long one", func(l *catalogue.Limits) { l.Keeps = false },
			rules.Sheet{Things: []rules.Thing{fan(), button()}, Rules: []rules.Rule{
				{ID: "r/short", Room: "r", Purpose: "Short.", Cause: pressed(rules.Single), Effects: []rules.Effect{turn("r/fan", true), run("r/asked", 20*minute)}, Again: rules.Longer},
				{ID: "r/long", Room: "r", Purpose: "Long.", Cause: pressed(rules.Double), Effects: []rules.Effect{turn("r/fan", true), run("r/asked", 40*minute)}, Again: rules.Longer},
				one("end", ended("r/asked"), nil, turn("r/fan", false))}},
			[]string{
				`r/short: The button is pressed once: extract fan on`,
				`r/short~2: The button is pressed once, the wait "asked over 20m" does not run: start the wait "asked" for 20m, again from now; stop the wait "asked over 20m"`,
				`r/long: The button is pressed twice: extract fan on; start the wait "asked" for 40m, again from now; start the wait "asked over 20m" for 20m, again from now`,
				`r/end: The wait "asked" runs out: extract fan off`}, true},
		{"wishes on top of each other", func(l *catalogue.Limits) { l.Stacks = false },
			rules.Sheet{Things: []rules.Thing{fan(), button()}, Rules: []rules.Rule{
				{ID: "r/more", Room: "r", Purpose: "More.", Cause: pressed(rules.Single), Effects: []rules.Effect{turn("r/fan", true), run("r/asked", 120*minute)}, Again: rules.Stack},
				one("end", ended("r/asked"), nil, turn("r/fan", false))}}, nil, true},
		{"a hold", func(l *catalogue.Limits) { l.Holds = false },
			rules.Sheet{Things: []rules.Thing{lamp(), motion()}, Rules: []rules.Rule{
				one("seen", seen(true), nil, turn("r/lamp", true), run("r/empty", 6*minute)),
				{ID: "r/off", Room: "r", Purpose: "Off.", Cause: ended("r/empty"), Effects: []rules.Effect{turn("r/lamp", false)}, Hold: []rules.Literal{is("r/motion")}, HoldFor: 6 * minute}}},
			[]string{
				`r/seen: Motion is seen in the room: ceiling light to 0 %; start the wait "empty" for 6m, again from now`,
				`r/off: The wait "empty" runs out, no motion is seen in the room: ceiling light off`,
				`r/off~2: The wait "empty" runs out, motion is seen in the room: start the wait "empty" for 6m, again from now`,
				`r/off~3: The motion in the room goes off, the wait "empty" runs: start the wait "empty" for 6m, again from now`}, true},
		{"a note", func(l *catalogue.Limits) { l.Flags = false },
			rules.Sheet{Things: []rules.Thing{lamp(), motion(), noted(), button()}, Rules: []rules.Rule{
				one("hand", pressed(rules.Single), nil, turn("r/noted", true)), one("auto", pressed(rules.Double), nil, turn("r/noted", false)),
				one("seen", seen(true), []rules.Literal{not(is("r/noted"))}, turn("r/lamp", true)), one("dark", seen(false), nil, turn("r/lamp", false))}},
			[]string{
				`r/hand: The button is pressed once: start the wait "noted" for 12h, again from now`,
				`r/auto: The button is pressed twice: stop the wait "noted"`,
				`r/seen: Motion is seen in the room, the wait "noted" does not run: ceiling light to 0 %`,
				`r/dark: No more motion is seen in the room: ceiling light off`,
				`r/hand~2: The wait "noted" runs out: start the wait "noted" for 12h, again from now`}, false},
		{"a rise", func(l *catalogue.Limits) { l.RisesBy = false },
			rules.Sheet{Things: []rules.Thing{fan(), air(), button()}, Rules: []rules.Rule{
				one("rise", rules.Cause{Kind: rules.Rises, Thing: "r/air", Threshold: 78, For: 10 * minute}, nil, turn("r/fan", true)),
				one("off", pressed(rules.Single), nil, turn("r/fan", false))}}, nil, false},
		{"a guard about states where only windows are known", func(l *catalogue.Limits) { l.Guards = "state" },
			rules.Sheet{Things: []rules.Thing{lamp(), motion()}, Rules: []rules.Rule{
				one("day", seen(true), []rules.Literal{window(t, "06:20", "22:45")}, turn("r/lamp", true)), one("dark", seen(false), nil, turn("r/lamp", false))}},
			[]string{
				`r/day: It is 06:20: note "from 06:20 to 22:45"`,
				`r/day~2: It is 22:45: forget "from 06:20 to 22:45"`,
				`r/day~3: Motion is seen in the room, "from 06:20 to 22:45" is noted: ceiling light to 0 %`,
				`r/dark: No more motion is seen in the room: ceiling light off`}, false},
		{"two rules that depend on their order", func(l *catalogue.Limits) { l.Ordered = false },
			rules.Sheet{Things: []rules.Thing{lamp(), fan(), motion()}, Rules: []rules.Rule{
				one("off", seen(true), nil, turn("r/lamp", false), turn("r/fan", true)), one("on", seen(true), []rules.Literal{window(t, "06:00", "22:00")}, turn("r/lamp", true))}},
			[]string{
				`r/off: Motion is seen in the room: extract fan on`,
				`r/off~2: Motion is seen in the room, not between 06:00 and 22:00: ceiling light off`,
				`r/on: Motion is seen in the room, between 06:00 and 22:00: ceiling light to 0 %`}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			lim := limitSet(t, "open")
			c.limit(&lim)
			fit := Fit(c.sheet, lim, Info{})
			if got := worded(fit.Sheet); c.want != nil && !slices.Equal(got, c.want) {
				t.Errorf("fitted to\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
			if len(fit.Lost) > 0 {
				t.Errorf("lost %+v", fit.Lost)
			}
			if c.name == "wishes on top of each other" {
				notTooMany(t, c.sheet, fit.Sheet)
				return
			}
			sameMeaning(t, c.sheet, lim, Info{}, c.cuts)
		})
	}
}

// A wait that holds another looks like a reason that may stand at the end of it. It can't where it starts only when the held one starts
// over too, and runs for less than half as long: 16 min beside 45. Then no rule looks for it in vain.
func TestAReasonThatIsOverByThenIsNotLookedFor(t *testing.T) {
	sheet := func(c rules.Cause) rules.Sheet {
		return rules.Sheet{Things: []rules.Thing{lamp(), motion()}, Rules: []rules.Rule{
			one("seen", seen(true), nil, turn("r/lamp", true), run("r/empty", 45*minute)),
			one("still", c, nil, run("r/open", 16*minute)),
			{ID: "r/off", Room: "r", Purpose: "Off.", Cause: ended("r/empty"), Effects: []rules.Effect{turn("r/lamp", false)},
				Hold: []rules.Literal{is("r/motion"), {Kind: rules.Running, Wait: "r/open"}}, HoldFor: 45 * minute}}}
	}
	lim := limitSet(t, "open")
	lim.Holds = false
	looks := func(s rules.Sheet) bool {
		return slices.ContainsFunc(Fit(s, lim, Info{}).Sheet.Rules, func(r rules.Rule) bool {
			return r.Cause == ended("r/empty") && slices.ContainsFunc(r.Guard, func(l rules.Literal) bool { return l.Wait == "r/open" })
		})
	}
	falls := sheet(rules.Cause{Kind: rules.Became, Thing: "r/motion"})
	if looks(falls) {
		t.Errorf("%q", worded(Fit(falls, lim, Info{}).Sheet))
	}
	sameMeaning(t, falls, lim, Info{}, true)
	says := sheet(seen(false)) // the sensor may say it twice
	if !looks(says) {
		t.Errorf("%q", worded(Fit(says, lim, Info{}).Sheet))
	}
	sameMeaning(t, says, lim, Info{}, true)
}

// notTooMany compares stories in which no more wishes stand in line than the note says: one runs, inLine wait.
func notTooMany(t *testing.T, sheet, fitted rules.Sheet) {
	rapid.Check(t, func(r *rapid.T) {
		var story []happening
		presses, skipped := 0, 0
		for _, h := range happenings(r, sheet, true) {
			h.after += skipped
			skipped = 0
			if h.event.Kind == rules.ButtonPress {
				if presses++; presses > 1+inLine {
					skipped = h.after
					continue
				}
			}
			story = append(story, h)
		}
		if err := compare(t, sheet, fitted, 0, 0, story); err != nil {
			r.Fatal(err)
		}
	})
}

func TestToggleIsGuardedByTheState(t *testing.T) {
	sheet := rules.Sheet{Things: []rules.Thing{fan(), motion()}, Rules: []rules.Rule{one("on", seen(true), nil, turn("r/fan", true)), one("off", seen(false), nil, turn("r/fan", false))}}
	info := Info{Parts: map[string]catalogue.Part{"r/fan": {ID: "x", Kind: "impulse relay"}}}
	lim := limitSet(t, "able")
	fit := sameMeaning(t, sheet, lim, info, true)
	want := []string{`r/on: Motion is seen in the room, the extract fan is off: extract fan on`, `r/off: No more motion is seen in the room, the extract fan is on: extract fan off`}
	if got := worded(fit.Sheet); !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	es := Entries(fit, lim, info)
	if f := es[0].Fields[len(es[0].Fields)-1]; f.Value != "toggle the extract fan" {
		t.Errorf("typed as %q", f.Value)
	}
	if err := Enterable(sheet, sheet.Rules[0], lim, info); err == nil {
		t.Error("an unguarded toggle can be entered")
	}
	lim.Guards = "time"
	blind := Fit(sheet, lim, info)
	if len(blind.Lost) != 2 || blind.Lost[0].Limit != "toggle_only" || blind.Lost[0].Promise != "light on entry" {
		t.Errorf("without states: %+v", blind.Lost)
	}
}

func TestUnknownPressIsLostWithARemedy(t *testing.T) {
	sheet := rules.Sheet{Things: []rules.Thing{fan(), button()}, Rules: []rules.Rule{
		{ID: "r/run", Room: "r", Goal: "buttons", Purpose: "On request: fan 20m.", Cause: pressed(rules.Double), Effects: []rules.Effect{turn("r/fan", true), run("r/asked", 20*minute)}},
		one("end", ended("r/asked"), nil, turn("r/fan", false))}}
	fit := Fit(sheet, limitSet(t, "modest"), Info{})
	for _, r := range fit.Sheet.Rules {
		if r.Cause.Kind == rules.Pressed || r.Cause.Kind == rules.Ended {
			t.Errorf("%q is left, which nothing can cause", worded(fit.Sheet))
		}
	}
	if len(fit.Lost) != 1 || fit.Lost[0].Limit != "presses" || fit.Lost[0].Promise != "wish kept" || fit.Lost[0].Remedy == "" {
		t.Errorf("lost %+v", fit.Lost)
	}
}

func TestTypedWindowsAdjoin(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		step := rapid.SampledFrom([]time.Duration{time.Minute, 5 * time.Minute, 15 * time.Minute}).Draw(r, "step")
		lim := catalogue.Limits{EndInclusive: rapid.Bool().Draw(r, "inclusive"), ClockStep: q.Span(step)}
		n := int(day / step)
		cuts := rapid.SliceOfNDistinct(rapid.IntRange(0, n-1), 2, 6, rapid.ID).Draw(r, "starts")
		slices.Sort(cuts)
		owner := make([]int, n) // how many windows a step of the day is in, as the controller reads what was typed
		for i, from := range cuts {
			to := cuts[(i+1)%len(cuts)]
			l := rules.Literal{Kind: rules.Between, From: q.DayTime{Offset: time.Duration(from) * step}, To: q.DayTime{Offset: time.Duration(to) * step}}
			for _, p := range pieces(l) {
				a, b := Typed(p, lim)
				first, last := minutes(t, a)/int(step/time.Minute), minutes(t, b)/int(step/time.Minute)
				if !lim.EndInclusive {
					last--
				}
				for s := first; s <= last; s++ {
					owner[s]++
				}
			}
		}
		for s, k := range owner {
			if k != 1 {
				r.Fatalf("step %d of the day is in %d windows, starts %v", s, k, cuts)
			}
		}
	})
}

func minutes(t testing.TB, s string) int {
	if s == "24:00" {
		return 24 * 60
	}
	return int(clock(t, s).Offset / time.Minute)
}

func TestTableOfSunTimes(t *testing.T) {
	var year []rules.Day
	for n := range 365 {
		at := 16*3600 + n*60 // a minute later every day
		if n >= 88 {
			at += 3600 // the clock goes forward on 30 March
		}
		year = append(year, rules.Day{Sunset: at % rules.DaySeconds})
	}
	sunset := q.DayTime{Sun: q.Sunset}
	table := TableOf(sunset, year, 5*minute)
	if len(table.Rows) != 13 {
		t.Errorf("%d rows, want one for each month and one more for the change of the clock", len(table.Rows))
	}
	if table.Rows[0].At != clock(t, "16:15") || table.Worst > 18 {
		t.Errorf("January is %v, worst %d", table.Rows[0].At, table.Worst)
	}
	if got := table.On(88); got != table.Rows[3].At || table.On(87) == got {
		t.Errorf("on the day of the change %v", got)
	}
	sheet := rules.Sheet{Things: []rules.Thing{lamp()}, Rules: []rules.Rule{one("dusk", rules.Cause{Kind: rules.Clock, At: sunset}, nil, turn("r/lamp", true))}}
	fit := Fit(sheet, limitSet(t, "modest"), Info{Year: year, Day: 100})
	if got := fit.Sheet.Rules[0].Cause.At; got != table.On(100) || len(fit.Tables) != 1 {
		t.Errorf("in April %v", got)
	}
	es := Entries(fit, limitSet(t, "modest"), Info{})
	if !strings.Contains(es[0].Fields[len(es[0].Fields)-1].Value, "from 1 January") {
		t.Errorf("the entry has no table: %+v", es[0])
	}
}

func TestClockStepSaysItsError(t *testing.T) {
	sheet := rules.Sheet{Things: []rules.Thing{lamp()}, Rules: []rules.Rule{one("on", rules.Cause{Kind: rules.Clock, At: clock(t, "06:23")}, nil, turn("r/lamp", true)),
		one("off", rules.Cause{Kind: rules.Clock, At: clock(t, "23:58")}, nil, turn("r/lamp", false))}}
	lim := limitSet(t, "open")
	lim.ClockStep = 5 * minute
	fit := Fit(sheet, lim, Info{})
	if fit.Sheet.Rules[0].Cause.At != clock(t, "06:25") || fit.Sheet.Rules[1].Cause.At != clock(t, "00:00") {
		t.Errorf("%q", worded(fit.Sheet))
	}
	if !slices.ContainsFunc(fit.Notes, func(n Note) bool { return n.Limit == "clock_step" && n.Costs == "It is off by 2m." }) {
		t.Errorf("notes %+v", fit.Notes)
	}
}

func TestRulesTooMany(t *testing.T) {
	fit := Fit(homeSheet(t, "alder-row.yaml"), limitSet(t, "modest"), Info{})
	if !slices.ContainsFunc(fit.Lost, func(l Lost) bool { return l.Limit == "rules" && strings.Contains(l.Text, "too many") }) {
		t.Error("a whole home fits on a modest controller")
	}
}

func TestFarLosesWhatHurtsAndSaysIt(t *testing.T) {
	fit := Fit(homeSheet(t, "alder-row.yaml"), limitSet(t, "far"), Info{})
	promises := map[string]bool{}
	for _, l := range fit.Lost {
		if l.Text == "" || l.Promise == "" || l.Remedy == "" {
			t.Errorf("an incomplete loss: %+v", l)
		}
		promises[l.Limit+": "+l.Promise] = true
	}
	for _, want := range []string{"offline: told", "offline: cut off", "guards: never dark on someone"} {
		if !promises[want] {
			t.Errorf("%q is not said; said are %v", want, promises)
		}
	}
}

func TestEveryFittedRuleIsFromAnIdealOne(t *testing.T) {
	for _, set := range []string{"modest", "able", "open", "far"} {
		for _, home := range []string{"alder-row.yaml", "larkspur-lane.yaml", "twelve-doors.yaml"} {
			sheet, lim := homeSheet(t, home), limitSet(t, set)
			ideal := map[string]bool{}
			for _, r := range sheet.Rules {
				ideal[r.ID] = true
			}
			fit := Fit(sheet, lim, Info{})
			if again := Fit(sheet, lim, Info{}); !reflect.DeepEqual(fit, again) {
				t.Errorf("%s %s: two fits differ", set, home)
			}
			enterable(t, fit, lim, Info{})
			if _, err := rules.Compile(fit.Sheet); err != nil {
				t.Errorf("%s %s: %v", set, home, err)
			}
			carried := map[string]bool{}
			for _, r := range fit.Sheet.Rules {
				if len(fit.From[r.ID]) == 0 {
					t.Errorf("%s %s: %s is from nowhere", set, home, r.ID)
				}
				for _, id := range fit.From[r.ID] {
					if carried[id] = true; !ideal[id] {
						t.Errorf("%s %s: %s is from %s, which isn't there", set, home, r.ID, id)
					}
				}
			}
			for _, l := range fit.Lost {
				carried[l.Rule] = true
			}
			for id := range ideal {
				if !carried[id] && set == "open" {
					t.Errorf("%s %s: %s has gone without a word", set, home, id)
				}
			}
		}
	}
}

func BenchmarkFitAlderRowModest(b *testing.B) {
	sheet, lim := homeSheet(b, "alder-row.yaml"), limitSet(b, "modest")
	b.ReportAllocs()
	for b.Loop() {
		Fit(sheet, lim, Info{})
	}
}

func BenchmarkPlaceAlderRow(b *testing.B) {
	sheet := homeSheet(b, "alder-row.yaml")
	hosts := []Host{{ID: "a", Room: "hall", Limits: limitSet(b, "able")}, {ID: "b", Room: "landing", Limits: limitSet(b, "able")}}
	for b.Loop() {
		Place(sheet, hosts, Info{})
	}
}

// A wait that is stopped and started anew is not the held one any more: where one moment may take the hold away as well, that is said.
func TestAStopThatForgetsTheHoldIsSaid(t *testing.T) {
	dark := rules.Literal{Not: true, Kind: rules.Is, Thing: "r/lamp"}
	held := one("empty", rules.Cause{Kind: rules.Ended, Wait: "r/empty"}, nil, turn("r/fan", false))
	held.Hold, held.HoldFor = []rules.Literal{dark}, 7*q.Span(time.Second)
	for _, c := range []struct {
		name string
		by   rules.Rule
		said bool
	}{
		{"the hold falls by the same rule", one("again", pressed(rules.Single), nil, turn("r/lamp", true), run("r/empty", minute)), true},
		{"nothing that holds it changes", one("again", pressed(rules.Single), nil, run("r/empty", minute)), false},
		{"both are one span", one("again", pressed(rules.Single), nil, turn("r/lamp", true), run("r/empty", held.HoldFor)), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			lim := limitSet(t, "open")
			lim.Restarts, lim.Keeps = false, false
			sheet := rules.Sheet{Things: []rules.Thing{lamp(), fan(), button()}, Rules: []rules.Rule{held, c.by, one("begin", pressed(rules.Hold), nil, run("r/empty", minute))}}
			fit := Fit(sheet, lim, Info{})
			said := slices.ContainsFunc(fit.Notes, func(n Note) bool { return n.Moment && n.Limit == "restarts" })
			if said != c.said {
				t.Fatalf("said: %v, want %v: %+v", said, c.said, fit.Notes)
			}
			presses := []happening{
				{after: 1, thing: "r/fan", event: rules.Event{Kind: rules.HandSet, Value: rules.Value{On: true}}},
				{after: 1, thing: "r/button", event: rules.Event{Kind: rules.ButtonPress, Press: rules.Hold}},
				{after: 1, thing: "r/button", event: rules.Event{Kind: rules.ButtonPress, Press: rules.Single}},
				{after: 30, thing: "r/lamp", event: rules.Event{Kind: rules.HandSet, Value: rules.Value{On: true}}},
			}
			if err := compare(t, sheet, fit.Sheet, 0, fit.Slack, presses); (err != nil) != c.said {
				t.Fatalf("played: %v, said: %v", err, said)
			}
		})
	}
}
