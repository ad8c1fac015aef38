package fitting

import (
	"fmt"
	"slices"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// longestChain is as many waits as anybody would enter for one.
const longestChain = 24

// shorten cuts a wait to what the longest chain can do, and says so.
func (f *fitter) shorten(w string, most q.Span) {
	for i := range f.rules {
		r := &f.rules[i]
		for j, e := range r.effs {
			if e.Kind == rules.Start && e.Wait == w && e.For > most {
				f.lose(Lost{r.from[0], "longest_wait", fmt.Sprintf("The wait %s can only run for %s, not for %s.", waitName(w), most, e.For), promiseOf(*r),
					"Take a controller with longer waits, or ask for a shorter time."})
				r.effs = slices.Clone(r.effs)
				r.effs[j].For = most
			}
		}
	}
}

// chains makes several waits of one that is too long: the end of each starts the next, and only the last one's end
// counts.
func (f *fitter) chains() {
	most := f.lim.LongestWait
	if most <= 0 {
		return
	}
	names, of := f.timings()
	for _, w := range names {
		n := parts(of[w].longest, most)
		if n < 2 {
			continue
		}
		if n > longestChain {
			n = longestChain
			f.shorten(w, most*longestChain)
		}
		links := []string{w}
		for k := 1; k < n; k++ {
			links = append(links, f.fresh(fmt.Sprintf("%s-part-%d", w, k+1)))
		}
		mark, last := "", -1
		if f.marked(w, n) {
			mark = f.fresh(w + "-goes-on")
			last, _ = chainOver(f.rules, w) // a marked chain's rules stay as many
		}
		var out []rule
		for _, r := range f.rules {
			out = append(out, f.link(r, links, mark)...)
		}
		by := f.rules[slices.IndexFunc(f.rules, func(r rule) bool { return r.starts(w) })]
		for k := n - 1; k > 0; k-- {
			next := by.doing(start(links[k-1], most))
			next.Purpose, next.Cause, next.Guard = fmt.Sprintf("The wait %s goes on.", waitName(w)), ended(links[k]), nil
			out = append(out, next)
		}
		if mark != "" {
			out = f.markEnds(out, last, by, w, mark)
		}
		f.rules = out
		f.note("longest_wait", by.ID, fmt.Sprintf("The wait %s of up to %s became a chain of %d.", waitName(w), of[w].longest, n), "")
	}
}

func parts(d, most q.Span) int { return int((d + most - 1) / most) }

// marked reports whether a chain of n waits is told by one wait more, which runs as long as any of them does: where guards look whether
// the chain runs, it takes fewer statements and rules than to look at each.
func (f *fitter) marked(w string, n int) bool {
	most, over, copies := f.lim.MostGuards, false, 0
	for i := range f.rules {
		r := &f.rules[i]
		switch {
		case r.Cause == ended(w):
		case slices.Contains(r.Guard, running(w)):
			copies += n - 1
		case slices.Contains(r.Guard, not(running(w))):
			over = over || most > 0 && len(r.Guard)-1+n > most
		}
	}
	if !over && copies < 2 {
		return false
	}
	_, ok := chainOver(f.rules, w)
	return ok
}

// chainOver is the place of a rule that acts whenever a chain has ended and isn't started again, and only then; -1 where it never is and
// no rule says so yet. ok is false where what starts it again can't be told apart.
func chainOver(list []rule, w string) (at int, ok bool) {
	var again []rules.Literal
	for i := range list {
		r := &list[i]
		if r.Cause != ended(w) {
			continue
		}
		if len(r.Hold) > 0 {
			return -1, false
		}
		if r.starts(w) {
			if len(r.Guard) != 1 {
				return -1, false
			}
			again = append(again, not(r.Guard[0]))
		}
	}
	for i := range list {
		if r := &list[i]; r.Cause == ended(w) && !r.starts(w) && sameGuard(r.Guard, again) {
			return i, true
		}
	}
	return -1, len(again) == 0
}

// markEnds keeps the mark of a chain running, and ends it with the chain.
func (f *fitter) markEnds(out []rule, at int, by rule, w, mark string) []rule {
	on := by.doing(start(mark, f.lim.LongestWait))
	on.Purpose, on.Cause, on.Guard = fmt.Sprintf("The wait %s still goes on.", waitName(w)), ended(mark), nil
	out = append(out, on)
	f.note("longest_wait", by.ID, fmt.Sprintf("A wait that starts again at its end tells that the wait %s goes on.", waitName(w)), "")
	if at >= 0 {
		r := &out[at]
		r.effs = append([]eff{stop(mark)}, r.effs...)
		return out
	}
	off := by.doing(stop(mark))
	off.Purpose, off.Cause, off.Guard = fmt.Sprintf("The wait %s is over.", waitName(w)), ended(w), nil
	return append([]rule{off}, out...)
}

// link rewrites one rule for a wait that is a chain of links, the last of them first, and for its mark, if it has one.
func (f *fitter) link(r rule, links []string, mark string) []rule {
	w := links[0]
	idle := len(lengths(f.rules, w)) == 1 && slices.Contains(r.Guard, not(running(w))) // all that may run is what it starts itself
	var effs []eff
	for _, e := range r.effs {
		if e.Wait != w || e.Kind != rules.Start && e.Kind != rules.Stop {
			effs = append(effs, e)
			continue
		}
		at := -1
		if e.Kind == rules.Start {
			at = parts(e.For, f.lim.LongestWait) - 1
		}
		for k, l := range links {
			if k != at && (e.Kind == rules.Stop || r.Cause != ended(w) && !idle) {
				effs = append(effs, stop(l))
			}
		}
		if at >= 0 {
			s := start(links[at], e.For-q.Span(at)*f.lim.LongestWait)
			s.again = e.again
			effs = append(effs, s)
		}
		switch {
		case mark != "" && at >= 0:
			effs = append(effs, start(mark, f.lim.LongestWait))
		case mark != "":
			effs = append(effs, stop(mark))
		}
	}
	r.effs = effs
	r.Hold = anyLink(r.Hold, links)
	if mark != "" {
		return marks(r, w, mark)
	}
	r.Guard = noLink(r.Guard, links)
	i := slices.Index(r.Guard, running(w))
	if i < 0 {
		return []rule{r}
	}
	var out []rule
	for _, l := range links {
		x := r
		x.Guard, x.effs = slices.Clone(r.Guard), slices.Clone(r.effs)
		x.Guard[i] = running(l)
		out = append(out, x)
	}
	return out
}

// lengths are the spans for which rules start a wait.
func lengths(list []rule, w string) []q.Span {
	var out []q.Span
	for i := range list {
		for _, e := range list[i].effs {
			if e.Kind == rules.Start && e.Wait == w && !slices.Contains(out, e.For) {
				out = append(out, e.For)
			}
		}
	}
	return out
}

// marks lets a guard look at the mark of a chain in place of the chain. At its end the chain doesn't run.
func marks(r rule, w, mark string) []rule {
	r.Guard = slices.Clone(r.Guard)
	for i, l := range r.Guard {
		if l.Kind == rules.Running && l.Wait == w && r.Cause != ended(w) {
			r.Guard[i].Wait = mark
		}
	}
	return []rule{r}
}

// noLink says of each link what a guard says of the whole: that it doesn't run.
func noLink(guard []rules.Literal, links []string) []rules.Literal {
	out := slices.Clone(guard)
	if slices.Contains(guard, not(running(links[0]))) {
		for _, l := range links[1:] {
			out = append(out, not(running(l)))
		}
	}
	return out
}

// anyLink lets a wait be held by any link of another.
func anyLink(hold []rules.Literal, links []string) []rules.Literal {
	out := slices.Clone(hold)
	if slices.Contains(hold, running(links[0])) {
		for _, l := range links[1:] {
			out = append(out, running(l))
		}
	}
	return out
}

// restarts stops a wait before it starts again, where a second start of it would be ignored.
func (f *fitter) restarts() {
	if f.lim.Restarts {
		return
	}
	f.fellWhileStopped()
	for i := range f.rules {
		r := &f.rules[i]
		var effs []eff
		for n, e := range r.effs {
			if e.Kind == rules.Start && e.again == rules.Restart {
				idle, ok := known(r.effs[:n], not(running(e.Wait)))
				if !(ok && idle) {
					effs = append(effs, stop(e.Wait))
					f.note("restarts", "", fmt.Sprintf("The wait %s is stopped and then started, because a running one can't be restarted.", waitName(e.Wait)), "")
				}
				e.again = rules.Keep
			}
			effs = append(effs, e)
		}
		r.effs = effs
	}
}
