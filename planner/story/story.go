// Package story tells how a promise breaks: line by line in words, and as tracks to draw, one for each thing.
package story

import (
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// Story is a broken promise told.
type Story struct {
	Begins int    // second of the day of the first line
	Lines  []Line // in the order in which things come about; the last one breaks the promise
	Tracks []Track
	Broke  string // a sentence: what is wrong now
	When   string // a sentence: of which day of the year it is, where that matters; otherwise ""
}

// Line is one thing that comes about.
type Line struct {
	At    int // seconds since the beginning
	Clock int // second of the day
	Act   bool
	Text  string   // a sentence
	Then  []string // what the rules do about it, each a phrase
}

// Of plays the story of a broken verdict on a whole sheet of rules and tells it.
func Of(sheet rules.Sheet, v proof.Verdict) (Story, error) {
	if len(v.Story) == 0 {
		return Story{}, fmt.Errorf("%s: there is no story to tell", v.Promise.ID)
	}
	lines := make([]promises.Line, len(v.Story))
	for i, s := range v.Story {
		lines[i] = promises.Line{At: int64(s.At / time.Second), Text: s.Text, State: s.State}
	}
	played, err := v.Promise.Recount(sheet, lines)
	if err != nil {
		return Story{}, err
	}
	return told(v, played), nil
}

func told(v proof.Verdict, p promises.Played) Story {
	t := teller{played: p, room: v.Promise.Room, things: map[string]bool{}, ids: map[string]bool{}}
	for _, x := range p.Slice.Things {
		t.things[x.ID] = true
	}
	for _, r := range p.Slice.Rules {
		t.ids[r.Cause.Wait] = true
		for _, e := range r.Effects {
			t.ids[e.Wait] = true
		}
	}
	out := Story{Broke: broke(v.Promise.Kind), When: When(v)}
	t.moments = append(t.moments, p.Moments[0])
	out.Begins = p.Moments[0].State.Clock()
	for _, m := range p.Moments[1:] {
		if m.Line < 0 {
			continue
		}
		s := v.Story[m.Line]
		t.moments = append(t.moments, m)
		out.Lines = append(out.Lines, Line{
			At: int(m.At), Clock: m.State.Clock(), Act: s.Act, Text: t.sentence(s.Text, m), Then: t.then(m, s.Act),
		})
	}
	out.Tracks = t.tracks()
	return out
}

// Sentence is what a verdict is about: the promise, and what fails meanwhile.
func Sentence(v proof.Verdict) string {
	if f := v.Fault.String(); f != "" {
		return english.Upper(f) + ": " + v.Promise.Sentence
	}
	return v.Promise.Sentence
}

// When says of which day of the year a story is, and on how many days the sun and the clock come in the same order. It is "" where every day
// is alike.
func When(v proof.Verdict) string {
	w := v.When
	switch day := w.Day(); {
	case day == "":
		return ""
	case w.Alike == w.Of:
		return "The times are those of " + day + "."
	case w.Alike == 1:
		return "It is so on one day of the year, " + day + "."
	default:
		return fmt.Sprintf("It is so on %d days of the year; the times are those of %s.", w.Alike, day)
	}
}

// Since prints seconds as people say them: 45s, 7m15s, 2h.
func Since(seconds int) string { return q.Span(time.Duration(seconds) * time.Second).String() }

// Time prints a second of the day.
func Time(second int) string {
	return fmt.Sprintf("%02d:%02d:%02d", second/3600, second/60%60, second%60)
}

// teller words the moments of a story.
type teller struct {
	played  promises.Played
	room    string
	moments []promises.Moment // the beginning, then one for each line
	things  map[string]bool   // of the slice
	ids     map[string]bool   // of the slice's waits
}

// sentence says what a line is.
func (t teller) sentence(text string, m promises.Moment) string {
	if strings.HasPrefix(text, "wait ") {
		for _, h := range m.Happened {
			if h.Kind == rules.WaitEnded {
				text = "the " + t.played.Program.Say(h)
				break
			}
		}
	}
	return english.Upper(text) + "."
}

// then is what the rules do in a moment, as far as it bears on the promise.
func (t teller) then(m promises.Moment, act bool) []string {
	var out []string
	said := map[string]bool{}
	for _, h := range m.Happened {
		if text := t.phrase(h); text != "" && !said[text] {
			said[text] = true
			out = append(out, text)
		}
	}
	if act && len(m.Happened) == 0 {
		return []string{"no sensor reports it"}
	}
	return out
}

// phrase words a happening that bears on the promise; the end of a wait is a line of its own.
func (t teller) phrase(h rules.Happening) string {
	p := t.played.Program
	switch h.Kind {
	case rules.Changed:
		if h.Rule >= 0 && t.things[p.Sheet().Things[h.Thing].ID] {
			return p.Say(h)
		}
	case rules.WaitStarted:
		return t.wait(h, "starts, "+Since(h.Seconds))
	case rules.WaitReleased:
		return t.wait(h, "starts over, "+Since(h.Seconds))
	case rules.WaitStopped:
		return t.wait(h, "stops")
	case rules.WaitHeld:
		return t.wait(h, "is held")
	case rules.Told:
		if t.mine(h) {
			return p.Say(h)
		}
	case rules.Unheard, rules.Endless:
		return p.Say(h)
	}
	return ""
}

func (t teller) wait(h rules.Happening, does string) string {
	id := t.played.Program.Waits()[h.Wait]
	if !t.ids[id] {
		return ""
	}
	return `wait "` + plain(id) + `" ` + does
}

// mine reports whether a rule is one of the room's.
func (t teller) mine(h rules.Happening) bool {
	return h.Rule >= 0 && t.played.Program.Sheet().Rules[h.Rule].Room == t.room
}

// broke says what is wrong at the end of a story that breaks a promise of some kind.
func broke(k promises.Kind) string {
	if s, ok := wrongs[k]; ok {
		return s
	}
	return "Here the promise is broken."
}

var wrongs = map[promises.Kind]string{
	"light on entry":        "Somebody has come in and stands without the light of this time of day.",
	"light on request":      "Somebody has switched the lamp on, and it isn't as this time of day wants it.",
	"never dark on someone": "Somebody is inside, and a rule has put out the last light.",
	"not left burning":      "Nobody has been inside for as long as that, and a light still burns.",
	"as asked":              "A rule has changed a level that somebody set by hand, and somebody is still inside.",
	"not blinding":          "A rule has made the light brighter than the night allows.",
	"every minute":          "This minute belongs to no period, or to two.",
	"aired":                 "The air has been over its ceiling for that long, and the fan doesn't run.",
	"wish kept":             "The fan stops before the time that was asked for is over.",
	"fan for people":        "The fan doesn't run for somebody who has been in for long enough.",
	"not for nothing":       "A rule has switched the fan on, and nothing is the reason.",
	"not for ever":          "No reason to run has been left for that long, and the fan still runs.",
	"quiet":                 "The fan runs in the quiet hours, and none of the exceptions is the reason.",
	"told again":            "Nobody has said that they know, and somebody has not been told again.",
	"told of water only":    "Somebody is told of water, and there has been none.",
	"off when idle":         "The appliance has been idle for that long, and is still on.",
	"warned before":         "The appliance goes off, and nobody was warned.",
	"told":                  "The water has been there for that long, and somebody has not been told.",
	"water shut":            "The water has been there for that long, and the valve is still open.",
	"cut off":               "The appliance has been on for longer than its limit.",
	"never on":              "A rule has switched a heating appliance on.",
	"stays on":              "A rule has switched off what must stay on.",
	"no see-saw":            "It has switched to and fro more often than it may, with nobody about.",
	"one voice":             "Two rules set one thing to different values in the same second.",
}
