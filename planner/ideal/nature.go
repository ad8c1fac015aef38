package ideal

import (
	"example.org/roombrief/model/caution"
	"example.org/roombrief/planner/physics"
)

// nature finds what air, light and mains can't do in the room as it is: a fan too small for what is asked of it or by the standard,
// lamps too few for what is done by their light, an appliance too strong for its outlet. Leaks are left to the sheet.
func (r *room) nature() {
	b := &r.r.Brief
	wanted := map[string]bool{"lighting": b.Lighting.Wanted(), "ventilation": b.Ventilation.Wanted(), "shutoff": b.Shutoff.Wanted()}
	warned := map[string]bool{}
	for _, n := range physics.Room(r.h.p, *r.r) {
		if n.OK || !wanted[n.Goal] {
			continue
		}
		text := n.Because()
		if c := caution.Text(n.Caution); c != "" && !warned[n.Caution] {
			warned[n.Caution] = true
			text += " " + c
		}
		r.out.Findings = append(r.out.Findings, Finding{Room: r.r.ID, At: n.Path, Text: text})
	}
}
