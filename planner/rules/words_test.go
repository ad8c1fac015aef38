package rules

import (
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
)

var worded = Sheet{
	Things: []Thing{
		{ID: "shower-room/ceiling", Room: "shower-room", Kind: Lamp, Name: "ceiling light"},
		{ID: "shower-room/extract", Room: "shower-room", Kind: Fan, Name: "extract fan"},
		{ID: "shower-room/motion", Room: "shower-room", Kind: Motion, Name: "motion in the shower room"},
		{ID: "living/people", Room: "living", Kind: Presence, Name: "people in the living room"},
		{ID: "shower-room/door", Room: "shower-room", Kind: Door, Name: "door to the landing"},
		{ID: "shower-room/humidity", Room: "shower-room", Kind: Hygrometer, Name: "humidity in the shower room"},
		{ID: "house/humidity", Kind: Hygrometer, Name: "humidity of the house"},
		{ID: "shower-room/tray", Room: "shower-room", Kind: Probe, Name: "water at the tray"},
		{ID: "hall/main", Room: "hall", Kind: Valve, Name: "main valve"},
		{ID: "utility/iron", Room: "utility", Kind: Plug, Name: "iron"},
		{ID: "utility/iron-power", Room: "utility", Kind: Meter, Name: "power of the iron"},
		{ID: "shower-room/by-basin", Room: "shower-room", Kind: ButtonOf, Name: "button at the basin"},
		{ID: "shower-room/by-hand", Room: "shower-room", Kind: Flag, Name: "set by hand"},
	},
	Rules: []Rule{
		{ID: "shower-room/a", Room: "shower-room", Cause: Cause{Kind: Reports, Thing: "shower-room/motion", On: true},
			Guard:   []Literal{{Kind: Between, From: at(22, 45, 0), To: at(6, 20, 0)}, {Kind: Is, Thing: "shower-room/by-hand", Not: true}},
			Effects: []Effect{{Kind: Set, Thing: "shower-room/ceiling", Value: Value{On: true, Level: 4, Colour: 2200}}, {Kind: Start, Wait: "shower-room/empty", For: secs(360)}}},
		{ID: "shower-room/b", Room: "shower-room", Cause: Cause{Kind: Ended, Wait: "shower-room/empty"},
			Effects: []Effect{{Kind: Set, Thing: "shower-room/ceiling"}, {Kind: Tell, People: []string{"Rosa"}, Text: "Dark."}},
			Hold:    []Literal{{Kind: Is, Thing: "shower-room/motion"}}, HoldFor: secs(360)},
	},
}

func TestWordsOfARule(t *testing.T) {
	a, b := Words(worded, worded.Rules[0]), Words(worded, worded.Rules[1])
	if a.Cause != "Motion is seen in the shower room" || a.Guard != `between 22:45 and 06:20, and "set by hand" is not noted` ||
		a.Effect != `ceiling light to 4 %, 2200 K; start the wait "empty" for 6m, again from now` || a.Hold != "" {
		t.Errorf("%+v", a)
	}
	if b.Cause != `The wait "empty" runs out` || b.Guard != "" || b.Effect != `ceiling light off; tell Rosa: "Dark."` ||
		b.Hold != "held while motion is seen in the shower room; after that it runs 6m from the start" {
		t.Errorf("%+v", b)
	}
}

