package fitting

import (
	"fmt"
	"slices"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// held is what keeps one wait.
type held struct {
	wait string
	any  []rules.Literal
	last []rules.Literal // those of any that may stand at its end
	span q.Span          // for which it starts over
	look q.Span          // from which to which it looks again; when a reason falls it starts over anyway
	by   rule            // first rule that says so
}

// holds replaces holds where the controller has none. The end of the wait looks again: while a reason stands it
// starts over. When a reason falls the wait starts over too, so it ends as long after the last reason as a held one.
func (f *fitter) holds() {
	_, of := f.timings()
	hs := slices.DeleteFunc(f.heldWaits(), func(h held) bool { return f.native(h, of[h.wait]) })
	if len(hs) == 0 {
		return
	}
	if !f.states() {
		f.blindHolds(hs)
		return
	}
	at := f.starting()
	for i := range hs {
		hs[i].last = f.lasting(hs[i], at) // before anything below cuts rules up
	}
	for i := range hs {
		h := &hs[i]
		costs := ""
		if h.span <= 0 {
			h.span, costs, f.out.Slack = q.Span(time.Second), "It ends a second after the last reason, not at once.", max(f.out.Slack, 1)
		}
		f.note("holds", h.by.ID, fmt.Sprintf("The wait %s looks again at its end, and starts over when a reason to hold it falls.", waitName(h.wait)), costs)
		f.stopsReason(*h)
		f.fellWhileStarting(*h)
		f.flickers(*h)
	}
	var first, more []rule
	for i := range f.rules {
		r := &f.rules[i]
		for _, h := range hs {
			if r.Cause == ended(h.wait) {
				r.Guard = append(r.Guard, nots(h.last)...)
				r.Hold, r.HoldFor = nil, 0
			}
		}
	}
	for _, h := range hs {
		for _, l := range h.last {
			again := h.by.doing(start(h.wait, h.look))
			again.Purpose, again.Guard = "While there is a reason the wait starts over.", []rules.Literal{l}
			more = append(more, again)
		}
		for _, l := range h.any {
			for _, r := range f.falls(h, l) {
				if slices.ContainsFunc(f.rules, func(o rule) bool { return together(o.Cause, r.Cause) && o.stops(h.wait) }) {
					first = append(first, r) // a stop in the same moment has the last word
				} else {
					more = append(more, r)
				}
			}
		}
	}
	f.rules = append(append(first, f.rules...), more...)
}

// starting are the rules that start a wait, by its name, and under "held" those that hold it.
func (f *fitter) starting() map[string][]int {
	at := map[string][]int{}
	for i, r := range f.rules {
		for _, e := range r.effs {
			if e.Kind == rules.Start {
				at[e.Wait] = append(at[e.Wait], i)
			}
		}
		if len(r.Hold) > 0 {
			at["held "+r.Cause.Wait] = append(at["held "+r.Cause.Wait], i)
		}
	}
	return at
}

// lasting are the reasons that may still stand when the wait comes to its end. A shorter wait that never starts without it is over by then.
func (f *fitter) lasting(h held, at map[string][]int) []rules.Literal {
	return slices.DeleteFunc(slices.Clone(h.any), func(l rules.Literal) bool {
		return l.Kind == rules.Running && !l.Not && len(at["held "+l.Wait]) == 0 && f.shorter(l.Wait, h, at)
	})
}

// shorter reports whether a wait starts only when a held one starts as well, or starts over because a reason falls, and whether that
// always runs for twice as long or more. A sensor may say twice that nobody moves, so its report alone is no fall.
func (f *fitter) shorter(short string, h held, at map[string][]int) bool {
	longest := q.Span(0)
	for _, i := range at[short] {
		for _, e := range f.rules[i].effs {
			if e.Kind == rules.Start && e.Wait == short {
				longest = max(longest, e.For)
				if e.again == rules.Stack {
					return false
				}
			}
		}
	}
	if longest == 0 || h.span < 2*longest {
		return false
	}
	for _, i := range at[h.wait] {
		if slices.ContainsFunc(f.rules[i].effs, func(e eff) bool { return e.Kind == rules.Start && e.Wait == h.wait && e.For < 2*longest }) {
			return false
		}
	}
	for _, i := range at[short] {
		r := &f.rules[i]
		if fell(r.Cause, h) {
			continue
		}
		if !slices.ContainsFunc(at[h.wait], func(j int) bool {
			o := &f.rules[j]
			return o.Cause == r.Cause && within(o.Guard, r.Guard) && o.renews(h.wait)
		}) {
			return false
		}
	}
	return true
}

// fell reports whether a cause is that a reason to hold a wait falls: the wait then starts over, unless it doesn't run.
func fell(c rules.Cause, h held) bool {
	return c.Kind == rules.Became && !c.Any && !c.ByHand && slices.ContainsFunc(h.any, func(l rules.Literal) bool {
		return l.Kind == rules.Is && l.Thing == c.Thing && l.Not == c.On
	})
}

// renews reports whether a rule starts a wait for its whole time, whether it runs or not.
func (r *rule) renews(wait string) bool {
	return slices.ContainsFunc(r.effs, func(e eff) bool {
		return e.Kind == rules.Start && e.Wait == wait && (e.again == rules.Restart || e.again == rules.Longer)
	})
}

// within reports whether all literals of one guard are in another.
func within(some, all []rules.Literal) bool {
	return !slices.ContainsFunc(some, func(l rules.Literal) bool { return !slices.Contains(all, l) })
}

// heldWaits gathers the holds of each wait, as rules.Compile does.
func (f *fitter) heldWaits() []held {
	var out []held
	for _, r := range f.rules {
		if len(r.Hold) == 0 {
			continue
		}
		i := slices.IndexFunc(out, func(h held) bool { return h.wait == r.Cause.Wait })
		if i < 0 {
			i = len(out)
			out = append(out, held{wait: r.Cause.Wait, by: r})
		}
		h := &out[i]
		h.span = max(h.span, r.HoldFor)
		for _, l := range r.Hold {
			if !slices.Contains(h.any, l) {
				h.any = append(h.any, l)
			}
		}
	}
	_, of := f.timings()
	for i := range out {
		h := &out[i]
		h.look = max(h.span, q.Span(time.Minute))
		if t := of[h.wait]; t != nil {
			h.look = max(h.look, t.longest)
		}
		if slices.ContainsFunc(h.any, func(l rules.Literal) bool { return l.Kind == rules.Running && l.Not }) {
			h.look = max(h.span, q.Span(time.Second)) // nothing tells when it falls
		}
	}
	return out
}

// native reports whether the controller can hold a wait by itself: one that it can run in one piece, and whose starts it understands.
func (f *fitter) native(h held, t *timing) bool {
	timed := slices.ContainsFunc(h.any, func(l rules.Literal) bool { return l.Kind == rules.Between })
	if !f.lim.Holds || !f.states() || t == nil || timed && !f.windows() {
		return false
	}
	long := f.lim.LongestWait > 0 && max(t.longest, h.span) > f.lim.LongestWait
	return !long && (f.lim.Keeps || len(t.notLess) == 0)
}

// falls are the rules that start a wait over when one of its reasons falls. While another reason stands that does no
// harm: the wait is to run on anyway.
func (f *fitter) falls(h held, l rules.Literal) []rule {
	var causes []rules.Cause
	switch l.Kind {
	case rules.Is:
		causes = append(causes, rules.Cause{Kind: rules.Became, Thing: l.Thing, On: l.Not})
	case rules.ReadsOver:
		k := rules.Under
		if l.Not {
			k = rules.Over
		}
		causes = append(causes, rules.Cause{Kind: k, Thing: l.Thing, Threshold: l.Threshold, Than: l.Than})
	case rules.Between:
		at := l.To
		if l.Not {
			at = l.From
		}
		causes = append(causes, rules.Cause{Kind: rules.Clock, At: at})
	case rules.Running:
		if l.Not {
			f.note("holds", h.by.ID, fmt.Sprintf("The wait %s looks again only at its end.", waitName(h.wait)),
				fmt.Sprintf("It may end up to %s sooner after its reason has fallen.", h.span))
			return nil
		}
		causes = append(causes, ended(l.Wait))
	}
	var out []rule
	for _, c := range causes {
		r := h.by.doing(start(h.wait, h.span))
		r.Purpose, r.Cause, r.Guard = "When a reason falls the wait starts over.", c, []rules.Literal{running(h.wait)}
		out = append(out, r)
	}
	return out
}

// stopsReason looks for rules that stop a wait which is itself a reason: a held wait would not notice their own start of
// it, and then start over.
func (f *fitter) stopsReason(h held) {
	reasons := slices.DeleteFunc(slices.Clone(h.any), func(l rules.Literal) bool { return l.Kind != rules.Running || l.Not })
	stops := func(r *rule) bool {
		return !r.stops(h.wait) && slices.ContainsFunc(reasons, func(l rules.Literal) bool { return r.stops(l.Wait) && !r.starts(l.Wait) })
	}
	some := false
	for i := 0; i < len(f.rules) && len(reasons) > 0 && !some; i++ {
		some = stops(&f.rules[i])
	}
	if !some {
		return
	}
	var out []rule
	for _, r := range f.rules {
		reason := ""
		for _, l := range reasons {
			if r.stops(l.Wait) && !r.starts(l.Wait) {
				reason = l.Wait
			}
		}
		if reason == "" || r.stops(h.wait) {
			out = append(out, r)
			continue
		}
		rest, own := r, []eff(nil)
		rest.effs = nil
		for _, e := range r.effs {
			if e.Kind == rules.Start && e.Wait == h.wait {
				own = append(own, e)
			} else {
				rest.effs = append(rest.effs, e)
			}
		}
		out = append(out, rest)
		if x, ok := r.with(running(reason), running(h.wait)); ok {
			out = append(out, x.doing(start(h.wait, h.span)))
		}
		if len(own) > 0 {
			for _, l := range []rules.Literal{not(running(reason)), not(running(h.wait))} {
				if x, ok := r.with(l); ok {
					out = append(out, x.doing(own...))
				}
			}
		}
	}
	f.rules = out
}

// fellWhileStarting notes rules that start a wait and take its reason away in one go: the start then counts for the span of the
// hold, because the wait can't tell that it wasn't held before.
func (f *fitter) fellWhileStarting(h held) {
	falls := func(c rules.Cause, l rules.Literal) bool {
		return slices.ContainsFunc(f.rules, func(o rule) bool {
			holds, ok := known(o.effs, l)
			return (together(o.Cause, c) || o.Cause.Kind == rules.Became && !o.Cause.ByHand) && ok && !holds
		})
	}
	for i := range f.rules {
		r := &f.rules[i]
		for _, e := range r.effs {
			if e.Kind != rules.Start || e.Wait != h.wait || e.For == h.span {
				continue
			}
			for _, l := range h.any {
				if l.Kind == rules.Is && falls(r.Cause, l) {
					f.moment("holds", r.ID, fmt.Sprintf("It starts the wait %s and takes away a reason that holds it.", waitName(h.wait)),
						fmt.Sprintf("The wait then runs %s, not %s.", h.span, e.For))
				}
			}
		}
	}
}

// fellWhileStopped notes the same of waits that the controller holds by itself, but must stop before it starts them over: a held wait
// that is started over goes by the span of its hold when the hold falls in that moment; one that was stopped is a new one.
func (f *fitter) fellWhileStopped() {
	for _, h := range f.heldWaits() {
		for i := range f.rules {
			r := &f.rules[i]
			for _, e := range r.effs {
				if e.Kind == rules.Start && e.Wait == h.wait && e.For != h.span && e.again == rules.Restart && slices.ContainsFunc(h.any, func(l rules.Literal) bool { return f.mayFall(r.Cause, l) }) {
					f.moment("restarts", r.ID, fmt.Sprintf("It stops and starts the wait %s in a moment that may take away a reason that holds it.", waitName(h.wait)),
						fmt.Sprintf("The wait then runs %s, not %s.", e.For, h.span))
				}
			}
		}
	}
}

// mayFall reports whether a literal may turn false in a moment that begins with a cause.
func (f *fitter) mayFall(c rules.Cause, l rules.Literal) bool {
	switch {
	case l.Kind == rules.Between:
		return c.Kind == rules.Clock
	case l.Kind == rules.Running && !l.Not && c == ended(l.Wait), l.Thing != "" && (c.Thing == l.Thing || c.Thing == l.Than):
		return true
	}
	return slices.ContainsFunc(f.rules, func(o rule) bool {
		if !together(o.Cause, c) && (o.Cause.Kind != rules.Became || o.Cause.ByHand) {
			return false
		}
		if holds, ok := known(o.effs, l); ok && !holds {
			return true
		}
		return l.Kind == rules.Running && l.Not && o.starts(l.Wait)
	})
}

// flickers notes reasons that one event may take away and give back at once: a held wait doesn't notice, a fitted one starts over.
func (f *fitter) flickers(h held) {
	for _, l := range h.any {
		if l.Kind == rules.Is && flickers(f.rules, l) {
			f.moment("holds", h.by.ID, fmt.Sprintf("One event may take away and give back at once that %s.", f.reason(l)), fmt.Sprintf("The wait %s then starts over.", waitName(h.wait)))
		}
	}
}

// flickers reports whether one event may set a thing both ways.
func flickers(list []rule, l rules.Literal) bool {
	for i := range list {
		a := &list[i]
		if len(about(*a, subject(l))) == 0 {
			continue
		}
		for j := range list[i:] {
			b := &list[i+j]
			if !maybe(&a.Cause, &b.Cause) || !together(a.Cause, b.Cause) || exclusive(a.Guard, b.Guard) {
				continue
			}
			both := append(about(*a, subject(l)), about(*b, subject(l))...)
			for _, e := range both {
				if e.Value.On != both[0].Value.On {
					return true
				}
			}
		}
	}
	return false
}

// blindHolds is for controllers that can't look at states: a sensor that sees something stops the wait, and starts it
// when it sees nothing more. What else should hold the wait is lost.
func (f *fitter) blindHolds(hs []held) {
	for i := range f.rules {
		f.rules[i].Hold, f.rules[i].HoldFor = nil, 0
	}
	for _, h := range hs {
		kept := 0
		for _, l := range h.any {
			sensor := l.Kind == rules.Is && (f.kind[l.Thing] == rules.Motion || f.kind[l.Thing] == rules.Presence || f.kind[l.Thing] == rules.Door)
			if !sensor || kept > 0 {
				f.lose(Lost{h.by.ID, "guards", fmt.Sprintf("The controller can't look at states, so nothing holds the wait %s: %s", waitName(h.wait), f.reason(l)),
					promiseOfHold(h.by), "Take a controller that can look at states, or a longer wait."})
				continue
			}
			kept++
			f.blindHold(h, l)
		}
	}
}

func (f *fitter) blindHold(h held, l rules.Literal) {
	h.span = max(h.span, q.Span(time.Second))
	rises := rules.Cause{Kind: rules.Reports, Thing: l.Thing, On: !l.Not}
	for i := range f.rules {
		r := &f.rules[i]
		if r.Cause == rises || r.Cause.Kind == rules.Became && r.Cause.Thing == l.Thing && r.Cause.On == !l.Not {
			r.effs = slices.DeleteFunc(slices.Clone(r.effs), func(e eff) bool { return e.Kind == rules.Start && e.Wait == h.wait })
		}
	}
	f.rules = slices.DeleteFunc(f.rules, func(r rule) bool { return len(r.effs) == 0 })
	halt, over := h.by.doing(stop(h.wait)), h.by.doing(start(h.wait, h.span))
	halt.Purpose, halt.Cause, halt.Guard = "The wait stands still while somebody is seen.", rises, nil
	over.Purpose, over.Cause, over.Guard = "The wait starts when nobody is seen any more.", rules.Cause{Kind: rules.Reports, Thing: l.Thing, On: l.Not}, nil
	f.rules = append(f.rules, halt, over)
	f.note("holds", h.by.ID, fmt.Sprintf("The wait %s starts when the sensor sees nothing more.", waitName(h.wait)),
		"A start of it for any other reason isn't held.")
}

func (f *fitter) reason(l rules.Literal) string { return rules.NewWording(f.sheet).Literal(l) }
