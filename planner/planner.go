// Package planner says what follows from a project. Plan is a pure function: it reads no clock, file or
// global, and gives its results in a fixed order.
package planner

import (
	"context"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// Plan is everything that follows from a project.
type Plan struct {
	Sheet    rules.Sheet
	Needs    []needs.Need
	Bill     bill.Bill
	Findings []ideal.Finding
}

// Make plans a home: briefs to rules and needs, needs to the exact cheapest bill. It stops when ctx does.
func Make(ctx context.Context, p *model.Project, c *catalogue.Catalogue) (Plan, error) {
	draft := ideal.Draft(p)
	b, err := bill.Cheapest(ctx, p, c, draft.Needs, draft.Sheet)
	if err != nil {
		return Plan{}, err
	}
	return Plan{Sheet: draft.Sheet, Needs: draft.Needs, Bill: b, Findings: draft.Findings}, nil
}
