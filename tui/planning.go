package tui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/store"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/ideal"
)

// planning is the newest plan and the one on its way.
type planning struct {
	gen    int
	cancel context.CancelFunc
	plan   *planner.Plan
	fault  error
	busy   bool
}

// replan starts planning the document that is shown and tells the planning before it to stop.
func (r *root) replan() tea.Cmd {
	if r.plan.cancel != nil {
		r.plan.cancel()
	}
	ctx, cancel := context.WithCancel(context.Background())
	r.plan.gen++
	r.plan.cancel, r.plan.busy = cancel, true
	r.proof.stop()
	r.open.stop()
	r.trades.stop()
	r.quote.stop()
	gen, p, file := r.plan.gen, r.session.project, r.session.file
	return safely(func() tea.Msg {
		// The catalogue is read here the first time, and own prices each time, so that no screen waits for them.
		shelf, bad := store.Shelf(file, p, fixtures.Catalogue())
		plan, rest, err := planner.Soon(ctx, p, shelf)
		if bad != nil {
			plan.Findings = append([]ideal.Finding{{At: "choices/supply", Serious: true, Text: "Your own prices are left out: " + sentence(bad.Error())}}, plan.Findings...)
		}
		return planned{gen: gen, plan: &plan, rest: rest, shelf: shelf, err: err}
	})
}

func (r *root) takePlan(m planned) tea.Cmd {
	if m.gen != r.plan.gen {
		return nil
	}
	r.plan.busy, r.plan.fault = false, m.err
	r.shelf = m.shelf
	if m.err == nil {
		r.plan.plan = m.plan
	} else {
		r.trades.known, r.quote.known = nil, nil // nothing follows
	}
	prove, weigh := r.prove(), r.weigh()
	r.show()
	return tea.Batch(r.reason(m), prove, weigh, r.answer(), r.exportAtLast())
}

// exportAtLast writes the papers that were asked for while a plan was on its way.
func (r *root) exportAtLast() tea.Cmd {
	to := r.papersTo
	if to == nil || r.plan.busy {
		return nil
	}
	r.papersTo = nil
	return r.export(*to)
}
