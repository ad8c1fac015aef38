package promises

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/roombrief/planner/rules"
)

// LongestLight is the longest that devices and controllers may take to light a lamp for somebody who comes in, all in all: who waits for
// longer walks on in the dark, or presses a switch.
const LongestLight = 5 * time.Second

// delay is how long it takes at most from an event to what comes of it, beside the time that rules take by their waits: the
// sensor tells late, one controller hears late of another, the device acts late.
type delay struct {
	takes time.Duration
	rest  time.Duration // of it, what no story reckons with: stories have reports come late to another controller, and all else at once
	steps time.Duration // that rules in several steps wait between those
	parts []string      // in words, in the order in which they come
}

// then is one delay after another.
func (d delay) then(o delay) delay {
	return delay{d.takes + o.takes, d.rest + o.rest, d.steps + o.steps, append(slices.Clip(d.parts), o.parts...)}
}

// or is the worse of two delays, with the more of steps and of what no story reckons with.
func (d delay) or(o delay) delay {
	steps, rest := max(d.steps, o.steps), max(d.rest, o.rest)
	if o.takes > d.takes {
		d = o
	}
	d.steps, d.rest = steps, rest
	return d
}

// seconds of the delay, begun ones included.
func (d delay) seconds() int32 { return whole(d.takes) }

// all is the delay and the steps of the rules, in seconds.
func (d delay) all() int32 { return whole(d.takes + d.steps) }

func whole(d time.Duration) int32 { return int32((d + time.Second - 1) / time.Second) }

// left is what rules have, in the seconds that stories reckon with, of a time that the delay has its part in.
func (d delay) left(within int32) int32 { return within - whole(d.rest) }

// words of the delay: what it is made of.
func (d delay) words() string { return listed(d.parts) }

func listed(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

// delays finds the worst way from an event to an effect on a sheet.
type delays struct {
	ix   *Index
	from func(rules.Thing) bool // events that count
}

// to is the worst delay from one of the events to an effect of some rules; false when none of them has it for such an event.
func (l delays) to(some []int, has func(rules.Effect) bool) (worst delay, any bool) {
	for _, i := range some {
		r := &l.ix.sheet.Rules[i]
		for _, e := range r.Effects {
			if !has(e) {
				continue
			}
			if d, ok := l.cause(i, map[int]bool{}); ok {
				if e.Kind == rules.Set {
					d = d.then(l.order(r.Controller, e.Thing))
				}
				worst, any = worst.or(d), true
			}
		}
	}
	return worst, any
}

// cause is the worst delay from one of the events until a rule acts. A rule may act on what another has noted, or at the end of a wait so
// short that it is only a step between two rules.
func (l delays) cause(rule int, seen map[int]bool) (worst delay, any bool) {
	if seen[rule] {
		return delay{}, false
	}
	seen[rule] = true
	defer delete(seen, rule)
	r := &l.ix.sheet.Rules[rule]
	after := func(others []int, does func(rules.Effect) bool) {
		for _, o := range others {
			by := &l.ix.sheet.Rules[o]
			at := slices.IndexFunc(by.Effects, does)
			if at < 0 {
				continue
			}
			if d, ok := l.cause(o, seen); ok {
				d = d.then(l.link(by.Controller, r.Controller))
				d.steps += time.Duration(by.Effects[at].For)
				worst, any = worst.or(d), true
			}
		}
	}
	switch c := r.Cause; c.Kind {
	case rules.Clock, rules.PowerBack:
	case rules.Ended:
		after(l.ix.waits[c.Wait], func(e rules.Effect) bool {
			return e.Kind == rules.Start && e.Wait == c.Wait && time.Duration(e.For) <= LampLatency
		})
	default:
		i, ok := l.ix.thing[c.Thing]
		if !ok {
			return delay{}, false
		}
		if t := l.ix.sheet.Things[i]; t.Kind != rules.Flag && l.from(t) {
			worst, any = l.report(t, r.Controller), true
		}
		if c.Kind == rules.Became && !c.ByHand {
			after(l.ix.sets[c.Thing], func(e rules.Effect) bool {
				return e.Kind == rules.Set && e.Thing == c.Thing && (c.Any || e.Value.On == c.On)
			})
		}
	}
	return worst, any
}

// report is how long it takes until a controller has heard of a thing.
func (l delays) report(t rules.Thing, by string) delay {
	d := delay{}
	if t.Takes > 0 {
		d = delay{takes: t.Takes, rest: t.Takes, parts: []string{fmt.Sprintf("%s until %s is reported", said(t.Takes), t.Name)}}
	}
	link := l.link(t.At, by)
	if n := crosses(l.ix.sheet.Links, &t, by); n > 0 && tells(t.Kind) {
		link.takes, link.rest = time.Duration(n)*time.Second, 0
	}
	return d.then(link)
}

// toSet is the worst delay from one of the events until one of some things is set on.
func (l delays) toSet(things ...string) (worst delay, any bool) {
	for _, id := range things {
		if d, ok := l.to(l.ix.sets[id], isOn(id)); ok {
			worst, any = worst.or(d), true
		}
	}
	return worst, any
}

// order is how long it takes until a thing does what a controller orders.
func (l delays) order(by, thing string) delay {
	i, ok := l.ix.thing[thing]
	if !ok || l.ix.sheet.Things[i].Kind == rules.Flag {
		return delay{}
	}
	t := l.ix.sheet.Things[i]
	d := l.link(by, t.At)
	if t.Takes > 0 {
		d = d.then(delay{takes: t.Takes, rest: t.Takes, parts: []string{fmt.Sprintf("%s until the %s acts", said(t.Takes), t.Name)}})
	}
	return d
}

// link is how long a controller takes to hear of another.
func (l delays) link(from, to string) delay {
	takes := l.ix.sheet.Links[to]
	if from == to || from == "" || to == "" || takes <= 0 {
		return delay{}
	}
	return delay{takes: takes, rest: takes, parts: []string{fmt.Sprintf("%s from the controller %s to %s", said(takes), from, to)}}
}

func said(d time.Duration) string { return spanOf(whole(d)).String() }

// late says, as something assumed, how long devices and controllers take, and how that counts; nothing where nobody knows.
func (d delay) late(counts string) []Assumption {
	if d.takes <= 0 {
		return nil
	}
	return []Assumption{{"late", fmt.Sprintf("devices and radio take up to %s %s: %s", said(d.takes), counts, d.words())}}
}

// over is the outcome of a promise for which devices alone take longer than it gives; nil where they don't.
func (d delay) over(what string, gives int32) *Computed {
	if d.seconds() <= gives {
		return nil
	}
	return &Computed{Why: fmt.Sprintf("%s may take %s of devices and radio alone, and is given %s: %s", what, said(d.takes), spanOf(gives), d.words())}
}

// senses reports whether a thing tells of people.
func senses(t rules.Thing) bool {
	return t.Kind == rules.Motion || t.Kind == rules.Presence || t.Kind == rules.Door
}

// isOn accepts an effect that sets a thing on.
func isOn(thing string) func(rules.Effect) bool {
	return func(e rules.Effect) bool { return e.Kind == rules.Set && e.Value.On && e.Thing == thing }
}
