package bill

import (
	"slices"

	"example.org/roombrief/model/english"
)

// rounds of a dive after which it gives up what isn't heard yet.
const rounds = 20

// dive finds a home in reach that is good but maybe not the best, for homes too large to try all routes: round by round each
// room that isn't heard gets what costs least by itself, and at the end each repeater goes that isn't missed. open tells by
// how much a better one may be cheaper.
func (r *router) dive(hs *hosts, fronts []*front, queue stays) (*routed, bool, error) {
	s := &stay{limits: map[int]limit{}, speak: map[int]int{}}
	for round := 0; ; round++ {
		ok, err := r.look(s, hs, fronts)
		if err != nil || !ok && round == 0 {
			return nil, false, err
		}
		if !ok { // slots ran out on the way: all that was missing at first stays so
			s = &stay{limits: map[int]limit{}, speak: map[int]int{}}
			if _, err := r.look(s, hs, fronts); err != nil {
				return nil, false, err
			}
			for _, l := range s.missing() {
				s.given = append(s.given, repeaterAt{l.room, l.radio})
			}
			break
		}
		missing := s.missing()
		if len(missing) == 0 {
			break
		}
		known := s.known
		s = s.then()
		fixed := map[repeaterAt]bool{}
		for _, l := range missing {
			if round >= rounds || !r.mend(s, l, missing, fronts, fixed, known) {
				s.given = append(s.given, repeaterAt{l.room, l.radio})
			}
		}
	}
	for i := len(s.added) - 1; i >= 0; i-- {
		fewer := slices.Delete(slices.Clone(s.added), i, i+1)
		without := *s
		without.known = &routed{heard: r.listen(s.known.taken, fewer, s.known.hosts, s.known.hosted)}
		if len(without.missing()) == 0 {
			s.added = fewer
		}
	}
	if ok, err := r.look(s, hs, fronts); err != nil || !ok {
		return nil, false, err
	}
	s.known.added, s.known.given, s.known.limits = s.added, s.given, s.limits
	s.known.open = r.open(queue[0].merit, s.merit)
	return s.known, true, nil
}

// unsought is by how much a home may be better that was not tried.
type unsought struct {
	any   bool
	lost  int // rooms and radios that are out of reach
	toll  int
	money Money // with what tolls are worth; it counts where nothing before it may be better
}

// open compares what a home is with the least that any other can be.
func (r *router) open(least, is merit) unsought {
	u := unsought{any: least.less(is), lost: is.lost - least.lost}
	switch {
	case !u.any || u.lost > 0:
	case is.toll > least.toll:
		u.toll = is.toll - least.toll
	default:
		w := r.worth.weights().money
		u.money = (is.money - least.money + w - 1) / w
	}
	return u
}

// says puts it in a sentence.
func (u unsought) says(w wish, currency string) string {
	what := "cost " + u.money.In(currency) + " less"
	switch {
	case u.lost == 0 && u.toll == 0 && w.worth != (Worth{}):
		what += ", with upkeep and losses at what they are worth"
	case u.lost > 0:
		what = "bring " + english.Plural(u.lost, "more room") + " into reach"
	case u.toll > 0 && w.aim == Upkeep:
		what = "take " + Work(u.toll) + " less of upkeep a year"
	case u.toll > 0:
		what = "lose " + english.Plural(u.toll, "need") + " fewer"
	}
	return "This home has too many routes for radio to try all: other ones would at most " + what + "; name parts in choices/use to try one."
}

// remedy is one thing that may bring a room into reach, or have it do without the radio.
type remedy struct {
	room, group int // group -1: a repeater
	avoid       bool
	more        Money
	helps       int // rooms that miss the radio
}

// mend demands of s the single thing by which one more room may be heard that costs least for each room that it helps; it is
// false where there is none. What one room gets may do for others of the round.
func (r *router) mend(s *stay, l lost, missing []lost, fronts []*front, fixed map[repeaterAt]bool, known *routed) bool {
	for _, q := range l.near {
		if fixed[repeaterAt{q, l.radio}] {
			return true
		}
	}
	l.near = slices.Clone(l.near) // of many those first that a controller hears
	slices.SortStableFunc(l.near, func(a, b int) int { return r.hops(a, l.radio) - r.hops(b, l.radio) })
	l.near = l.near[:min(len(l.near), sifted)]
	var best *remedy
	put := func(x remedy) {
		for _, m := range missing {
			if m.radio == l.radio && slices.Contains(m.near, x.room) && !x.avoid {
				x.helps++
			}
		}
		x.helps = max(x.helps, 1)
		if !x.avoid && !r.straight(x.room, l.radio) {
			x.more += r.onwards(l.radio) // another has to pass it on from there
		}
		if best == nil || x.more*Money(best.helps) < best.more*Money(x.helps) {
			best = &x
		}
	}
	for _, q := range r.useful(l.near, l.radio) {
		if r.repeater[l.radio] != nil {
			put(remedy{room: q, group: -1, more: r.price(l.radio)})
		}
	}
	for g, room := range r.room {
		if room >= 0 && slices.Contains(l.near, room) {
			if d := fronts[g].least(s.limits[g], l.radio); d.can {
				put(remedy{room: room, group: g, more: d.more})
			}
		}
	}
	if more, ok := r.forgoing(s, l, fronts, known); ok {
		put(remedy{room: l.room, avoid: true, more: more})
	}
	switch {
	case best == nil:
		return false
	case best.avoid:
		s.limits = s.without(r, l).limits
		return true
	case best.group < 0:
		s.added = append(s.added, repeaterAt{best.room, l.radio})
	default:
		x := s.limits[best.group]
		x.pass |= 1 << l.radio
		s.limits[best.group] = x
	}
	fixed[repeaterAt{best.room, l.radio}] = true
	return true
}

// forgoing is about what it costs more that a room does without a radio, on radios that the home has anyway; it is false where
// the room can't.
func (r *router) forgoing(s *stay, l lost, fronts []*front, known *routed) (more Money, ok bool) {
	next := s.without(r, l)
	kit := 0
	for _, pt := range known.taken {
		kit |= pt.slots.kit()
	}
	for g, room := range r.room {
		if room != l.room {
			continue
		}
		least := Money(-1)
		for _, p := range fronts[g].under(next.limits[g]).points {
			if cost := p.cost; p.slots.kit()&^kit == 0 && (least < 0 || cost < least) {
				least = cost
			}
		}
		if least < 0 {
			return 0, false
		}
		more += max(least-known.taken[g].cost, 0)
	}
	return more, true
}

// hops is 0 where some controller may hear a room by itself, 1 elsewhere.
func (r *router) hops(room, radio int) int {
	if r.straight(room, radio) {
		return 0
	}
	return 1
}

// straight reports whether any seat of a controller hears a room.
func (r *router) straight(room, radio int) bool {
	for i := range r.seats {
		if r.heard(room, r.node(i), radio, false) {
			return true
		}
	}
	return false
}

// onwards is what one more repeater costs, 0 where there is none.
func (r *router) onwards(radio int) Money {
	if r.repeater[radio] == nil {
		return 0
	}
	return r.price(radio)
}
