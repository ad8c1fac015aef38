package planner

import (
	"context"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// Prove decides every promise of a room on a sheet of rules, in the order in which the brief makes them. It
// stops when ctx does. Whoever proves again and again is quicker with proof.Room and a cache.
func Prove(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error) {
	return proof.Room(ctx, p, sheet, room, proof.Options{})
}
