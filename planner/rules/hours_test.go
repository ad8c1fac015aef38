package rules

import (
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
)

// A note that the clock makes at 22:00 and forgets at 06:00 stands at the start where the hour says so. One that something else moves as well,
// or that is forgotten only at times, is nobody's to know.
func TestNotesOfTheHourStandAtTheStart(t *testing.T) {
	at := func(hour int) Cause {
		return Cause{Kind: Clock, At: q.DayTime{Offset: time.Duration(hour) * time.Hour}}
	}
	note := func(c Cause, on bool, guard ...Literal) Rule {
		return Rule{Cause: c, Guard: guard, Effects: []Effect{{Kind: Set, Thing: "night", Value: Value{On: on}}}}
	}
	press := Cause{Kind: Pressed, Thing: "button"}
	for _, tt := range []struct {
		name  string
		rules []Rule
		hours bool
	}{
		{"the clock alone", []Rule{note(at(22), true), note(at(6), false)}, true},
		{"a button as well", []Rule{note(at(22), true), note(at(6), false), note(press, false)}, false},
		{"forgotten at times", []Rule{note(at(22), true), note(at(6), false, Literal{Kind: Is, Thing: "lamp"})}, false},
		{"never forgotten", []Rule{note(at(22), true)}, false},
		{"made twice", []Rule{note(at(22), true), note(at(23), true), note(at(6), false)}, false},
	} {
		sheet := Sheet{Things: []Thing{{ID: "night", Kind: Flag, Name: "night"}, {ID: "lamp", Kind: Lamp, Name: "lamp"}, {ID: "button", Kind: ButtonOf, Name: "button"}}, Rules: tt.rules}
		for i := range sheet.Rules {
			sheet.Rules[i].ID, sheet.Rules[i].Purpose = "rule-"+string(rune('a'+i)), "To see."
		}
		p, err := Compile(sheet)
		if err != nil {
			t.Fatal(tt.name, err)
		}
		for hour, night := range map[int]bool{0: true, 5: true, 6: false, 12: false, 21: false, 22: true, 23: true} {
			s := p.Start(hour * 3600)
			if got := p.Value(s, 0).On; got != (night && tt.hours) {
				t.Errorf("%s: noted at %02d:00 is %v", tt.name, hour, got)
			}
		}
	}
}
