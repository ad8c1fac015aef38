package remedy

import (
	"fmt"
	"slices"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
)

// undone are the faults that break, one at a time, what a candidate mends; what there is to say of them is added to its changes. A
// story in which a fault broke another candidate is played again before anything is proved.
func (s *search) undone(c *candidate, mends, changes []string) ([]promises.Fault, []string, error) {
	var all, broken []promises.Fault
	for _, id := range mends {
		p, _ := c.plan.promise(id)
		if s.effort.NoFaults || p.Fault.Kind != promises.NoFault {
			continue
		}
		for _, f := range p.Faulty(c.plan.ix) {
			bad, err := s.fails(c, f)
			if err != nil {
				return nil, nil, err
			}
			if !slices.Contains(all, f.Fault) {
				all = append(all, f.Fault)
			}
			if bad && !slices.Contains(broken, f.Fault) {
				broken = append(broken, f.Fault)
			}
		}
	}
	return broken, append(changes, survives(all, broken)...), nil
}

// fails reports whether a fault breaks a promise with a candidate, or may.
func (s *search) fails(c *candidate, p promises.Promise) (bool, error) {
	systems, err := c.plan.systems(p)
	if err != nil {
		return false, err
	}
	for _, b := range s.failed {
		if b.promise == p.ID && slices.ContainsFunc(systems, b.breaks) {
			return true, nil
		}
	}
	v, err := s.prove(c.plan, p)
	if err == nil && v.State == proof.Breaks && len(v.Story) > 0 && !s.bankless {
		s.failed = append(s.failed, bankOf(v))
	}
	return v.State != proof.Kept && v.State != proof.Empty, err
}

// survives says what one fault at a time does to what is mended.
func survives(all, broken []promises.Fault) []string {
	var kept, undone []string
	for _, f := range all {
		if slices.Contains(broken, f) {
			undone = append(undone, f.String())
		} else {
			kept = append(kept, f.String())
		}
	}
	switch {
	case len(all) == 0:
		return nil
	case len(broken) == 0:
		return []string{"What it mends holds with any one thing failing as well."}
	case len(kept) == 0:
		return []string{"What it mends doesn't hold " + english.List(undone) + "."}
	}
	return []string{fmt.Sprintf("What it mends holds %s as well, but not %s.", english.List(kept), english.List(undone))}
}
