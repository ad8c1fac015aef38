package proof

import (
	"context"
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/timed"
)

// State of a verdict.
type State string

// The states. Empty is a promise whose premise never comes about, as a whole or in a part: there is nothing to keep, and to
// say that it is kept would be an empty truth.
const (
	Kept      State = "kept"
	Breaks    State = "broken"
	Empty     State = "empty"
	Undecided State = "undecided"
)

// Verdict on one promise.
type Verdict struct {
	Promise promises.Promise
	Fault   promises.Fault // that the promise had to survive; the zero Fault is none
	State   State
	Story   []Step        // of a broken one, replayed: fewest acts, unless the search came to its bound on the way, then soonest
	Begins  int           // second of the day at which the story begins
	When    promises.When // day on which the story goes so, where the day of the year matters
	Moving  time.Duration // of a broken one: it is kept when whoever is inside moves at least this often; 0 when that doesn't help
	Why     string        // of an undecided one: what ran out, and how far it got; of a broken one without a story: what is wrong; of an empty one that is kept in part: in what not
	Untried []string      // of an empty one that is kept in part: the parts that no story puts to the test, in words
	Zones   int           // work done
	Spots   int
	Timers  int
	Cached  bool // all of it was known from before
}

// Step of a story, in words.
type Step struct {
	At    time.Duration // since the story's beginning
	Text  string
	Act   bool // a person does it
	State timed.State
}

// answer is what is known of one case. It names nothing, so that it serves every case of the same key.
type answer struct {
	state  State
	real   int // the tale is of the real case with this number, counted from 1; 0 is the case itself
	tale   promises.Tale
	acts   int
	why    string
	zones  int
	spots  int
	timers int
	moving int32 // seconds: of a broken one that leans on how long people keep still, the longest for which it is kept
}

// Prove decides a promise on a sheet of rules.
func Prove(ctx context.Context, sheet rules.Sheet, p promises.Promise, e Effort) (Verdict, error) {
	return prove(ctx, promises.NewIndex(sheet), p, e, nil)
}

// prove decides each facet of a promise. It is kept when all its facets are, each put to the test on some day; of the
// broken ones the story with the fewest acts is told, then the soonest.
func prove(ctx context.Context, ix *promises.Index, p promises.Promise, e Effort, c *Cache) (Verdict, error) {
	v := Verdict{Promise: p, Fault: p.Fault, State: Empty}
	if f := p.Computed(); f != nil {
		v.State, v.Why = Kept, f.Why
		if !f.Kept {
			v.State = Breaks
		}
		return v, nil
	}
	cases, err := p.Cases(ix)
	if err != nil {
		return v, err
	}
	v.Promise = p.Across(cases)
	if len(cases) == 0 {
		v.State = Kept // every facet has been seen to hold already
	}
	v.Cached = len(cases) > 0
	best := -1
	answers := make([]answer, len(cases))
	tried := map[int]bool{} // by facet
	unsure := false
	for i, one := range cases {
		if v.State == Breaks && one.Crosses() {
			continue // it is broken, and what else breaks it takes long to find where reports are on their way
		}
		a, known := c.answer(ctx, one, e)
		answers[i] = a
		tried[one.Facet] = tried[one.Facet] || a.state != Empty
		unsure = unsure || a.state == Undecided
		v.Cached = v.Cached && known
		v.Zones, v.Spots, v.Timers = v.Zones+a.zones, max(v.Spots, a.spots), max(v.Timers, a.timers)
		switch {
		case a.state == Breaks:
			if moving := time.Duration(a.moving) * time.Second; v.State != Breaks || moving < v.Moving {
				v.Moving = moving
			}
			if best < 0 || a.before(answers[best]) {
				best = i
			}
			v.State = Breaks
		case v.State == Breaks:
		case a.state == Undecided:
			v.State, v.Why = Undecided, a.why
		case a.state == Kept && v.State == Empty:
			v.State = Kept
		case a.state == Empty && one.Can:
			v.State, v.Why = Breaks, fmt.Sprintf("no story makes %s act", one.Name)
			return v, nil
		}
	}
	switch {
	case v.State == Kept:
		return v.hollow(cases, tried), nil
	case best < 0 || v.State != Breaks:
		return v, nil
	}
	if unsure { // nobody knows that moving helps there
		v.Moving = 0
	}
	return v.tell(ix, cases[best], answers[best]), nil
}

