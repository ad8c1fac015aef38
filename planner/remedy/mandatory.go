package remedy

import (
	"context"
	"fmt"
	"slices"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// Hard are the promises that may not be weakened, whatever they cost: somebody could be hurt, or the house. What they
// need is in the first plan already, and no move takes it out.
var Hard = []promises.Kind{promises.NeverOn, promises.StaysOn, promises.WaterShut}

// Applied is something that the first plan has for the sake of a promise, where less would have done what was asked in so many words.
type Applied struct {
	Room     string
	Need     string        // that it is about
	Promise  promises.Kind // that would break without it
	Words    string        // what was done, one sentence
	Why      string        // and why, one more
	Price    bill.Money    // by how much it makes the bill of the home dearer; 0 where the cheapest part does it anyhow
	Currency string        // of the price
	Priced   bool          // the price is known
}

// Text is the whole of it.
func (a Applied) Text() string {
	out := a.Words + " " + a.Why
	switch {
	case !a.Priced:
	case a.Price > 0:
		out += " That is " + a.Price.In(a.Currency) + " of the bill."
	case a.Price < 0:
		out += " That saves " + (-a.Price).In(a.Currency) + "."
	default:
		out += " It costs nothing more."
	}
	return out
}

// mostPriced is up to how many rooms a home may have for what is applied to be priced: each price is a bill of the whole home.
const mostPriced = 100

// Mandatory lists what the first plan of a home has in a room for the sake of promises that would break without it; with "" in all
// rooms. It is empty where nothing had to be added. Plan is that of the project.
func Mandatory(ctx context.Context, p *model.Project, c *catalogue.Catalogue, plan planner.Plan, room string) ([]Applied, error) {
	m := applier{ctx: ctx, p: p, c: c, plan: plan, priced: len(p.Rooms) <= mostPriced}
	for i := range p.Rooms {
		if r := &p.Rooms[i]; room == "" || r.ID == room {
			m.senses(r)
			m.waits(r)
			m.heat(r)
			if m.err != nil {
				return nil, m.err
			}
		}
	}
	return m.out, nil
}

type applier struct {
	ctx    context.Context
	p      *model.Project
	c      *catalogue.Catalogue
	plan   planner.Plan
	priced bool
	out    []Applied
	err    error
}

// senses says where people are known by more than motion, because motion alone would leave whoever keeps still in the dark.
func (m *applier) senses(r *model.Room) {
	modes := ideal.Modes(m.p, r)
	if len(modes) == 0 || modes[0] == "motion" || m.p.Choices.Sense[r.ID] != "" || !r.Brief.Lighting.Wanted() {
		return
	}
	a := Applied{Room: r.ID, Promise: promises.NeverDark,
		Why: fmt.Sprintf("People here may keep still for %s, and motion alone would leave them in the dark.", ideal.LongestStill(r.Kind))}
	switch modes[0] {
	case "doors":
		a.Need, a.Words = r.ID+"/motion", "Each door has a contact, so that motion behind shut doors is somebody until a door opens."
	default:
		a.Need, a.Words = r.ID+"/presence", "The sensor sees people who keep still."
	}
	without := *m.p
	without.Choices.Sense = with(m.p.Choices.Sense, r.ID, "motion")
	m.add(a, func() (bill.Bill, error) {
		plan, err := planner.NewTrials(m.p, m.c).Make(m.ctx, &without)
		return plan.Bill, err
	})
}

// waits says where a room whose doors have shut waits for people who keep still.
func (m *applier) waits(r *model.Room) {
	modes := ideal.Modes(m.p, r)
	if len(modes) == 0 || modes[0] != "doors" || m.p.Choices.Doors[r.ID] != "" || !ideal.Usual().In(&m.p.Choices, r).PatientDoors {
		return
	}
	m.out = append(m.out, Applied{Room: r.ID, Need: r.ID + "/motion", Promise: promises.NeverDark, Priced: true, Currency: m.plan.Bill.Currency,
		Words: fmt.Sprintf("Once the last door has shut, the room waits for %s, as long as people here may keep still, before it counts as empty.", ideal.LongestStill(r.Kind)),
		Why:   "Whoever shuts it behind them looks to the sensor just like whoever shuts it and stays."})
}

// heat says where a heating appliance is behind a part that stays off when the mains come back: no rule can keep it off in the
// instant in which they do.
func (m *applier) heat(r *model.Room) {
	for i, n := range m.plan.Needs {
		if n.Room != r.ID || !n.Facts.ComesOff {
			continue
		}
		needs := slices.Clone(m.plan.Needs)
		needs[i].Facts.ComesOff = false
		m.add(Applied{Room: r.ID, Need: n.ID, Promise: promises.NeverOn,
			Words: fmt.Sprintf("The %s is behind a part that stays off when the mains come back.", n.Name),
			Why:   "It heats, and must never come on with nobody there."},
			func() (bill.Bill, error) {
				home := fitting.NewHome(m.plan.Sheet, func() []rules.Day { return fitting.YearOf(m.p) })
				again, err := bill.NewAgain(m.p, m.c, m.plan.Sheet, home.Count)
				if err != nil {
					return bill.Bill{}, err
				}
				return again.Bill(m.ctx, m.p, needs)
			})
	}
}

// add adds one with its price: what the bill is less without it.
func (m *applier) add(a Applied, without func() (bill.Bill, error)) {
	if m.priced && m.err == nil {
		var b bill.Bill
		b, m.err = without()
		a.Price, a.Priced = m.plan.Bill.Total-b.Total, true
	}
	a.Currency = m.plan.Bill.Currency
	m.out = append(m.out, a)
}
