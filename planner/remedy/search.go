package remedy

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// search is one search for the remedies of a room.
type search struct {
	ctx     context.Context
	room    string
	effort  Effort
	make    maker
	moves   []Move
	limits  func(planner.Plan) []Move
	cache   *proof.Cache
	options ideal.Options

	base     *plan
	before   map[string]proof.Verdict // of the base
	bank     []banked
	bankless bool // banks nothing: to see what the bank is worth
	wholes   []found
	halves   []found
	failed   []banked // stories that broke a remedy with one thing failing
	out      Result
}

// candidate is a combination of moves with its plan.
type candidate struct {
	moves []int // in ascending order
	plan  *plan
	price bill.Money
	asks  int // of its moves change the brief
	tried bool
}

// found is a candidate that is a remedy; a half one leaves other promises broken.
type found struct {
	c      *candidate
	remedy Remedy
}

// find looks for what mends a promise.
func (s *search) find(promise string) (Result, error) {
	order, err := s.order(promise)
	if err != nil {
		return Result{}, err
	}
	if len(order) == 0 || s.before[promise].State != proof.Breaks {
		return Result{Unbroken: true}, nil
	}
	if err := s.againstLimits(order); err != nil {
		return Result{}, err
	}
	all, err := s.candidates()
	if err != nil {
		return Result{}, err
	}
	s.out.Combinations = len(all)
	if err := s.whole(all, promise, order); err != nil {
		return Result{}, err
	}
	if len(s.wholes) == 0 {
		if err := s.partly(all, promise, order); err != nil {
			return Result{}, err
		}
	}
	s.rank(all)
	s.out.Full = s.out.Proved < s.effort.Proved
	s.out.Banked = len(s.bank)
	return s.out, nil
}

// againstLimits adds the moves against the limits of the room's controller, where the rules without limits keep a promise that is
// broken: else none of them helps, and the search is shorter without.
func (s *search) againstLimits(order []string) error {
	more := s.limits(s.base.made)
	if len(more) == 0 {
		return nil
	}
	ix := promises.NewIndex(s.base.made.Sheet)
	all := promises.OfRoom(s.base.project, ix, s.options, rules.Equinox, s.room)
	for _, id := range order {
		p, ok := named(all, ix, id)
		if !ok || s.before[id].State != proof.Breaks {
			continue
		}
		s.out.Proofs++
		v, err := s.cache.Prove(s.ctx, ix, p, s.effort.Promise)
		if err != nil {
			return err
		}
		if v.State == proof.Kept {
			s.moves = append(s.moves, more...)
			return nil
		}
	}
	return nil
}

// whole looks for combinations that keep every promise of the room.
func (s *search) whole(all []*candidate, promise string, order []string) error {
	for _, c := range all {
		if s.enough(c) {
			return nil
		}
		if slices.ContainsFunc(s.wholes, func(f found) bool { return within(f.c.moves, c.moves) }) {
			continue // more than is called for
		}
		breaks, err := s.replayed(c)
		if err != nil {
			return err
		}
		if len(breaks) > 0 {
			s.out.Replayed++
			continue
		}
		if err := s.try(c, promise, order); err != nil {
			return err
		}
	}
	return nil
}

// partly looks for combinations that at least keep the promise asked about, and break nothing that is kept: among
// those that whole has proved, and among those that it left to a banked story of another promise.
func (s *search) partly(all []*candidate, promise string, order []string) error {
	for _, c := range all {
		if s.out.Proved >= s.effort.Proved || len(s.halves) >= s.effort.Wanted {
			break
		}
		if c.tried || slices.ContainsFunc(s.halves, func(h found) bool { return within(h.c.moves, c.moves) }) {
			continue
		}
		breaks, err := s.replayed(c)
		if err != nil {
			return err
		}
		if slices.ContainsFunc(breaks, func(id string) bool { return id == promise || s.before[id].State == proof.Kept }) {
			continue
		}
		s.out.Replayed--
		if err := s.try(c, promise, order); err != nil {
			return err
		}
	}
	return nil
}

