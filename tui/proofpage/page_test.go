package proofpage

import (
	"context"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

// den puts its light out on whoever reads in it; the snug has nobody's light to see to but what they ask for.
const den = `roombrief: 1
home: {name: A test}
rooms:
  - id: den
    name: Den
    kind: study
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on request
        stop: {after: 2m, never_while: moving}
        periods: [{from: "06:00", level: 60 %}]
  - id: snug
    name: Snug
    kind: living room
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on request
        stop: {after: 10m}
        periods: [{from: "06:00", level: 60 %}]
  - {id: cellar, name: Cellar, kind: store}
`

// proved is a project planned and proved.
func proved(t testing.TB, room string) page.Snapshot {
	s := trial.Of(t, []byte(den), room)
	for _, r := range s.Project.Rooms {
		v, err := planner.Prove(context.Background(), s.Project, s.Plan.Sheet, r.ID)
		if err != nil {
			t.Fatal(err)
		}
		s.Proofs = s.Proofs.With(r.ID, page.Proved{Verdicts: v, Sheet: s.Plan.Sheet})
	}
	return s
}

// changed is the same with the verdicts of a room changed.
func changed(s page.Snapshot, room string, how func(*proof.Verdict)) page.Snapshot {
	x, _ := s.Proofs.Of(room)
	x.Verdicts = append([]proof.Verdict(nil), x.Verdicts...)
	for i := range x.Verdicts {
		how(&x.Verdicts[i])
	}
	s.Proofs = s.Proofs.With(room, x)
	return s
}

// at is the line of a text on the screen, -1 when it isn't there.
func at(seen, text string) int {
	for i, l := range strings.Split(seen, "\n") {
		if strings.Contains(l, text) {
			return i
		}
	}
	return -1
}

func TestPromisesStandWithTheirVerdicts(t *testing.T) {
	d := trial.Sit(t, New(), proved(t, "den"), 76, 44)
	got := d.Seen()
	for _, want := range []string{
		"✗ The light in the den doesn't go out on anybody inside.", "broken\n", "kept\n", "It is assumed that ────", "The other rooms ────",
		"✓ Snug", "Cellar", "nothing promised",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing from:\n%s", want, got)
		}
	}
	if strings.Contains(got, "proving") {
		t.Errorf("the page says that it is proving when it isn't:\n%s", got)
	}
}

func TestTheMarginSaysWhatAVerdictLeansOn(t *testing.T) {
	s := changed(proved(t, "den"), "den", func(v *proof.Verdict) {
		if v.State == proof.Breaks {
			v.Moving = 6 * time.Minute
		}
	})
	const weakest, leans = "It is kept if whoever is inside moves at least every 6m.", "It leans on"
	for _, size := range [][2]int{{76, 24}, {116, 36}} {
		d := trial.Sit(t, New(), s, size[0], size[1])
		for d.Page.(*Page).lines[d.Page.(*Page).leaf.At()].verdict.State != proof.Breaks {
			d.Press("down")
		}
		got := strings.Join(strings.Fields(strings.ReplaceAll(d.Seen(), "│", "")), " ")
		if size[0] < 96 && !strings.Contains(got, weakest) {
			t.Errorf("at %v the weakest assumption is missing:\n%s", size, d.Seen())
		}
		if !strings.Contains(got, leans) || at(d.Seen(), "It is kept if whoever") < 0 {
			t.Errorf("at %v it does not say what the verdict leans on:\n%s", size, d.Seen())
		}
	}
}

func TestEnterOpensTheStoryOfABrokenPromiseAndNoOther(t *testing.T) {
	s := proved(t, "den")
	x, _ := s.Proofs.Of("den")
	d := trial.Sit(t, New(), s, 76, 24)
	for i, v := range x.Verdicts {
		d.Press("home")
		for range i {
			d.Press("down")
		}
		d.Press("enter")
		if v.State == proof.Breaks {
			if want := (page.Goto{Page: page.Story, At: v.Promise.ID}); d.Last != want {
				t.Errorf("%s: %v, want %v", v.Promise.ID, d.Last, want)
			}
		} else if d.Said() != "Only a broken promise has a story." {
			t.Errorf("%s is %s, and Enter does %v", v.Promise.ID, v.State, d.Last)
		}
	}
	d.Press("end", "up", "enter")
	if want := (page.Goto{Page: page.Promises, Room: "snug"}); d.Last != want {
		t.Errorf("on another room Enter does %v", d.Last)
	}
	if d.Press("]"); d.Last != (page.Goto{Page: page.Promises, Room: "snug"}) {
		t.Errorf("] does %v", d.Last)
	}
}