func TestWordsOfEveryPart(t *testing.T) {
	w := NewWording(worded)
	causes := map[string]Cause{
		"no more motion is seen in the shower room":                                       {Kind: Reports, Thing: "shower-room/motion"},
		"nobody is seen in the living room any more":                                      {Kind: Reports, Thing: "living/people"},
		"the door to the landing opens":                                                   {Kind: Reports, Thing: "shower-room/door", On: true},
		"water is found at the tray":                                                      {Kind: Reports, Thing: "shower-room/tray", On: true},
		"humidity in the shower room goes over 65 %":                                      {Kind: Over, Thing: "shower-room/humidity", Threshold: 65},
		"power of the iron comes back to 20 W":                                            {Kind: Under, Thing: "utility/iron-power", Threshold: 20},
		"power of the iron has stayed at 20 W or less for 8m":                             {Kind: StaysUnder, Thing: "utility/iron-power", Threshold: 20, For: secs(480)},
		"humidity in the shower room rises by 5 points or more inside 3m":                 {Kind: Rises, Thing: "shower-room/humidity", Threshold: 5, For: secs(180)},
		"humidity in the shower room goes more than 5 points above humidity of the house": {Kind: Over, Thing: "shower-room/humidity", Threshold: 5, Than: "house/humidity"},
		"the button at the basin is pressed twice":                                        {Kind: Pressed, Thing: "shower-room/by-basin", Press: Double},
		"the extract fan is switched off by hand":                                         {Kind: Became, Thing: "shower-room/extract", ByHand: true},
		"the ceiling light is switched on by hand, at no level of its own":                {Kind: Became, Thing: "shower-room/ceiling", On: true, ByHand: true, Plain: true},
		"the ceiling light is changed by hand":                                            {Kind: Became, Thing: "shower-room/ceiling", Any: true, ByHand: true},
		`"set by hand" is forgotten`:                                                      {Kind: Became, Thing: "shower-room/by-hand"},
		"it is 30 min before sunset":                                                      {Kind: Clock, At: q.DayTime{Sun: q.Sunset, Offset: -30 * time.Minute}},
		"it is 00:00:30":                                                                  {Kind: Clock, At: at(0, 0, 30)},
		"the power comes back":                                                            {Kind: PowerBack},
	}
	for want, c := range causes {
		if got := w.Cause(c); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	literals := map[string]Literal{
		"the door to the landing is shut":                                               {Kind: Is, Thing: "shower-room/door", Not: true},
		"nobody is seen in the living room":                                             {Kind: Is, Thing: "living/people", Not: true},
		"there is no water at the tray":                                                 {Kind: Is, Thing: "shower-room/tray", Not: true},
		"the main valve is shut":                                                        {Kind: Is, Thing: "hall/main"},
		"humidity in the shower room is at most 65 %":                                   {Kind: ReadsOver, Thing: "shower-room/humidity", Threshold: 65, Not: true},
		"humidity in the shower room is more than 5 points above humidity of the house": {Kind: ReadsOver, Thing: "shower-room/humidity", Threshold: 5, Than: "house/humidity"},
		`the wait "fan asked" does not run`:                                             {Kind: Running, Wait: "shower-room/fan-asked", Not: true},
	}
	for want, l := range literals {
		if got := w.Literal(l); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	effects := map[string]Effect{
		"shut the main valve": {Kind: Set, Thing: "hall/main", Value: Value{On: true}},
		`note "set by hand"`:  {Kind: Set, Thing: "shower-room/by-hand", Value: Value{On: true}},
		"extract fan on":      {Kind: Set, Thing: "shower-room/extract", Value: Value{On: true}},
		`start the wait "empty" for 6m, never cutting it short`: {Kind: Start, Wait: "shower-room/empty", For: secs(360)},
	}
	for want, e := range effects {
		if got := w.Effect(e, Longer); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestChartIsWhatTheRulesMove(t *testing.T) {
	c := ChartOf(worded, "shower-room")
	want := `
 A  ceiling light
 B  wait "empty"
 C  people told

                                                A  B C
------------------------------------------------------
  1 Motion is seen in the shower room, between  4 6m
    22:45 and 06:20, and "set by hand" is not
    noted
  2 The wait "empty" runs out                   -    !

40 = lamps to 40 %
- = off or forgotten
6m = a wait starts, again from now
! = people are told`
	if got := "\n" + c.Text(54); got != want {
		t.Errorf("%s", got)
	}
	if ChartOf(worded, "hall").Text(80) != "" {
		t.Error("a room without rules has a chart")
	}
}

func TestChartFitsItsWidth(t *testing.T) {
	sheet := Sheet{Things: worded.Things}
	r := Rule{ID: "r", Room: "shower-room", Cause: Cause{Kind: PowerBack}}
	for i := range 40 {
		r.Effects = append(r.Effects, Effect{Kind: Start, Wait: "shower-room/w" + strings.Repeat("x", i), For: secs(3600 + i)})
	}
	sheet.Rules = []Rule{r}
	for _, width := range []int{20, 40, 80, 120} {
		for _, line := range strings.Split(ChartOf(sheet, "shower-room").Text(width), "\n") {
			if len(line) > max(width, 40) && !strings.Contains(line, "wait") {
				t.Errorf("%d cells of %d: %q", len(line), width, line)
			}
		}
	}
}
