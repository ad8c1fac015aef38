package remedy

import (
	"context"
	"fmt"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
)

// Hard are the promises that may not be weakened, whatever they cost: somebody could be hurt, or the house. What they
// need is in the first plan already, and no move takes it out.
var Hard = []promises.Kind{promises.NeverOn, promises.StaysOn, promises.WaterShut}

// Applied is something that the first plan has for the sake of such a promise.
type Applied struct {
	Need    string // that it is about
	Promise promises.Kind
	Words   string     // what was done, one sentence
	Why     string     // and why, one more
	Price   bill.Money // by how much it makes the bill of the home dearer; 0 where the cheapest part does it anyhow
}

// Mandatory lists what the first plan of a home has for the sake of promises that may not be weakened, beyond the
// rules: those never switch a heating appliance on, nor one off that must stay on. It is empty where the home has nothing that heats and is cut.
func Mandatory(ctx context.Context, p *model.Project, c *catalogue.Catalogue) ([]Applied, error) {
	d := ideal.Draft(p)
	with, err := bill.Cheapest(ctx, p, c, d.Needs, d.Sheet)
	if err != nil {
		return nil, err
	}
	var out []Applied
	for i, n := range d.Needs {
		if !n.Facts.ComesOff {
			continue
		}
		needs := slices.Clone(d.Needs)
		needs[i].Facts.ComesOff = false
		without, err := bill.Cheapest(ctx, p, c, needs, d.Sheet)
		if err != nil {
			return nil, err
		}
		out = append(out, Applied{Need: n.ID, Promise: promises.NeverOn, Price: with.Total - without.Total,
			Words: fmt.Sprintf("The %s is put behind a part that stays off when the mains come back.", n.Name),
			Why:   "It heats, and must never come on with nobody there."})
	}
	return out, nil
}
