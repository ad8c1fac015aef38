package promises

import (
	"fmt"
	"maps"
	"slices"

	"example.org/roombrief/planner/rules"
)

// want is what a slice starts from.
type want struct {
	things []string
	waits  []string
	tells  []string        // rules whose messages matter
	keep   []string        // rules that stay, whatever they do
	free   map[string]bool // things that may be anything at any time: what sets them is left out
	heard  map[string]bool // of those, flags whose change may be the cause of something at any time
	room   string          // of the promise
	power  bool            // the power may fail
}

// slicer grows a slice to its fixpoint.
type slicer struct {
	ix      *Index
	things  map[string]bool
	touch   map[string]bool // things of which only a hand's touch matters
	waits   map[string]bool
	in      map[int]bool
	tells   map[int]bool
	kept    []int           // rules that stay, whatever they do
	may     map[string]bool // be free
	stood   map[string]bool // of free things, those that stand for a wait
	heard   map[string]bool // of them, flags that rules may hear of at any time
	pressed map[int]bool    // what presses elsewhere do
	others  []int           // rules for which one of pressed stands
	chance  map[int]bool    // rules that may act at any time, because their cause is free
	stiff   map[rules.Cause]bool
	room    string // of the promise
	power   bool   // the power may fail
	free    map[string]bool
	todo    []int
}

// Slice is the part of a sheet that can bear on some things: every rule that moves one of them, what those
// rules look at, every rule that moves that, and so on to the end. Effects on other things are left out.
func Slice(sheet rules.Sheet, about []string) rules.Sheet {
	out, _, _ := NewIndex(sheet).slice(want{things: about})
	return out
}

// slice also says which things are in it only because hands touch them: what value those have is nobody's
// business, and no rule that sets them is in.
func (ix *Index) slice(w want) (sheet rules.Sheet, touch, free map[string]bool) {
	stiff := map[rules.Cause]bool{}
	for {
		s := ix.grow(w, stiff)
		if s.loosen() {
			return s.sheet(), s.touch, s.free
		}
	}
}

// grow finds everything that bears on what a slice starts from. Rules of a stiff cause act when it comes and not by chance.
func (ix *Index) grow(w want, stiff map[rules.Cause]bool) *slicer {
	s := &slicer{ix: ix, things: map[string]bool{}, touch: map[string]bool{}, waits: map[string]bool{}, in: map[int]bool{}, tells: map[int]bool{}, may: w.free, heard: w.heard,
		free: map[string]bool{}, stood: map[string]bool{}, chance: map[int]bool{}, pressed: map[int]bool{}, stiff: stiff, room: w.room, power: w.power}
	for _, id := range w.things {
		s.addThing(id)
	}
	for _, id := range w.waits {
		s.addWait(id)
	}
	for _, id := range w.keep {
		if i, ok := ix.rule[id]; ok {
			s.kept = append(s.kept, i)
			s.addRule(i)
		}
	}
	for _, id := range w.tells {
		if i, ok := ix.rule[id]; ok {
			s.tells[i] = true
			s.addRule(i)
		}
	}
	for s.follow(); s.matter(); {
		s.follow()
	}
	for id := range s.things {
		delete(s.touch, id)
		delete(s.free, id)
	}
	return s
}

// follow adds what the rules in hand look at, and what moves that, to the end.
func (s *slicer) follow() {
	for len(s.todo) > 0 {
		i := s.todo[len(s.todo)-1]
		s.todo = s.todo[:len(s.todo)-1]
		if r := &s.ix.sheet.Rules[i]; s.freely(i) {
			s.chance[i] = true
			s.guards(&rules.Rule{Guard: s.firm(r.Guard)})
		} else {
			s.look(r)
		}
	}
}

// matter takes in the rules for which another stood and that do something in their own room that is looked at after all.
func (s *slicer) matter() bool {
	var stay []int
	for _, i := range s.others {
		r := &s.ix.sheet.Rules[i]
		if slices.ContainsFunc(r.Effects, func(e rules.Effect) bool { return inRoom(r.Room, e) && s.bears(i, e) }) {
			s.in[i] = true
			s.todo = append(s.todo, i)
		} else {
			stay = append(stay, i)
		}
	}
	s.others = stay
	return len(s.todo) > 0
}

