package fitting

import (
	"fmt"
	"slices"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// apart from its start the rest of a rule goes on as before: split takes the effects that a function picks into a rule of their own
// under one more literal.
func split(r rule, l rules.Literal, pick func(eff) bool) (rest, own rule, ok bool) {
	rest, own = r, r
	rest.effs, own.effs = nil, nil
	for _, e := range r.effs {
		if pick(e) {
			own.effs = append(own.effs, e)
		} else {
			rest.effs = append(rest.effs, e)
		}
	}
	own, ok = own.with(l)
	own.Hold, own.HoldFor = nil, 0
	return rest, own, ok
}

// inLine is how many starts of a wait may stand in line where the controller can't add to a running wait.
const inLine = 3

// stacks replaces starts that add to what is left: they stand in line, each noted, and the wait's end takes the next.
func (f *fitter) stacks() {
	if f.lim.Stacks {
		return
	}
	for {
		i := slices.IndexFunc(f.rules, func(r rule) bool { return stackIn(r) >= 0 })
		if i < 0 {
			return
		}
		e := f.rules[i].effs[stackIn(f.rules[i])]
		if !f.states() {
			f.lose(Lost{f.rules[i].ID, "stacks", fmt.Sprintf("A second start of the wait %s doesn't add to it; it starts over.", waitName(e.Wait)), "wish kept",
				"Take a controller that can add to a wait."})
			f.rules[i].effs = slices.Clone(f.rules[i].effs)
			f.rules[i].effs[stackIn(f.rules[i])].again = rules.Restart
			continue
		}
		f.line(e.Wait, e.For)
	}
}

func stackIn(r rule) int {
	return slices.IndexFunc(r.effs, func(e eff) bool { return e.Kind == rules.Start && e.again == rules.Stack })
}

// line does so for all starts of one wait by one span.
func (f *fitter) line(wait string, d q.Span) {
	first := f.rules[slices.IndexFunc(f.rules, func(r rule) bool { return r.starts(wait) })]
	var notes []string
	for n := range inLine {
		notes = append(notes, f.flag(first, fmt.Sprintf("%s asked for %d more", waitName(wait), n+1)))
	}
	place := func(n int) []rules.Literal { // n stand in line
		var out []rules.Literal
		if n > 0 {
			out = append(out, is(notes[n-1]))
		}
		if n < len(notes) {
			out = append(out, not(is(notes[n])))
		}
		return out
	}
	var out []rule
	for _, r := range f.rules {
		mine := func(e eff) bool {
			return e.Kind == rules.Start && e.Wait == wait && e.again == rules.Stack && e.For == d
		}
		if r.Cause == ended(wait) {
			r.Guard = append(r.Guard, not(is(notes[0])))
		}
		rest, own, ok := split(r, not(running(wait)), mine)
		if len(own.effs) == 0 {
			r.effs = f.emptyLine(r.effs, wait, notes)
			out = append(out, r)
			continue
		}
		out = append(out, rest)
		if ok {
			own.effs = []eff{start(wait, d)}
			out = append(out, own)
		}
		for n := range notes {
			if x, ok := r.with(append(place(n), running(wait))...); ok {
				out = append(out, x.doing(set(notes[n], true)))
			}
		}
	}
	for n := 1; n <= len(notes); n++ {
		r := first.doing(start(wait, d), set(notes[n-1], false))
		r.Purpose, r.Cause, r.Guard = "The next in line has its turn.", ended(wait), place(n)
		out = append(out, r)
	}
	back := first.doing(f.emptyLine([]eff{stop(wait)}, wait, notes)[1:]...)
	back.Purpose, back.Cause, back.Guard = "After a power cut nobody stands in line.", rules.Cause{Kind: rules.PowerBack}, nil
	f.rules = append(out, back)
	f.note("stacks", first.ID, fmt.Sprintf("Further starts of the wait %s stand in line.", waitName(wait)), fmt.Sprintf("At most %d of them.", inLine))
}

// emptyLine adds to every stop or new start of a wait that nobody stands in line any more.
func (f *fitter) emptyLine(effs []eff, wait string, notes []string) []eff {
	var out []eff
	for _, e := range effs {
		out = append(out, e)
		if e.Wait == wait && (e.Kind == rules.Stop || e.Kind == rules.Start && e.again == rules.Restart) {
			for _, n := range notes {
				out = append(out, set(n, false))
			}
		}
	}
	return out
}

// timing is how rules use one wait.
type timing struct {
	longest q.Span
	notLess []q.Span // spans of starts that must not cut it short, below the longest
	keeps   bool
	other   bool // than starting over
}

func (f *fitter) timings() (names []string, of map[string]*timing) {
	of = map[string]*timing{}
	for _, r := range f.rules {
		for _, e := range r.effs {
			if e.Kind != rules.Start {
				continue
			}
			t := of[e.Wait]
			if t == nil {
				t = &timing{}
				of[e.Wait] = t
				names = append(names, e.Wait)
			}
			t.longest = max(t.longest, e.For)
			t.keeps = t.keeps || e.again == rules.Keep
			t.other = t.other || e.again != rules.Restart
		}
		t := of[r.Cause.Wait]
		if len(r.Hold) > 0 && t != nil {
			t.longest = max(t.longest, r.HoldFor)
		}
	}
	for _, r := range f.rules {
		for _, e := range r.effs {
			if t := of[e.Wait]; e.Kind == rules.Start && e.again == rules.Longer && e.For < t.longest && !slices.Contains(t.notLess, e.For) {
				t.notLess = append(t.notLess, e.For)
			}
		}
	}
	return names, of
}

// policies replaces what a second start of a running wait does. "Unless it runs" becomes a guard. "Never shorter" starts over, unless
// a marker runs that says that more is left: each longer start runs the marker for as long as it exceeds the shorter one.
func (f *fitter) policies() {
	names, of := f.timings()
	parts, with := f.parts()
	for _, w := range names {
		t := of[w]
		long := f.lim.LongestWait > 0 && t.longest > f.lim.LongestWait
		if f.lim.Keeps && !long || !t.other {
			continue
		}
		markers := map[q.Span]string{}
		for _, d := range t.notLess {
			if !f.states() {
				f.lose(Lost{Limit: "guards", Text: fmt.Sprintf("A start of the wait %s for %s may cut a longer one short.", waitName(w), d), Promise: "wish kept",
					Remedy: "Ask for runs of one length only, or take a controller that can look at states."})
				continue
			}
			markers[d] = f.fresh(fmt.Sprintf("%s-over-%s", w, d))
			f.note("keeps", "", fmt.Sprintf("A second wait says while more than %s of the wait %s is left.", d, waitName(w)), "")
		}
		var mine []rule
		for _, i := range with[w] {
			for _, r := range parts[i] {
				if r.starts(w) || r.stops(w) {
					mine = append(mine, r)
				}
			}
		}
		f.sameMoment(mine, w)
		if t.keeps && f.lim.Restarts && !f.states() {
			f.lose(Lost{Limit: "guards", Text: fmt.Sprintf("A second start of the wait %s starts it over.", waitName(w)), Promise: "not for ever",
				Remedy: "Take a controller that can look at states."})
		}
		for _, i := range with[w] {
			var out []rule
			for _, r := range parts[i] {
				if r.starts(w) || r.stops(w) {
					out = append(out, f.policy(r, w, t, markers)...)
				} else {
					out = append(out, r)
				}
			}
			parts[i] = out
		}
	}
	f.rules = slices.Concat(parts...)
}

// parts are the rules, each a list of what becomes of it, and the places of those that start or stop a wait.
func (f *fitter) parts() (parts [][]rule, with map[string][]int) {
	with = map[string][]int{}
	for i, r := range f.rules {
		parts = append(parts, f.rules[i:i+1:i+1])
		for _, e := range r.effs {
			if at := with[e.Wait]; e.Wait != "" && (len(at) == 0 || at[len(at)-1] != i) {
				with[e.Wait] = append(at, i)
			}
		}
	}
	return parts, with
}

// sameMoment notes pairs of rules that one event may cause, of which the later start looks at a wait that the earlier one moves: guards
// look before either acts.
func (f *fitter) sameMoment(mine []rule, w string) {
	for i, a := range mine {
		for _, b := range mine[i+1:] {
			if looksAgain(a, b, w) && together(a.Cause, b.Cause) && !exclusive(a.Guard, b.Guard) {
				f.moment("keeps", b.ID, fmt.Sprintf("It looks whether the wait %s runs before this rule acts: %s", waitName(w), a.Purpose),
					"When both act in one moment the wait may be the other's.")
			}
		}
	}
}

func looksAgain(a, b rule, w string) bool {
	return (a.starts(w) || a.stops(w)) && slices.ContainsFunc(b.effs, func(e eff) bool {
		return e.Kind == rules.Start && e.Wait == w && (e.again == rules.Keep || e.again == rules.Longer)
	}) && !slices.EqualFunc(about(a, "wait "+w), about(b, "wait "+w), equal)
}

// policy rewrites the starts and stops of one wait in one rule.
func (f *fitter) policy(r rule, w string, t *timing, markers map[q.Span]string) []rule {
	var guarded []rules.Literal // one for each start that needs one
	rest := r
	rest.effs = nil
	var own [][]eff
	for i, e := range r.effs {
		if e.Wait != w || e.Kind != rules.Start && e.Kind != rules.Stop {
			rest.effs = append(rest.effs, e)
			continue
		}
		effs, l, needs := f.started(r, i, t, markers)
		if !needs {
			rest.effs = append(rest.effs, effs...)
			continue
		}
		guarded, own = append(guarded, l), append(own, effs)
	}
	if len(guarded) == 0 {
		rest.effs = slices.Clip(rest.effs)
		return []rule{rest}
	}
	out := []rule{rest}
	for i, l := range guarded {
		if x, ok := r.with(l); ok {
			out = append(out, x.doing(own[i]...))
		}
	}
	return out
}

// collected makes one order of several to one wait in one rule, where they come to one.
func collected(effs []eff, w string) []eff {
	var out []eff
	for _, e := range effs {
		i := slices.IndexFunc(out, func(o eff) bool { return e.key() == "wait "+w && o.Kind == rules.Start && o.Wait == w })
		if i < 0 || e.again == rules.Stack {
			out = append(out, e)
			continue
		}
		was := out[i]
		switch {
		case e.Kind == rules.Stop:
			out = append(slices.Delete(out, i, i+1), e)
		case e.again == rules.Restart:
			out[i].For, out[i].again = e.For, rules.Restart
		case e.again == rules.Longer && was.again != rules.Keep:
			out[i].For = max(was.For, e.For)
		case e.again == rules.Longer:
			out = append(out, e)
		}
	}
	return out
}

// started is what becomes of effect i of a rule, and the literal that it needs, if it does.
func (f *fitter) started(r rule, i int, t *timing, markers map[q.Span]string) (effs []eff, l rules.Literal, needs bool) {
	e := r.effs[i]
	again := e.again
	if e.Kind == rules.Start && (again == rules.Restart || again == rules.Longer) || e.Kind == rules.Start && again == rules.Keep && (f.states() || f.lim.Restarts) {
		e.again = rules.Restart
	}
	effs = append(effs, e)
	for _, d := range t.notLess {
		m, ok := markers[d]
		switch {
		case !ok:
		case e.Kind == rules.Start && e.For > d:
			effs = append(effs, start(m, e.For-d))
		default:
			effs = append(effs, stop(m))
		}
	}
	if e.Kind != rules.Start || r.Cause == ended(e.Wait) {
		return effs, l, false
	}
	if idle, ok := known(r.effs[:i], not(running(e.Wait))); ok && idle {
		return effs, l, false
	}
	switch again {
	case rules.Keep:
		if f.states() {
			f.note("keeps", r.ID, fmt.Sprintf("It starts the wait %s only while that doesn't run.", waitName(e.Wait)), "")
			return effs, not(running(e.Wait)), true
		}
	case rules.Longer:
		if m, ok := markers[e.For]; ok {
			return effs, not(running(m)), true
		}
	}
	return effs, l, false
}
