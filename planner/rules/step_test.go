package rules

import (
	"slices"
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
)

func secs(n int) q.Span { return q.Span(time.Duration(n) * time.Second) }

func at(h, m, s int) q.DayTime {
	return q.DayTime{Offset: time.Duration(h*3600+m*60+s) * time.Second}
}

// things of most test sheets.
var things = []Thing{
	{ID: "r/lamp", Room: "r", Kind: Lamp, Name: "lamp"},
	{ID: "r/fan", Room: "r", Kind: Fan, Name: "fan"},
	{ID: "r/motion", Room: "r", Kind: Motion, Name: "motion in the room"},
	{ID: "r/air", Room: "r", Kind: Hygrometer, Name: "humidity in the room"},
	{ID: "r/hall", Room: "r", Kind: Hygrometer, Name: "humidity in the hall"},
	{ID: "r/button", Room: "r", Kind: ButtonOf, Name: "button"},
	{ID: "r/flag", Room: "r", Kind: Flag, Name: "flag"},
	{ID: "r/other", Room: "r", Kind: Flag, Name: "other flag"},
}

const (
	lamp = iota
	fan
	motion
	air
	hall
	button
	flag
	other
)

func compiled(t testing.TB, rs ...Rule) *Program {
	t.Helper()
	for i := range rs {
		if rs[i].ID == "" {
			rs[i].ID = string(rune('a' + i))
		}
		rs[i].Room = "r"
	}
	p, err := Compile(Sheet{Things: things, Rules: rs})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func set(thing string, on bool) Effect {
	return Effect{Kind: Set, Thing: thing, Value: Value{On: on, Level: 50}}
}
func begin(wait string, n int) Effect { return Effect{Kind: Start, Wait: wait, For: secs(n)} }

var seen = Cause{Kind: Reports, Thing: "r/motion", On: true}
var press = Cause{Kind: Pressed, Thing: "r/button"}

func seenNow() Event  { return Event{Kind: Reported, Thing: motion, Value: Value{On: true}} }
func pressNow() Event { return Event{Kind: ButtonPress, Thing: button} }
func reads(thing, n int) Event {
	return Event{Kind: ReadingIs, Thing: thing, Value: Value{Level: n}}
}

// play steps through events from a state and returns the last state with the rules that acted.
func play(p *Program, s State, events ...Event) (State, string) {
	var acted []string
	for _, e := range events {
		var hs []Happening
		if e.Kind == TimePasses {
			s, hs = p.Advance(s, e.Seconds)
		} else {
			s, hs = p.Step(s, e)
		}
		for _, h := range hs {
			if h.Kind == Acted {
				acted = append(acted, p.sheet.Rules[h.Rule].ID)
			}
			if h.Kind == Endless {
				acted = append(acted, "endless")
			}
		}
	}
	return s, strings.Join(acted, " ")
}

func pass(n int) Event { return Event{Kind: TimePasses, Seconds: n} }

func TestWhatActsWhen(t *testing.T) {
	on := func(c Cause, guard ...Literal) Rule {
		return Rule{Cause: c, Guard: guard, Effects: []Effect{{Kind: Tell, Text: "x"}}}
	}
	tests := []struct {
		name   string
		rules  []Rule
		events []Event
		want   string
	}{
		{"a report that repeats counts again", []Rule{on(seen)}, []Event{seenNow(), seenNow()}, "a a"},
		{"becoming is a change only", []Rule{on(Cause{Kind: Became, Thing: "r/motion", On: true})}, []Event{seenNow(), seenNow()}, "a"},
		{"sheet order, not order of kinds", []Rule{on(Cause{Kind: Became, Thing: "r/motion", On: true}), on(seen)}, []Event{seenNow()}, "a b"},
		{"over is a crossing", []Rule{on(Cause{Kind: Over, Thing: "r/air", Threshold: 65})},
			[]Event{reads(air, 65), reads(air, 66), reads(air, 80), reads(air, 65), reads(air, 70)}, "a a"},
		{"under is a crossing, and the threshold is under", []Rule{on(Cause{Kind: Under, Thing: "r/air", Threshold: 65})},
			[]Event{reads(air, 60), reads(air, 66), reads(air, 65), reads(air, 30)}, "a"},
		{"over another reading, whichever moves", []Rule{on(Cause{Kind: Over, Thing: "r/air", Threshold: 5, Than: "r/hall"})},
			[]Event{reads(hall, 50), reads(air, 55), reads(air, 56), reads(hall, 60), reads(hall, 40)}, "a a"},
		{"presses are told apart", []Rule{on(press), on(Cause{Kind: Pressed, Thing: "r/button", Press: Double})},
			[]Event{{Kind: ButtonPress, Thing: button, Press: Double}, {Kind: ButtonPress, Thing: button, Press: Hold}, pressNow()}, "b a"},
		{"by hand only by hand", []Rule{on(Cause{Kind: Became, Thing: "r/lamp", Any: true, ByHand: true}), {Cause: seen, Effects: []Effect{set("r/lamp", true)}}},
			[]Event{seenNow(), {Kind: HandSet, Thing: lamp, Value: Value{On: true, Level: 20}}, {Kind: HandSet, Thing: lamp, Value: Value{On: true, Level: 20}}}, "b a"},
		{"switched on at no level", []Rule{on(Cause{Kind: Became, Thing: "r/lamp", On: true, ByHand: true, Plain: true}), {Cause: seen, Effects: []Effect{set("r/lamp", true)}}},
			[]Event{seenNow(), {Kind: HandSet, Thing: lamp}, {Kind: HandSet, Thing: lamp, Value: Value{On: true, Level: 20}}, {Kind: HandSet, Thing: lamp},
				{Kind: HandSet, Thing: lamp, Value: Value{On: true}}}, "b a"},
		{"whoever did it", []Rule{on(Cause{Kind: Became, Thing: "r/lamp", On: true}), {Cause: seen, Effects: []Effect{set("r/lamp", true)}}},
			[]Event{seenNow(), {Kind: HandSet, Thing: lamp}, {Kind: HandSet, Thing: lamp, Value: Value{On: true}}}, "b a a"},
		{"guards are looked at before any rule acts",
			[]Rule{{Cause: seen, Effects: []Effect{set("r/flag", true)}}, on(seen, Literal{Kind: Is, Thing: "r/flag"}), on(seen, Literal{Kind: Is, Thing: "r/flag", Not: true})},
			[]Event{seenNow()}, "a c"},
		{"what a rule changed comes after the rules of its cause",
			[]Rule{on(Cause{Kind: Became, Thing: "r/flag", On: true}), {Cause: seen, Effects: []Effect{set("r/flag", true)}}, on(seen)},
			[]Event{seenNow()}, "b c a"},
		{"setting what is so already is no change",
			[]Rule{on(Cause{Kind: Became, Thing: "r/flag", Any: true}), {Cause: seen, Effects: []Effect{set("r/flag", false)}}}, []Event{seenNow()}, "b"},
		{"a clock time comes once a day", []Rule{on(Cause{Kind: Clock, At: at(0, 0, 10)})}, []Event{pass(9), pass(1), pass(DaySeconds - 1), pass(1)}, "a a"},
		{"the end of a wait", []Rule{{Cause: seen, Effects: []Effect{begin("w", 10)}}, on(Cause{Kind: Ended, Wait: "w"}, Literal{Kind: Running, Wait: "w", Not: true})},
			[]Event{seenNow(), pass(9), pass(1), pass(100)}, "a b"},
		{"a window has its first second and not its last",
			[]Rule{on(press, Literal{Kind: Between, From: at(23, 59, 50), To: at(0, 0, 5)})},
			[]Event{pressNow(), pass(4), pressNow(), pass(1), pressNow(), pass(DaySeconds - 16), pressNow(), pass(1), pressNow()}, "a a a"},
		{"rises inside a time, ends included", []Rule{on(Cause{Kind: Rises, Thing: "r/air", Threshold: 5, For: secs(60)})},
			[]Event{reads(air, 40), pass(500), reads(air, 42), pass(60), reads(air, 45), pass(100), reads(air, 47), pass(61), reads(air, 50)}, "a a"},
		{"a slow rise is none", []Rule{on(Cause{Kind: Rises, Thing: "r/air", Threshold: 3, For: secs(10)})},
			[]Event{pass(20), reads(air, 1), pass(11), reads(air, 2), pass(11), reads(air, 3), pass(11), reads(air, 4), pass(11), reads(air, 3), reads(air, 5)}, ""},
		{"stays under from the crossing on, once", []Rule{on(Cause{Kind: StaysUnder, Thing: "r/air", Threshold: 20, For: secs(30)})},
			[]Event{pass(100), reads(air, 50), reads(air, 20), pass(29), reads(air, 10), pass(1), pass(100), reads(air, 21), reads(air, 20), pass(10), reads(air, 40), pass(100)}, "a"},
		{"nothing acts in a power cut", []Rule{on(seen), on(press), on(Cause{Kind: PowerBack}, Literal{Kind: Is, Thing: "r/motion"})},
			[]Event{{Kind: PowerFails}, seenNow(), pressNow(), pass(10), {Kind: PowerReturns}}, "c"},
		{"waits are lost in a power cut", []Rule{{Cause: seen, Effects: []Effect{begin("w", 10)}}, on(Cause{Kind: Ended, Wait: "w"})},
			[]Event{seenNow(), {Kind: PowerFails}, {Kind: PowerReturns}, pass(100)}, "a"},
		{"a clock put forward strikes what it leaps over", []Rule{on(Cause{Kind: Clock, At: at(0, 30, 0)}), on(Cause{Kind: Clock, At: at(0, 20, 0)})},
			[]Event{{Kind: ClockMoves, Seconds: 3600}, pass(100), {Kind: ClockMoves, Seconds: -3600}, pass(3600)}, "b a b a"},
		{"rules that set each other off are cut short",
			[]Rule{{Cause: Cause{Kind: Became, Thing: "r/flag", On: true}, Effects: []Effect{set("r/flag", false)}},
				{Cause: Cause{Kind: Became, Thing: "r/flag"}, Effects: []Effect{set("r/flag", true)}}, {Cause: press, Effects: []Effect{set("r/flag", true)}}},
			[]Event{pressNow()}, "c" + strings.Repeat(" a b", 28) + " endless"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := compiled(t, tt.rules...)
			if _, got := play(p, p.Start(0), tt.events...); got != tt.want {
				t.Errorf("acted %q, want %q", got, tt.want)
			}
		})
	}
}

