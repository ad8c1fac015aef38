package proof

import (
	"context"

	"example.org/roombrief/planner/timed"
)

// Effort bounds a search, in zones. It is a number and not a time, so that a verdict does not depend on the
// machine.
type Effort struct {
	Hulls   int // zones of the quick pass
	Zones   int // zones of the exact pass
	Soonest int // zones spent on making a story soonest
	Ticks   int // states of the integer engine
}

// Usual effort: enough for a room with a dozen waits.
var Usual = Effort{Hulls: 60_000, Zones: 60_000, Soonest: 20_000, Ticks: 2_000_000}

// nearZones is how many zones a premise is looked for in before anything else.
const nearZones = 600

// reachSpots is the most discrete states for which it pays to know beforehand which of them lead to the target.
const reachSpots = 30_000

// Broken searches for a story that breaks the promise, by the ladder: hulls first, exact zones when a hull
// reaches a break, integer time when zones run out. Nowhere means that no story does.
func Broken(ctx context.Context, sys timed.System, e Effort) Outcome {
	g := newGraph(sys)
	target := func(s *spot) bool { return s.broken }
	quick := newExplorer(ctx, g, limits{zones: e.Hulls, hull: true, acts: -1}, target).run()
	if quick.Kind == Nowhere {
		quick.Exact = true // the hulls cover every story, and none gets there
		return quick
	}
	return exact(ctx, g, sys, e, target, sys.Broken)
}

// Met searches for a story in which the promise's premise is met.
func Met(ctx context.Context, sys timed.System, e Effort) Outcome {
	g := newGraph(sys)
	met := func(s *spot) bool { return s.met }
	// Most premises are a few moves away: there it doesn't pay to look ahead.
	if out := newExplorer(ctx, g, limits{zones: min(e.Zones, nearZones), acts: -1}, met).run(); out.Kind != Capped {
		return out
	}
	return exact(ctx, g, sys, e, met, sys.Met)
}

func exact(ctx context.Context, g *graph, sys timed.System, e Effort, target func(*spot) bool, state func(timed.State) bool) Outcome {
	need := g.reach(reachSpots, target)
	out := newExplorer(ctx, g, limits{zones: e.Zones, acts: -1, need: need}, target).run()
	switch out.Kind {
	case Found:
		return soonest(ctx, g, e, target, out, need)
	case Capped:
		if e.Ticks > 0 && ctx.Err() == nil {
			if t := Ticks(ctx, sys, unitOf(g), e.Ticks, state); t.Kind != Capped {
				return t
			}
		}
	}
	return out
}

// soonest looks for a story with as few acts that ends earlier.
func soonest(ctx context.Context, g *graph, e Effort, target func(*spot) bool, out Outcome, need []int32) Outcome {
	if len(out.Story) == 0 || out.Story[len(out.Story)-1].At == 0 || e.Soonest == 0 {
		return out
	}
	until := out.Story[len(out.Story)-1].At - 1
	better := newExplorer(ctx, g, limits{zones: e.Soonest, acts: out.Acts, clock: true, until: until, need: need}, target).run()
	if better.Kind == Found {
		better.Zones += out.Zones
		return better
	}
	out.Zones += better.Zones
	return out
}

// unitOf is the greatest step of integer time that divides every bound seen so far. Where one timer is seen
// to before another, a single second decides, and the step is that.
func unitOf(g *graph) int32 {
	unit := int32(0)
	for i := range g.spots {
		for _, t := range g.spots[i].state.Timers {
			unit = gcd(gcd(unit, t.Lo), t.Hi)
		}
		for _, st := range g.spots[i].steps {
			if len(st.wait) > 0 {
				return 1
			}
			for _, c := range st.when {
				unit = gcd(gcd(unit, c.min), c.max)
			}
		}
	}
	return max(unit, 1)
}

func gcd(a, b int32) int32 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
