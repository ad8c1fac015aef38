package fitting

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/planner/rules"
)

// order makes rules of one cause independent of their order, where the controller promises none. In the ideal sheet the
// later rule has the last word; here the earlier one keeps out of what the later one will decide.
func (f *fitter) order() {
	if !f.lim.Ordered {
		f.separate(func(rule) bool { return true })
	}
}

// beforeSteps does the same for rules whose guards are too long, whatever the controller promises: once they go by steps they
// come after the later rules.
func (f *fitter) beforeSteps() {
	most := f.lim.MostGuards
	if most <= 0 || !f.states() {
		return
	}
	f.separate(func(r rule) bool { return len(r.Guard) > most })
	f.midnight()
	f.toggles()
	f.tidy()
}

// separate keeps the rules that a function picks out of what later ones of the same cause decide.
func (f *fitter) separate(pick func(rule) bool) {
	most := 100 + 20*len(f.sheet.Rules) // more would help nobody; what then still races is said
	for i := 0; i < len(f.rules) && len(f.rules) < most; i++ {
		if !pick(f.rules[i]) {
			continue
		}
		for j := i + 1; j < len(f.rules); j++ {
			if !maybe(&f.rules[i].Cause, &f.rules[j].Cause) {
				continue
			}
			if !sharing(f.rules[i].effs, f.rules[j].effs) {
				continue
			}
			a, b := f.rules[i], f.rules[j]
			if !together(a.Cause, b.Cause) || exclusive(a.Guard, b.Guard) {
				continue
			}
			x := conflict(a, b)
			if x == "" || !overrules(b, x) {
				continue
			}
			if a.Cause != b.Cause {
				f.behind(j)
				continue
			}
			if parts, ok := f.apartBy(a, b, x); ok {
				f.rules = slices.Replace(f.rules, i, i+1, parts...)
				f.note("ordered", a.ID, fmt.Sprintf("It leaves %s alone when this rule acts as well: %s", f.called(x), b.Purpose), "")
				i--
				break
			}
		}
	}
}

// behind puts a rule behind a step of its own, so that it surely acts after the others of its cause.
func (f *fitter) behind(j int) {
	b := f.rules[j]
	if b.Cause.Kind == rules.Ended || len(b.Hold) > 0 {
		return
	}
	next, steps := f.stepTo(b, b.Guard)
	was := b.Cause
	b.Cause, b.Guard = next, nil
	if was.Kind == rules.Became && !was.Any && f.states() && next.Kind == rules.Ended { // whoever changed it may have changed it back
		b.Guard = []rules.Literal{{Not: !was.On, Kind: rules.Is, Thing: was.Thing}}
	}
	costs := ""
	if !f.lim.Flags {
		f.out.Slack, costs = f.out.Slack+1, "It comes a second later."
	}
	f.rules = slices.Replace(f.rules, j, j+1, append(steps, b)...)
	f.note("ordered", b.ID, "It goes by a step of its own, so that it acts after other rules of its cause.", costs)
}

// exclusive reports whether two guards never hold together. Windows of sun times are judged on days of every season.
func exclusive(a, b []rules.Literal) bool {
	if _, ok := and(a, b...); !ok {
		return true
	}
	for _, x := range a {
		for _, y := range b {
			if x.Kind == rules.Between && y.Kind == rules.Between && !slices.ContainsFunc(seasons, func(d rules.Day) bool { return !apart(onDay(x, d), onDay(y, d)) }) {
				return true
			}
		}
	}
	return false
}

// seasons are days between the long and the short ones of the latitudes where most people live.
var seasons = []rules.Day{
	rules.Equinox,
	{Dawn: 7*3600 + 1800, Sunrise: 8*3600 + 600, Sunset: 15*3600 + 3000, Dusk: 16*3600 + 1800},
	{Dawn: 3*3600 + 3000, Sunrise: 4*3600 + 2700, Sunset: 21*3600 + 1200, Dusk: 22*3600 + 300},
}

func onDay(l rules.Literal, d rules.Day) rules.Literal {
	l.From, l.To = clockAt(d.Second(l.From)), clockAt(d.Second(l.To))
	return l
}

// conflict is the first thing or wait with which two rules do different things; "" when there is none.
func conflict(a, b rule) string {
	for _, e := range a.effs {
		k := e.key()
		if k == "" {
			continue
		}
		if other := about(b, k); len(other) > 0 && !slices.EqualFunc(about(a, k), other, equal) {
			return k
		}
	}
	return ""
}

// sharing is a quick look before conflict: do the effects move anything in common?
func sharing(a, b []eff) bool {
	for i := range a {
		for j := range b {
			if a[i].Thing == b[j].Thing && a[i].Wait == b[j].Wait {
				return true
			}
		}
	}
	return false
}

// about are the effects of a rule on one thing or wait.
func about(r rule, key string) []eff {
	var out []eff
	for _, e := range r.effs {
		if e.key() == key {
			out = append(out, e)
		}
	}
	return out
}

