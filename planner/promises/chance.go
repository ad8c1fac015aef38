package promises

import (
	"fmt"
	"slices"

	"example.org/roombrief/planner/rules"
)

// freely reports whether what causes a rule is free, so that the rule may act at any time.
func (s *slicer) freely(rule int) bool {
	c := s.ix.sheet.Rules[rule].Cause
	if s.stiff[c] || slices.Contains(s.kept, rule) {
		return false
	}
	switch c.Kind {
	case rules.Reports:
		return s.may[c.Thing]
	case rules.Became:
		return !c.ByHand && s.heard[c.Thing]
	case rules.Ended:
		return s.may[stand(c.Wait)]
	}
	return false
}

// loosen reports whether rules that act by chance may do so one by one. Those of one cause act together, on guards that all
// hold before any of them does. That comes to the same one after the other, in any order and whichever of them act, where
// none moves what another looks at, or moves otherwise. Where one does, their cause is stiff.
func (s *slicer) loosen() bool {
	byCause := map[rules.Cause][]int{}
	for i := range s.chance {
		c := s.ix.sheet.Rules[i].Cause
		byCause[c] = append(byCause[c], i)
	}
	apart := true
	for c, together := range byCause {
		for _, a := range together {
			for _, b := range together {
				if a != b && s.meddles(a, b) {
					s.stiff[c], apart = true, false
				}
			}
		}
	}
	return apart
}

// meddles reports whether one rule moves what another looks at, or moves otherwise.
func (s *slicer) meddles(one, other int) bool {
	a, b := &s.ix.sheet.Rules[one], &s.ix.sheet.Rules[other]
	for _, e := range a.Effects {
		if !s.bears(one, e) {
			continue
		}
		for _, l := range s.firm(b.Guard) {
			if e.Kind == rules.Set && (l.Thing == e.Thing || l.Than == e.Thing) || (e.Kind == rules.Start || e.Kind == rules.Stop) && l.Kind == rules.Running && l.Wait == e.Wait {
				return true
			}
		}
		for _, f := range b.Effects {
			if s.bears(other, f) && e.Thing == f.Thing && e.Wait == f.Wait && e.Kind != rules.Tell &&
				(e.Kind != f.Kind || e.Value != f.Value || e.For != f.For || a.Again != b.Again) {
				return true
			}
		}
	}
	return false
}

// firm are the literals that look at nothing that is free.
func (s *slicer) firm(ls []rules.Literal) []rules.Literal {
	var out []rules.Literal
	for _, l := range ls {
		if !s.may[l.Thing] && !(l.Kind == rules.Running && s.may[stand(l.Wait)]) {
			out = append(out, l)
		}
	}
	return out
}

// chances is what the name of something begins with that lets a rule act at any time.
const chances = "chance "

// byChance has a rule act at any time, as its guard allows where that looks at nothing free. Rules that then do the same
// are one.
func (s *slicer) byChance(out *rules.Sheet, r rules.Rule, kept []rules.Effect) {
	r.Guard, r.Effects, r.Hold, r.HoldFor = s.firm(r.Guard), kept, nil, 0
	id := chances + fmt.Sprint(r.Guard, r.Effects, r.Again)
	if s.free[id] {
		return
	}
	s.free[id] = true
	r.Cause = rules.Cause{Kind: rules.Reports, Thing: id, On: true}
	out.Rules = append(out.Rules, r)
	out.Things = append(out.Things, rules.Thing{ID: id, Room: s.room, Kind: rules.Presence, Name: "something"})
}
