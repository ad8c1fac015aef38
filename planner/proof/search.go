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

// Usual effort: enough for a room with a dozen waits, and for a fan on a controller that remembers by waits alone: its slice
// has more than a hundred thousand discrete states.
var Usual = Effort{Hulls: 400_000, Zones: 60_000, Soonest: 20_000, Ticks: 2_000_000}

// reachSpots is the most discrete states for which it pays to know beforehand which of them lead to the target.
const reachSpots = 30_000

// Broken searches for a story that breaks the promise, by the ladder: hulls first, exact zones when the way by which a
// hull reaches a break has no schedule, integer time when zones run out. Nowhere means that no story does.
func Broken(ctx context.Context, sys timed.System, e Effort) Outcome {
	return search(ctx, newGraph(sys), e, broken)
}

// Met searches for a story in which the promise's premise is met.
func Met(ctx context.Context, sys timed.System, e Effort) Outcome {
	return search(ctx, newGraph(sys), e, met)
}

func search(ctx context.Context, g *graph, e Effort, target aim) Outcome {
	quick := hulled(ctx, g, e.Hulls, target)
	if quick.Kind == Nowhere {
		quick.Exact = true // the hulls cover every story, and none gets there
		return quick
	}
	return closely(ctx, g, e, target, quick)
}

// closely goes on from what hulls found.
func closely(ctx context.Context, g *graph, e Effort, target aim, quick Outcome) Outcome {
	if quick.Kind == Found && quick.Exact {
		return soonest(ctx, g, e, target, quick)
	}
	out := newExplorer(ctx, g, limits{zones: e.Zones, acts: -1, need: g.reach(reachSpots, -1, target)}, target).run()
	out.Zones += quick.Zones
	switch out.Kind {
	case Found:
		return soonest(ctx, g, e, target, out)
	case Capped:
		if e.Ticks > 0 && len(g.spots) <= reachSpots && ctx.Err() == nil { // each discrete state is many in integer time
			if t := ticks(ctx, g, unitOf(g), e.Ticks, target, target.hit); t.Kind != Capped {
				return t
			}
		}
		// A story that hulls reach another way is one, though there may be one with fewer acts.
		if late := walked(ctx, g, e.Hulls, target, way{schedule: true}); late.Kind == Found {
			late.Zones += out.Zones
			return late
		}
	}
	return out
}

// soonest looks for a story with as few acts that ends earlier.
func soonest(ctx context.Context, g *graph, e Effort, target aim, out Outcome) Outcome {
	if len(out.Story) == 0 || out.Story[len(out.Story)-1].At == 0 || e.Soonest == 0 {
		return out
	}
	until := out.Story[len(out.Story)-1].At
	need := g.reach(reachSpots, int32(out.Acts), target)
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
		for _, t := range g.spots[i].bounds {
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
