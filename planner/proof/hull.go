package proof

import "context"

// hulls walks a graph with one zone a spot, the least that includes all that lead there. It sees more stories than
// there are: where it gets nowhere, none does. It goes on by human acts: all that can be had with no more than so
// many first. So no story to a target has fewer acts than the first that it finds, and if that one has a schedule,
// it is a story with as few as there can be.
type hulls struct {
	g      *graph
	most   int // zones
	target aim
	nodes  []node
	at     []int32 // by spot: 1 + its latest node
	queued []bool
	queue  []int32 // spots whose zone has grown
	later  []node  // reached with one act more
	latest []int32 // by spot: 1 + its place in later
	grown  []int32 // by spot: how often its zone has grown
	acts   int32
	timers int
	work   int
	narrow zone
	next   zone
	ints   pool[int32]
	hit    int32
	stop   func() bool
	way    way
	looked int // at stories in which the premise is met
	shown  bool
}

// way is what a walk of hulls is after.
type way struct {
	anyActs  bool // acts don't come after all that can be had with fewer: a story is wanted, not one with few
	schedule bool // it goes on past stories that have no schedule

	// shows is asked, until it says yes, of the stories in which the premise is met, as the walk comes by them. Nil asks nothing.
	shows func(Outcome) bool
}

// glances is how many of those stories are looked at.
const glances = 16

// patience is how often a zone grows before it is taken to go on growing.
const patience = 16

// hulled looks for a target by hulls.
func hulled(ctx context.Context, g *graph, most int, target aim) Outcome {
	return walked(ctx, g, most, target, way{})
}

// walked looks for a target by hulls in a way. Where it goes on past stories without a schedule and finds none with one, it comes to
// its bound: Capped.
func walked(ctx context.Context, g *graph, most int, target aim, by way) Outcome {
	h := &hulls{g: g, most: most, target: target, hit: -1, stop: stopper(ctx), way: by}
	missed := false
	for _, b := range g.begin {
		w := len(g.spots[b].bounds) + 1
		h.add(b, -1, -1, make(zone, w*w))
	}
	for {
		for len(h.queue) > 0 {
			if h.hit >= 0 {
				out := h.outcome(Found)
				out.tell(g, h.nodes, h.hit)
				if out.Exact || !by.schedule {
					return out
				}
				h.hit, missed = -1, true
			}
			if h.work > h.most || h.stop() {
				out := h.outcome(Capped)
				out.Depth = int(h.acts)
				return out
			}
			s := h.queue[0]
			h.queue = h.queue[1:]
			h.queued[s] = false
			h.expand(h.at[s] - 1)
		}
		if len(h.later) == 0 && missed {
			return h.outcome(Capped)
		}
		if len(h.later) == 0 {
			return h.outcome(Nowhere)
		}
		later := h.later
		h.later, h.acts = nil, h.acts+1
		for i := range later {
			h.latest[later[i].spot] = 0
		}
		for i := range later {
			h.grow(later[i].spot, later[i].parent, later[i].step, later[i].zone)
		}
	}
}

func (h *hulls) outcome(k OutcomeKind) Outcome {
	return Outcome{Kind: k, Zones: h.work, Spots: len(h.g.spots), Timers: h.timers, Shown: h.shown}
}

func (h *hulls) expand(n int32) {
	from := h.nodes[n]
	steps := h.g.open(from.spot)
	bounds := h.g.spots[from.spot].bounds
	w := len(bounds) + 1
	for i := range steps {
		st := &steps[i]
		h.narrow = append(h.narrow[:0], from.zone...)
		if !h.narrow.enabled(w, bounds, st) {
			continue
		}
		h.next = h.narrow.carry(h.next, w, st.carry, false)
		to := h.g.leads(st, h.target)
		if st.meets && h.way.shows != nil && !h.shown && h.looked < glances && h.passed(to, h.next) {
			h.look(n, int32(i), to)
		}
		if st.act && !h.way.anyActs {
			h.put(to, n, int32(i), h.next)
		} else {
			h.add(to, n, int32(i), h.next)
		}
	}
}

// look asks of a step from a node that meets the premise.
func (h *hulls) look(n, step, to int32) {
	h.looked++
	at := int32(len(h.nodes))
	out := h.outcome(Found)
	out.tell(h.g, append(h.nodes, node{spot: to, parent: n, step: step}), at)
	h.shown = out.Exact && h.way.shows(out)
}

func (h *hulls) passed(to int32, z zone) bool {
	s := &h.g.spots[to]
	for len(h.at) < len(h.g.spots) {
		h.at, h.latest, h.grown, h.queued = append(h.at, 0), append(h.latest, 0), append(h.grown, 0), append(h.queued, false)
	}
	h.timers = max(h.timers, len(s.bounds))
	return z.pass(len(s.bounds)+1, s.bounds)
}

// add takes a zone in now.
func (h *hulls) add(to, parent, step int32, z zone) {
	if h.passed(to, z) {
		h.grow(to, parent, step, z)
	}
}

// put takes a zone in when one act more is allowed.
func (h *hulls) put(to, parent, step int32, z zone) {
	if !h.passed(to, z) {
		return
	}
	if n := h.at[to]; n > 0 && h.nodes[n-1].zone.includes(z) {
		return
	}
	if n := h.latest[to]; n > 0 {
		h.later[n-1].zone.join(z)
		return
	}
	h.later = append(h.later, node{to, parent, step, h.acts + 1, h.own(z)})
	h.latest[to] = int32(len(h.later))
}

func (h *hulls) own(z zone) zone {
	own := zone(h.ints.take(len(z)))
	copy(own, z)
	return own
}

// grow widens the zone of a spot. The way there is the one that widened it last; ways are never changed, so that
// each is one from a beginning.
func (h *hulls) grow(to, parent, step int32, z zone) {
	old := h.at[to]
	if old > 0 && h.nodes[old-1].zone.includes(z) {
		return
	}
	own := h.own(z)
	if old > 0 {
		before := h.nodes[old-1].zone
		own.join(before)
		if h.grown[to]++; h.grown[to]%patience == 0 {
			own.widen(before, h.g.spots[to].bounds)
		}
	}
	h.work++
	h.nodes = append(h.nodes, node{to, parent, step, h.acts, own})
	h.at[to] = int32(len(h.nodes))
	if h.target.hit(&h.g.spots[to]) && h.hit < 0 {
		h.hit = int32(len(h.nodes)) - 1
	}
	if !h.queued[to] {
		h.queued[to] = true
		h.queue = append(h.queue, to)
	}
}
