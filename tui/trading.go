package tui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/page"
)

// trading is the search for the bills that none beats, once somebody has asked for them. It follows planning.
type trading struct {
	gen    int // of the plan that it follows
	wanted bool
	cancel context.CancelFunc
	known  *page.Trades
}

// traded is what a search found.
type traded struct {
	gen    int
	result bill.Trades
	err    error
}

// trade starts the search for the newest plan, where the bill is in front and it isn't known already.
func (r *root) trade() tea.Cmd {
	t := &r.trades
	if !t.wanted || r.session == nil || r.shelf == nil || r.at.page != page.Bill || r.plan.busy || r.plan.fault != nil || t.known != nil && t.gen == r.plan.gen {
		return nil
	}
	t.stop()
	ctx, cancel := context.WithCancel(context.Background())
	t.gen, t.cancel = r.plan.gen, cancel
	busy := page.Trades{Busy: true}
	if t.known != nil {
		busy.Result = t.known.Result
	}
	t.known = &busy
	gen, p, shelf := t.gen, r.session.project, r.shelf
	r.show()
	return safely(func() tea.Msg {
		result, err := planner.TradeOffs(ctx, p, shelf)
		return traded{gen, result, err}
	})
}

// stop ends a search that another plan overtakes; it begins anew when that is there.
func (t *trading) stop() {
	if t.cancel != nil {
		t.cancel()
		t.cancel = nil
	}
}

// takeTraded keeps what was found, unless there is another plan meanwhile.
func (r *root) takeTraded(got traded) {
	if got.gen == r.plan.gen {
		r.trades.known = &page.Trades{Result: got.result, Fault: got.err}
		r.show()
	}
}