func TestVerdictsThatAreStillToComeAreWaitedFor(t *testing.T) {
	s := proved(t, "den")
	s.Proofs, s.Proving = nil, true
	d := trial.Sit(t, New(), s, 76, 24)
	if got := d.Seen(); at(got, "come in a moment") < 0 || at(got, "proving") < 0 {
		t.Errorf("it does not say so:\n%s", got)
	}
	s = proved(t, "den")
	before := trial.Sit(t, New(), s, 76, 44).Seen()
	s.Proofs, s.Proving = s.Proofs.Aged([]string{"", "den", "snug", "cellar"}), true
	after := trial.Sit(t, New(), s, 76, 44).Seen()
	if strings.Replace(after, "proving", "", 1) == after || at(before, "Snug") != at(after, "Snug") {
		t.Errorf("while it is proved anew the page jumps:\n%s", after)
	}
}

func TestEmptyAndUndecidedSayWhy(t *testing.T) {
	s := changed(proved(t, "den"), "den", func(v *proof.Verdict) {
		v.State, v.Why, v.Story = proof.Undecided, "the search came to its bound", nil
	})
	if got := trial.Sit(t, New(), s, 76, 24).Seen(); at(got, "Not decided: the search came to its bound.") < 0 {
		t.Errorf("undecided:\n%s", got)
	}
	s = changed(s, "den", func(v *proof.Verdict) { v.State, v.Why = proof.Breaks, "no story makes den/on act" })
	d := trial.Sit(t, New(), s, 76, 24).Press("enter")
	if got := d.Seen(); at(got, "No story makes den/on act.") < 0 || d.Last != (page.Goto{Page: page.Story, At: "den/never-dark-on-someone"}) {
		t.Errorf("broken whatever happens, Enter does %v:\n%s", d.Last, got)
	}
	s.At = "den/never-dark-on-someone"
	if got := trial.Sit(t, NewStory(), s, 76, 24).Seen(); at(got, "there is no story to show") < 0 {
		t.Errorf("it doesn't say why there is no story:\n%s", got)
	}
	s = changed(s, "den", func(v *proof.Verdict) { v.State = proof.Empty })
	if got := trial.Sit(t, New(), s, 76, 24).Seen(); at(got, "never comes about") < 0 {
		t.Errorf("empty:\n%s", got)
	}
}

// tale is the story page of the den's broken promise.
func tale(t testing.TB, w, h int) (*trial.Desk, page.Snapshot) {
	s := proved(t, "den")
	s.At = "den/never-dark-on-someone"
	d := trial.Sit(t, NewStory(), s, w, h)
	s.At = ""
	return d, s
}

func TestAStoryOpensWhereItBreaks(t *testing.T) {
	d, _ := tale(t, 76, 24)
	got := d.Seen()
	for _, want := range []string{
		"✗ The light in the den doesn't go out on anybody inside.", "people inside", "✗ broken", "▸ ",
		"✗ Somebody is inside, and a rule has put out the last light.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing from:\n%s", want, got)
		}
	}
	p := d.Page.(*Tale)
	if p.at != len(p.story.Lines)-1 {
		t.Errorf("the cursor stands on line %d of %d", p.at, len(p.story.Lines))
	}
}

func TestOneCursorWalksTheChartAndTheLines(t *testing.T) {
	d, _ := tale(t, 76, 24)
	p := d.Page.(*Tale)
	arrow := func() int { return strings.Index(strings.Split(d.Seen(), "\n")[p.chart], "↓") }
	end := arrow()
	d.Press("home")
	if p.at != 0 || arrow() >= end || at(d.Seen(), "▸ 0") < 0 {
		t.Errorf("Home: line %d, arrow at %d of %d:\n%s", p.at, arrow(), end, d.Seen())
	}
	for i := 1; i < len(p.story.Lines); i++ {
		before := arrow()
		d.Press("right")
		if p.at != i || arrow() <= before {
			t.Errorf("→: line %d, arrow from %d to %d", p.at, before, arrow())
		}
		mark := strings.Split(d.Seen(), "\n")
		if l := mark[at(d.Seen(), "▸ ")]; !strings.Contains(l, p.story.Lines[i].Text[:12]) {
			t.Errorf("the marked line is %q, not %q", l, p.story.Lines[i].Text)
		}
	}
	d.Press("right")
	if arrow() != end {
		t.Error("it walks on beyond the end")
	}
	d.Press("left", "up")
	if p.at != len(p.story.Lines)-3 {
		t.Errorf("back at line %d", p.at)
	}
}

