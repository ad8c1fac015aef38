package openpage

import (
	"context"
	"errors"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

// priced is an example home with its open points priced.
func priced(t testing.TB, file, room string) page.Snapshot {
	t.Helper()
	s := trial.Home(t, file, room)
	var err error
	if s.Open, err = open.All(context.Background(), s.Doc, fixtures.Catalogue(), open.Options{NoProof: true}); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestEveryOpenPointIsThere(t *testing.T) {
	s := priced(t, "alder-row.yaml", "")
	d := trial.Sit(t, New(), s, 116, 60)
	got := d.Seen()
	for _, want := range []string{open.Head, "Shower room: look in the switch box by the door.", "A neutral saves ", "Nothing hangs on these",
		"Kitchen: can the worktop lamps be dimmed.", "Against the plan as it is"} {
		if !strings.Contains(got, want) {
			t.Errorf("the page does not say %q:\n%s", want, got)
		}
	}
	seen := map[string]bool{}
	d.Press("home")
	for range len(open.List(s.Project)) + 1 {
		d.Press("enter")
		to, ok := d.Last.(page.Goto)
		if !ok || to.Page != page.Sheet || to.Room == "" || !strings.HasPrefix(to.At, to.Room) {
			t.Fatalf("Enter leads to %+v", d.Last)
		}
		seen[to.At] = true
		d.Press("down")
	}
	for _, x := range s.Open.Idle {
		if !seen[x.At] {
			t.Errorf("%s can't be reached", x.At)
		}
	}
	for _, l := range s.Open.Looks {
		if !seen[l.Points[0].At] {
			t.Errorf("%s can't be reached", l.Points[0].At)
		}
	}
}

// Whoever comes from a room stands on what is open there, with its notes beside.
func TestStandsOnTheRoom(t *testing.T) {
	d := trial.Sit(t, New(), priced(t, "alder-row.yaml", "shower-room"), 116, 60)
	if d.Press("enter"); d.Last.(page.Goto).Room != "shower-room" {
		t.Errorf("stands on %+v", d.Last)
	}
	if got := d.Seen(); !strings.Contains(got, "Painted shut") || !strings.Contains(got, "A neutral: 1 × ") {
		t.Errorf("the margin does not tell what was said and which parts change:\n%s", got)
	}
}

func TestBeforeAnythingIsKnown(t *testing.T) {
	s := trial.Home(t, "alder-row.yaml", "")
	s.Weighing = true
	d := trial.Sit(t, New(), s, 76, 19)
	if got := d.Seen(); !strings.Contains(got, "being worked out") {
		t.Errorf("got:\n%s", got)
	}
	if d.Press("enter"); d.Said() == "" {
		t.Error("Enter on no line says nothing")
	}
	s.PlanFault = errors.New("the prices are in two currencies")
	if got := trial.Sit(t, New(), s, 76, 19).Seen(); !strings.Contains(got, "There is no plan") {
		t.Errorf("with a fault:\n%s", got)
	}
	s = trial.Of(t, []byte("roombrief: 1\nrooms: []\n"), "")
	if got := trial.Sit(t, New(), s, 76, 19).Seen(); !strings.Contains(got, "Nothing is open") {
		t.Errorf("without open points:\n%s", got)
	}
}

func TestFits(t *testing.T) {
	trial.Fits(t, New, priced(t, "alder-row.yaml", "wc"), "down", "end")
	trial.Fits(t, New, priced(t, "twelve-doors.yaml", ""), "down", "pgdown")
}
