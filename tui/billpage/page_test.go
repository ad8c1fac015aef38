package billpage

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// cottage is a small bill in which everything occurs that a bill can show.
func cottage(t testing.TB) page.Snapshot {
	s := trial.Home(t, "alder-row.yaml", "")
	s.Plan = &planner.Plan{
		Needs: []needs.Need{
			{ID: "shower-room/mirror", Room: "shower-room", Name: "mirror light"},
			{ID: "hall/motion", Room: "hall", Name: "motion in the hall"},
		},
		Bill: bill.Bill{
			Currency: "GBP", Dated: "2026-03", Minutes: 95, Parts: 21400, Labour: 7600, Tax: 5800, Total: 34800,
			Terms: bill.Terms{Labour: 4800, Markup: 12, Tax: 20},
			Unmet: []bill.Unmet{{
				Need: "shower-room/mirror", Asked: "dimming", Got: "switching",
				Reason: "Its driver is built in.", Remedy: "fit a mirror light that can be dimmed",
			}},
			Assumed: []bill.Assumption{{
				At: "shower-room/switches/box-1/neutral", Asked: "whether box 1 has a neutral", As: "none",
				Text: "Nobody knows whether box 1 has a neutral; the worst is planned for.",
			}},
			Lines: []bill.Line{
				{Room: "hall", Part: "pir", Name: "Motion sensor", Quantity: 1, Priced: "2026-03", Each: 1266, Minutes: 8, Amount: 1906, Covers: []string{"hall/motion"}, Reason: "Nobody keeps still here."},
				{Room: "shower-room", Part: "relay", Name: "Relay module with a name that goes on and on until it is cut", Quantity: 12, Supplier: "Ash", Priced: "2026-11-01", Each: 705, Minutes: 60, Amount: 13260, Caution: "mains", Reason: "The cheapest without a neutral.", RunnerUp: "bigger-relay", RunnerName: "Bigger relay", RunnerAt: 420},
				{Name: "Cells", Part: "cells", Quantity: 2, Priced: "2026-03", Each: 100250, Amount: 200500},
			},
		},
		Findings: []ideal.Finding{
			{Room: "hall", At: "rooms/hall/brief", Serious: true, Text: "The hall is lit for nobody."},
			{At: "home/place", Text: "The sun is that of the equator."},
		},
	}
	return s
}

func TestBillDrawn(t *testing.T) {
	s := cottage(t)
	want := `  Prices in GBP are your own for 1 of 3 parts          each    work   amount

  Wanting
▸ ? Shower room, mirror light: dimming is asked for; switching is what it
    gets.
    What to do: fit a mirror light that can be dimmed

  Taken for granted until somebody looks
  · Nobody knows whether box 1 has a neutral; the worst is planned for.

  To settle before buying
  ? The hall is lit for nobody.

  Hall                                                                 19.06
    1   Motion sensor                                 12.66   8 min    19.06

  Shower room                                                         132.60
   12 ! Relay module with a name that goes on and      7.05  60 min   132.60
        on until it is cut

  The whole home                                                     2005.00
    2   Cells                                       1002.50          2005.00

                                                                     ───────
  Parts, with 12 % markup                                             214.00
  Labour, 1 h 35 min at 48.00 an hour                                  76.00
  Tax, 20 %                                                            58.00
  Total in GBP                                                        348.00

  Prices of 1 of 3 parts are your own: Ash, 2026-11-01 (23 days old). The
  others are indicative, of 2026-03 (7 months old). Amounts are before tax,
  parts and work together. Rounded, halves up, are the price of one part,
  the work on one, and the tax once.

  This is the cheapest bill. It asks for no upkeep. Nothing is there to be
  lost.

  To know
  · The sun is that of the equator.

  Take care
  ! Mains wiring can kill. Isolate, lock off and prove dead before opening a
    box; local code decides what may be fitted and by whom, and a licensed
    electrician does the work.`
	got := trial.Sit(t, New(), s, 76, 50).Seen()
	got, _, _ = strings.Cut(got, "\n\n\n")
	if got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

var amount = regexp.MustCompile(`\.\d\d *$`)

func TestDecimalsStandUnderEachOther(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 76, 400)
	column := -1
	for _, line := range strings.Split(d.Seen(), "\n") {
		if !strings.Contains(line, " min ") || !amount.MatchString(line) {
			continue
		}
		if at := layout.Width(line[:strings.LastIndex(line, ".")]); column < 0 {
			column = at
		} else if at != column {
			t.Errorf("the decimal point stands at %d, not %d: %s", at, column, line)
		}
	}
	if column < 0 {
		t.Error("the bill has no lines with work")
	}
}

