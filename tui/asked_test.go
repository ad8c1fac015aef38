package tui

import (
	"testing"

	"example.org/roombrief/tui/page"
)

// A search outlasts the plan that it follows when something is edited meanwhile: its bills are of a home that is no longer shown.
func TestTradesOfAnOlderPlanAreDropped(t *testing.T) {
	b := newBench(t, unsure, 80, 24)
	b.settle()
	r := b.r
	r.at.page, r.trades.wanted = page.Bill, true
	search := r.answer()
	if search == nil || !r.trades.known.Busy {
		t.Fatal("no search was started")
	}
	r.replan()
	b.send(search())
	if !r.trades.known.Busy {
		t.Error("bills of the home before the edit are shown as those of the home after it")
	}
	r.plan.busy = false
	if again := r.answer(); again == nil {
		t.Error("the bills are not looked for anew")
	} else if b.send(again()); r.trades.known.Busy {
		t.Error("what was found for the newest plan is not kept")
	}
}