// rank puts the remedies in their order: by price; of one price those that ask nothing of the household, then those that the fewest
// faults undo. Remedies that leave something broken come behind, where fewer than are wanted leave nothing.
func (s *search) rank(all []*candidate) {
	order := func(list []found) {
		slices.SortStableFunc(list, func(a, b found) int {
			for _, d := range []int{int(a.c.price - b.c.price), min(a.c.asks, 1) - min(b.c.asks, 1), len(a.remedy.Undone) - len(b.remedy.Undone),
				slices.Index(all, a.c) - slices.Index(all, b.c)} {
				if d != 0 {
					return d
				}
			}
			return 0
		})
	}
	order(s.wholes)
	for _, f := range s.wholes[:min(len(s.wholes), s.effort.Wanted)] {
		s.out.Remedies = append(s.out.Remedies, f.remedy)
	}
	s.out.Whole = len(s.out.Remedies)
	slices.SortStableFunc(s.halves, func(a, b found) int { return slices.Index(all, a.c) - slices.Index(all, b.c) })
	for _, h := range s.halves {
		more := slices.ContainsFunc(s.halves, func(o found) bool {
			return o.c != h.c && within(o.c.moves, h.c.moves) && len(o.remedy.Leaves) <= len(h.remedy.Leaves)
		})
		if !more && len(s.out.Remedies) < s.effort.Wanted {
			s.out.Remedies = append(s.out.Remedies, h.remedy)
		}
	}
}

// enough reports whether no further candidate is called for: there are as many remedies as are wanted, and the next one is dearer.
func (s *search) enough(next *candidate) bool {
	n := len(s.wholes)
	return s.out.Proved >= s.effort.Proved || n >= s.effort.Wanted && next.price > s.wholes[n-1].c.price || n >= 2*s.effort.Wanted
}

// try proves a candidate and keeps it when it is a remedy.
func (s *search) try(c *candidate, promise string, order []string) error {
	s.out.Proved++
	c.tried = true
	keeps, leaves, ok, err := s.proved(c, promise, order)
	if err != nil || !ok {
		return err
	}
	r := s.remedy(c, keeps, leaves)
	if slices.ContainsFunc(leaves, func(id string) bool { return s.before[id].State == proof.Breaks }) {
		s.halves = append(s.halves, found{c, r})
		return nil
	}
	if r.Undone, r.Changes, err = s.undone(c, keeps, r.Changes); err != nil {
		return err
	}
	s.wholes = append(s.wholes, found{c, r})
	return nil
}

// within reports whether every move of a is one of b.
func within(a, b []int) bool {
	for _, x := range a {
		if !slices.Contains(b, x) {
			return false
		}
	}
	return true
}

// candidates are all combinations that can be had, cheapest first. Prices alike: those that ask nothing of the
// household first, then those of fewer moves, then in the order of the moves.
func (s *search) candidates() ([]*candidate, error) {
	var out []*candidate
	var grow func(from int, picked []int) error
	grow = func(from int, picked []int) error {
		for i := from; i < len(s.moves); i++ {
			if slices.ContainsFunc(picked, func(k int) bool { return s.moves[k].axis == s.moves[i].axis }) {
				continue
			}
			moves := append(slices.Clone(picked), i)
			c, err := s.candidate(moves)
			if err != nil {
				return err
			}
			if c != nil {
				out = append(out, c)
			}
			if len(moves) < s.effort.Moves {
				if err := grow(i+1, moves); err != nil {
					return err
				}
			}
		}
		return nil
	}
	if err := grow(0, nil); err != nil {
		return nil, err
	}
	slices.SortStableFunc(out, func(a, b *candidate) int {
		for _, d := range []int{int(a.price - b.price), a.asks - b.asks, len(a.moves) - len(b.moves)} {
			if d != 0 {
				return d
			}
		}
		return slices.Compare(a.moves, b.moves)
	})
	return out, nil
}

