package fitting

import (
	"fmt"
	"slices"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// forgetful does without notes. What waits for a note to change is done by the rules that change it; a wait that renews
// itself stands for the note.
func (f *fitter) forgetful() {
	if f.lim.Flags {
		return
	}
	f.inline()
	if f.states() {
		f.remember()
	} else {
		f.dropNotes()
	}
	f.order()
}

// deepest is how many changes of notes may follow from each other.
const deepest = 8

// inline lets each rule that changes a note do as well what waits for that change, as far as that rule's guard allows.
func (f *fitter) inline() {
	waiting, pulses := map[string][]rule{}, f.pulses()
	var queue []rule
	for _, r := range f.rules {
		if r.Cause.Kind == rules.Became && f.kind[r.Cause.Thing] == rules.Flag {
			waiting[r.Cause.Thing] = append(waiting[r.Cause.Thing], r)
			continue
		}
		queue = append(queue, r)
	}
	depth := make([]int, len(queue))
	for i := 0; i < len(queue); i++ {
		a := queue[i]
		for n, e := range a.effs {
			if e.Kind != rules.Set {
				continue
			}
			for _, b := range waiting[e.Thing] {
				if !b.Cause.Any && b.Cause.On != e.Value.On {
					continue
				}
				if depth[i] == deepest {
					f.lose(Lost{b.ID, "flags", "Too many changes follow from each other: " + b.Purpose, promiseOf(b), "Take a controller that can remember."})
					continue
				}
				if x, ok := f.following(a, n, b, pulses[e.Thing]); ok {
					f.early(queue, a, b)
					queue, depth = append(queue, x), append(depth, depth[i]+1)
					f.note("flags", b.ID, "It is done by each rule that changes what it waits for.", "")
				}
			}
		}
	}
	f.rules = queue
	for id := range pulses {
		f.unseen(id)
	}
}

// pulses are the notes that a rule forgets as soon as they are made: nothing that comes from outside finds one standing.
func (f *fitter) pulses() map[string]bool {
	out := map[string]bool{}
	for i := range f.rules {
		r := &f.rules[i]
		if c := r.Cause; c.Kind == rules.Became && c.On && !c.Any && f.kind[c.Thing] == rules.Flag && len(r.Guard) == 0 {
			if off, ok := known(r.effs, not(is(c.Thing))); ok && off {
				out[c.Thing] = true
			}
		}
	}
	return out
}

// unseen takes out what is done to a note that no rule looks at any more.
func (f *fitter) unseen(id string) {
	looks := func(l rules.Literal) bool { return l.Thing == id }
	for _, r := range f.rules {
		if r.Cause.Thing == id || slices.ContainsFunc(r.Guard, looks) || slices.ContainsFunc(r.Hold, looks) {
			return
		}
	}
	for i := range f.rules {
		f.rules[i].effs = slices.DeleteFunc(slices.Clone(f.rules[i].effs), func(e eff) bool { return e.Kind == rules.Set && e.Thing == id })
	}
	f.rules = slices.DeleteFunc(f.rules, func(r rule) bool { return len(r.effs)+len(r.Hold) == 0 })
}

// early notes when b, now done in the moment of a, no longer sees what other rules of that moment change first.
func (f *fitter) early(list []rule, a, b rule) {
	looks := []string{"thing " + b.Cause.Thing}
	for _, l := range b.Guard {
		looks = append(looks, subject(l))
	}
	for i := range list {
		if !maybe(&list[i].Cause, &a.Cause) {
			continue
		}
		o := list[i]
		if same(o, a) || !together(o.Cause, a.Cause) || exclusive(o.Guard, a.Guard) {
			continue
		}
		for _, e := range o.effs {
			if k := e.key(); k != "" && slices.Contains(looks, k) {
				f.moment("flags", b.ID, fmt.Sprintf("It looks before this rule acts in the same moment: %s", o.Purpose), "It may then act, or not, as things were before.")
				return
			}
		}
	}
}

// following is what b does when effect n of a changes the note that b waits for. A pulse surely changes where a acts by what comes from
// outside.
func (f *fitter) following(a rule, n int, b rule, pulse bool) (rule, bool) {
	e := a.effs[n]
	was := rules.Literal{Kind: rules.Is, Thing: e.Thing, Not: e.Value.On}
	var guard []rules.Literal
	if changes, ok := known(a.effs[:n], was); !ok {
		if f.states() && !(pulse && e.Value.On && (a.Cause.Kind != rules.Became || a.Cause.ByHand)) {
			guard = append(guard, was)
		}
	} else if !changes {
		return rule{}, false
	}
	for _, l := range b.Guard {
		if holds, ok := known(a.effs, l); !ok {
			guard = append(guard, l)
		} else if !holds {
			return rule{}, false
		}
	}
	x, ok := a.with(guard...)
	if !ok {
		return rule{}, false
	}
	out := x.doing(slices.Clone(b.effs)...)
	out.ID, out.Room, out.Goal, out.Purpose = b.ID, b.Room, b.Goal, b.Purpose
	out.from = join(b.from, a.from)
	if out.needs = slices.Clone(a.needs); !pulse {
		out.needs = append(out.needs, not(was))
	}
	return out, true
}

// remember makes waits of notes: a note stands while its wait runs, and the wait's end starts it again.
func (f *fitter) remember() {
	period := f.lim.LongestWait
	if period <= 0 {
		period = q.Span(12 * time.Hour)
	}
	wait := map[string]string{}
	of := func(id string) (string, bool) {
		if f.kind[id] != rules.Flag {
			return "", false
		}
		w, ok := wait[id]
		if !ok {
			w = f.fresh(id)
			wait[id] = w
		}
		return w, true
	}
	started := map[string]rule{}
	for i := range f.rules {
		r := &f.rules[i]
		for _, ls := range [][]rules.Literal{r.Guard, r.Hold, r.needs} {
			for j := range ls {
				if w, ok := of(ls[j].Thing); ok && ls[j].Kind == rules.Is {
					ls[j] = rules.Literal{Not: ls[j].Not, Kind: rules.Running, Wait: w}
				}
			}
		}
		r.effs = slices.Clone(r.effs)
		for j, e := range r.effs {
			w, ok := of(e.Thing)
			if !ok || e.Kind != rules.Set {
				continue
			}
			r.effs[j] = stop(w)
			if e.Value.On {
				r.effs[j] = start(w, period)
				if _, ok := started[e.Thing]; !ok {
					started[e.Thing] = *r
				}
			}
		}
	}
	for _, t := range f.things {
		r, ok := started[t.ID]
		if !ok {
			continue
		}
		again := r.doing(start(wait[t.ID], period))
		again.Purpose, again.Cause, again.Guard = fmt.Sprintf("Keeps %q in mind.", t.Name), ended(wait[t.ID]), nil
		f.rules = append(f.rules, again)
		f.note("flags", r.ID, fmt.Sprintf("A wait that starts again at its end stands for %q.", t.Name), f.forgets(t))
	}
}

// forgets says what a power cut does to a note that is a wait, unless the rules forget it then anyway.
func (f *fitter) forgets(t rules.Thing) string {
	if f.lim.RestoresWaits {
		return ""
	}
	for _, r := range f.sheet.Rules {
		if r.Cause.Kind == rules.PowerBack && len(r.Guard) == 0 && slices.ContainsFunc(r.Effects, func(e rules.Effect) bool {
			return e.Kind == rules.Set && e.Thing == t.ID && !e.Value.On
		}) {
			return ""
		}
	}
	return fmt.Sprintf("A power cut forgets %q.", t.Name)
}

// dropNotes takes out notes that nothing can look at.
func (f *fitter) dropNotes() {
	for i := range f.rules {
		f.rules[i].effs = slices.DeleteFunc(slices.Clone(f.rules[i].effs), func(e eff) bool { return e.Kind == rules.Set && f.kind[e.Thing] == rules.Flag })
	}
}
