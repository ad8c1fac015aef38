package tui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/planner/open"
	"example.org/roombrief/planner/proof"
)

// weighing prices the open points of the document that is shown. It follows planning: a plan that comes starts it, and an edit stops it.
type weighing struct {
	gen    int
	cancel context.CancelFunc
	known  *open.Points // of an older document while busy; nil before the first
	busy   bool
	cache  *proof.Cache
}

// stride is how many steps are made between two looks at the screen: planning an answer takes some milliseconds.
const stride = 8

// weighed is what is known after some steps.
type weighed struct {
	ctx    context.Context // of the whole weighing
	gen    int
	it     *open.Weighing
	points *open.Points
	more   bool
	err    error
}

// stop tells the weighing that runs to stop; what it was about has changed.
func (w *weighing) stop() {
	if w.cancel != nil {
		w.cancel()
	}
	w.gen++
	w.cancel, w.busy = nil, true
}

// weigh starts pricing the open points of the newest plan.
func (r *root) weigh() tea.Cmd {
	w := &r.open
	w.stop()
	if w.busy = r.plan.fault == nil; !w.busy {
		w.known = nil
		return nil
	}
	if w.cache == nil || w.cache.Len() > most {
		w.cache = &proof.Cache{}
	}
	ctx, cancel := context.WithCancel(context.Background())
	w.cancel = cancel
	it := open.New(r.session.hist.now(), r.shelf, open.Options{Cache: w.cache})
	return weighOn(ctx, w.gen, it)
}

// weighOn makes some steps off the thread.
func weighOn(ctx context.Context, gen int, it *open.Weighing) tea.Cmd {
	return safely(func() tea.Msg {
		out := weighed{ctx: ctx, gen: gen, it: it, more: true}
		for range stride {
			if out.more, out.err = it.Step(ctx); out.err != nil || !out.more {
				break
			}
		}
		out.points = it.Points()
		return out
	})
}

// takeWeighed shows what is known so far, unless something was changed meanwhile, and goes on.
func (r *root) takeWeighed(m weighed) tea.Cmd {
	w := &r.open
	if m.gen != w.gen {
		return nil
	}
	w.known, w.busy = m.points, m.more
	if m.err != nil {
		w.known, w.busy = nil, false
	}
	r.show()
	if !w.busy {
		w.cancel()
		return nil
	}
	return weighOn(m.ctx, w.gen, m.it)
}
