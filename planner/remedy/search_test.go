package remedy

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// alderRow has doors that don't wait for people who keep still, so that something is left to mend.
func alderRow() *model.Project {
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	p.Choices.Doors = map[string]string{"shower-room": "brisk", "back-bedroom": "brisk"}
	return p
}

// shared by the tests: a proof of one thing serves them all.
var shared proof.Cache

// searchOf is a search in a room of Alder Row with its own moves, or with others.
// The rules run on a controller without limits, for which the stories were worked out by hand.
func searchOf(t testing.TB, room string, moves ...Move) *search {
	t.Helper()
	e := Usual
	e.Cache = &shared
	s, err := newSearch(t.Context(), alderRow(), fixtures.Catalogue(), room, e)
	if err != nil {
		t.Fatal(err)
	}
	s.make = unlimited
	if s.base, err = s.planOf(s.base.project); err != nil {
		t.Fatal(err)
	}
	if moves != nil {
		s.moves = moves
	}
	return s
}

func find(t testing.TB, s *search, promise string) Result {
	t.Helper()
	r, err := s.find(promise)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func ids(r Remedy) string {
	var out []string
	for _, m := range r.Moves {
		out = append(out, m.ID)
	}
	return strings.Join(out, " ")
}

func unlimited(ctx context.Context, p *model.Project) (planner.Plan, error) {
	plan, err := planner.Make(ctx, p, fixtures.Catalogue())
	plan.Fitted = plan.Sheet
	return plan, err
}

const (
	neverDark = "shower-room/never-dark-on-someone"
	asAsked   = "shower-room/as-asked"
)

// Whoever shuts the door behind them and keeps still from then on stands in the dark 7m15s later: 1m until the sensor
// is quiet, 15 s of margin, 6 m of stop time. Waiting for the 15 m that people here may keep still mends it
// and costs nothing but light; a sensor that sees them costs what it costs beyond the motion sensor and the contact.
func TestTheShowerRoomIsMendedInThreeWays(t *testing.T) {
	for _, promise := range []string{neverDark, asAsked} {
		r := find(t, searchOf(t, "shower-room"), promise)
		var got []string
		for _, x := range r.Remedies {
			got = append(got, fmt.Sprintf("%s %s", ids(x), x.Price.In(x.Currency)))
			slices.Sort(x.Keeps)
			if fmt.Sprint(x.Keeps) != fmt.Sprint([]string{asAsked, neverDark}) || len(x.Leaves) > 0 {
				t.Errorf("%s keeps %v and leaves %v", ids(x), x.Keeps, x.Leaves)
			}
			if x.Words == "" || len(x.Changes) == 0 || len(x.Edits) == 0 {
				t.Errorf("%s: %q %q", ids(x), x.Words, x.Changes)
			}
		}
		want := "doors:patient 0.00 GBP, lighting/stop/after:17m 0.00 GBP, sense:still 14.70 GBP"
		if strings.Join(got, ", ") != want {
			t.Errorf("%s: %s\nwant %s", promise, strings.Join(got, ", "), want)
		}
		if r.Remedies[0].Household || !r.Remedies[1].Household {
			t.Error("only the stop time is the household's")
		}
		if !slices.Contains(r.Remedies[0].Changes, "The light burns for 16m15s after everybody has left and shut the door; now it is 7m15s.") {
			t.Errorf("%q", r.Remedies[0].Changes)
		}
		if r.Replayed == 0 {
			t.Error("the banked story should break shorter blind times without a proof")
		}
	}
}

// holdFromTheDoor lets the shut door alone say that somebody is in: what a hasty remedy would do.
func holdFromTheDoor(ctx context.Context, p *model.Project) (planner.Plan, error) {
	d, err := unlimited(ctx, p)
	if p.Choices.Doors["shower-room"] != "held" {
		return d, err
	}
	d.Fitted.Rules = slices.Clone(d.Fitted.Rules)
	for i := range d.Fitted.Rules {
		r := &d.Fitted.Rules[i]
		if strings.HasPrefix(r.ID, "shower-room/door-shuts") {
			r.Effects = append(slices.Clone(r.Effects), rules.Effect{Kind: rules.Set, Thing: "shower-room/inside", Value: rules.Value{On: true}})
		}
	}
	return d, err
}

func wrong(id string) Move {
	return Move{ID: "doors:" + id, axis: "doors", Words: "Wrong", apply: func(p *model.Project) {
		p.Choices.Doors = with(p.Choices.Doors, "shower-room", id)
	}}
}

func TestAHoldFromTheDoorAloneIsNoRemedy(t *testing.T) {
	s := searchOf(t, "shower-room", wrong("held"))
	s.make = holdFromTheDoor
	c, err := s.candidate([]int{0})
	if err != nil || c == nil {
		t.Fatal(c, err)
	}
	p, _ := c.plan.promise(neverDark)
	if v, err := s.prove(c.plan, p); err != nil || v.State != proof.Kept {
		t.Fatal("it should keep the promise asked about", v.State, err)
	}
	r := find(t, s, neverDark)
	if len(r.Remedies) != 0 || !r.Full || r.Sentence() == "" {
		t.Errorf("%+v", r)
	}
	burning := slices.ContainsFunc(s.bank, func(b banked) bool { return b.promise == "shower-room/not-left-burning" })
	if !burning {
		t.Error("the light left burning behind a shut door should be what breaks it")
	}
}

func TestALampThatNeverLightsIsNoRemedy(t *testing.T) {
	s := searchOf(t, "shower-room", wrong("dark"))
	s.make = func(ctx context.Context, p *model.Project) (planner.Plan, error) {
		d, err := unlimited(ctx, p)
		if p.Choices.Doors["shower-room"] == "dark" {
			d.Fitted.Rules = slices.DeleteFunc(slices.Clone(d.Fitted.Rules), func(r rules.Rule) bool {
				return r.Room == "shower-room" && slices.ContainsFunc(r.Effects, func(e rules.Effect) bool {
					return e.Kind == rules.Set && e.Value.On && e.Value.Level > 0
				})
			})
		}
		return d, err
	}
	if r := find(t, s, neverDark); len(r.Remedies) != 0 {
		t.Errorf("%+v", r.Remedies)
	}
}

func TestBankedStoriesSaveProofs(t *testing.T) {
	few := func() *search {
		s := searchOf(t, "back-bedroom")
		s.moves = slices.DeleteFunc(s.moves, func(m Move) bool { return m.axis == "blind" })
		return s
	}
	with := find(t, few(), dark)
	s := few()
	s.bankless = true
	without := find(t, s, dark)
	if with.Replayed < 3 || with.Proved > 4 || without.Replayed != 0 || with.Proofs >= without.Proofs {
		t.Errorf("%d replayed, %d proved by %d proofs; without a bank %d by %d", with.Replayed, with.Proved, with.Proofs, without.Proved, without.Proofs)
	}
	var a, b []string
	for i := range with.Remedies {
		a = append(a, ids(with.Remedies[i]))
	}
	for i := range without.Remedies {
		b = append(b, ids(without.Remedies[i]))
	}
	if fmt.Sprint(a) != fmt.Sprint(b) {
		t.Errorf("%v with a bank, %v without", a, b)
	}
}

func TestASearchSaysHowFarItWent(t *testing.T) {
	s := searchOf(t, "back-bedroom")
	s.effort.Proved = 0
	r := find(t, s, dark)
	if len(r.Remedies) != 0 || r.Full || !strings.Contains(r.Sentence(), " of ") {
		t.Errorf("%+v %s", r, r.Sentence())
	}
	s = searchOf(t, "back-bedroom")
	s.moves = nil
	if r := find(t, s, dark); !strings.Contains(r.Sentence(), "nothing to change") {
		t.Error(r.Sentence())
	}
	s = searchOf(t, "back-bedroom")
	s.moves = slices.DeleteFunc(s.moves, func(m Move) bool { return m.axis == "periods" })
	if r := find(t, s, dark); !r.Full || !strings.Contains(r.Sentence(), "None of the") {
		t.Error(r.Sentence())
	}
}

const dark = "back-bedroom/dark-bedroom"

// In June dusk comes after the last period has begun and takes its place, whoever keeps still: a half remedy says so.
func TestAHalfRemedySaysWhatItLeaves(t *testing.T) {
	s := searchOf(t, "back-bedroom")
	s.moves = slices.DeleteFunc(s.moves, func(m Move) bool { return m.axis == "periods" })
	r := find(t, s, "back-bedroom/never-dark-on-someone")
	if len(r.Remedies) != 3 {
		t.Fatal(len(r.Remedies), r.Sentence())
	}
	for _, x := range r.Remedies {
		if fmt.Sprint(x.Leaves) != "["+dark+"]" || len(x.Moves) != 1 {
			t.Errorf("%s keeps %v and leaves %v", ids(x), x.Keeps, x.Leaves)
		}
	}
}

func TestASearchStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	v := proof.Verdict{Promise: promises.Promise{ID: neverDark, Room: "shower-room"}}
	if _, err := For(ctx, alderRow(), fixtures.Catalogue(), v, Usual); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestASearchLeavesTheProjectAlone(t *testing.T) {
	p := alderRow()
	for _, m := range Moves(p, fixtures.Catalogue(), "shower-room") {
		made(p, []Move{m})
	}
	if !reflect.DeepEqual(p, alderRow()) {
		t.Error("a move changed the project that it was given")
	}
}

// The verdicts of the room are known by then, as they are on a screen. It says what the search came to, too.
func BenchmarkRemediesOfTheShowerRoom(b *testing.B) { remedies(b, alderRow(), "shower-room") }

// A promise that a limit of the controller breaks: controllers and times are looked at as well.
func BenchmarkRemediesAgainstALimit(b *testing.B) {
	file := header + "controllers: [{id: shelf, limits: modest}]\nrooms:\n" + hall("hall", "hall", uneven)
	remedies(b, projectfile.Parse([]byte(file)).Project(), "hall")
}

func remedies(b *testing.B, p *model.Project, room string) {
	e := Usual
	var last Result
	for range b.N {
		b.StopTimer()
		e.Cache = &proof.Cache{}
		plan, err := planner.Make(b.Context(), p, fixtures.Catalogue())
		if err != nil {
			b.Fatal(err)
		}
		v, err := proof.Room(b.Context(), p, plan.Fitted, room, proof.Options{Cache: e.Cache})
		if err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		if last, err = For(b.Context(), p, fixtures.Catalogue(), broken(v), e); err != nil || len(last.Remedies) == 0 {
			b.Fatal(err, len(last.Remedies))
		}
	}
	b.ReportMetric(float64(last.Combinations), "combinations")
	b.ReportMetric(float64(last.Replayed), "killed-by-replay")
	b.ReportMetric(float64(last.Proved), "proved")
	b.ReportMetric(float64(last.Proofs), "proofs")
}

func broken(vs []proof.Verdict) proof.Verdict {
	return vs[slices.IndexFunc(vs, func(v proof.Verdict) bool { return v.State == proof.Breaks })]
}
