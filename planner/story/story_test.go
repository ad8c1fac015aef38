package story

import (
	"context"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// stuffy is a room whose rules are sure to put the light out on somebody: nothing but a wait after motion, far
// shorter than people keep still.
const stuffy = `roombrief: 1
home: {name: A test}
rooms:
  - id: den
    name: Den
    kind: study
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        stop: {after: 2m, never_while: moving}
        periods: [{from: "06:00", level: 60 %}]
`

// broken is a promise of a project that is sure to be broken, with the sheet that breaks it.
func broken(t testing.TB, source string, kind promises.Kind) (rules.Sheet, proof.Verdict) {
	t.Helper()
	doc := projectfile.Parse([]byte(source))
	if !doc.OK() {
		t.Fatal(doc.Problems())
	}
	d := ideal.Draft(doc.Project())
	for _, x := range promises.Of(doc.Project(), d.Sheet, ideal.Usual(), rules.Equinox) {
		if x.Kind != kind {
			continue
		}
		v, err := proof.Prove(context.Background(), d.Sheet, x, proof.Usual)
		if err != nil {
			t.Fatal(err)
		}
		if v.State != proof.Breaks {
			t.Fatalf("%s is %s; the test needs a broken one", x.ID, v.State)
		}
		return d.Sheet, v
	}
	t.Fatalf("the project makes no promise of kind %q", kind)
	return rules.Sheet{}, proof.Verdict{}
}

func TestAStoryIsToldInWordsAndTracks(t *testing.T) {
	sheet, v := broken(t, stuffy, promises.NeverDark)
	s, err := Of(sheet, v)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, l := range s.Lines {
		got = append(got, strings.Join(append([]string{Since(l.At), l.Text}, l.Then...), " | "))
	}
	want := []string{
		`0s | Somebody comes in. | wait "empty" starts, 2m | lamp to 60 % | wait "empty" is held`,
		`1m | Motion in the den is over, as the sensor says. | wait "empty" starts over, 2m`,
		`3m | The wait "empty" runs out. | lamp off`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if !s.Lines[0].Act || s.Lines[1].Act {
		t.Error("the line of a person and that of a sensor are mixed up")
	}
	if s.Broke != wrongs[promises.NeverDark] {
		t.Errorf("it ends with %q", s.Broke)
	}
	tracks := map[string]string{
		"people inside": "nobody 1 1 1", "motion": "clear seen clear clear", "lamp": "off 60 % 60 % off", `wait "empty"`: " held 2m left ",
	}
	for _, x := range s.Tracks {
		var texts []string
		for _, v := range x.Values {
			texts = append(texts, v.Text)
		}
		if got := strings.Join(texts, " "); got != tracks[x.Name] {
			t.Errorf("track %q is %q, want %q", x.Name, got, tracks[x.Name])
		}
		delete(tracks, x.Name)
	}
	for name := range tracks {
		t.Errorf("there is no track %q", name)
	}
}

func TestTheClockGoesOnFromWhereTheStoryBegins(t *testing.T) {
	sheet, v := broken(t, stuffy, promises.NeverDark)
	s, err := Of(sheet, v)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range s.Lines {
		if want := (s.Begins + l.At) % rules.DaySeconds; l.Clock != want {
			t.Errorf("%s after the beginning at %s it is %s", Since(l.At), Time(s.Begins), Time(l.Clock))
		}
	}
}

func TestNoStoryIsToldThatCannotBePlayed(t *testing.T) {
	sheet, v := broken(t, stuffy, promises.NeverDark)
	if _, err := Of(sheet, proof.Verdict{Promise: v.Promise, State: proof.Kept}); err == nil {
		t.Error("a kept promise has a story")
	}
	v.Story = append([]proof.Step(nil), v.Story...)
	v.Story[1].At += time.Second // the sensor doesn't report then
	if s, err := Of(sheet, v); err == nil {
		t.Errorf("a story with a wrong second was told: %v", s.Lines)
	}
}

func TestNamesKeepTheirPlaceWhereTheyNeedIt(t *testing.T) {
	tracks := []Track{{Name: "door of the den"}, {Name: "motion in the den"}, {Name: "motion on the stairs"}, {Name: "door of the hall"}, {Name: `wait "end of day"`}}
	shorten(tracks)
	want := []string{"door of the den", "motion", "motion on the stairs", "door of the hall", `wait "end of day"`}
	for i, x := range tracks {
		if x.Name != want[i] {
			t.Errorf("%q, want %q", x.Name, want[i])
		}
	}
}

func BenchmarkOf(b *testing.B) {
	sheet, v := broken(b, stuffy, promises.NeverDark)
	for b.Loop() {
		if _, err := Of(sheet, v); err != nil {
			b.Fatal(err)
		}
	}
}

func TestTheDayOfTheYearIsSaidWhereItMatters(t *testing.T) {
	for _, tt := range []struct {
		when promises.When
		want string
	}{
		{promises.When{}, ""},
		{promises.When{Date: 0, Alike: 365, Of: 365}, "The times are those of 1 January."},
		{promises.When{Date: 162, Alike: 23, Of: 365}, "It is so on 23 days of the year; the times are those of 12 June."},
		{promises.When{Date: 59, Alike: 1, Of: 365}, "It is so on one day of the year, 1 March."},
	} {
		if got := When(proof.Verdict{When: tt.when}); got != tt.want {
			t.Errorf("%+v: %q", tt.when, got)
		}
	}
}