// hollow makes a kept verdict an empty one where nothing puts some facet to the test.
func (v Verdict) hollow(cases []promises.Case, tried map[int]bool) Verdict {
	for i, c := range cases {
		if !tried[c.Facet] && (i == 0 || cases[i-1].Facet != c.Facet) {
			v.Untried = append(v.Untried, c.Name)
		}
	}
	if len(v.Untried) > 0 {
		v.State = Empty
		v.Why = "it is kept in part, and nothing ever puts it to the test for " + strings.Join(v.Untried, " and ")
	}
	return v
}

// Hollow says in a sentence why a verdict is empty.
func (v Verdict) Hollow() string {
	if len(v.Untried) > 0 {
		return strings.ToUpper(v.Why[:1]) + v.Why[1:] + ", so there is nothing to keep there."
	}
	return "What it is about never comes about, so there is nothing to keep."
}

// before reports whether a broken answer is told rather than another.
func (a answer) before(b answer) bool {
	if a.acts != b.acts {
		return a.acts < b.acts
	}
	return a.tale.Ends() < b.tale.Ends()
}

// tell is a broken verdict only once its story has been replayed on the whole sheet.
func (v Verdict) tell(ix *promises.Index, c promises.Case, a answer) Verdict {
	if a.real > 0 {
		c = *c.Real()[a.real-1]
	}
	if err := c.Replay(a.tale, ix); err != nil {
		v.State, v.Why = Undecided, "a story was found that can't be replayed: "+err.Error()
		return v
	}
	assumed := v.Promise.Assumes
	v.Promise, v.Begins, v.When = c.Broken(a.tale), a.tale.Second(), c.When()
	v.Promise.Assumes = assumed
	for _, l := range c.Lines(a.tale) {
		v.Story = append(v.Story, Step{At: time.Duration(l.At) * time.Second, Text: l.Text, Act: l.Act})
	}
	return v
}

// decide decides a case, by the ladder: with a day whose periods may change at any instant, by hulls, because
// what is kept then is kept; and where that doesn't do, with the real day.
func decide(ctx context.Context, c promises.Case, e Effort) answer {
	var a answer
	if c.Can {
		return can(ctx, c, e)
	}
	l := &ladder{c: c, e: e}
	if c.Crosses() && a.loosely(ctx, c.Loosened(), e) {
		return l.met(ctx, a)
	}
	if c.Crosses() {
		if b := l.promptly(ctx); b.state == Breaks {
			b.zones += a.zones
			return b
		}
	}
	plain := false // it takes no hour of the day to break it
	if g := l.anyHour(); g != nil {
		quick := hulled(ctx, g, e.Hulls, broken)
		if a.count(quick); quick.Kind == Nowhere {
			return l.met(ctx, a)
		}
		plain = quick.Kind == Found && quick.Exact && len(c.Real()) == 0
	}
	if !plain {
		quick := walked(ctx, l.anyDay(), e.Hulls, broken, way{shows: l.shows()})
		if a.count(quick); quick.Kind == Nowhere {
			if quick.Shown {
				a.state = Kept
				return a
			}
			return l.met(ctx, a)
		}
	}
	for _, less := range c.Less() {
		if a.quickly(ctx, less, e) {
			return l.met(ctx, a)
		}
	}
	if len(c.Real()) > 0 {
		return a.worst(ctx, c.Real(), e)
	}
	if c.Crosses() {
		out := l.steadily(ctx)
		a.count(out)
		switch {
		case out.Kind == Nowhere:
			return l.met(ctx, a)
		case out.Kind == Capped: // the clock of the day makes more of it, and not less
			return a.ranOut(e, out)
		case out.Exact && c.Steady(l.any.sys, out.Begin, out.states(), out.ends()):
			return l.told(a, out, l.any.sys)
		}
	}
	loosely := Outcome{Kind: Nowhere}
	if c.Loose() {
		quick := e
		quick.Soonest = 0 // it isn't told
		loosely = search(ctx, l.realDay(c.Promise.World.StillFor, false), quick, broken)
		a.count(loosely)
		if loosely.Kind == Nowhere {
			return l.met(ctx, a)
		}
	}
	out := search(ctx, l.realDay(c.Promise.World.StillFor, true), e, broken) // a story is told on the day itself
	a.count(out)
	switch {
	case out.Kind == Found:
		a = l.told(a, out, l.real.sys)
		if p := c.Promise; a.state == Breaks && p.Leans("still") && p.Fault.Kind == promises.NoFault && len(out.Story) > 0 {
			a.moving = l.weakest(ctx, out)
		}
		return a
	case out.Kind == Capped:
		return a.ranOut(e, out)
	case loosely.Kind != Nowhere:
		a.state, a.why = Undecided, "it is kept on the day that was looked at closely, and not shown for every day of that order of sun times"
		return a
	}
	return l.met(ctx, a)
}

