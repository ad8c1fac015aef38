package fitting

import (
	"slices"

	"example.org/roombrief/planner/rules"
)

// standing lets a start of a held wait that spares a running one start it over, where the controller can't spare it and a reason to
// hold the wait stands in that moment: while it stands the wait runs on whatever is left of it, and after it for the span of the hold. So
// no guard has to look whether it runs.
func (f *fitter) standing() {
	if f.lim.Keeps {
		return
	}
	for _, h := range f.heldWaits() {
		for i := range f.rules {
			r := &f.rules[i]
			for j, e := range r.effs {
				if e.Kind == rules.Start && e.Wait == h.wait && e.again == rules.Keep && e.For == h.span && f.stands(r, h) {
					r.effs = slices.Clone(r.effs)
					r.effs[j].again = rules.Restart
				}
			}
		}
	}
}

// stands reports whether a reason to hold a wait surely stands when a rule acts: the rule acts because it has come about, or looks at
// it. A note that the moment takes back holds it no more; the wait then runs for the span of the hold, started over or not.
func (f *fitter) stands(r *rule, h held) bool {
	return slices.ContainsFunc(h.any, func(l rules.Literal) bool {
		if _, moved := known(r.effs, l); l.Kind != rules.Is || moved {
			return false
		}
		c := r.Cause
		came := c.Kind == rules.Became && !c.Any && c.Thing == l.Thing && c.On == !l.Not
		return came || slices.Contains(r.Guard, l)
	})
}