func (s *slicer) addThing(id string) {
	if id == "" || s.things[id] {
		return
	}
	s.things[id] = true
	for _, r := range s.ix.sets[id] {
		s.addRule(r)
	}
	if i, ok := s.ix.thing[id]; ok {
		s.addThing(s.ix.sheet.Things[i].Feed)
	}
}

func (s *slicer) addWait(id string) {
	if id == "" || s.waits[id] {
		return
	}
	s.waits[id] = true
	for _, r := range s.ix.waits[id] {
		s.addRule(r)
	}
}

func (s *slicer) addRule(i int) {
	r := &s.ix.sheet.Rules[i]
	if r.Cause.Kind == rules.PowerBack && (!s.power || r.Room != s.room && r.Room != "") {
		return // never, or about another room's things
	}
	if n := s.ix.press[i]; n > 0 && r.Room != s.room && s.ix.roomOf(r.Cause.Thing) != s.room {
		if s.pressed[n] && !s.in[i] {
			s.others = append(s.others, i) // which of the rooms elsewhere it comes from makes no difference
			return
		}
		s.pressed[n] = true
	}
	if !s.in[i] {
		s.in[i] = true
		s.todo = append(s.todo, i)
	}
}

// look adds everything that a rule looks at.
func (s *slicer) look(r *rules.Rule) {
	switch c := &r.Cause; {
	case c.Kind == rules.Became && c.ByHand && c.Any:
		s.touch[c.Thing] = true
	case c.Kind == rules.Reports && s.may[c.Thing]:
		s.free[c.Thing] = true
	case c.Kind == rules.Ended && s.may[stand(c.Wait)]:
		s.free[stand(c.Wait)] = true
		s.stood[stand(c.Wait)] = true
		s.guards(r)
		return
	case c.Kind == rules.Reports && s.ix.roomOf(c.Thing) != s.room && c.On:
		s.touch[c.Thing] = true
	default:
		s.addThing(c.Thing)
	}
	s.addThing(r.Cause.Than)
	s.addWait(r.Cause.Wait)
	s.guards(r)
}

func (s *slicer) guards(r *rules.Rule) {
	for _, ls := range [2][]rules.Literal{r.Guard, r.Hold} {
		for _, l := range ls {
			if l.Kind == rules.Running && s.may[stand(l.Wait)] {
				s.free[stand(l.Wait)] = true
				s.stood[stand(l.Wait)] = true
				continue
			}
			if s.may[l.Thing] {
				s.free[l.Thing] = true
				continue
			}
			s.addThing(l.Thing)
			s.addThing(l.Than)
			s.addWait(l.Wait)
		}
	}
}

// sheet writes the slice in the order of the whole.
func (s *slicer) sheet() rules.Sheet {
	var out rules.Sheet
	alike := map[string]bool{}
	dropped := map[string]bool{}
	for _, i := range slices.Sorted(maps.Keys(s.in)) {
		r := s.ix.sheet.Rules[i]
		kept := make([]rules.Effect, 0, len(r.Effects))
		for _, e := range r.Effects {
			if s.bears(i, e) {
				kept = append(kept, e)
			}
		}
		if len(kept) == 0 && len(r.Hold) == 0 && slices.Contains(s.kept, i) {
			kept = append(kept, rules.Effect{Kind: rules.Tell, People: []string{"nobody"}, Text: "It acts."})
		}
		if s.twin(&r, kept, alike) {
			dropped[r.Cause.Thing] = true
			continue
		}
		if s.chance[i] {
			if len(kept) > 0 {
				s.byChance(&out, r, kept)
			}
			continue
		}
		r = s.standIn(r)
		if r.Effects = kept; len(kept) > 0 || len(r.Hold) > 0 {
			out.Rules = append(out.Rules, r)
		}
	}
	out.Rules = startable(out.Rules)
	for i := range out.Rules {
		for _, id := range rules.Named(&out.Rules[i]) {
			delete(dropped, id)
		}
	}
	for id := range dropped {
		delete(s.things, id)
		delete(s.touch, id)
	}
	ids := make([]int, 0, len(s.things)+len(s.touch))
	for id := range s.things {
		if i, ok := s.ix.thing[id]; ok {
			ids = append(ids, i)
		}
	}
	for id := range s.free {
		if i, ok := s.ix.thing[id]; ok && !s.touch[id] {
			ids = append(ids, i)
		}
	}
	for id := range s.touch {
		if i, ok := s.ix.thing[id]; ok {
			ids = append(ids, i)
		}
	}
	slices.Sort(ids)
	for _, i := range ids {
		out.Things = append(out.Things, s.ix.sheet.Things[i])
	}
	for _, id := range slices.Sorted(maps.Keys(s.stood)) {
		out.Things = append(out.Things, rules.Thing{ID: id, Room: s.room, Kind: rules.Presence, Name: "somebody"})
	}
	return out
}

