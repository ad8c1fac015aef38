package main

import (
	"context"
	"fmt"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"

	"github.com/spf13/cobra"
)

// quoteOf plans the options of a quote.
func quoteOf(ctx context.Context, path string, doc *projectfile.Document, plan planner.Plan) (*planner.Quote, error) {
	project := *doc.Project()
	project.Choices.Aim = string(plan.Bill.Aim)
	shelf, err := shelfOf(path, &project)
	if err != nil {
		return nil, err
	}
	q, err := planner.MakeQuote(ctx, &project, shelf, plan.Bill)
	if err != nil {
		return nil, status{badCall, fmt.Errorf("%s: %w", path, err)}
	}
	return &q, nil
}

// printQuote prints what the household is shown.
func printQuote(c *cobra.Command, p process, path string, doc *projectfile.Document, plan planner.Plan, asJSON bool) error {
	q, err := quoteOf(c.Context(), path, doc, plan)
	if err != nil {
		return err
	}
	if asJSON {
		return printJSON(p.out, q)
	}
	_, err = fmt.Fprint(p.out, q.Text(plan.Bill, widthOf(p), func(id string) string {
		r, _ := doc.Project().Room(id)
		return r.Title()
	}, model.Date{Time: today(p)}))
	return err
}
