package tui

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/planner/proof"
	"example.org/roombrief/tui/page"
)

// mending is the search for what mends the promise whose story is in front. It follows proving: an edit stops it.
type mending struct {
	gen     int // of the proof that it follows
	promise string
	cancel  context.CancelFunc
	known   *page.Mends
}

// mended is what a search found.
type mended struct {
	gen   int
	known page.Mends
}

// stop tells the search that runs to stop; what it was about has changed.
func (m *mending) stop() {
	if m.cancel != nil {
		m.cancel()
	}
	m.cancel, m.known = nil, nil
}

// mend starts the search for the story in front, once its verdict is known.
func (r *root) mend() tea.Cmd {
	m := &r.mends
	if r.session == nil || r.shelf == nil || r.at.page != page.Story || m.promise == "" {
		return nil
	}
	x, known := r.proof.known.Of(r.at.room)
	v, made := x.Verdict(m.promise)
	if !known || x.Stale || !made || v.State != proof.Breaks {
		return nil
	}
	if _, have := m.known.Of(r.at.room, m.promise); have && m.gen == r.proof.gen {
		return nil
	}
	m.stop()
	m.gen = r.proof.gen
	m.known = &page.Mends{Room: r.at.room, Promise: m.promise, Busy: true}
	ctx, cancel := context.WithCancel(context.Background())
	m.cancel = cancel
	gen, found, p, shelf, v, search := m.gen, *m.known, r.session.project, r.shelf, v, r.o.mend
	r.show()
	return safely(func() tea.Msg {
		found.Result, found.Fault = search(ctx, p, shelf, v)
		found.Busy = false
		return mended{gen, found}
	})
}

// takeMended keeps what was found, unless something was changed or another story opened meanwhile.
func (r *root) takeMended(got mended) {
	m := &r.mends
	if got.gen != r.proof.gen || m.known == nil || m.known.Promise != got.known.Promise || m.known.Room != got.known.Room {
		return
	}
	m.known = &got.known
	r.show()
}
