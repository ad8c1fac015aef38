package tui

import (
	"context"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/tui/page"
)

// proving is what is known of the promises, and what is still to be found out. It follows planning: a
// plan that comes starts it, and an edit stops it.
type proving struct {
	gen     int
	ctx     context.Context
	cancel  context.CancelFunc
	known   *page.Proofs
	plan    *planner.Plan
	left    []task // still to be done, one after the other
	running bool   // one of them is being done: now
	now     task
	busy    bool // verdicts are still to come, also while the plan is on its way
	faults  bool // what a fault does to each promise is to be shown

	papersTo *string // where the paper of the promises is to follow the others; nil when it isn't
}

// task is one question about a room; "" is the home as a whole.
type task struct {
	room string
	what asking
}

type asking int

const (
	verdicts asking = iota // of its promises
	blames                 // which limits break the broken ones
	failing                // what a fault does to the kept ones
	applied                // what the plan has for their sake
)

// proved is the answer to a task.
type proved struct {
	gen      int
	task     task
	verdicts []proof.Verdict
	blames   []planner.Blame
	applied  []remedy.Applied
	err      error
}

// stop tells the proof that runs to stop; what it was about has changed.
func (p *proving) stop() {
	if p.cancel != nil {
		p.cancel()
	}
	p.gen++
	p.left, p.running, p.busy, p.papersTo = nil, false, true, nil
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
	p.plan, p.known = r.plan.plan, p.known.Aged(all)
	for _, id := range all {
		if id == first {
			p.left = slices.Insert(p.left, 0, task{id, verdicts})
		} else {
			p.left = append(p.left, task{id, verdicts})
		}
	}
	return r.proveNext()
}

// proveNext does the next task off the thread.
func (r *root) proveNext() tea.Cmd {
	p := &r.proof
	p.busy = p.busy && slices.ContainsFunc(p.left, func(t task) bool { return t.what == verdicts })
	if p.running = len(p.left) > 0; !p.running {
		return nil
	}
	t := p.left[0]
	p.left, p.now = p.left[1:], t
	ctx, gen, project, plan, shelf, o := p.ctx, p.gen, r.session.project, p.plan, r.shelf, &r.o
	x, _ := p.known.Of(t.room)
	return safely(func() tea.Msg {
		out := proved{gen: gen, task: t}
		switch t.what {
		case verdicts:
			out.verdicts, out.err = o.prove(ctx, project, plan.Fitted, t.room)
		case failing:
			out.verdicts, out.err = o.fail(ctx, project, plan.Fitted, t.room)
		case applied:
			out.applied, out.err = o.apply(ctx, project, shelf, plan, t.room)
		case blames:
			out.blames, out.err = o.blame(ctx, project, plan, t.room, append(slices.Clone(x.Verdicts), x.Faults...))
		}
		return out
	})
}

// takeProved keeps what was found out of a room, unless something was changed meanwhile, and goes on.
func (r *root) takeProved(m proved) tea.Cmd {
	p := &r.proof
	if m.gen != p.gen {
		return nil
	}
	x, _ := p.known.Of(m.task.room)
	switch m.task.what {
	case verdicts:
		x = page.Proved{Verdicts: m.verdicts, Sheet: p.plan.Fitted, Fault: m.err}
	case failing:
		x.Faults, x.Failed, x.FailFault = m.verdicts, true, m.err
	case applied:
		x.Applied, x.Told = m.applied, true // where they can't be found, the promises stand alone
	case blames:
		x.Blames = m.blames // where they can't be found the verdicts stand alone
	}
	p.known = p.known.With(m.task.room, x)
	if t := (task{m.task.room, blames}); anyBroken(m.verdicts) && !slices.Contains(p.left, t) {
		p.left = append(p.left, t)
	}
	next := tea.Batch(r.proveNext(), r.look())
	r.show()
	if to := p.papersTo; to != nil && p.told() {
		return tea.Batch(next, r.mend(), r.export(*to))
	}
	return tea.Batch(next, r.mend())
}

// told reports whether all is known that the paper of the promises says.
func (p *proving) told() bool {
	said := func(t task) bool { return t.what == verdicts || t.what == blames }
	return !p.busy && !slices.ContainsFunc(p.left, said) && !(p.running && said(p.now))
}

func anyBroken(vs []proof.Verdict) bool {
	return slices.ContainsFunc(vs, func(v proof.Verdict) bool { return v.State == proof.Breaks })
}

// look asks what else there is to say of the room in front, where that is to be shown and isn't known.
func (r *root) look() tea.Cmd {
	p := &r.proof
	x, known := p.known.Of(r.at.room)
	if r.session == nil || r.at.page != page.Promises && r.at.page != page.Story || !known || x.Stale || x.Fault != nil {
		return nil
	}
	ask := func(what asking) {
		if t := (task{r.at.room, what}); !slices.Contains(p.left, t) && !(p.running && p.now == t) {
			p.left = slices.Insert(p.left, 0, t)
		}
	}
	if !x.Told && r.at.room != "" {
		ask(applied)
	}
	if p.faults && !x.Failed {
		ask(failing)
	}
	if p.running {
		return nil
	}
	return r.proveNext()
}

// showFaults turns what faults do to the promises on and off.
func (r *root) showFaults() tea.Cmd {
	r.proof.faults = !r.proof.faults
	cmd := r.look()
	r.show()
	return cmd
}

// provedRooms are the verdicts for the papers: the home as a whole, then the rooms as they are walked.
func (r *root) provedRooms() []papers.Proved {
	out := []papers.Proved{}
	add := func(room string) {
		if x, ok := r.proof.known.Of(room); ok && x.Fault == nil && !x.Stale {
			out = append(out, papers.Proved{Room: room, Verdicts: x.Verdicts, Blames: x.Blames})
		}
	}
	add("")
	for _, room := range r.session.project.Rooms {
		add(room.ID)
	}
	return out
}