// candidate plans a combination; nil when it can't be had.
func (s *search) candidate(moves []int) (*candidate, error) {
	c := &candidate{moves: moves}
	picked := make([]Move, len(moves))
	for i, k := range moves {
		picked[i] = s.moves[k]
		if picked[i].Household {
			c.asks++
		}
	}
	var err error
	if c.plan, err = s.planOf(made(s.base.project, picked)); err != nil {
		return nil, err
	}
	if c.plan.refused() {
		return nil, nil
	}
	if len(c.plan.made.Bill.Unmet) > len(s.base.made.Bill.Unmet) || len(c.plan.made.Placed.Lost) > len(s.base.made.Placed.Lost) {
		return nil, nil // no part can do it, or no controller
	}
	c.price = c.plan.made.Bill.Total - s.base.made.Bill.Total
	return c, nil
}

// order proves the room as it is, and gives its promises in the order in which candidates are proved: the one
// that is asked about, the others that are broken, the rest.
func (s *search) order(promise string) ([]string, error) {
	rank := map[string]int{}
	ids := s.base.ofRoom()
	if p, ok := s.base.promise(promise); ok && p.Fault.Kind != promises.NoFault {
		ids = append(ids, promise)
	}
	vs, _, err := s.verdicts(s.base, ids)
	if err != nil {
		return nil, err
	}
	for i, v := range vs {
		s.before[ids[i]] = v
		s.put(v)
		switch {
		case ids[i] == promise:
			rank[ids[i]] = 0
		case v.State != proof.Kept && v.State != proof.Empty:
			rank[ids[i]] = 1
		default:
			rank[ids[i]] = 2
		}
	}
	slices.SortStableFunc(ids, func(a, b string) int { return rank[a] - rank[b] })
	return ids, nil
}

// verdicts proves promises of a plan at once, and gives the verdicts in their order. It is false when one of the
// promises isn't made.
func (s *search) verdicts(x *plan, ids []string) ([]proof.Verdict, bool, error) {
	out, errs := make([]proof.Verdict, len(ids)), make([]error, len(ids))
	var wg sync.WaitGroup
	seats := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i, id := range ids {
		p, ok := x.promise(id)
		if !ok {
			return nil, false, nil
		}
		s.out.Proofs++
		wg.Add(1)
		seats <- struct{}{}
		go func() {
			defer wg.Done()
			out[i], errs[i] = s.cache.Prove(s.ctx, x.ix, p, s.effort.Promise)
			<-seats
		}()
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, true, err
		}
	}
	return out, true, s.ctx.Err()
}

// put banks the story of a broken promise.
func (s *search) put(v proof.Verdict) {
	if v.State == proof.Breaks && len(v.Story) > 0 && !s.bankless {
		s.bank = append(s.bank, bankOf(v))
	}
}

// replayed lists the promises in which a banked story breaks a candidate.
func (s *search) replayed(c *candidate) ([]string, error) {
	var out []string
	for _, b := range s.bank {
		p, ok := c.plan.promise(b.promise)
		if !ok || slices.Contains(out, b.promise) {
			continue
		}
		systems, err := c.plan.systems(p)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(systems, b.breaks) {
			out = append(out, b.promise)
		}
	}
	return out, s.ctx.Err()
}

// proved proves a candidate, promise by promise, as far as it has to. It is no remedy (ok is false) when the promise
// asked about isn't kept, or when one that is kept now isn't any more.
func (s *search) proved(c *candidate, promise string, order []string) (keeps, leaves []string, ok bool, err error) {
	for _, ids := range [2][]string{order[:1], order[1:]} {
		vs, there, err := s.verdicts(c.plan, ids)
		if err != nil || !there {
			return nil, nil, false, err // a promise that is no longer made isn't kept
		}
		for i, v := range vs {
			was := s.before[ids[i]]
			switch {
			case v.State == proof.Kept && was.State != proof.Kept:
				keeps = append(keeps, ids[i])
			case v.State == proof.Kept:
			case v.State == proof.Empty && was.State == proof.Empty:
			case ids[i] == promise || was.State == proof.Kept:
				s.put(v)
				return nil, nil, false, nil
			default:
				leaves = append(leaves, ids[i])
			}
		}
	}
	ok, err = s.spares(c.plan)
	return keeps, leaves, ok, err
}
