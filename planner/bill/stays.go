package bill

import (
	"math"
)

// sifted is how many rooms are worth comparing with each other, and vast how many a home has where they aren't.
const (
	sifted = 60
	vast   = 150
)

// useful drops rooms for a repeater where another of them hears and is heard by all that it would.
func (r *router) useful(rooms []int, radio int) (kept []int) {
	if len(rooms) > sifted || len(r.rooms) > vast {
		return rooms
	}
	for i, q := range rooms {
		beaten := false
		for j, o := range rooms {
			beaten = beaten || i != j && r.covers(o, q, radio) && (!r.covers(q, o, radio) || j < i)
		}
		if !beaten {
			kept = append(kept, q)
		}
	}
	return kept
}

// covers reports whether a room's links do for all that another's do.
func (r *router) covers(o, q, radio int) bool {
	for _, x := range r.around(q, radio) {
		if !r.heard(x, o, radio, false) || r.heard(x, q, radio, true) && !r.heard(x, o, radio, true) {
			return false
		}
	}
	for i := range r.seats {
		if n := r.node(i); r.heard(n, q, radio, false) && !r.heard(n, o, radio, false) {
			return false
		}
	}
	return true
}

// distances is what it costs at least, beyond the branch's home, until a room's messages that get passed on there come to some controller:
// the rooms on the way have to pass them on. It is 0 where the home is too large to go through all.
func (r *router) distances(s *stay, fronts []*front, radio int) []float64 {
	dist := make([]float64, len(r.rooms))
	if len(r.rooms) > vast {
		return dist
	}
	toll := make([]float64, len(r.rooms))
	for q := range toll {
		toll[q] = math.Inf(1)
		dist[q] = math.Inf(1)
		if r.repeater[radio] != nil {
			toll[q] = float64(r.price(radio))
		}
	}
	for g, q := range r.room {
		if q >= 0 && toll[q] > 0 {
			if d := fronts[g].least(s.limits[g], radio); d.can {
				toll[q] = min(toll[q], float64(d.more))
			}
		}
	}
	for _, a := range s.added {
		if a.radio == radio {
			toll[a.room] = 0
		}
	}
	if !meshes(radio) {
		return dist
	}
	for q := range dist {
		for i := range r.seats {
			if r.heard(q, r.node(i), radio, false) {
				dist[q] = 0
			}
		}
	}
	done := make([]bool, len(dist))
	for range dist {
		at := -1
		for q := range dist {
			if !done[q] && (at < 0 || dist[q] < dist[at]) {
				at = q
			}
		}
		if at < 0 || math.IsInf(dist[at], 1) {
			break
		}
		done[at] = true
		for _, q := range r.around(at, radio) {
			dist[q] = min(dist[q], dist[at]+toll[at])
		}
	}
	return dist
}

// stays is the open branches as a heap: the best first, of equal ones that whose home is known, then the newest.
type stays []*stay

func (s stays) Len() int { return len(s) }
func (s stays) Less(i, j int) bool {
	a, b := s[i], s[j]
	switch {
	case a.merit != b.merit:
		return a.merit.less(b.merit)
	case (a.known != nil) != (b.known != nil):
		return a.known != nil
	}
	return a.order > b.order
}
func (s stays) Swap(i, j int) { s[i], s[j] = s[j], s[i] }
func (s *stays) Push(x any)   { *s = append(*s, x.(*stay)) }
func (s *stays) Pop() any {
	last := len(*s) - 1
	x := (*s)[last]
	*s = (*s)[:last]
	return x
}