// overrules reports whether a rule decides what becomes of a thing or wait, whatever came before.
func overrules(r rule, key string) bool {
	es := about(r, key)
	last := es[len(es)-1]
	return last.Kind != rules.Start || last.again == rules.Restart
}

// apartBy takes out of a what it does to x whenever b acts too. What a did to x before b does it still shows where
// something waits for x to change, so b then does both. ok is false when that takes more rules than it is worth.
func (f *fitter) apartBy(a, b rule, x string) ([]rule, bool) {
	var own, rest []eff
	for _, e := range a.effs {
		if e.key() == x {
			own = append(own, e)
		} else {
			rest = append(rest, e)
		}
	}
	var extra []rules.Literal
	for _, l := range b.Guard {
		if !slices.Contains(a.Guard, l) {
			extra = append(extra, l)
		}
	}
	if len(extra) > 4 || a.tells() && len(rest) == 0 {
		return nil, false
	}
	var out []rule
	if len(rest) > 0 || len(a.Hold) > 0 {
		x := a
		x.effs = rest
		out = append(out, x)
	}
	for _, l := range extra {
		if v, ok := a.with(not(l)); ok {
			out = append(out, v.doing(own...))
		}
	}
	if f.watched(x) && !f.takesOver(a, b, own) {
		return nil, false
	}
	return out, true
}

// watched reports whether some rule waits for the thing to change.
func (f *fitter) watched(key string) bool {
	return slices.ContainsFunc(f.rules, func(r rule) bool {
		return r.Cause.Kind == rules.Became && !r.Cause.ByHand && "thing "+r.Cause.Thing == key
	})
}

// takesOver lets b do first what a did to the thing, and reports whether it could: b must act only together with a.
func (f *fitter) takesOver(a, b rule, own []eff) bool {
	for _, l := range a.Guard {
		if !slices.Contains(b.Guard, l) {
			return false
		}
	}
	i := slices.IndexFunc(f.rules, func(r rule) bool { return same(r, b) })
	if i < 0 {
		return false
	}
	f.rules[i].effs = append(slices.Clone(own), b.effs...)
	f.rules[i].from = join(b.from, a.from)
	return true
}

// same reports whether two rules are one.
func same(a, b rule) bool {
	return a.ID == b.ID && a.Cause == b.Cause && slices.Equal(a.Guard, b.Guard) && slices.EqualFunc(a.effs, b.effs, equal)
}

func equal(a, b eff) bool {
	return a.Kind == b.Kind && a.Thing == b.Thing && a.Value == b.Value && a.Wait == b.Wait && a.For == b.For && a.Text == b.Text &&
		a.again == b.again && slices.Equal(a.People, b.People)
}

func join(a, b []string) []string {
	out := slices.Clone(a)
	for _, id := range b {
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

func (f *fitter) called(key string) string {
	if id, ok := strings.CutPrefix(key, "thing "); ok {
		if f.kind[id] == rules.Flag {
			return `"` + f.name[id] + `"`
		}
		return "the " + f.name[id]
	}
	return "the wait " + waitName(strings.TrimPrefix(key, "wait "))
}

// races lists the pairs of rules that one event may cause and that still do different things with one thing.
func (f *fitter) races() {
	if f.lim.Ordered {
		return
	}
	rs := f.out.Sheet.Rules
	later := map[[2]string][]int{} // rules with a cause of one thing or wait
	all := make([]rule, len(rs))
	for i, r := range rs {
		k := [2]string{r.Cause.Thing, r.Cause.Wait}
		later[k] = append(later[k], i)
		all[i] = unpacked(r)
	}
	for i := range rs {
		k := [2]string{rs[i].Cause.Thing, rs[i].Cause.Wait}
		later[k] = later[k][1:]
		for _, j := range later[k] {
			if !sharing(all[i].effs, all[j].effs) || !together(rs[i].Cause, rs[j].Cause) || exclusive(rs[i].Guard, rs[j].Guard) {
				continue
			}
			a, b := all[i], all[j]
			if x := conflict(a, b); x != "" {
				f.out.Races = append(f.out.Races, Race{[2]string{a.ID, b.ID}, x,
					fmt.Sprintf("Two rules of one cause decide over %s, and the controller promises no order: %s / %s", f.called(x), a.Purpose, b.Purpose)})
			}
		}
	}
}

func unpacked(r rules.Rule) rule {
	out := rule{Rule: r}
	for _, e := range r.Effects {
		out.effs = append(out.effs, eff{e, r.Again})
	}
	return out
}

// maybe is a quick look before together.
func maybe(a, b *rules.Cause) bool { return a.Thing == b.Thing && a.Wait == b.Wait }

// together reports whether one event can cause both.
func together(a, b rules.Cause) bool {
	if a == b {
		return true
	}
	if a.Thing != b.Thing || a.Thing == "" {
		return false
	}
	change := func(k rules.CauseKind) bool { return k == rules.Reports || k == rules.Became }
	switch {
	case change(a.Kind) && change(b.Kind):
		return a.Any || b.Any || a.On == b.On
	case a.Kind == rules.Over && b.Kind == rules.Over, a.Kind == rules.Under && b.Kind == rules.Under:
		return true
	}
	return false
}
