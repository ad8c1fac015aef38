package tui

import (
	"testing"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/page"
)

// A second home may be opened in one run. Nothing of the first may be shown as the second's, nor what is still being worked out for it.
func TestAnotherHomeBeginsWithNothingOfTheFirst(t *testing.T) {
	b, _ := provingBench(t, two, 80, 24)
	b.r.at.room = "den"
	b.settle()
	b.press("5", "t", "h", "8", "enter")
	b.settle()
	r := b.r
	before := r.snapshot()
	if before.Trades == nil || before.Quote == nil || before.Mends == nil || before.Open == nil || before.Proofs == nil || before.Plan == nil {
		t.Fatal("not all is known of the first home, so that this test tells nothing")
	}
	late := []any{
		planned{gen: r.plan.gen, plan: r.plan.plan, shelf: r.shelf},
		proved{gen: r.proof.gen, task: task{room: "den"}},
		weighed{gen: r.open.gen, points: &open.Points{}},
		found[bill.Trades]{gen: r.plan.gen}, found[planner.Quote]{gen: r.plan.gen},
		mended{gen: r.proof.gen, known: *before.Mends},
	}
	if err := r.begin(&Opened{Disk: &memory{file: small}, File: "other.yaml", Source: []byte(small)}); err != nil {
		t.Fatal(err)
	}
	for _, msg := range late {
		b.send(msg)
	}
	if s := r.snapshot(); s.Trades != nil || s.Quote != nil || s.Mends != nil || s.Open != nil || s.Proofs != nil || s.Plan != nil || s.File != "other.yaml" {
		t.Errorf("of the first home there are still: trade-offs %v, quote %v, remedies %v, open points %v, proofs %v, plan %v", s.Trades != nil, s.Quote != nil, s.Mends != nil, s.Open != nil, s.Proofs != nil, s.Plan != nil)
	}
	if r.at.page != page.Rooms {
		t.Errorf("it opens on %s", r.at.page)
	}
}
