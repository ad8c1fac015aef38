package planner

import (
	"context"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// Prove decides every promise of a room on a sheet of rules, in the order in which the brief makes them. It
// stops when ctx does.
func Prove(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error) {
	var out []proof.Verdict
	for _, x := range promises.Of(p, sheet, ideal.Usual(), rules.Equinox) {
		if x.Room != room {
			continue
		}
		v, err := proof.Prove(ctx, sheet, x, proof.Usual)
		if err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}
