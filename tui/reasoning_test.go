package tui

import (
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/planner"
)

// The bill is there before the reasons of its lines; they follow, unless something was changed meanwhile.
func TestReasonsFollowTheBill(t *testing.T) {
	b := newBench(t, string(fixtures.Homes()[0].Source), 120, 40)
	b.settle()
	b.press("5")
	for range 60 {
		if strings.Contains(b.r.View(), "Next best") {
			break
		}
		b.press("down")
	}
	whole := b.r.plan.plan
	plan, rest, err := planner.Soon(t.Context(), b.r.session.project, b.r.shelf)
	if err != nil {
		t.Fatal(err)
	}
	b.send(planned{gen: b.r.plan.gen, plan: &plan, rest: rest, shelf: b.r.shelf})
	if !strings.Contains(b.r.View(), "is being worked out") {
		t.Fatalf("nothing says that reasons are still to come:\n%s", b.r.View())
	}
	late, err := rest()
	if err != nil {
		t.Fatal(err)
	}
	b.send(reasoned{gen: b.r.plan.gen - 1, bill: late})
	if b.r.plan.plan.Bill.Lines[0].Reason != "" {
		t.Error("reasons of an older plan were taken")
	}
	b.settle()
	if strings.Contains(b.r.View(), "is being worked out") || b.r.plan.plan.Bill.Lines[0].Reason != whole.Bill.Lines[0].Reason {
		t.Errorf("the reasons never came:\n%s", b.r.View())
	}
}