func TestNotesAndWays(t *testing.T) {
	d := trial.Sit(t, New(), cottage(t), 116, 40)
	for _, c := range []struct {
		at     int
		says   []string
		leads  page.Goto
		pinned string
	}{
		{0, []string{"Its driver is built in."}, page.Goto{Page: page.Sheet, Room: "shower-room", At: "shower-room/mirror"}, ""},
		{1, []string{"whether box 1 has a"}, page.Goto{Page: page.Sheet, Room: "shower-room", At: "shower-room/switches/box-1/neutral"}, ""},
		{2, nil, page.Goto{Page: page.Sheet, Room: "hall", At: "rooms/hall/brief"}, ""},
		{3, []string{"Nobody keeps still here.", "For: motion in the hall."}, page.Goto{Page: page.Sheet, Room: "hall"}, ""},
		{4, []string{"The cheapest without a", "Next best: bigger relay,", "Price of Ash, 2026-11-01 (23", "Mains wiring can kill."}, page.Goto{Page: page.Sheet, Room: "shower-room"}, ""},
		{5, nil, page.Goto{}, "whole home"},
		{6, nil, page.Goto{Page: page.Sheet, Room: page.HomeItself, At: "home/place"}, ""},
	} {
		d.Press("home")
		for range c.at {
			d.Press("down")
		}
		for _, s := range c.says {
			if !strings.Contains(d.Seen(), s) {
				t.Errorf("line %d does not say %q:\n%s", c.at, s, d.Seen())
			}
		}
		d.Press("enter")
		if c.pinned != "" {
			if !strings.Contains(d.Said(), c.pinned) {
				t.Errorf("line %d: %q", c.at, d.Said())
			}
			continue
		}
		if d.Last != page.Action(c.leads) {
			t.Errorf("line %d leads to %v, want %v", c.at, d.Last, c.leads)
		}
	}
}

func TestNoPlanYet(t *testing.T) {
	s := cottage(t)
	s.Plan = nil
	if got := trial.Sit(t, New(), s, 76, 19).Seen(); !strings.Contains(got, "being planned") {
		t.Errorf("without a plan: %s", got)
	}
	s.PlanFault = errors.New("the parts list is empty")
	d := trial.Sit(t, New(), s, 76, 19)
	if got := d.Seen(); !strings.Contains(got, "There is no bill: the parts list is empty") {
		t.Errorf("with a fault: %s", got)
	}
	if d.Press("enter"); d.Said() == "" {
		t.Error("Enter on no line says nothing")
	}
	s.PlanFault, s.Plan = nil, &planner.Plan{Bill: bill.Bill{Currency: "GBP"}}
	if got := trial.Sit(t, New(), s, 76, 19).Seen(); !strings.Contains(got, "Nothing to buy yet") {
		t.Errorf("an empty bill: %s", got)
	}
}

func TestPlanningIsSaid(t *testing.T) {
	s := cottage(t)
	s.Planning = true
	if got := trial.Sit(t, New(), s, 76, 19).Seen(); !strings.HasPrefix(got, "  planning") {
		t.Errorf("the page does not say that it is planning:\n%s", got)
	}
}

func TestFits(t *testing.T) {
	trial.Fits(t, New, cottage(t), "down", "down", "tab")
	trial.Fits(t, New, trial.Home(t, "larkspur-lane.yaml", ""), "end")
	trial.Fits(t, New, trial.Home(t, "twelve-doors.yaml", ""), "pgdown")
}

func BenchmarkShow(b *testing.B) {
	s := trial.Home(b, "twelve-doors.yaml", "")
	d := trial.Sit(b, New(), s, 116, 35)
	for b.Loop() {
		plan := *s.Plan
		s.Plan = &plan
		d.Page.Show(s)
	}
}

func BenchmarkView(b *testing.B) {
	d := trial.Sit(b, New(), trial.Home(b, "twelve-doors.yaml", ""), 116, 35)
	for b.Loop() {
		d.Press("down")
		d.Page.View()
	}
}

// What is taken for granted says what hangs on it, once that is known.
func TestAssumedSaysItsPrice(t *testing.T) {
	s := cottage(t)
	d := trial.Sit(t, New(), s, 116, 40)
	d.Press("home", "down")
	if strings.Contains(d.Seen(), "saves") {
		t.Fatal("it says a price before one is known")
	}
	s.Open = &open.Points{Currency: "GBP", Looks: []open.Look{{Points: []open.Priced{{Point: open.Point{At: "shower-room/switches/box-1/neutral"},
		Answers: []open.Answer{{Words: "a neutral", More: -1654}, {Words: "no neutral"}}}}}}}
	d.Page.Show(s)
	if !strings.Contains(d.Seen(), "A neutral saves 16.54 GBP;") {
		t.Errorf("got:\n%s", d.Seen())
	}
}
