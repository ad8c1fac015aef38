package proof

import "context"

// weakest is the longest, in seconds, that whoever is inside may keep still with the case kept; 0 when it is broken
// even if they move each second. A story that breaks it says where to look: it needs people to keep still for so
// long. What breaks it sooner, if anything does, is another story, which says so in its turn.
func (l *ladder) weakest(ctx context.Context, out Outcome) int32 {
	most := l.c.Promise.World.StillFor
	for d := most; out.Kind == Found && out.Exact; out = hulled(ctx, l.realDay(d, true), l.e.Hulls, broken) {
		d = longest(1, d, func(still int32) bool {
			_, plays := schedule(l.realDay(still, true), out.from, out.steps)
			return !plays
		})
		if d == 0 || l.quickly(ctx, d) {
			return d
		}
	}
	// Hulls see a break that has no schedule. What they can't keep may be kept all the same.
	d := longest(1, most, func(still int32) bool { return l.quickly(ctx, still) })
	exact := func(still int32) bool { return l.closely(ctx, still) }
	if d > 0 && !exact(d+1) {
		return d
	}
	return longest(d+1, most, exact)
}

// longest is the largest number of which something holds that holds of all up to it: from low, under high, 0 when not
// even of low.
func longest(low, high int32, holds func(int32) bool) int32 {
	if !holds(low) {
		return 0
	}
	for high-low > 1 {
		if mid := low + (high-low)/2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// quickly reports whether hulls alone keep the case.
func (l *ladder) quickly(ctx context.Context, still int32) bool {
	keeps := func(g *graph) bool {
		g.measure(l.c.Lengths(g.sys, still, false))
		return hulled(ctx, g, l.e.Hulls, broken).Kind == Nowhere
	}
	if g := l.anyHour(); g != nil && keeps(g) {
		return true
	}
	return keeps(l.anyDay()) || hulled(ctx, l.realDay(still, false), l.e.Hulls, broken).Kind == Nowhere
}

// closely reports whether the case is kept.
func (l *ladder) closely(ctx context.Context, still int32) bool {
	e := l.e
	e.Soonest = 0
	return search(ctx, l.realDay(still, false), e, broken).Kind == Nowhere
}
