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
		var out []rule
		for _, r := range f.rules {
			out = append(out, f.link(r, links)...)
		}
		by := f.rules[slices.IndexFunc(f.rules, func(r rule) bool { return r.starts(w) })]
		for k := n - 1; k > 0; k-- {
			next := by.doing(start(links[k-1], most))
			next.Purpose, next.Cause, next.Guard = fmt.Sprintf("The wait %s goes on.", waitName(w)), ended(links[k]), nil
			out = append(out, next)
		}
		f.rules = out
		f.note("longest_wait", by.ID, fmt.Sprintf("The wait %s of up to %s became a chain of %d.", waitName(w), of[w].longest, n), "")
	}
}

func parts(d, most q.Span) int { return int((d + most - 1) / most) }

// link rewrites one rule for a wait that is a chain of links, the last of them first.
func (f *fitter) link(r rule, links []string) []rule {
	w := links[0]
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
			if k != at && (e.Kind == rules.Stop || r.Cause != ended(w)) {
				effs = append(effs, stop(l))
			}
		}
		if at >= 0 {
			s := start(links[at], e.For-q.Span(at)*f.lim.LongestWait)
			s.again = e.again
			effs = append(effs, s)
		}
	}
	r.effs = effs
	r.Hold = anyLink(r.Hold, links)
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
