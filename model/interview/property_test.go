package interview

import (
	"bytes"
	"context"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/roombrief/model/projectfile"
)

// texts that people type, good and bad, beside what a question itself proposes.
var texts = []string{
	"", " ", "y", "n", "u", "yes", "no", "none", "all", "unknown", "90", "90%", "65 %", "5 min", "1h30m", "2.4", "2.4 m", "8 ft", "7 ft 10 in", "0", "-1",
	"1e9", "99999999999999999999", "2,4 x 3,1", "a, b, c", "ct", "c t", "06:20 90 % 4000 K; sunset 40 %", "sunset", "25:00 10 %", "23:00-06:00 except both",
	"20m, 1h", "by door: press lights full; by bed: hold everything off", "press fan 20m", "press extend iron", "ceiling 4 GU10; mirror 1 integrated 450 lm zone 2",
	"extract 21 l/s", "extract unknown", "2 gang by door; 1 gang", "Rosa, Otto (slow mover), Mia (child), Dilip next door, cat 4 kg", "none of it",
	"closed to hall; open to garden", "S 1.2 m2; W", "3", "glue gun 100 W, CPAP", "washing machine", "stopcock, cistern", "tank supply", "r", "b", "ourselves",
	"53.96 N, 1.08 W", "18 C 50 %, 26 C 65 %", "25m or idle under 20 W for 8m", "idle under 5 W for 1h", "{}", "[", "- x", "a: b", "# c", "'", "\"", "\\", "%", "*a", "&a", "!!str x",
	"null", "~", "true", "2026-03-02", "0x1f", "\x00", "\u2028", "\xff", "日本語", "a\tb", "@", "`", ";;;", ",,,", ":", "()", "(", ")", "x", "×",
}

func someText(t *rapid.T, qn Question) string {
	pool := append([]string{qn.Default, qn.Example, qn.Now, qn.Answer, qn.DefaultAs}, texts...)
	for _, c := range qn.Choices {
		pool = append(pool, c.Key, c.Value, c.Label)
	}
	if rapid.IntRange(0, 9).Draw(t, "any") == 0 {
		return rapid.String().Draw(t, "text")
	}
	return rapid.SampledFrom(pool).Draw(t, "said")
}

func TestNoTextBreaksTheProject(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := empty()
		var rooms []string
		for range rapid.IntRange(1, 3).Draw(t, "rooms") {
			next, id, err := AddRoom(d, rapid.SampledFrom(Kinds()).Draw(t, "kind").ID, rapid.SampledFrom([]string{"", "Room", "é", "12", "a/b", "  "}).Draw(t, "name"))
			if err != nil {
				t.Fatal(err)
			}
			d, rooms = next, append(rooms, id)
		}
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			room := rapid.SampledFrom(append(rooms, "")).Draw(t, "room")
			all := All(d, room)
			if !reflect.DeepEqual(all, All(d, room)) {
				t.Fatal("the same document gives other questions the second time")
			}
			qn := all[rapid.IntRange(0, len(all)-1).Draw(t, "question")]
			if next, ok := Next(d, room); ok && rapid.Bool().Draw(t, "go on") {
				qn = next
			}
			d = step(t, d, qn)
		}
	})
}

// step does one thing with a question and checks what must hold whatever it was.
func step(t *rapid.T, d *projectfile.Document, qn Question) *projectfile.Document {
	before := string(d.Source())
	var next *projectfile.Document
	var err error
	switch rapid.IntRange(0, 11).Draw(t, "act") {
	case 0:
		next, err = Park(d, qn, someText(t, qn), time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC))
	case 1:
		next, err = Unpark(d, qn)
	case 2:
		if qn.Room == "" {
			return d
		}
		next, err = Say(d, qn.Room, GoalOf(qn.Chapter), someText(t, qn))
	case 3, 4, 5, 6:
		next, err = Answer(d, qn, "")
		if err != nil && !qn.Answered {
			t.Fatalf("%s refuses its own default %q: %v\n%s", qn.ID, qn.Default, err, before)
		}
	default:
		text := someText(t, qn)
		next, err = Answer(d, qn, text)
	}
	if string(d.Source()) != before {
		t.Fatal("the document that was asked has changed")
	}
	if err != nil {
		if next != d || err.Error() == "" {
			t.Fatalf("%s: an answer that was refused changed something, or says nothing", qn.ID)
		}
		return d
	}
	if !next.OK() {
		t.Fatalf("%s: wrong project: %v\n%s", qn.ID, next.Problems(), next.Source())
	}
	return next
}

// What a question shows as written now can be typed, and changes nothing.
func TestWhatIsWrittenCanBeTypedAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, id, err := AddRoom(empty(), rapid.SampledFrom(Kinds()).Draw(t, "kind").ID, "")
		if err != nil {
			t.Fatal(err)
		}
		for range 60 {
			room := rapid.SampledFrom([]string{"", id, id, id}).Draw(t, "room")
			qn, ok := Next(d, room)
			if !ok {
				continue
			}
			text := ""
			if rapid.Bool().Draw(t, "own") {
				text = someText(t, qn)
			}
			if next, err := Answer(d, qn, text); err == nil {
				d = next
			}
		}
		for _, qn := range append(All(d, ""), All(d, id)...) {
			if !qn.Answered {
				continue
			}
			again, err := Answer(d, qn, qn.Now)
			if err != nil {
				t.Fatalf("%s: %q is written and cannot be typed: %v\n%s", qn.ID, qn.Now, err, d.Source())
			}
			if !reflect.DeepEqual(d.Project(), again.Project()) {
				t.Fatalf("%s: typing %q again changed the project\n%s\n%s", qn.ID, qn.Now, d.Source(), again.Source())
			}
		}
	})
}

// Whatever is typed at the plain interview, it ends, prints no escape sequence and leaves a good project.
func TestPlainTakesAnything(t *testing.T) {
	commands := []string{"?", "<", "skip", "skip chapter", "defaults", "park", "park Otto", "say hello", "say", "quit", "done", "s", "u", "1", "2", "=", "=x", "\x1b[31m"}
	rapid.Check(t, func(t *rapid.T) {
		var typed []string
		for range rapid.IntRange(0, 60).Draw(t, "lines") {
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				typed = append(typed, rapid.SampledFrom(commands).Draw(t, "command"))
			case 1:
				typed = append(typed, rapid.SampledFrom(texts).Draw(t, "said"))
			case 2:
				typed = append(typed, rapid.String().Draw(t, "text"))
			default:
				typed = append(typed, "")
			}
		}
		var out bytes.Buffer
		d, err := Plain(context.Background(), empty(), PlainOptions{Today: day, Echo: true}, strings.NewReader(strings.Join(typed, "\n")), &out, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !d.OK() {
			t.Fatalf("wrong project: %v\n%s", d.Problems(), d.Source())
		}
		if strings.ContainsAny(out.String(), "\x1b\x07\r") {
			t.Fatalf("a control character was printed:\n%q", out.String())
		}
	})
}