func TestSecondStartOfAWait(t *testing.T) {
	for _, tt := range []struct {
		again   Again
		n, want int // the wait of 100 s has 60 s left
	}{
		{Restart, 100, 100}, {Restart, 10, 10}, {Longer, 100, 100}, {Longer, 10, 60}, {Keep, 100, 60}, {Stack, 10, 70},
	} {
		p := compiled(t, Rule{Cause: seen, Effects: []Effect{begin("w", 100)}}, Rule{Cause: press, Again: tt.again, Effects: []Effect{begin("w", tt.n)}})
		s, _ := play(p, p.Start(0), seenNow(), pass(40), pressNow())
		if left, ok := p.Left(s, 0); !ok || left != tt.want {
			t.Errorf("again %d with %d s: %d s left, want %d", tt.again, tt.n, left, tt.want)
		}
	}
}

// A held wait doesn't run down, also when the hold comes and goes within its time.
func TestHoldStartsTheWaitOver(t *testing.T) {
	p := compiled(t,
		Rule{Cause: press, Effects: []Effect{begin("w", 100)}},
		Rule{Cause: Cause{Kind: Ended, Wait: "w"}, Effects: []Effect{set("r/lamp", false)}, Hold: []Literal{{Kind: Is, Thing: "r/motion"},
			{Kind: Between, From: at(0, 30, 0), To: at(0, 40, 0)}}, HoldFor: secs(20)})
	gone := Event{Kind: Reported, Thing: motion}
	s := p.Put(p.Start(0), lamp, Value{On: true})
	s, _ = play(p, s, pressNow(), pass(95), seenNow(), pass(1000))
	if left, ok := p.Left(s, 0); !ok || left != -1 {
		t.Fatalf("%d s left, want held", left)
	}
	s, _ = play(p, s, pressNow(), gone, pass(19))
	if !p.Value(s, lamp).On {
		t.Fatal("went off before the wait had started over")
	}
	s, _ = play(p, s, pass(1))
	if p.Value(s, lamp).On {
		t.Fatal("didn't go off")
	}
	s = p.Put(p.Start(1790), lamp, Value{On: true})
	s, _ = play(p, s, pressNow(), pass(60)) // a window holds too
	if left, _ := p.Left(s, 0); left != -1 {
		t.Fatalf("%d s left in the window, want held", left)
	}
	if s, _ = play(p, s, pass(569)); !p.Value(s, lamp).On {
		t.Fatal("went off in the window that holds")
	}
	if s, _ = play(p, s, pass(1)); p.Value(s, lamp).On {
		t.Fatal("didn't go off 20 s after the window")
	}
}

