package bill

import (
	"slices"

	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
)

// BoxDepths are the depths of a switch box at which some part of the shelf begins to fit, with or without a spacer, from the
// shallowest: between two of them no depth changes anything.
func (a *Again) BoxDepths() []q.Length {
	depths := a.sh.filledFrom()
	for _, x := range a.sh.articles {
		if x.Place == "box" && x.Depth > 0 && x.lacks == "" && a.sh.forMains(x) { // others fit no box here
			depths = append(depths, x.takes())
		}
	}
	var out []q.Length
	for _, depth := range depths {
		out = append(out, q.Length(depth))
		for _, s := range a.sh.spacers {
			if d := depth - float64(s.Depth); d > 0 {
				out = append(out, q.Length(d))
			}
		}
	}
	return distinct(out)
}

// PipeSizes are the sizes of pipe that a valve of the shelf is made for, and can be had for here.
func (a *Again) PipeSizes() []q.Length {
	var out []q.Length
	for _, x := range a.sh.articles {
		if does(x.Part, catalogue.ShutWater) && x.Pipe > 0 && x.lacks == "" && a.sh.forMains(x) {
			out = append(out, x.Pipe)
		}
	}
	return distinct(out)
}

// distinct sorts lengths and drops those within a hundredth of a millimetre of one before.
func distinct(all []q.Length) []q.Length {
	slices.Sort(all)
	return slices.CompactFunc(all, func(next, last q.Length) bool { return next-last < 1e-5 })
}
