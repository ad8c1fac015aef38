package tui

import (
	"context"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/page"
)

// proving is what is known of the promises, and the rooms that are still to be proved. It follows planning: a
// plan that comes starts it, and an edit stops it.
type proving struct {
	gen    int
	ctx    context.Context
	cancel context.CancelFunc
	known  *page.Proofs
	sheet  rules.Sheet
	left   []string // rooms still to be proved; "" is the home as a whole
	busy   bool     // also while the plan is on its way

	papersTo *string // where the paper of the promises is to follow the others; nil when it isn't
}

// most is how many proved cases are kept in mind: far more than a home has, so that what an edit leaves as it
// was isn't proved again.
const most = 20_000

// remembering proves rooms, and remembers what it has proved of them.
func remembering() func(context.Context, *model.Project, rules.Sheet, string) ([]proof.Verdict, error) {
	var mu sync.Mutex
	known := &proof.Cache{}
	return func(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error) {
		mu.Lock()
		if known.Len() > most {
			known = &proof.Cache{}
		}
		cache := known
		mu.Unlock()
		return proof.Room(ctx, p, sheet, room, proof.Options{Cache: cache})
	}
}

// proved is one room's verdicts.
type proved struct {
	gen      int
	room     string
	verdicts []proof.Verdict
	err      error
}

// stop tells the proof that runs to stop; what it was about has changed.
func (p *proving) stop() {
	if p.cancel != nil {
		p.cancel()
	}
	p.gen++
	p.left, p.busy, p.papersTo = nil, true, nil
}

// prove starts proving the newest plan: the room in front first, then the others as they are walked.
func (r *root) prove() tea.Cmd {
	p := &r.proof
	p.stop()
	r.mends.stop()
	if p.busy = r.plan.fault == nil; !p.busy {
		return nil
	}
	all := []string{""}
	for _, room := range r.session.project.Rooms {
		all = append(all, room.ID)
	}
	first := r.at.room
	if room := r.pointed(); room != "" && room != page.HomeItself {
		first = room
	}
	p.ctx, p.cancel = context.WithCancel(context.Background())
	p.sheet, p.known = r.plan.plan.Fitted, p.known.Aged(all)
	for _, id := range all {
		if id == first {
			p.left = append([]string{id}, p.left...)
		} else {
			p.left = append(p.left, id)
		}
	}
	return r.proveNext()
}

// proveNext proves the next room off the thread.
func (r *root) proveNext() tea.Cmd {
	p := &r.proof
	if len(p.left) == 0 {
		p.busy = false
		p.cancel()
		return nil
	}
	room := p.left[0]
	p.left = p.left[1:]
	ctx, gen, project, sheet, prove := p.ctx, p.gen, r.session.project, p.sheet, r.o.prove
	return safely(func() tea.Msg {
		verdicts, err := prove(ctx, project, sheet, room)
		return proved{gen: gen, room: room, verdicts: verdicts, err: err}
	})
}

// takeProved keeps a room's verdicts, unless something was changed meanwhile, and goes on to the next room.
func (r *root) takeProved(m proved) tea.Cmd {
	p := &r.proof
	if m.gen != p.gen {
		return nil
	}
	p.known = p.known.With(m.room, page.Proved{Verdicts: m.verdicts, Sheet: p.sheet, Fault: m.err})
	next := r.proveNext()
	r.show()
	if to := p.papersTo; to != nil && !p.busy {
		return tea.Batch(next, r.mend(), r.export(*to))
	}
	return tea.Batch(next, r.mend())
}

// provedRooms are the verdicts for the papers: the home as a whole, then the rooms as they are walked.
func (r *root) provedRooms() []papers.Proved {
	out := []papers.Proved{}
	add := func(room string) {
		if x, ok := r.proof.known.Of(room); ok && x.Fault == nil && !x.Stale {
			out = append(out, papers.Proved{Room: room, Verdicts: x.Verdicts})
		}
	}
	add("")
	for _, room := range r.session.project.Rooms {
		add(room.ID)
	}
	return out
}
