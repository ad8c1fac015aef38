package fitting

import (
	"fmt"
	"slices"
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// tidy takes out what can't be: literals that always hold, rules that never can, waits that nothing starts, and
// rules that another says already.
func (f *fitter) tidy() {
	for {
		n, size := len(f.rules), f.size()
		started := map[string]bool{}
		for _, r := range f.rules {
			for _, e := range r.effs {
				if e.Kind == rules.Start {
					started[e.Wait] = true
				}
			}
		}
		var out []rule
		at := index{}
		for _, r := range f.rules {
			if x, ok := f.tidied(r, started); ok && !absorbed(out, at[x.moving()], x) {
				at.add(x.moving(), len(out))
				out = append(out, x)
			}
		}
		f.rules = out
		if len(out) == n && f.size() == size {
			return
		}
	}
}

func (f *fitter) size() (n int) {
	for _, r := range f.rules {
		n += len(r.Guard) + len(r.effs)
	}
	return n
}

func (f *fitter) tidied(r rule, started map[string]bool) (rule, bool) {
	if r.Cause.Kind == rules.Ended && !started[r.Cause.Wait] {
		return r, false
	}
	guard, ok := f.tidyGuard(r, started)
	if !ok {
		return r, false
	}
	r.Guard = guard
	r.effs = slices.DeleteFunc(slices.Clone(r.effs), func(e eff) bool { return e.Kind == rules.Stop && !started[e.Wait] })
	r.Hold = slices.DeleteFunc(slices.Clone(r.Hold), func(l rules.Literal) bool {
		holds, known := always(l, rules.Cause{})
		return known && !holds || l.Kind == rules.Running && !l.Not && !started[l.Wait]
	})
	for i, l := range r.Hold {
		if l.Kind == rules.Running && l.Not && !started[l.Wait] {
			r.Hold[i] = rules.Literal{Kind: rules.Between} // the whole day: it never runs
		}
	}
	if len(r.Hold) == 0 {
		r.HoldFor = 0
	}
	// The last of several orders to one thing or wait counts, but a start that something must stop first needs its stop.
	r.effs = settled(r.effs)
	return r, len(r.effs) > 0 || len(r.Hold) > 0
}

func (f *fitter) tidyGuard(r rule, started map[string]bool) ([]rules.Literal, bool) {
	var guard []rules.Literal
	for _, l := range r.Guard {
		holds, known := always(l, r.Cause)
		if l.Kind == rules.Running && (!started[l.Wait] || r.Cause == ended(l.Wait) || r.Cause.Kind == rules.PowerBack && !f.lim.RestoresWaits) {
			holds, known = l.Not, true
		}
		if known && !holds {
			return nil, false
		}
		if !known {
			guard = append(guard, l)
		}
	}
	guard, ok := and(nil, guard...)
	if !ok {
		return nil, false
	}
	return narrowed(guard), true
}

// settled drops orders that the next one to the same wait repeats.
func settled(effs []eff) []eff {
	var out []eff
	for i, e := range effs {
		next := slices.IndexFunc(effs[i+1:], func(o eff) bool { return e.key() != "" && o.key() == e.key() })
		if next < 0 || e.Kind == rules.Set || e.again == rules.Stack || !equal(e, effs[i+1+next]) {
			out = append(out, e)
		}
	}
	return out
}

// narrowed makes one window of two that overlap in one, and drops windows that say nothing new.
func narrowed(guard []rules.Literal) []rules.Literal {
	for i, a := range guard {
		for j := i + 1; j < len(guard); j++ {
			both, ok := overlap(a, guard[j])
			if !ok {
				continue
			}
			out := slices.Clone(guard)
			out[i] = both
			return narrowed(slices.Delete(out, j, j+1))
		}
	}
	return guard
}

// overlap is the window in which two windows of clock times both hold, where that is one.
func overlap(a, b rules.Literal) (rules.Literal, bool) {
	x, okA := spans(a)
	y, okB := spans(b)
	if !okA || !okB {
		return a, false
	}
	var both [][2]time.Duration
	for _, s := range x {
		for _, t := range y {
			if from, to := max(s[0], t[0]), min(s[1], t[1]); from < to {
				both = append(both, [2]time.Duration{from, to})
			}
		}
	}
	slices.SortFunc(both, func(p, q [2]time.Duration) int { return int(p[0] - q[0]) })
	window := func(from, to time.Duration) (rules.Literal, bool) {
		return rules.Literal{Kind: rules.Between, From: q.DayTime{Offset: from}, To: q.DayTime{Offset: to % day}}, true
	}
	switch {
	case len(both) == 1:
		return window(both[0][0], both[0][1])
	case len(both) == 2 && both[0][0] == 0 && both[1][1] == day:
		return window(both[1][0], both[0][1])
	}
	return a, false
}

// absorbed reports whether a rule of the list says the same, and then lets it carry out the ideal rules of this one too.
// Those that may are at the places given.
func absorbed(list []rule, of []int, r rule) bool {
	for _, i := range of {
		o := &list[i]
		if sameGuard(o.Guard, r.Guard) && slices.EqualFunc(o.effs, r.effs, equal) &&
			slices.Equal(o.Hold, r.Hold) && o.HoldFor == r.HoldFor && !r.tells() && !between(list[i+1:], r) {
			o.from = join(o.from, r.from)
			return true
		}
	}
	return false
}

// index is the places in a list of the rules that have something in common, in order: a cause, and a room or what they move first.
// Most have it in common with few others.
type index map[common][]int

type common struct {
	rules.Cause
	room, moves string
}

func (at index) add(c common, i int) { at[c] = append(at[c], i) }

func (r *rule) inRoom() common { return common{Cause: r.Cause, room: r.Room} }

func (r *rule) moving() common {
	if len(r.effs) == 0 {
		return common{Cause: r.Cause}
	}
	return common{Cause: r.Cause, moves: r.effs[0].Thing + r.effs[0].Wait}
}

// shadowed takes out rules that do nothing that another doesn't do whenever they act.
func (f *fitter) shadowed() {
	at, gone := index{}, make([]bool, len(f.rules))
	for i := range f.rules {
		at.add(f.rules[i].inRoom(), i)
	}
	for i := range f.rules {
		for _, j := range at[f.rules[i].inRoom()] {
			if i != j && !gone[j] && shadows(&f.rules[j], &f.rules[i]) && !f.between(i, j, gone) {
				f.rules[j].from = join(f.rules[j].from, f.rules[i].from)
				gone[i] = true
				break
			}
		}
	}
	var out []rule
	for i, r := range f.rules {
		if !gone[i] {
			out = append(out, r)
		}
	}
	f.rules = out
}

// between is the same for what stands between rules i and j and is not gone: does any of it decide over the same as rule i?
func (f *fitter) between(i, j int, gone []bool) bool {
	for k := min(i, j) + 1; k < max(i, j); k++ {
		if !gone[k] && between(f.rules[k:k+1], f.rules[i]) {
			return true
		}
	}
	return false
}

// shadows reports whether one rule does all that another does whenever that acts.
func shadows(a, b *rule) bool {
	return a.Cause == b.Cause && len(a.Guard) < len(b.Guard) && len(b.Hold) == 0 && a.Room == b.Room && !b.tells() &&
		within(a.Guard, b.Guard) &&
		!slices.ContainsFunc(b.effs, func(e eff) bool {
			same := about(*a, e.key())
			return e.again == rules.Stack || len(same) == 0 || !equal(last(same), e) // what a rule undoes itself it doesn't do
		})
}

// between reports whether a rule of the list decides over the same as another that one event may cause.
func between(list []rule, r rule) bool {
	for i := range list {
		if maybe(&list[i].Cause, &r.Cause) && together(list[i].Cause, r.Cause) && conflict(r, list[i]) != "" {
			return true
		}
	}
	return false
}

func sameGuard(a, b []rules.Literal) bool {
	if len(a) != len(b) {
		return false
	}
	for _, l := range a {
		if !slices.Contains(b, l) {
			return false
		}
	}
	return true
}

// merge makes one rule of those that have one cause and one guard, where rules are scarce. Rules of different rooms
// stay apart, those of different goals too unless there are too many, and so do rules between which another decides over the same thing.
func (f *fitter) merge() {
	if f.lim.Rules <= 0 {
		return
	}
	f.mergeIf(func(a, b rule) bool { return a.Goal == b.Goal })
	if len(f.rules) > f.lim.Rules {
		f.mergeIf(func(a, b rule) bool { return true })
	}
}

func (f *fitter) mergeIf(like func(a, b rule) bool) {
	var out []rule
	at := index{}
	for _, r := range f.rules {
		near := at[r.inRoom()]
		i := slices.IndexFunc(near, func(i int) bool {
			o := out[i]
			return like(o, r) && sameGuard(o.Guard, r.Guard) && len(o.Hold) == 0 && len(r.Hold) == 0 && fits(o, r)
		})
		if i >= 0 {
			i = near[i]
		}
		if i < 0 || between(out[i+1:], r) {
			at.add(r.inRoom(), len(out))
			out = append(out, r)
			continue
		}
		o := &out[i]
		o.effs = settled(append(slices.Clone(o.effs), r.effs...))
		o.from = join(o.from, r.from)
		if !strings.Contains(o.Purpose, r.Purpose) {
			o.Purpose += " " + r.Purpose
		}
	}
	f.rules = out
}

// fits reports whether the effects of two rules can follow each other in one: starts of one policy.
func fits(a, b rule) bool {
	policy := rules.Again(-1)
	for _, e := range append(slices.Clone(a.effs), b.effs...) {
		if e.Kind != rules.Start {
			continue
		}
		if policy >= 0 && e.again != policy {
			return false
		}
		policy = e.again
	}
	return true
}

// capacity says when there are more rules than the controller takes.
func (f *fitter) capacity(n int) {
	if l, ok := tooMany(f.lim.Rules, n); ok {
		f.lose(l)
	}
}

func tooMany(most, n int) (Lost, bool) {
	return Lost{Limit: "rules", Text: fmt.Sprintf("The controller takes %d rules and needs %d, which is %d too many.", most, n, n-most), Promise: "each earns its place",
		Remedy: "Spread the rooms over more controllers, or take one that needs or holds other numbers of rules."}, most > 0 && n > most
}
