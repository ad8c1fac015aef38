package planner

import (
	"context"
	"sync"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// Trials plans one home with other decisions, one after the other. Where only facts are otherwise, Again is quicker.
type Trials struct {
	shelf *catalogue.Catalogue
	year  func() []rules.Day // the sun at the home; reckoned when first asked for
}

// NewTrials takes the home as it is.
func NewTrials(p *model.Project, c *catalogue.Catalogue) *Trials {
	return &Trials{shelf: c, year: sync.OnceValue(func() []rules.Day { return fitting.YearOf(p) })}
}

// Make is the plan of the home with other decisions, in the same place: that of the package's Make, but for the reasons and
// runners-up of the bill's lines, which it leaves out because they take much of the time.
func (t *Trials) Make(ctx context.Context, p *model.Project) (Plan, error) {
	draft := ideal.Draft(p)
	home := fitting.NewHome(draft.Sheet, t.year)
	again, err := bill.NewAgain(p, t.shelf, draft.Sheet, home.Count)
	if err != nil {
		return Plan{}, err
	}
	b, err := again.Bill(ctx, p, draft.Needs)
	if err != nil {
		return Plan{}, err
	}
	return placed(p, t.shelf, draft, home, b), nil
}
