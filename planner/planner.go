// Package planner says what follows from a project. Plan is a pure function: it reads no clock, file or
// global, and gives its results in a fixed order.
package planner

import (
	"context"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// Plan is everything that follows from a project.
type Plan struct {
	Sheet    rules.Sheet // as on a controller without limits
	Needs    []needs.Need
	Bill     bill.Bill
	Hosts    []fitting.Host            // controllers of the bill, with their limits
	Parts    map[string]catalogue.Part // that serve things, by the path of the thing
	Placed   fitting.Placed            // which controller runs what, and what its limits changed
	Fitted   rules.Sheet               // what the controllers run, all of them together; without any controller the ideal sheet
	Findings []ideal.Finding
}

// Make plans a home: briefs to rules and needs, needs to the exact cheapest bill, rules to what its controllers can run. It
// stops when ctx does.
func Make(ctx context.Context, p *model.Project, c *catalogue.Catalogue) (Plan, error) {
	plan, rest, err := Soon(ctx, p, c)
	if err != nil {
		return Plan{}, err
	}
	plan.Bill, err = rest()
	return plan, err
}

// Soon is Make for whoever can't wait for the reasons and next best parts of the bill's lines: it leaves them out, and rest gives the
// same bill with them. Only one goroutine at a time may be in them, and rest ends with the same ctx.
func Soon(ctx context.Context, p *model.Project, c *catalogue.Catalogue) (plan Plan, rest func() (bill.Bill, error), err error) {
	draft := ideal.Draft(p)
	home := fitting.NewHome(draft.Sheet, func() []rules.Day { return fitting.YearOf(p) })
	b, rest, err := bill.Soon(ctx, p, c, draft.Needs, draft.Sheet, home.Count)
	if err != nil {
		return Plan{}, nil, err
	}
	return placed(p, c, draft, home, b), rest, nil
}

// placed is the plan of a bill: its controllers get the rules.
func placed(p *model.Project, c *catalogue.Catalogue, draft ideal.Drafted, home *fitting.Home, b bill.Bill) Plan {
	hosts, wrong := hostsOf(p, c, b)
	plan := Plan{Sheet: draft.Sheet, Needs: draft.Needs, Bill: b, Hosts: hosts, Parts: servedBy(draft.Needs, c, b),
		Fitted: draft.Sheet, Findings: append(draft.Findings, wrong...)}
	home.Pin(p.Choices.Host)
	plan.Placed = home.Place(hosts, plan.Parts)
	plan.Findings = append(plan.Findings, plan.elsewhere(p)...)
	if len(hosts) > 0 {
		plan.Fitted = plan.Placed.Whole(draft.Sheet)
	}
	return plan
}

// effort is how many worths TradeOffs tries: enough for a list that is read on one screen.
const effort = 12

// TradeOffs finds bills of a home of which none beats another in money, upkeep and losses at once.
func TradeOffs(ctx context.Context, p *model.Project, c *catalogue.Catalogue) (bill.Trades, error) {
	draft := ideal.Draft(p)
	home := fitting.NewHome(draft.Sheet, func() []rules.Day { return fitting.YearOf(p) })
	return bill.TradeOffs(ctx, p, c, draft.Needs, draft.Sheet, home.Count, effort)
}