// ladder is a case with its graphs, made when they are first needed: one in which it may be any hour at each move, where that is of use,
// one whose periods may change at any instant, one of the real day.
type ladder struct {
	c               promises.Case
	e               Effort
	hour, any, real *graph
	asked           bool // whether any hour is of use
}

// anyHour is nil where it is of no use.
func (l *ladder) anyHour() *graph {
	if !l.asked {
		l.asked = true
		if sys, ok := l.c.AnyHour(); ok {
			l.hour = newGraph(sys)
		}
	}
	return l.hour
}

func (l *ladder) anyDay() *graph {
	if l.any == nil {
		l.any = newGraph(l.c.System(false))
	}
	return l.any
}

// realDay is the graph of the real day for people who move at least every still seconds; exactly is on the case's day
// alone and not on all that it stands for.
func (l *ladder) realDay(still int32, exactly bool) *graph {
	if l.real == nil {
		l.real = newGraph(l.c.System(true))
	}
	l.real.measure(l.c.Lengths(l.real.sys, still, exactly))
	return l.real
}

// steadily looks for a story on a day whose periods may change at any instant. One in which the clock stays in one period is one of the real day too, and
// where there is none at all, there is none on that. Reports under way make many states, and the clock of the day as many of each.
func (l *ladder) steadily(ctx context.Context) Outcome {
	g := l.anyDay()
	out := newExplorer(ctx, g, limits{zones: l.e.Zones, acts: -1}, broken).run()
	if out.Kind == Capped {
		if need := g.reach(reachSpots, -1, broken); need != nil {
			made := out.Zones
			out = newExplorer(ctx, g, limits{zones: l.e.Zones, acts: -1, need: need}, broken).run()
			out.Zones += made
		}
	}
	if out.Kind == Capped { // a story that hulls reach another way is one, though there may be one with fewer acts
		if other := walked(ctx, g, l.e.Zones, broken, way{schedule: true}); other.Kind == Found {
			other.Zones += out.Zones
			return other
		}
	}
	if out.Kind == Found && out.ends() > 0 && l.e.Soonest > 0 {
		sooner := newExplorer(ctx, g, limits{zones: l.e.Soonest / 4, acts: out.Acts, clock: true, until: out.ends()}, broken).run()
		if out.Zones += sooner.Zones; sooner.Kind == Found {
			sooner.Zones = out.Zones
			out = sooner
		}
	}
	return out
}

