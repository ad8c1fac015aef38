package billpage

import (
	"context"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

// weighed is an example home with its trade-offs known.
func weighed(t testing.TB, file string) page.Snapshot {
	t.Helper()
	s := trial.Home(t, file, "")
	result, err := planner.TradeOffs(context.Background(), s.Project, s.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	s.Trades = &page.Trades{Result: result}
	return s
}

// sought goes down the page to what is meant.
func sought[T any](t *testing.T, d *trial.Desk, at func(*Page) (T, bool), is func(T) bool) T {
	t.Helper()
	p := d.Page.(*Page)
	d.Press("home")
	for range p.goes {
		if x, ok := at(p); ok && is(x) {
			return x
		}
		d.Press("down")
	}
	t.Fatalf("there is no such %T on the page", *new(T))
	return *new(T)
}

// on goes to the first line of the bill that a part is on, and says which line it is.
func on(t *testing.T, d *trial.Desk, is func(bill.Line) bool) bill.Line {
	t.Helper()
	return sought(t, d, (*Page).line, is)
}

func anyNext(l bill.Line) bool { return l.Room != "" && l.RunnerUp != "" }

// A part is pinned on one key and let go on the same; the next best is used, and the line's own avoided.
func TestPartsAreDecidedOnOneKey(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 116, 40)
	l := on(t, d, anyNext)
	d.Press("p")
	if got := d.Snap.Project.Choices.Use[l.Covers[0]]; got != l.Part {
		t.Fatalf("p makes the project use %q for %s, not %s ", got, l.Covers[0], l.Part)
	}
	d = trial.Sit(t, New(), trial.With(t, d.Snap, d.Snap.Doc), 116, 40)
	on(t, d, func(x bill.Line) bool { return x.Part == l.Part && slices.Equal(x.Covers, l.Covers) })
	d.Press("p")
	if got, still := d.Snap.Project.Choices.Use[l.Covers[0]]; still {
		t.Errorf("p again leaves %q pinned", got)
	}
	d = trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 116, 40)
	on(t, d, anyNext)
	d.Press("n")
	planned := trial.With(t, d.Snap, d.Snap.Doc)
	if got := planned.Project.Choices.Use[l.Covers[0]]; got != l.RunnerUse[l.Covers[0]] || got == l.Part {
		t.Fatalf("n makes the project use %q, not the next best %s", got, l.RunnerUse[l.Covers[0]])
	}
	was, now := d.Snap.Plan.Bill, planned.Plan.Bill
	if rise := now.Parts + now.Labour - was.Parts - was.Labour; rise != l.RunnerAt {
		t.Errorf("the next best was said to cost %d more, and the bill rose by %d", l.RunnerAt, rise)
	}
	d = trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 116, 40)
	on(t, d, anyNext)
	d.Press("x")
	planned = trial.With(t, d.Snap, d.Snap.Doc)
	if slices.ContainsFunc(planned.Plan.Bill.Lines, func(x bill.Line) bool { return x.Part == l.Part }) {
		t.Errorf("%s is to be avoided and still on the bill", l.Part)
	}
}

// What is pinned and then avoided is off the bill, and its pin with it; it isn't listed twice.
func TestAnAvoidedPartIsPinnedNoLonger(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 116, 40)
	l := on(t, d, anyNext)
	d.Press("n")
	d = trial.Sit(t, New(), trial.With(t, d.Snap, d.Snap.Doc), 116, 40)
	next := on(t, d, func(x bill.Line) bool {
		return x.Part == l.RunnerUse[l.Covers[0]] && slices.Contains(x.Covers, l.Covers[0])
	})
	d.Press("x")
	if d.Press("x"); !strings.Contains(d.Said(), "avoided already") {
		t.Errorf("x again says %q", d.Said())
	}
	planned := trial.With(t, d.Snap, d.Snap.Doc)
	if c := planned.Project.Choices; len(c.Avoid) != len(trial.Home(t, "alder-row.yaml", "").Project.Choices.Avoid)+1 || c.Use[l.Covers[0]] != "" {
		t.Errorf("avoids %q and uses %v", c.Avoid, c.Use)
	}
	if slices.ContainsFunc(planned.Plan.Bill.Lines, func(x bill.Line) bool { return x.Part == next.Part }) {
		t.Errorf("%s is to be avoided and still on the bill", next.Part)
	}
}

func TestWhatOthersNeedCantBeAvoided(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 116, 40)
	for _, kind := range []string{bill.CellKind, "power supply"} {
		on(t, d, func(l bill.Line) bool {
			part, _ := d.Snap.Catalogue.Part(l.Part)
			return part.Kind == kind
		})
		d.Last = nil
		if d.Press("x"); !strings.Contains(d.Said(), "comes with parts that need it") {
			t.Errorf("%s: x says %q", kind, d.Said())
		}
	}
}

func TestWhatComesAlongIsNotDecided(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 116, 40)
	on(t, d, func(l bill.Line) bool { return l.Part == "guard-plate" })
	for _, key := range []string{"p", "n"} {
		d.Last = nil
		if d.Press(key); !strings.Contains(d.Said(), "comes with another part") {
			t.Errorf("%s says %q", key, d.Said())
		}
	}
	d.Press("home")
	if d.Press("p"); !strings.Contains(d.Said(), "no line of the bill") {
		t.Errorf("off the lines p says %q", d.Said())
	}
}

// Choosing a trade leads to its bill.
func TestATradeIsChosenOnOneKey(t *testing.T) {
	s := weighed(t, "alder-row.yaml")
	for i, x := range s.Trades.Result.Trades {
		if i%3 != 1 && len(x.Aims) == 0 {
			continue
		}
		d := trial.Sit(t, New(), s, 76, 19)
		d.Press("t")
		for range i {
			d.Press("down")
		}
		d.Press("enter")
		b := trial.With(t, d.Snap, d.Snap.Doc).Plan.Bill
		if b.Parts+b.Labour != x.Net || x.Worth != (bill.Worth{}) && b.Upkeep != x.Upkeep {
			t.Errorf("%s: chose %d with %v, and the bill is %d with %v", bill.Letter(i), x.Net, x.Upkeep, b.Parts+b.Labour, b.Upkeep)
		}
	}
}

func TestTradesDrawn(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 76, 30)
	if d.Press("t"); d.Last != page.Action(page.ShowTrades{}) || !strings.Contains(d.Seen(), "Looking for the bills") {
		t.Fatalf("asked for %v:\n%s", d.Last, d.Seen())
	}
	d.Page.Show(weighed(t, "alder-row.yaml"))
	for _, says := range []string{"total GBP", "This is the bill as it is planned now.", "upkeep a year: ", "cost"} {
		if !strings.Contains(d.Seen(), says) {
			t.Errorf("the trade-offs don't say %q:\n%s", says, d.Seen())
		}
	}
	if d.Press("t"); !strings.Contains(d.Seen(), "Hall") {
		t.Errorf("t again doesn't show the bill:\n%s", d.Seen())
	}
	trial.Fits(t, New, weighed(t, "twelve-doors.yaml"), "t", "end")
}
