package remedy

import (
	"slices"

	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/timed"
)

// banked is a story that broke a promise of some combination of moves. What people and the house did in it is
// played again on every later combination, which costs next to nothing where a proof costs a search.
type banked struct {
	promise string
	lines   []line
	end     int64 // second of its last line
}

// line of a banked story: at a second, something that is either done to the rules or follows from them.
type line struct {
	at   int64
	text string
}

func bankOf(v proof.Verdict) banked {
	b := banked{promise: v.Promise.ID}
	for _, s := range v.Story {
		b.lines = append(b.lines, line{int64(s.At.Seconds()), s.Text})
		b.end = int64(s.At.Seconds())
	}
	return b
}

// Bounds of a replay. It is a quick look and no proof: what it doesn't find the proof does.
const (
	mostSteps = 400 // moves tried
	mostAfter = 40  // moves after the last line: other rules may take longer to break
)

// breaks reports whether the story breaks a system too. A line that the system doesn't know is left out, and
// waits end when they are due, so that every story tried is one of the system's own: true is certain.
func (b banked) breaks(sys timed.System) bool {
	for _, begin := range sys.Begin() {
		r := replay{sys: sys, lines: b.lines, left: mostSteps}
		if r.from(begin, make([]int32, len(begin.Timers)), 0, 0, 0) {
			return true
		}
	}
	return false
}

// replay is a search for a way in which the lines can be played.
type replay struct {
	sys   timed.System
	lines []line
	left  int
}

// from plays on from a state: read is how long each of its timers has run, next the first line that is still
// to come, after how many moves there were since the last line.
func (r *replay) from(s timed.State, read []int32, now int64, next, after int) bool {
	if r.sys.Broken(s) {
		return true
	}
	if r.left--; r.left < 0 || after > mostAfter {
		return false
	}
	due, any := soonest(s, read)
	for next < len(r.lines) && (!any || r.lines[next].at <= now+int64(due)) {
		l := r.lines[next]
		passed := advance(read, int32(max(l.at-now, 0)))
		known, broke := r.line(s, passed, max(l.at, now), next, l.text)
		if broke {
			return true
		}
		if known {
			return any && l.at == now+int64(due) && r.due(s, read, due, now, next, after) // or the wait first
		}
		next++
	}
	return any && r.due(s, read, due, now, next, after)
}

// line plays one line in every way that the system has for it.
func (r *replay) line(s timed.State, read []int32, now int64, next int, text string) (known, broke bool) {
	try := func(m timed.Move) bool {
		if r.sys.Say(m.Label) != text || !fits(m, s, read) {
			return false
		}
		known = true
		return r.from(m.To, carried(s, read, m), now, next+1, 0)
	}
	for _, m := range r.sys.Acts(s) {
		if try(m) {
			return true, true
		}
	}
	for i, t := range s.Timers {
		if read[i] < t.Lo || !r.first(s, read, i) {
			continue
		}
		for _, m := range r.sys.Ended(s, t.ID) {
			if try(m) {
				return true, true
			}
		}
	}
	return known, false
}

// due lets time pass until the next timer must end, and ends one that must, in every order.
func (r *replay) due(s timed.State, read []int32, in int32, now int64, next, after int) bool {
	read = advance(read, in)
	for i, t := range s.Timers {
		if read[i] < t.Hi || !r.first(s, read, i) {
			continue
		}
		for _, m := range r.sys.Ended(s, t.ID) {
			if fits(m, s, read) && r.from(m.To, carried(s, read, m), now+int64(in), next, after+1) {
				return true
			}
		}
	}
	return false
}

// first reports whether no timer that must end now is seen to before timer i.
func (r *replay) first(s timed.State, read []int32, i int) bool {
	for k, t := range s.Timers {
		if k != i && read[k] >= t.Hi && r.sys.First(t.ID, s.Timers[i].ID) {
			return false
		}
	}
	return true
}

// soonest is in how many seconds a timer must end; any is false when none runs.
func soonest(s timed.State, read []int32) (in int32, any bool) {
	for i, t := range s.Timers {
		if d := t.Hi - read[i]; !any || d < in {
			in, any = d, true
		}
	}
	return in, any
}

func advance(read []int32, by int32) []int32 {
	out := slices.Clone(read)
	for i := range out {
		out[i] += by
	}
	return out
}

// fits reports whether a move's comparisons hold.
func fits(m timed.Move, s timed.State, read []int32) bool {
	for _, c := range m.When {
		for i, t := range s.Timers {
			if t.ID == c.Timer && (read[i] < c.Min || read[i] > c.Max) {
				return false
			}
		}
	}
	return true
}

// carried is how long the timers have run after a move.
func carried(s timed.State, read []int32, m timed.Move) []int32 {
	out := make([]int32, len(m.To.Timers))
	for k, t := range m.To.Timers {
		if slices.Contains(m.Fresh, t.ID) {
			continue
		}
		for i, old := range s.Timers {
			if old.ID == t.ID {
				out[k] = read[i]
			}
		}
	}
	return out
}