// ranOut is an answer that a search has come to no end of.
func (a answer) ranOut(e Effort, out Outcome) answer {
	a.state, a.why = Undecided, fmt.Sprintf("the search came to its bound of %d zones; there is no story with fewer than %d acts", e.Zones, out.Depth)
	return a
}

// promptly looks for a story that breaks the case with every report at once. How often people have to move for it to be kept is not asked of
// such stories.
func (l *ladder) promptly(ctx context.Context) answer {
	p := &ladder{c: l.c.Promptly(), e: l.e}
	out := hulled(ctx, p.anyDay(), l.e.Hulls, broken)
	if out.Kind != Found || len(l.c.Real()) > 0 {
		return answer{}
	}
	if out = search(ctx, p.realDay(l.c.Promise.World.StillFor, true), l.e, broken); out.Kind != Found {
		return answer{}
	}
	a := p.told(answer{}, out, p.real.sys)
	a.count(out)
	return a
}

// loosely reports whether hulls keep a case with more stories than there are.
func (a *answer) loosely(ctx context.Context, c promises.Case, e Effort) bool {
	l := &ladder{c: c, e: e}
	if g := l.anyHour(); g != nil {
		quick := hulled(ctx, g, e.Hulls, broken)
		if a.count(quick); quick.Kind == Nowhere {
			return true
		}
	}
	quick := hulled(ctx, l.anyDay(), e.Hulls, broken)
	a.count(quick)
	return quick.Kind == Nowhere
}

// quickly reports whether hulls keep all of some cases.
func (a *answer) quickly(ctx context.Context, cases []*promises.Case, e Effort) bool {
	for _, c := range cases {
		quick := hulled(ctx, newGraph(c.System(false)), e.Hulls, broken)
		if a.count(quick); quick.Kind != Nowhere {
			return false
		}
	}
	return true
}

// worst decides the cases that a larger one stands for.
func (a answer) worst(ctx context.Context, real []*promises.Case, e Effort) answer {
	each := make([]answer, len(real))
	for i, c := range real {
		b := decide(ctx, *c, e)
		a.zones, a.spots, a.timers = a.zones+b.zones, max(a.spots, b.spots), max(a.timers, b.timers)
		each[i] = b
	}
	out := worstOf(each)
	out.zones, out.spots, out.timers = a.zones, a.spots, a.timers
	return out
}

// worstOf is the answer that several come to. Of broken ones that which is told comes first; people have to move as often as
// the strictest asks, and moving helps only where no other is left undecided.
func worstOf(each []answer) answer {
	rank := map[State]int{Empty: 0, Kept: 1, Undecided: 2, Breaks: 3}
	out, unsure := answer{state: Empty}, false
	for i, b := range each {
		unsure = unsure || b.state == Undecided
		moving := b.moving
		if b.state == Breaks && out.state == Breaks {
			moving = min(moving, out.moving)
		}
		if rank[b.state] > rank[out.state] || b.state == Breaks && out.state == Breaks && b.before(out) {
			out, out.real = b, i+1
		}
		if b.state == Breaks {
			out.moving = moving
		}
	}
	if unsure {
		out.moving = 0
	}
	return out
}

// told keeps the story that breaks the case.
func (l *ladder) told(a answer, out Outcome, sys timed.System) answer {
	beats := make([]promises.Beat, len(out.Story))
	for i, t := range out.Story {
		beats[i] = promises.Beat{At: t.At, Label: t.Label, State: t.State}
	}
	tale, err := l.c.Tale(sys, out.Begin, beats)
	if err != nil {
		a.state, a.why = Undecided, err.Error()
		return a
	}
	a.state, a.tale, a.acts = Breaks, tale, out.Acts
	return a
}

func (a *answer) count(o Outcome) {
	a.zones += o.Zones
	a.spots = max(a.spots, o.Spots)
	a.timers = max(a.timers, o.Timers)
}
