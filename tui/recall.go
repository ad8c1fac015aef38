package tui

import (
	"context"
	"sync"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/planner/rules"
)

// most is how many proved cases are kept in mind: far more than a home has, so that what an edit leaves as it
// was isn't proved again.
const most = 20_000

// recall answers what the screens ask of the promises, and remembers what it has proved on the way, whoever asked.
type recall struct {
	mu    sync.Mutex
	known *proof.Cache
}

func (m *recall) cache() *proof.Cache {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.known == nil || m.known.Len() > most {
		m.known = &proof.Cache{}
	}
	return m.known
}

// prove decides the promises of a room.
func (m *recall) prove(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error) {
	return proof.Room(ctx, p, sheet, room, proof.Options{Cache: m.cache()})
}

// fail decides what each promise of a room comes to with one thing failing: the verdicts that the second pass adds.
func (m *recall) fail(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error) {
	all, err := proof.Room(ctx, p, sheet, room, proof.Options{Cache: m.cache(), Faults: true})
	return onlyFaults(all), err
}

// blame names the limits that break promises of a room.
func (m *recall) blame(ctx context.Context, p *model.Project, plan *planner.Plan, room string, vs []proof.Verdict) ([]planner.Blame, error) {
	faults := len(onlyFaults(vs)) > 0
	return plan.Blames(ctx, p, room, vs, proof.Options{Cache: m.cache(), Faults: faults})
}

// apply lists what the plan has for the sake of a room's promises.
func (m *recall) apply(ctx context.Context, p *model.Project, c *catalogue.Catalogue, plan *planner.Plan, room string) ([]remedy.Applied, error) {
	return remedy.Mandatory(ctx, p, c, *plan, room)
}

// mend looks for what mends a promise.
func (m *recall) mend(ctx context.Context, p *model.Project, c *catalogue.Catalogue, v proof.Verdict) (remedy.Result, error) {
	e := remedy.Usual
	e.Cache = m.cache()
	return remedy.For(ctx, p, c, v, e)
}

func onlyFaults(all []proof.Verdict) []proof.Verdict {
	var out []proof.Verdict
	for _, v := range all {
		if v.Fault != (proof.Verdict{}).Fault {
			out = append(out, v)
		}
	}
	return out
}
