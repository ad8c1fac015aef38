package fitting

import (
	"fmt"
	"slices"
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// long cuts guards that have too many statements into steps: the first part notes that it held, or starts a wait of one
// second, and the end of that looks at the rest. Rules that come of one ideal rule and go by equally many steps go by the same ones,
// and rules of several causes too where all that is left to look at and to do is the same: each wait more is one more to enter.
func (f *fitter) long() {
	most := f.lim.MostGuards
	if most <= 0 || !slices.ContainsFunc(f.rules, func(r rule) bool { return len(r.Guard) > most }) {
		return
	}
	if !f.states() && !f.windows() {
		return
	}
	s := stepping{f: f, queue: f.rules, depth: make([]int, len(f.rules)), made: map[way]step{}, firsts: map[group][]rules.Literal{}, after: map[string]step{}}
	for i := 0; i < len(s.queue); i++ {
		if r := s.queue[i]; len(r.Guard) <= most {
			s.out = append(s.out, r)
		} else {
			s.cut(i)
		}
	}
	f.rules = s.out
}

// stepping is one long.
type stepping struct {
	f      *fitter
	queue  []rule
	depth  []int // steps before each of the queue
	made   map[way]step
	firsts map[group][]rules.Literal // nil where its rules go by steps of their own
	after  map[string]step           // by all that follows it
	out    []rule
}

// way is how a step begins: a cause, and the first part of a guard, for one group or for rules of none.
type way struct {
	cause rules.Cause
	guard string
	group group
}

// step is what says that the first part of a guard held. A shared one has what follows it in the queue already.
type step struct {
	cause  rules.Cause
	shared bool
}

// group is rules that can go by the same steps: variants of one ideal rule that one event causes and that need as many steps.
type group struct {
	cause rules.Cause
	id    string
	steps int
}

func (s *stepping) groupOf(r rule) group {
	most := s.f.lim.MostGuards
	return group{r.Cause, r.ID, (len(r.Guard)+most-1)/most - 1}
}

// cut makes the first step of rule i of the queue, where there isn't one yet, and lets the rest of the rule follow it.
func (s *stepping) cut(i int) {
	f, r, most := s.f, s.queue[i], s.f.lim.MostGuards
	g := s.groupOf(r)
	first, known := s.firsts[g]
	if !known {
		first = s.first(g)
		s.firsts[g] = first
	}
	together := first != nil
	if !together {
		sorted := s.ordered(r)
		first = sorted[:most]
	}
	w := way{r.Cause, fmt.Sprint(first), group{}}
	if together && s.follows(g, first) != "" { // other causes may lead to it
		w.group = g
	}
	next, ok := s.made[w]
	if !ok {
		next = s.begin(r, first, together)
		s.made[w] = next
	} else if len(r.Hold) > 0 {
		only := r
		only.Guard, only.effs = nil, nil
		s.out = append(s.out, only)
	}
	s.falls(r, next.cause)
	if next.shared {
		s.joins(r, next.cause)
		return
	}
	f.cancels(s.out, s.queue, r.Cause, next.cause)
	if c := r.Cause; c.Kind == rules.Ended && !f.lim.Flags && s.leadsTo(r, c.Wait, map[string]bool{}) {
		f.moment("most_guards", r.ID, fmt.Sprintf("It goes by steps of a second from the end of the wait %s to what starts that again.", waitName(c.Wait)), "Each round takes that much longer.")
	}
	r.Hold, r.HoldFor = nil, 0
	r.Cause, r.Guard = next.cause, without(r.Guard, first)
	s.queue, s.depth = append(s.queue, r), append(s.depth, s.depth[i]+1)
	if !f.lim.Flags {
		f.out.Slack = max(f.out.Slack, s.depth[i]+1)
	}
}

// begin makes the step to which a first part of a guard leads, or leads to one after which all is the same.
func (s *stepping) begin(r rule, first []rules.Literal, together bool) step {
	f, key := s.f, ""
	if together {
		key = s.follows(s.groupOf(r), first)
	}
	if to, ok := s.after[key]; ok && key != "" {
		again := r.doing(slices.Clone(s.started(to.cause))...)
		again.Purpose, again.Guard = "First part of: "+r.Purpose, first
		s.out = append(s.out, again)
		return step{to.cause, true}
	}
	next, steps := f.stepTo(r, first)
	steps[0].Hold, steps[0].HoldFor = r.Hold, r.HoldFor
	s.out = append(s.out, steps...)
	f.note("most_guards", r.ID, fmt.Sprintf("A guard takes %d statements, so this one is looked at in steps.", f.lim.MostGuards), f.stepCost())
	if key != "" {
		s.after[key] = step{cause: next}
	}
	return step{cause: next}
}

// falls ends a step when what a rule needs falls meanwhile.
func (s *stepping) falls(r rule, step rules.Cause) {
	if step.Kind != rules.Ended {
		return
	}
	for _, list := range [][]rule{s.out, s.queue} {
		for i := range list {
			o := &list[i]
			if o.Cause == r.Cause || o.Cause.Kind == rules.PowerBack || o.starts(step.Wait) || o.stops(step.Wait) {
				continue
			}
			if slices.ContainsFunc(r.needs, func(l rules.Literal) bool {
				holds, ok := known(o.effs, l)
				return ok && !holds && o.Cause != ended(l.Wait) // what only goes on falls no more
			}) {
				o.effs = append(slices.Clone(o.effs), stop(step.Wait))
			}
		}
	}
}

// leadsTo reports whether a rule starts a wait, or one whose end leads to that.
func (s *stepping) leadsTo(r rule, wait string, seen map[string]bool) bool {
	for _, e := range r.effs {
		if e.Kind != rules.Start || seen[e.Wait] {
			continue
		}
		if seen[e.Wait] = true; e.Wait == wait || slices.ContainsFunc(s.queue, func(o rule) bool { return o.Cause == ended(e.Wait) && s.leadsTo(o, wait, seen) }) {
			return true
		}
	}
	return false
}

// started is how a step is begun.
func (s *stepping) started(c rules.Cause) []eff {
	if c.Kind == rules.Ended {
		return []eff{start(c.Wait, q.Span(time.Second))}
	}
	return []eff{set(c.Thing, true)}
}

// joins lets the rules that follow a step carry out what a rule is from.
func (s *stepping) joins(r rule, c rules.Cause) {
	for _, list := range [][]rule{s.out, s.queue} {
		for i := range list {
			if o := &list[i]; o.Cause == c {
				o.from = join(o.from, r.from)
			}
		}
	}
}

// members are the rules of a group.
func (s *stepping) members(g group) []rule {
	var out []rule
	for _, r := range s.queue {
		if r.Cause == g.cause && r.ID == g.id && s.groupOf(r) == g {
			out = append(out, r)
		}
	}
	return out
}

// first is the part of the guards of a group that all its rules can look at first, nil where there is none. What other rules
// of the moment change must be in it. Those of the group act later, all at once, and so do their twins of another cause that one event
// may be as well: those then follow the same step.
func (s *stepping) first(g group) []rules.Literal {
	twins := []group{g}
	for i := 0; i < len(twins); i++ {
		for _, r := range s.queue {
			if o := s.groupOf(r); o.id == g.id && o.steps == g.steps && !slices.Contains(twins, o) && together(o.cause, twins[i].cause) {
				twins = append(twins, o)
			}
		}
	}
	out := s.common(g, true)
	for _, o := range twins[1:] {
		if other := s.common(o, true); out == nil || other == nil || s.follows(g, out) == "" || s.follows(o, other) != s.follows(g, out) {
			return s.common(g, false)
		}
	}
	return out
}

// common is first with the twins counted in, or as rules like any other.
func (s *stepping) common(g group, twins bool) []rules.Literal {
	members, most := s.members(g), s.f.lim.MostGuards
	moved := s.moved(func(o rule) bool {
		og := s.groupOf(o)
		return maybe(&o.Cause, &g.cause) && together(o.Cause, g.cause) && og != g && !(twins && og.id == g.id && og.steps == g.steps)
	})
	var first, more []rules.Literal
	for _, r := range members {
		for _, l := range r.Guard {
			all := !slices.ContainsFunc(members, func(o rule) bool { return !slices.Contains(o.Guard, l) || s.f.beside(o, l) })
			switch must := moved[subject(l)] && !s.f.beside(r, l); {
			case must && !all:
				return nil
			case must && !slices.Contains(first, l):
				first = append(first, l)
			case !must && all && !slices.Contains(more, l):
				more = append(more, l)
			}
		}
	}
	if len(first) > most {
		return nil
	}
	first = append(first, more[:min(len(more), most-len(first))]...)
	if len(first) == 0 || slices.ContainsFunc(members, func(r rule) bool { return len(r.Guard)-len(first) > most*g.steps }) {
		return nil
	}
	return first
}

// follows is all that comes after a first part of the guards of a group, "" where several causes may not lead to it: what would be told
// or added twice, and the end of a wait, after which nothing follows when the wait has started again.
func (s *stepping) follows(g group, first []rules.Literal) string {
	if g.cause.Kind == rules.Ended {
		return ""
	}
	out := ""
	for _, r := range s.members(g) {
		if r.tells() || stackIn(r) >= 0 {
			return ""
		}
		rest := without(r.Guard, first)
		slices.SortFunc(rest, func(a, b rules.Literal) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
		out += fmt.Sprint(r.Room, r.Goal, rest, r.effs)
	}
	return out
}

// moved are the things and waits that rules move which a function picks, and those that act on any change.
func (s *stepping) moved(pick func(rule) bool) map[string]bool {
	out := map[string]bool{}
	for _, o := range s.queue {
		if pick(o) || o.Cause.Kind == rules.Became && !o.Cause.ByHand {
			for _, e := range o.effs {
				out[e.key()] = true
			}
		}
	}
	delete(out, "")
	return out
}

// beside reports whether a literal is what a toggle of a rule needs beside it.
func (f *fitter) beside(r rule, l rules.Literal) bool {
	k := subject(l)
	return slices.ContainsFunc(r.effs, func(e eff) bool { return e.Kind == rules.Set && f.toggled(e.Thing) && e.key() == k })
}

// ordered puts first what the other rules of the same cause change, or what follows from them, because it must be looked at before
// they act, and last what a toggle needs beside it.
func (s *stepping) ordered(r rule) []rules.Literal {
	f := s.f
	moved := s.moved(func(o rule) bool { return maybe(&o.Cause, &r.Cause) && !same(o, r) && together(o.Cause, r.Cause) })
	volatile := 0
	rank := func(l rules.Literal) int {
		switch {
		case f.beside(r, l):
			return 2
		case moved[subject(l)]:
			return 0
		}
		return 1
	}
	for _, l := range r.Guard {
		if moved[subject(l)] {
			volatile++
		}
	}
	if volatile > f.lim.MostGuards {
		f.moment("most_guards", r.ID, "Its guard is looked at in steps, and rules of the same moment change what the later steps look at.", "It may then act, or not, as things are after them.")
	}
	out := slices.Clone(r.Guard)
	slices.SortStableFunc(out, func(a, b rules.Literal) int { return rank(a) - rank(b) })
	return out
}

// without is a guard without some of its literals.
func without(guard, some []rules.Literal) []rules.Literal {
	return slices.DeleteFunc(slices.Clone(guard), func(l rules.Literal) bool { return slices.Contains(some, l) })
}

func (f *fitter) stepCost() string {
	if f.lim.Flags {
		return ""
	}
	return "Each step takes a second."
}

// stepTo is the cause that says that the first part of a guard held, with the rules that make it.
func (f *fitter) stepTo(r rule, first []rules.Literal) (rules.Cause, []rule) {
	if f.lim.Flags {
		id := f.flag(r, "looking further")
		a, b := r.doing(set(id, true)), r.doing(set(id, false))
		a.Purpose, a.Guard = "First part of: "+r.Purpose, slices.Clone(first)
		b.Purpose, b.Guard = "The first part has been looked at.", nil
		b.Cause = rules.Cause{Kind: rules.Became, Thing: id, On: true}
		return b.Cause, []rule{a, b}
	}
	wait := f.fresh(r.ID + "-step")
	a := r.doing(start(wait, q.Span(time.Second)))
	a.Purpose, a.Guard = "First part of: "+r.Purpose, slices.Clone(first)
	return ended(wait), []rule{a}
}

// cancels ends a step of the end of a wait when the wait starts again in that second: the end has been overtaken.
func (f *fitter) cancels(made, queue []rule, c, step rules.Cause) {
	if c.Kind != rules.Ended || step.Kind != rules.Ended {
		return
	}
	for _, list := range [][]rule{made, queue} {
		for i := range list {
			r := &list[i]
			if r.Cause != c && r.starts(c.Wait) && !r.stops(step.Wait) && !r.starts(step.Wait) {
				r.effs = append(slices.Clone(r.effs), stop(step.Wait))
			}
		}
	}
}
