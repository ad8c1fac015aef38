package promises

import (
	"slices"

	"example.org/roombrief/planner/timed"
)

// known finds worlds that have been seen before, timers and all. A hash says where to look, and every world that is there is
// compared in full: no two are ever taken for one.
type known struct {
	worlds []*world // by number less 1
	hashes []uint64
	places []int32 // numbers, 0 for none; a power of two of them, never more than half full
	key    []byte
}

// keep remembers a world and gives its state. The world stays the caller's.
func (k *known) keep(w *world) timed.State {
	if 2*len(k.worlds) >= len(k.places) {
		k.grow()
	}
	h := w.hash()
	at := k.free(h, w)
	if n := k.places[at]; n > 0 {
		return k.worlds[n-1].state
	}
	c := w.clone()
	k.worlds, k.hashes = append(k.worlds, c), append(k.hashes, h)
	k.places[at] = int32(len(k.worlds))
	k.key = w.loc(k.key[:0])
	c.state = timed.State{Loc: string(k.key), Timers: c.timers, Num: len(k.worlds)}
	return c.state
}

// free is the place of a world, or the one where it belongs. A nil world is none that is known.
func (k *known) free(h uint64, w *world) uint64 {
	mask := uint64(len(k.places) - 1)
	at := h >> 20 & mask
	for ; k.places[at] > 0; at = (at + 1) & mask {
		if n := k.places[at] - 1; w != nil && k.hashes[n] == h && k.worlds[n].is(w) {
			break
		}
	}
	return at
}

func (k *known) grow() {
	k.places = make([]int32, max(64, 2*len(k.places)))
	for n, h := range k.hashes {
		k.places[k.free(h, nil)] = int32(n + 1)
	}
}

// hash of everything that is.
func (w *world) hash() uint64 {
	h := w.rules.Hash(uint64(w.people)<<8 | uint64(w.fault)<<1 | uint64(flag(w.broken)))
	for _, x := range w.plant {
		h = (h ^ uint64(uint8(x))) * 0x9E3779B97F4A7C15
	}
	for _, x := range w.seen {
		h = (h ^ uint64(uint8(x))) * 0x9E3779B97F4A7C15
	}
	for _, t := range w.timers {
		h = (h ^ uint64(t.ID)<<48 ^ uint64(t.Lo)<<24 ^ uint64(t.Hi)) * 0x9E3779B97F4A7C15
		h ^= h >> 31
	}
	return h
}

// is reports whether two worlds are one.
func (w *world) is(o *world) bool {
	return w.people == o.people && w.fault == o.fault && w.broken == o.broken && slices.Equal(w.plant, o.plant) &&
		slices.Equal(w.seen, o.seen) && slices.Equal(w.timers, o.timers) && w.rules.Equal(o.rules)
}