func TestAClickTurnsToItsMoment(t *testing.T) {
	d, _ := tale(t, 76, 24)
	p := d.Page.(*Tale)
	row := at(d.Seen(), p.story.Lines[1].Text[:12])
	d.Send(tea.MouseMsg{X: 20, Y: row, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	if p.at != 1 {
		t.Errorf("a click on the second line leads to line %d", p.at)
	}
	first := strings.Split(d.Press("home").Seen(), "\n")[p.chart]
	x := len([]rune(first[:strings.Index(first, "↓")]))
	d.Press("end")
	d.Send(tea.MouseMsg{X: x, Y: p.chart + 1, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	if p.at != 0 {
		t.Errorf("a click on the chart where the first line stands leads to line %d", p.at)
	}
}

func TestAStoryFollowsItsPromise(t *testing.T) {
	d, s := tale(t, 76, 24)
	d.Press("home")
	s.Proving = true
	d.Page.Show(s)
	if p := d.Page.(*Tale); p.at != 0 {
		t.Error("the cursor jumps while the room is proved anew")
	}
	d.Page.Show(changed(s, "den", func(v *proof.Verdict) { v.State, v.Story = proof.Kept, nil }))
	if at(d.Seen(), "This promise is kept now") < 0 {
		t.Errorf("a promise that is kept again:\n%s", d.Seen())
	}
	s.Proofs = s.Proofs.With("den", page.Proved{})
	d.Page.Show(s)
	if at(d.Seen(), "not made any more") < 0 {
		t.Errorf("a promise that is gone:\n%s", d.Seen())
	}
	s.Proofs = nil
	d.Page.Show(s)
	if at(d.Seen(), "comes in a moment") < 0 {
		t.Errorf("a promise that is not proved yet:\n%s", d.Seen())
	}
}

func TestFits(t *testing.T) {
	trial.Fits(t, New, proved(t, "den"), "down", "end")
	trial.Fits(t, New, proved(t, ""))
	s := proved(t, "den")
	s.At = "den/never-dark-on-someone"
	trial.Fits(t, NewStory, s, "left")
}

func TestOnlyWhatIsBrokenIsInTheColourOfAlarm(t *testing.T) {
	s := proved(t, "den")
	alarm := strings.SplitN(s.Theme.Danger.Render("x"), "x", 2)[0]
	kept := changed(s, "den", func(v *proof.Verdict) { v.State, v.Story = proof.Kept, nil })
	if d := trial.Sit(t, New(), kept, 76, 24); strings.Contains(d.Page.View(), alarm) {
		t.Errorf("nothing is broken, and the page alarms:\n%s", d.Seen())
	}
	if d := trial.Sit(t, New(), s, 76, 24).Press("down"); !strings.Contains(d.Page.View(), alarm) {
		t.Errorf("something is broken, and nothing shows it:\n%s", d.Seen())
	}
}

func BenchmarkView(b *testing.B) {
	s := proved(b, "den")
	s.At = "den/never-dark-on-someone"
	for name, make := range map[string]func() page.Page{"list": New, "story": NewStory} {
		b.Run(name, func(b *testing.B) {
			d := trial.Sit(b, make(), s, 116, 36)
			for b.Loop() {
				d.Press("up")
				d.Page.View()
			}
		})
	}
}

// Whoever turns to the promises of a room sees at once what is broken: the cursor is there, and Enter opens the story.
func TestTheCursorBeginsOnWhatIsBroken(t *testing.T) {
	n := 0
	s := changed(proved(t, "den"), "den", func(v *proof.Verdict) {
		if v.State = proof.Kept; n == 2 {
			v.State = proof.Breaks
		}
		n++
	})
	d := trial.Sit(t, New(), s, 76, 19)
	if at := d.Page.(*Page).leaf.At(); at != 2 {
		t.Errorf("it stands on promise %d", at)
	}
	if d.Press("enter"); d.Last == nil || d.Said() != "" {
		t.Errorf("Enter does %v:\n%s", d.Last, d.Seen())
	}
}

// A story that is longer than the page says that it goes on, as what mends it stands at its end.
func TestAStorySaysThatThereIsMore(t *testing.T) {
	s := proved(t, "den")
	x, _ := s.Proofs.Of("den")
	for i := range x.Verdicts {
		if x.Verdicts[i].State == proof.Breaks {
			s.At = x.Verdicts[i].Promise.ID
		}
	}
	d := trial.Sit(t, NewStory(), s, 76, 16)
	d.Press("home")
	if !strings.Contains(d.Seen(), "more below") || strings.Contains(d.Seen(), "more above") {
		t.Errorf("at its beginning:\n%s", d.Seen())
	}
	d.Press("end")
	if !strings.Contains(d.Seen(), "more above") {
		t.Errorf("at its end:\n%s", d.Seen())
	}
}