// stand is the name of what stands for a wait that is free: a sensor that may say anything.
func stand(wait string) string {
	if wait == "" {
		return ""
	}
	return "wait " + wait
}

// standIn lets a rule look at what stands for a wait in place of the wait.
func (s *slicer) standIn(r rules.Rule) rules.Rule {
	if len(s.stood) == 0 {
		return r
	}
	swap := func(ls []rules.Literal) []rules.Literal {
		out := slices.Clone(ls)
		for i, l := range out {
			if l.Kind == rules.Running && s.stood[stand(l.Wait)] {
				out[i] = rules.Literal{Not: l.Not, Kind: rules.Is, Thing: stand(l.Wait)}
			}
		}
		return out
	}
	r.Guard, r.Hold = swap(r.Guard), swap(r.Hold)
	if r.Cause.Kind == rules.Ended && s.stood[stand(r.Cause.Wait)] {
		r.Cause = rules.Cause{Kind: rules.Reports, Thing: stand(r.Cause.Wait)}
		r.Hold, r.HoldFor = nil, 0
	}
	return r
}

// twin reports whether a rule does by a press or report in another room just what a rule before it does: which of them
// it is makes no difference, so one of them stands for all.
func (s *slicer) twin(r *rules.Rule, kept []rules.Effect, alike map[string]bool) bool {
	press := r.Cause.Kind == rules.Pressed
	if !press && (r.Cause.Kind != rules.Reports || !s.touch[r.Cause.Thing] || s.things[r.Cause.Thing]) ||
		len(r.Guard) > 0 || s.ix.roomOf(r.Cause.Thing) == s.room || r.Room == s.room {
		return false
	}
	key := fmt.Sprint(press, kept, r.Again)
	if alike[key] {
		return true
	}
	alike[key] = true
	return false
}

func (s *slicer) bears(rule int, e rules.Effect) bool {
	switch e.Kind {
	case rules.Set:
		return s.things[e.Thing]
	case rules.Start, rules.Stop:
		return s.waits[e.Wait]
	}
	return s.tells[rule]
}

// startable leaves out the rules that act at the end of a wait that nothing in the slice starts, then those that only they would
// have led to, and stops of such waits: what only a power cut starts never runs where the power doesn't fail.
func startable(all []rules.Rule) []rules.Rule {
	for {
		started := map[string]bool{}
		for _, r := range all {
			for _, e := range r.Effects {
				started[e.Wait] = started[e.Wait] || e.Kind == rules.Start
			}
		}
		n := len(all)
		all = slices.DeleteFunc(all, func(r rules.Rule) bool { return r.Cause.Kind == rules.Ended && !started[r.Cause.Wait] })
		if len(all) == n {
			for i := range all {
				all[i].Effects = slices.DeleteFunc(all[i].Effects, func(e rules.Effect) bool { return e.Kind == rules.Stop && !started[e.Wait] })
			}
			return all
		}
	}
}
