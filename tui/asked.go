package tui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/page"
)

// asked is what is worked out of the newest plan once somebody has asked for it, while the bill is in front. It follows planning.
type asked[T any] struct {
	gen    int // of the plan that it follows
	wanted bool
	cancel context.CancelFunc
	known  *page.Found[T]
}

// found is what came of it.
type found[T any] struct {
	gen    int
	result T
	err    error
}

// wants reports whether there is something to begin for a plan.
func (a *asked[T]) wants(plan int) bool { return a.wanted && (a.known == nil || a.gen != plan) }

// begin works off the thread; what was found for an older plan is shown meanwhile.
func (a *asked[T]) begin(plan int, work func(context.Context) (T, error)) tea.Cmd {
	a.stop()
	ctx, cancel := context.WithCancel(context.Background())
	a.gen, a.cancel = plan, cancel
	busy := page.Found[T]{Busy: true}
	if a.known != nil {
		busy.Result = a.known.Result
	}
	a.known = &busy
	return safely(func() tea.Msg {
		result, err := work(ctx)
		return found[T]{plan, result, err}
	})
}

// stop ends work that another plan overtakes; it begins anew when that is there.
func (a *asked[T]) stop() {
	if a.cancel != nil {
		a.cancel()
		a.cancel = nil
	}
}

// take keeps what was found, unless there is another plan meanwhile.
func (a *asked[T]) take(m found[T], plan int) {
	if m.gen == plan {
		a.known = &page.Found[T]{Result: m.result, Fault: m.err}
	}
}

// answer begins what was asked for on the page of the bill and isn't known of the newest plan.
func (r *root) answer() tea.Cmd {
	if r.session == nil || r.shelf == nil || r.at.page != page.Bill || r.plan.busy || r.plan.fault != nil || r.plan.plan == nil {
		return nil
	}
	p, shelf, plan := r.session.project, r.shelf, r.plan.plan.Bill
	var cmds []tea.Cmd
	if r.trades.wants(r.plan.gen) {
		cmds = append(cmds, r.trades.begin(r.plan.gen, func(ctx context.Context) (bill.Trades, error) { return planner.TradeOffs(ctx, p, shelf) }))
	}
	if r.quote.wants(r.plan.gen) {
		cmds = append(cmds, r.quote.begin(r.plan.gen, func(ctx context.Context) (planner.Quote, error) { return planner.MakeQuote(ctx, p, shelf, plan) }))
	}
	if cmds != nil {
		r.show()
	}
	return tea.Batch(cmds...)
}
