package fitting

import (
	"slices"
	"strconv"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

const day = 24 * time.Hour

func number(n int) string { return strconv.Itoa(n) }

// with is a copy of a rule under more guards. ok is false when they can't all hold.
func (r rule) with(more ...rules.Literal) (rule, bool) {
	g, ok := and(r.Guard, more...)
	r.Guard = g
	r.effs = slices.Clone(r.effs)
	return r, ok
}

// doing is a copy of a rule with other effects, and no hold.
func (r rule) doing(effs ...eff) rule {
	r.effs = effs
	r.Guard = slices.Clone(r.Guard)
	r.Hold, r.HoldFor = nil, 0
	return r
}

// and adds literals to a guard, each once; ok is false when two of them contradict each other.
func and(guard []rules.Literal, more ...rules.Literal) ([]rules.Literal, bool) {
	out := slices.Clone(guard)
	for _, l := range more {
		if !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	for i, a := range out {
		for _, b := range out[i+1:] {
			if b == not(a) || apart(a, b) {
				return out, false
			}
		}
	}
	return out, true
}

func not(l rules.Literal) rules.Literal {
	l.Not = !l.Not
	return l
}

func nots(ls []rules.Literal) []rules.Literal {
	out := make([]rules.Literal, len(ls))
	for i, l := range ls {
		out[i] = not(l)
	}
	return out
}

// apart reports whether two windows of clock times never hold together.
func apart(a, b rules.Literal) bool {
	x, okA := spans(a)
	y, okB := spans(b)
	if !okA || !okB {
		return false
	}
	for _, s := range x {
		for _, t := range y {
			if s[0] < t[1] && t[0] < s[1] {
				return false
			}
		}
	}
	return true
}

// spans are the parts of the day, from and to, in which a window of clock times holds; ok is false for any other literal.
func spans(l rules.Literal) (out [][2]time.Duration, ok bool) {
	if l.Kind != rules.Between || l.From.Sun != q.NoSun || l.To.Sun != q.NoSun {
		return nil, false
	}
	from, to := l.From.Offset, l.To.Offset
	if from == to {
		if l.Not {
			return nil, true
		}
		return [][2]time.Duration{{0, day}}, true
	}
	if l.Not {
		from, to = to, from
	}
	if to == 0 {
		to = day
	}
	if from < to {
		return [][2]time.Duration{{from, to}}, true
	}
	return [][2]time.Duration{{0, to}, {from, day}}, true
}

// always says whether a literal is known whatever the moment, or at a moment of the clock.
func always(l rules.Literal, c rules.Cause) (holds, known bool) {
	if l.Kind != rules.Between {
		return false, false
	}
	if l.From == l.To {
		return !l.Not, true
	}
	if c.Kind != rules.Clock {
		return false, false
	}
	if c.At == l.From {
		return !l.Not, true
	}
	if c.At == l.To {
		return l.Not, true
	}
	parts, ok := spans(l)
	if !ok || c.At.Sun != q.NoSun {
		return false, false
	}
	for _, s := range parts {
		if s[0] <= c.At.Offset && c.At.Offset < s[1] {
			return true, true
		}
	}
	return false, true
}

// key of what an effect moves: a thing or a wait; "" for messages.
func (e eff) key() string {
	switch e.Kind {
	case rules.Set:
		return "thing " + e.Thing
	case rules.Start, rules.Stop:
		return "wait " + e.Wait
	}
	return ""
}

// subject of a literal, in the same words.
func subject(l rules.Literal) string {
	switch l.Kind {
	case rules.Is:
		return "thing " + l.Thing
	case rules.Running:
		return "wait " + l.Wait
	}
	return ""
}

func set(thing string, on bool) eff {
	return eff{Effect: rules.Effect{Kind: rules.Set, Thing: thing, Value: rules.Value{On: on}}}
}

func start(wait string, d q.Span) eff {
	return eff{Effect: rules.Effect{Kind: rules.Start, Wait: wait, For: d}}
}

func stop(wait string) eff { return eff{Effect: rules.Effect{Kind: rules.Stop, Wait: wait}} }

func running(wait string) rules.Literal { return rules.Literal{Kind: rules.Running, Wait: wait} }

func is(thing string) rules.Literal { return rules.Literal{Kind: rules.Is, Thing: thing} }

func ended(wait string) rules.Cause { return rules.Cause{Kind: rules.Ended, Wait: wait} }

func (r *rule) starts(wait string) bool { return r.does(rules.Start, wait) }
func (r *rule) stops(wait string) bool  { return r.does(rules.Stop, wait) }

func (r *rule) does(k rules.EffectKind, wait string) bool {
	for i := range r.effs {
		if e := &r.effs[i]; e.Kind == k && e.Wait == wait {
			return true
		}
	}
	return false
}

func (r *rule) tells() bool {
	return slices.ContainsFunc(r.effs, func(e eff) bool { return e.Kind == rules.Tell })
}

// known is what the effects of a rule make of a literal, where they decide it.
func known(effs []eff, l rules.Literal) (holds, ok bool) {
	for _, e := range effs {
		if k := e.key(); k == "" || k != subject(l) {
			continue
		}
		switch e.Kind {
		case rules.Set:
			holds, ok = e.Value.On != l.Not, true
		case rules.Start:
			holds, ok = !l.Not, true
		case rules.Stop:
			holds, ok = l.Not, true
		}
	}
	return holds, ok
}
