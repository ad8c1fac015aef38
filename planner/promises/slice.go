package promises

import "example.org/roombrief/planner/rules"

// Slice is the part of a sheet that can bear on some things: every rule that moves one of them, what those
// rules look at, every rule that moves that, and so on to the end. Effects on other things are left out.
// told keeps messages.
func Slice(sheet rules.Sheet, about []string, told bool) rules.Sheet {
	things, waits := map[string]bool{}, map[string]bool{}
	for _, id := range about {
		things[id] = true
	}
	in := make([]bool, len(sheet.Rules))
	for changed := true; changed; {
		changed = false
		for i, r := range sheet.Rules {
			if in[i] || !bears(r, things, waits, told) {
				continue
			}
			in[i], changed = true, true
			look(r, things, waits)
		}
	}
	var out rules.Sheet
	for i, r := range sheet.Rules {
		if !in[i] {
			continue
		}
		kept := r.Effects[:0:0]
		for _, e := range r.Effects {
			if effectBears(e, things, waits, told) {
				kept = append(kept, e)
			}
		}
		r.Effects = kept
		if len(r.Effects) > 0 || len(r.Hold) > 0 {
			out.Rules = append(out.Rules, r)
		}
	}
	for _, t := range sheet.Things {
		if things[t.ID] {
			out.Things = append(out.Things, t)
		}
	}
	return out
}

func bears(r rules.Rule, things, waits map[string]bool, told bool) bool {
	for _, e := range r.Effects {
		if effectBears(e, things, waits, told) {
			return true
		}
	}
	return len(r.Hold) > 0 && waits[r.Cause.Wait]
}

func effectBears(e rules.Effect, things, waits map[string]bool, told bool) bool {
	switch e.Kind {
	case rules.Set:
		return things[e.Thing]
	case rules.Start, rules.Stop:
		return waits[e.Wait]
	}
	return told
}

// look adds everything that a rule looks at.
func look(r rules.Rule, things, waits map[string]bool) {
	add := func(m map[string]bool, id string) {
		if id != "" {
			m[id] = true
		}
	}
	add(things, r.Cause.Thing)
	add(things, r.Cause.Than)
	add(waits, r.Cause.Wait)
	for _, ls := range [][]rules.Literal{r.Guard, r.Hold} {
		for _, l := range ls {
			add(things, l.Thing)
			add(things, l.Than)
			add(waits, l.Wait)
		}
	}
}
