package promises

import (
	"maps"
	"slices"

	"example.org/roombrief/planner/rules"
)

// Index finds, for a sheet, the rules that move a thing or a wait, so that slices of a large home are quick.
type Index struct {
	sheet rules.Sheet
	thing map[string]int
	rule  map[string]int
	sets  map[string][]int // thing -> rules that set it
	waits map[string][]int // wait -> rules that start, stop or hold it
}

// NewIndex reads a sheet once.
func NewIndex(sheet rules.Sheet) *Index {
	ix := &Index{sheet: sheet, thing: make(map[string]int, len(sheet.Things)), rule: make(map[string]int, len(sheet.Rules)), sets: map[string][]int{}, waits: map[string][]int{}}
	for i, t := range sheet.Things {
		ix.thing[t.ID] = i
	}
	put := func(m map[string][]int, id string, rule int) {
		if list := m[id]; len(list) == 0 || list[len(list)-1] != rule {
			m[id] = append(list, rule)
		}
	}
	for i := range sheet.Rules {
		r := &sheet.Rules[i]
		ix.rule[r.ID] = i
		for _, e := range r.Effects {
			switch e.Kind {
			case rules.Set:
				put(ix.sets, e.Thing, i)
			case rules.Start, rules.Stop:
				put(ix.waits, e.Wait, i)
			}
		}
		if len(r.Hold) > 0 {
			put(ix.waits, r.Cause.Wait, i)
		}
	}
	return ix
}

// Sheet that the index reads.
func (ix *Index) Sheet() rules.Sheet { return ix.sheet }

// want is what a slice starts from.
type want struct {
	things []string
	waits  []string
	tells  []string        // rules whose messages matter
	keep   []string        // rules that stay, whatever they do
	free   map[string]bool // things that may be anything at any time where only guards look at them
}

// slicer grows a slice to its fixpoint.
type slicer struct {
	ix     *Index
	things map[string]bool
	touch  map[string]bool // things of which only a hand's touch matters
	waits  map[string]bool
	in     map[int]bool
	tells  map[int]bool
	kept   []int           // rules that stay, whatever they do
	may    map[string]bool // be free
	free   map[string]bool
	todo   []int
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
	s := &slicer{ix: ix, things: map[string]bool{}, touch: map[string]bool{}, waits: map[string]bool{}, in: map[int]bool{}, tells: map[int]bool{}, may: w.free, free: map[string]bool{}}
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
	for len(s.todo) > 0 {
		i := s.todo[len(s.todo)-1]
		s.todo = s.todo[:len(s.todo)-1]
		s.look(&ix.sheet.Rules[i])
	}
	for id := range s.things {
		delete(s.touch, id)
		delete(s.free, id)
	}
	return s.sheet(), s.touch, s.free
}

func (s *slicer) addThing(id string) {
	if id == "" || s.things[id] {
		return
	}
	s.things[id] = true
	for _, r := range s.ix.sets[id] {
		s.addRule(r)
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
	if !s.in[i] {
		s.in[i] = true
		s.todo = append(s.todo, i)
	}
}

// look adds everything that a rule looks at.
func (s *slicer) look(r *rules.Rule) {
	if r.Cause.Kind == rules.Became && r.Cause.ByHand && r.Cause.Any {
		s.touch[r.Cause.Thing] = true
	} else {
		s.addThing(r.Cause.Thing)
	}
	s.addThing(r.Cause.Than)
	s.addWait(r.Cause.Wait)
	for n, ls := range [][]rules.Literal{r.Guard, r.Hold} {
		for _, l := range ls {
			if n == 0 && s.may[l.Thing] {
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
		if r.Effects = kept; len(kept) > 0 || len(r.Hold) > 0 {
			out.Rules = append(out.Rules, r)
		}
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
	return out
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
