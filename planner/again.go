package planner

import (
	"context"
	"reflect"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// Again plans one home again and again with some of its facts otherwise, in a small part of the time of Make: what such
// facts don't touch is reckoned once. It is for one goroutine.
type Again struct {
	base    *model.Project
	shelf   *catalogue.Catalogue
	options ideal.Options
	sheet   rules.Sheet
	home    *fitting.Home
	bill    *bill.Again
}

// NewAgain takes the home as it is.
func NewAgain(p *model.Project, c *catalogue.Catalogue) (*Again, error) {
	a := &Again{base: p, shelf: c, options: ideal.Usual()}
	a.options.Year = ideal.YearOf(p)
	a.sheet = ideal.DraftWith(p, a.options).Sheet
	a.home = fitting.NewHome(a.sheet, func() []rules.Day { return fitting.YearOf(p) })
	var err error
	a.bill, err = bill.NewAgain(p, c, a.sheet, a.home.Count)
	return a, err
}

// Make is the plan of the home with facts of its rooms' things otherwise: that of the package's Make, but for the reasons and
// runners-up of the bill's lines, which it leaves out. Where facts of the home itself or rules differ too, it is Make's.
func (a *Again) Make(ctx context.Context, p *model.Project) (Plan, error) {
	if !reflect.DeepEqual(p.Home, a.base.Home) {
		return Make(ctx, p, a.shelf)
	}
	draft := ideal.DraftWith(p, a.options)
	if !reflect.DeepEqual(draft.Sheet, a.sheet) {
		return Make(ctx, p, a.shelf)
	}
	b, err := a.bill.Bill(ctx, p, draft.Needs)
	if err != nil {
		return Plan{}, err
	}
	return placed(p, a.shelf, draft, a.home, b), nil
}
