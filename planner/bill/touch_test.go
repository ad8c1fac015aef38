package bill_test

import (
	"fmt"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
)

// shares is equal for needs that one part could serve together.
func shares(n needs.Need) string {
	switch n.Wants[0] {
	case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan:
		if n.Facts.Box == "" {
			return n.ID
		}
		return n.Facts.Box
	case catalogue.SenseWet:
		return n.Room + " water"
	}
	return n.Room + " air"
}

// touching numbers needs so that those with one number could share a part, directly or through others, or share
// a box that a spacer would make better.
func (o *oracle) touching() []int {
	of := make([]int, len(o.ns))
	for i := range of {
		of[i] = i
		for j := 0; j < i; j++ {
			if of[i] == of[j] || shares(o.ns[i]) != shares(o.ns[j]) || !o.touch(i, j) {
				continue
			}
			from := of[i]
			for k := 0; k <= i; k++ {
				if of[k] == from {
					of[k] = of[j]
				}
			}
		}
	}
	return of
}

func (o *oracle) touch(i, j int) bool {
	if a, b := o.ns[i], o.ns[j]; fmt.Sprint(a.Wants, a.Facts) == fmt.Sprint(b.Wants, b.Facts) {
		return true // alike, and so told apart by nothing but their names
	}
	for k := range o.ns {
		if n := o.ns[k]; n.Facts.Lamps > 0 && shares(n) == shares(o.ns[i]) && o.choice(n, true) != o.choice(n, false) {
			return true
		}
	}
	if o.rank[i] < 0 || o.rank[j] < 0 {
		return false
	}
	for k := range o.cat.Parts {
		p := &o.cat.Parts[k]
		_, _, a := o.alone(p, o.ns[i], o.ns[i].Wants[o.rank[i]])
		_, _, b := o.alone(p, o.ns[j], o.ns[j].Wants[o.rank[j]])
		if a && b && p.Place != "lamp" && o.together(p, []int{i, j}) {
			return true
		}
	}
	return false
}

// choice lists what serves a need as well as can be, with or without a spacer in its box.
func (o *oracle) choice(n needs.Need, deeper bool) string {
	o.deeper[shares(n)] = deeper
	for r, a := range n.Wants {
		list := ""
		for k := range o.cat.Parts {
			if count, extra, ok := o.alone(&o.cat.Parts[k], n, a); ok {
				list += fmt.Sprint(r, k, count, extra, " ")
			}
		}
		if list != "" {
			return list
		}
	}
	return ""
}
