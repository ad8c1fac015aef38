package planner

import (
	"context"
	"reflect"
	"slices"

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
	draft   ideal.Drafted
	rooms   []ideal.Drafted // of the draft, by room
	home    *fitting.Home
	bill    *bill.Again
	counted []counted  // what the bill has asked of the rules
	bare    *bill.Bill // of the home as it is; nil until it is needed
}

// counted is how many rules the home comes to on controllers with some limits.
type counted struct {
	limits catalogue.Limits
	rules  int
}

// NewAgain takes the home as it is.
func NewAgain(p *model.Project, c *catalogue.Catalogue) (*Again, error) {
	a := &Again{base: p, shelf: c, options: ideal.Usual()}
	a.options.Year = ideal.YearOf(p)
	a.draft = ideal.DraftWith(p, a.options)
	for _, r := range p.Rooms {
		d, _ := ideal.DraftRoom(p, r.ID, a.options)
		a.rooms = append(a.rooms, d)
	}
	a.home = fitting.NewHome(a.draft.Sheet, func() []rules.Day { return fitting.YearOf(p) })
	var err error
	a.bill, err = bill.NewAgain(p, c, a.draft.Sheet, func(l catalogue.Limits) int {
		n := a.home.Count(l)
		a.counted = append(a.counted, counted{l, n})
		return n
	})
	return a, err
}

// Bill is what finds the bills.
func (a *Again) Bill() *bill.Again { return a.bill }

// Ways stands for all the ways to cover the needs of the home with facts of its rooms' things otherwise, as bill.Again has it. It is
// not to be had, and ok false, where facts of the home itself or rules differ too.
func (a *Again) Ways(ctx context.Context, p *model.Project) (ways string, ok bool, err error) {
	draft, same := a.drafted(p)
	if !same || !reflect.DeepEqual(p.Home, a.base.Home) {
		return "", false, nil
	}
	ways, err = a.bill.Ways(ctx, p, draft.Needs)
	return ways, err == nil, err
}

// drafted is the draft of the home with other facts; same is false where its rules may be other than they were.
func (a *Again) drafted(p *model.Project) (out ideal.Drafted, same bool) {
	place := p.Home.Place == a.base.Home.Place && p.Home.Outdoor == a.base.Home.Outdoor && len(p.Rooms) == len(a.rooms)
	if !place || !reflect.DeepEqual(p.People, a.base.People) || !reflect.DeepEqual(p.Controllers, a.base.Controllers) || !reflect.DeepEqual(p.Choices, a.base.Choices) {
		return out, false
	}
	needs := map[string]int{} // place in the draft
	for i, n := range a.draft.Needs {
		needs[n.ID] = i
	}
	out = a.draft
	out.Needs = slices.Clone(out.Needs)
	for i := range p.Rooms {
		r, was := &p.Rooms[i], &a.base.Rooms[i]
		if reflect.DeepEqual(r, was) {
			continue
		}
		if !reflect.DeepEqual(r.Brief, was.Brief) {
			return out, false // it may ask something of other rooms
		}
		d, ok := ideal.DraftRoom(p, r.ID, a.options)
		if !ok || !reflect.DeepEqual(d.Sheet, a.rooms[i].Sheet) || len(d.Needs) != len(a.rooms[i].Needs) {
			return out, false
		}
		for _, n := range d.Needs {
			at, ok := needs[n.ID]
			if !ok {
				return out, false
			}
			out.Needs[at] = n
		}
		out.Findings = instead(out.Findings, a.rooms[i].Findings, d.Findings)
	}
	return out, true
}

// instead has some findings in the place of others.
func instead(all, was, is []ideal.Finding) (out []ideal.Finding) {
	put := false
	for _, f := range all {
		if !slices.Contains(was, f) {
			out = append(out, f)
			continue
		}
		if !put {
			out, put = append(out, is...), true
		}
	}
	if !put {
		out = append(out, is...)
	}
	return out
}

// Make is the plan of the home with facts of its rooms' things otherwise: that of the package's Make, but for the reasons and
// runners-up of the bill's lines, which it leaves out. Where rules differ too, all is planned anew.
func (a *Again) Make(ctx context.Context, p *model.Project) (Plan, error) {
	draft, same := a.drafted(p)
	if !same {
		if out, ok, err := a.aired(ctx, p); ok || err != nil {
			return out, err
		}
		out, _, err := Soon(ctx, p, a.shelf)
		return out, err
	}
	again := a.bill
	if !reflect.DeepEqual(p.Home, a.base.Home) { // the shelf has to be looked at anew, the rules not
		var err error
		if again, err = bill.NewAgain(p, a.shelf, a.draft.Sheet, a.home.Count); err != nil {
			return Plan{}, err
		}
	}
	b, err := again.Bill(ctx, p, draft.Needs)
	if err != nil {
		return Plan{}, err
	}
	return placed(p, a.shelf, draft, a.home, b), nil
}

// aired is the plan of the home where nothing but the air outside and the coldest surfaces of rooms is otherwise. No need asks for either,
// so the bill is that of the home as it is, if the rules come to as many on every controller; ok is false where they don't.
func (a *Again) aired(ctx context.Context, p *model.Project) (out Plan, ok bool, err error) {
	same := *p
	same.Home.Outdoor = a.base.Home.Outdoor
	same.Rooms = slices.Clone(p.Rooms)
	for i := range min(len(same.Rooms), len(a.base.Rooms)) {
		same.Rooms[i].Coldest = a.base.Rooms[i].Coldest
	}
	if !reflect.DeepEqual(&same, a.base) {
		return Plan{}, false, nil
	}
	draft := ideal.DraftWith(p, a.options)
	if !reflect.DeepEqual(draft.Needs, a.draft.Needs) || len(draft.Sheet.Rules) != len(a.draft.Sheet.Rules) {
		return Plan{}, false, nil
	}
	if a.bare == nil {
		b, err := a.bill.Bill(ctx, a.base, a.draft.Needs)
		if err != nil {
			return Plan{}, false, err
		}
		a.bare = &b
	}
	home := fitting.NewHome(draft.Sheet, func() []rules.Day { return fitting.YearOf(p) })
	for _, c := range a.counted {
		if home.Count(c.limits) != c.rules {
			return Plan{}, false, nil
		}
	}
	return placed(p, a.shelf, draft, home, *a.bare), true, nil
}
