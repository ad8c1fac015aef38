package fitting

import (
	"fmt"
	"slices"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// unlookable drops the literals of kinds that a guard of the controller can't look at. A rule does more without its guard and
// less without itself; the harmless of the two is taken, and what it costs is said.
func (f *fitter) unlookable() {
	if f.states() {
		return
	}
	var out []rule
	for _, r := range f.rules {
		var kept, lost []rules.Literal
		for _, l := range r.Guard {
			if l.Kind == rules.Between {
				kept = append(kept, l)
			} else {
				lost = append(lost, l)
			}
		}
		if len(lost) == 0 {
			out = append(out, r)
			continue
		}
		words := ""
		for i, l := range lost {
			if i > 0 {
				words += ", and "
			}
			words += f.reason(l)
		}
		drop := f.harmlessWithout(r, lost)
		l := Lost{Rule: r.ID, Limit: "guards", Promise: promiseOfGuard(r, drop, f.kind),
			Remedy: "Take a controller whose guards can look at states."}
		if drop {
			l.Text = fmt.Sprintf("The controller can't look whether %s, so this is not done: %s", words, r.Purpose)
		} else {
			l.Text = fmt.Sprintf("The controller can't look whether %s, so this is always done: %s", words, r.Purpose)
			r.Guard = kept
			out = append(out, r)
		}
		f.lose(l)
	}
	f.rules = out
}

// harmlessWithout reports whether it is the harmless side not to do a rule at all, rather than always. A light that stays on,
// a fan that rests, an appliance that goes off, and an alert too many are harmless; darkness and silence aren't.
func (f *fitter) harmlessWithout(r rule, lost []rules.Literal) bool {
	for _, e := range r.effs {
		switch {
		case e.Kind == rules.Tell:
			return false
		case e.Kind == rules.Set:
			switch f.kind[e.Thing] {
			case rules.Lamp:
				return !e.Value.On
			case rules.Fan, rules.Plug:
				return e.Value.On
			case rules.Valve, rules.Sounder:
				return !e.Value.On
			}
		}
	}
	// Of rules that only start, stop or note, those that need something stay undone, and those with an exception are done.
	return slices.ContainsFunc(lost, func(l rules.Literal) bool { return !l.Not })
}

// noWindows gives a controller that can look at states but not at the time a note of each window, which clock causes
// keep. Without notes, forgetful makes waits of them.
func (f *fitter) noWindows() {
	if f.windows() {
		return
	}
	made := map[[2]q.DayTime]string{}
	var keepers []rule
	window := func(r rule, l rules.Literal) (rules.Literal, bool) {
		if holds, ok := always(l, r.Cause); ok {
			return rules.Literal{Not: !holds, Kind: rules.Between}, true // whole day, which tidy knows
		}
		if !f.states() {
			return l, false
		}
		k := [2]q.DayTime{l.From, l.To}
		id, ok := made[k]
		if !ok {
			id = f.flag(r, fmt.Sprintf("from %s to %s", l.From, l.To))
			made[k] = id
			in, out := r.doing(set(id, true)), r.doing(set(id, false))
			in.Purpose, in.Cause, in.Guard = "Notes that the window has begun.", rules.Cause{Kind: rules.Clock, At: l.From}, nil
			out.Purpose, out.Cause, out.Guard = "Notes that the window is over.", rules.Cause{Kind: rules.Clock, At: l.To}, nil
			keepers = append(keepers, in, out)
			costs := "After a power cut, and until the first edge, the window is not known."
			if f.lim.Flags {
				in.Purpose += fmt.Sprintf(" Where this is entered between %s and %s, set the note by hand.", l.From, l.To)
				costs = "It is set by hand when the rules are entered, and wrong after a power cut over an edge until the next one."
			}
			f.note("guards", r.ID, fmt.Sprintf("A note says whether it is between %s and %s.", l.From, l.To), costs)
		}
		return rules.Literal{Not: l.Not, Kind: rules.Is, Thing: id}, true
	}
	var out []rule
	for _, r := range f.rules {
		guard, lost := []rules.Literal(nil), false
		for _, l := range r.Guard {
			if l.Kind == rules.Between {
				w, ok := window(r, l)
				if lost = lost || !ok; !ok {
					continue
				}
				l = w
			}
			guard = append(guard, l)
		}
		r.Guard = guard
		if lost {
			f.lose(Lost{r.ID, "guards", "The controller can't look at the time of day, so this is not done: " + r.Purpose, "every minute",
				"Take a controller whose guards can look at the time."})
			continue
		}
		out = append(out, r)
	}
	f.rules = append(keepers, out...)
}

// flag is a new note that belongs to the room of a rule.
func (f *fitter) flag(r rule, name string) string {
	id := fmt.Sprintf("%s/note-%d", r.Room, len(f.things)+1)
	if r.Room == "" {
		id = fmt.Sprintf("note-%d", len(f.things)+1)
	}
	plain := name
	for n := 2; slices.ContainsFunc(f.things, func(t rules.Thing) bool { return t.Room == r.Room && t.Name == name }); n++ {
		name = plain + " " + number(n) // whoever enters them must tell them apart
	}
	f.things = append(f.things, rules.Thing{ID: id, Room: r.Room, Kind: rules.Flag, Name: name})
	f.kind[id], f.name[id] = rules.Flag, name
	return id
}