// A clock that is put back over the end of a window, to a second in which nothing is due, lets go of what the window held.
func TestHoldIsLookedAtWhenTheClockIsPutBack(t *testing.T) {
	p := compiled(t,
		Rule{Cause: press, Effects: []Effect{begin("w", 100)}},
		Rule{Cause: Cause{Kind: Ended, Wait: "w"}, Effects: []Effect{set("r/lamp", false)},
			Hold: []Literal{{Kind: Between, From: at(3, 0, 0), To: at(4, 0, 0)}}, HoldFor: secs(20)})
	s, _ := play(p, p.Start(3*3600+60), pressNow())
	if left, _ := p.Left(s, 0); left != -1 {
		t.Fatalf("%d s left in the window, want held", left)
	}
	s, _ = play(p, s, Event{Kind: ClockMoves, Seconds: -300})
	if left, _ := p.Left(s, 0); left != 20 {
		t.Fatalf("%d s left before the window, want 20", left)
	}
	if s, _ = play(p, s, pass(240)); p.Value(s, lamp).On {
		t.Fatal("it goes on by itself")
	}
}

func TestThingsComeBackWithThePower(t *testing.T) {
	sheet := Sheet{Things: slices.Clone(things), Rules: []Rule{
		{ID: "a", Cause: Cause{Kind: Became, Thing: "r/lamp", On: true}, Effects: []Effect{set("r/flag", true)}},
		{ID: "b", Cause: Cause{Kind: PowerBack}, Effects: []Effect{{Kind: Set, Thing: "r/lamp", Value: Value{On: true, Level: 4}}}},
	}}
	sheet.Things[lamp].PowerUp, sheet.Things[fan].PowerUp = ComesOn, ComesOff
	p, err := Compile(sheet)
	if err != nil {
		t.Fatal(err)
	}
	s := p.Put(p.Start(0), fan, Value{On: true})
	s, acted := play(p, s, Event{Kind: PowerFails}, Event{Kind: PowerReturns})
	if v := p.Value(s, lamp); v.Level != 4 || p.Value(s, fan).On || acted != "b a" {
		t.Errorf("lamp %v, fan %v, acted %q", v, p.Value(s, fan), acted)
	}
}

