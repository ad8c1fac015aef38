package billpage

import (
	"context"
	"errors"
	"strings"
	"testing"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

// priced is an example home with the options of its quote planned.
func priced(t testing.TB, file string) page.Snapshot {
	t.Helper()
	s := trial.Home(t, file, "")
	q, err := planner.MakeQuote(context.Background(), s.Project, s.Catalogue, s.Plan.Bill)
	if err != nil {
		t.Fatal(err)
	}
	s.Quote = &page.Quote{Result: q}
	return s
}

// to goes to the option that is meant.
func to(t *testing.T, d *trial.Desk, is func(planner.Option) bool) planner.Option {
	t.Helper()
	return sought(t, d, (*Page).option, is)
}

func TestQuoteDrawn(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 76, 70)
	if d.Press("h"); d.Last != page.Action(page.ShowQuote{}) || !strings.Contains(d.Seen(), "Each is being planned; it comes in a moment.") {
		t.Fatalf("asked for %v:\n%s", d.Last, d.Seen())
	}
	b := d.Snap.Plan.Bill
	for _, says := range []string{"14 Alder Row: parts and work together, in GBP", b.Total.Plain() + " with tax", "light, air, water, buttons", "Tax, 20 %", "When somebody comes in"} {
		if !strings.Contains(d.Seen(), says) {
			t.Errorf("before the options are planned, the quote doesn't say %q:\n%s", says, d.Seen())
		}
	}
	d.Page.SetSize(76, 140)
	d.Page.Show(priced(t, "alder-row.yaml"))
	for _, says := range []string{"What you may leave out", "  only its light", "−", "What you may have otherwise", "The least upkeep", "so that the price may still change", "! "} {
		if !strings.Contains(d.Seen(), says) {
			t.Errorf("the quote doesn't say %q:\n%s", says, d.Seen())
		}
	}
	if d.Press("h"); !strings.Contains(d.Seen(), "Taken for granted until somebody looks") {
		t.Errorf("h again doesn't show the bill:\n%s", d.Seen())
	}
	failed := d.Snap
	failed.Quote = &page.Quote{Fault: errors.New("no")}
	d.Page.Show(failed)
	if d.Press("h"); !strings.Contains(d.Seen(), "It can't be planned: no") {
		t.Errorf("a fault isn't said:\n%s", d.Seen())
	}
	trial.Fits(t, New, priced(t, "twelve-doors.yaml"), "h", "end")
}

// What an option is said to come to is what the home comes to when it is had.
func TestOptionsOfAQuoteAreHadOnOneKey(t *testing.T) {
	for what, is := range map[string]func(planner.Option) bool{
		"a room": func(o planner.Option) bool { return o.Kind == planner.LeaveRoom && o.Room == "kitchen" },
		"a goal": func(o planner.Option) bool {
			return o.Kind == planner.LeaveGoal && o.Room == "shower-room" && o.Goal == "ventilation"
		},
		"an aim": func(o planner.Option) bool { return o.Aim == bill.Resilience },
	} {
		d := trial.Sit(t, New(), priced(t, "alder-row.yaml"), 116, 40)
		d.Press("h")
		o := to(t, d, is)
		d.Press("enter")
		a, ok := d.Last.(page.Edit)
		if !ok || !strings.Contains(a.Then.(page.Say).Text, "u takes it back") {
			t.Fatalf("%s: Enter does %v", what, d.Last)
		}
		if got := trial.With(t, d.Snap, d.Snap.Doc).Plan.Bill; got.Total != o.Total {
			t.Errorf("%s: the option says %s and the home comes to %s", what, o.Total.Plain(), got.Total.Plain())
		}
		if d.Press("enter"); !strings.Contains(d.Said(), "being planned anew") {
			t.Errorf("%s: while the home is planned anew, Enter does %v", what, d.Last)
		}
	}
}

func TestAQuoteToReadOnlyLeavesNothingOut(t *testing.T) {
	s := priced(t, "alder-row.yaml")
	s.ReadOnly = "the file is read-only"
	d := trial.Sit(t, New(), s, 116, 40)
	d.Press("h")
	to(t, d, func(o planner.Option) bool { return o.Kind == planner.LeaveGoal })
	if d.Press("enter"); d.Said() != s.ReadOnly {
		t.Errorf("Enter does %v", d.Last)
	}
}
