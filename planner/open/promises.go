package open

import (
	"context"
	"slices"

	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// proveUp lays out the promises: for each answer those of which it changes what has to be proved.
func (w *Weighing) proveUp(context.Context) error {
	w.proving = true
	for _, x := range w.points {
		if w.o.NoProof {
			continue
		}
		w.todo = append(w.todo, func(ctx context.Context) error { return w.prove(ctx, x) })
	}
	return nil
}

// prove finds what the answers to a point break and mend.
func (w *Weighing) prove(ctx context.Context, x *weighed) error {
	for i := range x.each {
		if err := w.promised(ctx, &x.each[i], x.fact != nil); err != nil {
			return err
		}
	}
	for i := range x.Together {
		if err := w.promised(ctx, &x.Together[i].Most, true); err != nil {
			return err
		}
		x.Together[i].Proved = true
	}
	x.merge(w)
	x.Proved = true
	return nil
}

// promised compares the promises of an answer with those of the plan as it is. No promise speaks of a fact of the house itself, so
// where the controllers run the same rules after such a fact, all are the same.
func (w *Weighing) promised(ctx context.Context, a *Answer, fact bool) error {
	if a.plan == nil || fact && a.plan.same {
		return nil
	}
	if a.plan.same {
		a.plan.plan.Fitted = w.base.plan.Fitted
	}
	w.made(w.base)
	w.made(a.plan)
	a.Breaks, a.Mends, a.Drops, a.Makes = nil, nil, nil, nil
	for _, p := range a.plan.promises {
		if err := ctx.Err(); err != nil {
			return err
		}
		i := slices.IndexFunc(w.base.promises, func(o promises.Promise) bool { return o.ID == p.ID })
		if i >= 0 {
			same, err := promises.Alike(w.base.promises[i], w.base.ix, p, a.plan.ix)
			if err != nil {
				return err
			}
			if same {
				continue
			}
		}
		is, err := w.o.Cache.Prove(ctx, a.plan.ix, p, w.o.Effort)
		if err != nil {
			return err
		}
		if i < 0 {
			switch is.State {
			case proof.Breaks:
				a.Breaks = append(a.Breaks, p.Sentence)
			case proof.Kept:
				a.Makes = append(a.Makes, p.Sentence)
			}
			continue
		}
		was, err := w.o.Cache.Prove(ctx, w.base.ix, w.base.promises[i], w.o.Effort)
		if err != nil {
			return err
		}
		switch {
		case was.State != proof.Breaks && is.State == proof.Breaks:
			a.Breaks = append(a.Breaks, p.Sentence)
		case was.State == proof.Breaks && is.State == proof.Kept:
			a.Mends = append(a.Mends, p.Sentence)
		}
	}
	for _, p := range w.base.promises {
		if !slices.ContainsFunc(a.plan.promises, func(o promises.Promise) bool { return o.ID == p.ID }) {
			a.Drops = append(a.Drops, p.Sentence)
		}
	}
	return nil
}

// made lists the promises of a plan, once.
func (w *Weighing) made(x *planned) {
	if x.ix != nil {
		return
	}
	o := ideal.Usual()
	o.Year = ideal.YearOf(x.project)
	x.ix = promises.NewIndex(x.plan.Fitted)
	x.promises = promises.OfAll(x.project, x.ix, o, rules.Equinox)
}
