package remedy

import (
	"context"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// plan is a project with some moves made.
type plan struct {
	project  *model.Project
	made     planner.Plan
	sheet    rules.Sheet // what its controllers run
	ix       *promises.Index
	promises []promises.Promise // of the room
	rest     []promises.Promise // of other rooms and the home; made when first asked for
}

// maker turns a project into a plan; a test puts wrong rules in here.
type maker func(context.Context, *model.Project) (planner.Plan, error)

func newSearch(ctx context.Context, p *model.Project, c *catalogue.Catalogue, room string, e Effort) (*search, error) {
	s := &search{ctx: ctx, room: room, effort: e, make: planner.NewTrials(p, c).Make, cache: e.Cache, options: ideal.Usual(),
		before: map[string]proof.Verdict{}, moves: Moves(p, c, room)}
	if s.cache == nil {
		s.cache = &proof.Cache{}
	}
	s.options.Year = ideal.YearOf(p)
	s.limits = func(plan planner.Plan) []Move { return LimitMoves(p, c, plan, room) }
	var err error
	s.base, err = s.planOf(p)
	return s, err
}

func (s *search) planOf(p *model.Project) (*plan, error) {
	made, err := s.make(s.ctx, p)
	if err != nil {
		return nil, err
	}
	x := &plan{project: p, made: made, sheet: made.Fitted}
	x.ix = promises.NewIndex(x.sheet)
	x.promises = promises.OfRoom(p, x.ix, s.options, rules.Equinox, s.room)
	return x, nil
}

// refused reports a plan that is none: a choice that the room can't have, or that changes nothing.
func (x *plan) refused() bool {
	return slices.ContainsFunc(x.made.Findings, func(f ideal.Finding) bool { return strings.HasPrefix(f.At, "choices/") })
}

// promise of a plan's room by its name, also with a fault.
func (x *plan) promise(id string) (promises.Promise, bool) { return named(x.promises, x.ix, id) }

func named(all []promises.Promise, ix *promises.Index, id string) (promises.Promise, bool) {
	for _, p := range all {
		if p.ID == id {
			return p, true
		}
	}
	for _, p := range all {
		if !strings.HasPrefix(id, p.ID+"/") {
			continue
		}
		for _, f := range p.Faulty(ix) {
			if f.ID == id {
				return f, true
			}
		}
	}
	return promises.Promise{}, false
}

// ofRoom are the names of the room's promises.
func (x *plan) ofRoom() []string {
	var out []string
	for _, p := range x.promises {
		out = append(out, p.ID)
	}
	return out
}

// systems are what a banked story is played on for a promise: each of its facets, on its day itself.
func (x *plan) systems(p promises.Promise) ([]timed.System, error) {
	cases, err := p.Cases(x.ix)
	if err != nil {
		return nil, err
	}
	var out []timed.System
	for _, c := range cases {
		if c.Can {
			continue
		}
		themselves := []*promises.Case{&c}
		if real := c.Real(); len(real) > 0 {
			themselves = real
		}
		for _, r := range themselves {
			out = append(out, r.Exactly().System(true))
		}
	}
	return out, nil
}

func (s *search) prove(x *plan, p promises.Promise) (proof.Verdict, error) {
	s.out.Proofs++
	return s.cache.Prove(s.ctx, x.ix, p, s.effort.Promise)
}

// elsewhere are the promises of other rooms and of the home.
func (s *search) elsewhere(x *plan) []promises.Promise {
	if x.rest == nil {
		for _, p := range promises.OfAll(x.project, x.ix, s.options, rules.Equinox) {
			if p.Room != s.room {
				x.rest = append(x.rest, p)
			}
		}
	}
	return x.rest
}

// spares reports whether a plan keeps every promise elsewhere that is kept now. Only those are proved of which
// something that bears on them changes.
func (s *search) spares(x *plan) (bool, error) {
	now := map[string]promises.Promise{}
	for _, p := range s.elsewhere(s.base) {
		now[p.ID] = p
	}
	for _, p := range s.elsewhere(x) {
		old, ok := now[p.ID]
		if !ok {
			continue
		}
		delete(now, p.ID)
		same, err := promises.Alike(old, s.base.ix, p, x.ix)
		if err != nil {
			return false, err
		}
		if same {
			continue
		}
		was, err := s.prove(s.base, old)
		if err != nil {
			return false, err
		}
		if was.State != proof.Kept {
			continue
		}
		if is, err := s.prove(x, p); err != nil || is.State != proof.Kept {
			return false, err
		}
	}
	return len(now) == 0, nil // a promise that is no longer made isn't kept
}