func TestSunTimesAreThoseOfTheDay(t *testing.T) {
	p := compiled(t, Rule{Cause: Cause{Kind: Clock, At: q.DayTime{Sun: q.Sunset, Offset: -time.Hour}}, Effects: []Effect{set("r/lamp", true)}})
	june := p.On(Day{Sunset: 21*3600 + 1800})
	for _, tt := range []struct {
		p    *Program
		when int
	}{{p, 17 * 3600}, {june, 20*3600 + 1800}} {
		s, _ := tt.p.Advance(tt.p.Start(12*3600), tt.when-12*3600-1)
		if tt.p.Value(s, lamp).On {
			t.Error("early")
		}
		if s, _ = tt.p.Advance(s, 1); !tt.p.Value(s, lamp).On {
			t.Errorf("not on at %d", tt.when)
		}
	}
}

func TestCompileSaysAllThatIsWrong(t *testing.T) {
	tell := []Effect{{Kind: Tell}}
	_, err := Compile(Sheet{Things: append(slices.Clone(things), things[0]), Rules: []Rule{
		{ID: "1", Cause: Cause{Kind: Reports, Thing: "r/nobody"}, Effects: tell},
		{ID: "2", Cause: Cause{Kind: Reports, Thing: "r/lamp"}, Effects: tell},
		{ID: "3", Cause: press, Effects: []Effect{set("r/motion", true)}},
		{ID: "4", Cause: Cause{Kind: Ended, Wait: "w"}, Effects: tell},
		{ID: "5", Cause: press, Guard: []Literal{{Kind: Running, Wait: "v"}}, Effects: tell},
		{ID: "6", Cause: press, Effects: []Effect{{Kind: Start, Wait: "x", For: q.Span(time.Millisecond)}}},
		{ID: "7", Cause: press, Hold: []Literal{{Kind: Is, Thing: "r/flag"}}},
		{ID: "7", Cause: press, Effects: tell},
		{ID: "8", Cause: press},
		{ID: "9", Cause: Cause{Kind: Clock, At: at(24, 0, 0)}, Effects: tell},
		{ID: "10", Cause: press, Effects: []Effect{{Kind: Set, Thing: "r/lamp", Value: Value{On: true, Level: 101}}}},
		{ID: "11", Cause: Cause{Kind: Over, Thing: "r/air", Threshold: -1}, Effects: tell},
		{ID: "12", Cause: press, Effects: []Effect{begin("y", 5)}},
		{ID: "13", Cause: Cause{Kind: Ended, Wait: "y"}, Effects: tell, Hold: []Literal{{Kind: Running, Wait: "y"}}},
		{ID: "14", Cause: Cause{Kind: 99}, Effects: []Effect{{Kind: 99}}, Guard: []Literal{{Kind: 99}}, Again: 9},
	}})
	if err == nil {
		t.Fatal("compiled")
	}
	for _, want := range []string{"two things are called r/lamp", `no thing "r/nobody"`, "rule 2:", "rule 3:", `rule 4: nothing starts the wait "w"`, "rule 5:", "rule 6:",
		"only the end of a wait can be held", "rule 7: a rule needs an id of its own", "rule 8: it has no effect", "rule 9:", "rule 10:", "rule 11:", "holds itself",
		"rule 14: it has no cause"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("no word of %q in:\n%v", want, err)
		}
	}
}
