package planner

import (
	"context"
	"runtime"
	"slices"
	"sync"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// Quote is what a household is shown before it says yes: what each room comes to, and what it may have otherwise, each with what
// that does to the price. Its JSON form is what `roombrief bill --quote --json` prints; money there is in minor units.
type Quote struct {
	Currency string      `json:"currency"`
	Rooms    []QuoteRoom `json:"rooms"`
	Net      bill.Money  `json:"net"` // all rooms, before tax
	Tax      bill.Money  `json:"tax"`
	Total    bill.Money  `json:"total"`
	Options  []Option    `json:"options"`
}

// QuoteRoom is what one room comes to, parts and work together, before tax.
type QuoteRoom struct {
	Room   string     `json:"room"` // "" is what the home shares: controllers, cells, what goes with them
	Name   string     `json:"name"`
	Goals  []string   `json:"goals"` // that are wanted in it
	Amount bill.Money `json:"amount"`
}

// Option is the home with one thing otherwise, planned anew: nothing is estimated.
type Option struct {
	Kind   string      `json:"kind"` // leave out a room, leave out a goal, aim
	Room   string      `json:"room"` // "" for an aim
	Goal   string      `json:"goal"` // "" for a whole room and for an aim
	Aim    bill.Aim    `json:"aim"`  // "" but for an aim
	Total  bill.Money  `json:"total"`
	More   bill.Money  `json:"more"` // than the quote's total, with tax; below 0 it is less
	Upkeep bill.Care   `json:"upkeep"`
	Losses bill.Losses `json:"losses"`
}

// Kinds of option.
const (
	LeaveRoom = "leave out a room"
	LeaveGoal = "leave out a goal"
	OtherAim  = "aim"
)

// goals of a brief by their keys, with what takes each out.
var goals = []struct {
	key   string
	asked func(*model.Brief) bool
	drop  func(*model.Brief)
}{
	{"lighting", func(b *model.Brief) bool { return b.Lighting.Wanted() }, func(b *model.Brief) { b.Lighting = model.Goal[model.Lighting]{} }},
	{"ventilation", func(b *model.Brief) bool { return b.Ventilation.Wanted() }, func(b *model.Brief) { b.Ventilation = model.Goal[model.Ventilation]{} }},
	{"leak", func(b *model.Brief) bool { return b.Leak.Wanted() }, func(b *model.Brief) { b.Leak = model.Goal[model.Leak]{} }},
	{"shutoff", func(b *model.Brief) bool { return b.Shutoff.Wanted() }, func(b *model.Brief) { b.Shutoff = model.Goal[[]model.Shutoff]{} }},
	{"buttons", func(b *model.Brief) bool { return b.Buttons.Wanted() }, func(b *model.Brief) { b.Buttons = model.Goal[[]model.Button]{} }},
}

// SumUp is the quote of a plan's bill without its options, which take planning.
func SumUp(p *model.Project, b bill.Bill) Quote {
	q := Quote{Currency: b.Currency, Rooms: []QuoteRoom{}, Net: b.Parts + b.Labour, Tax: b.Tax, Total: b.Total, Options: []Option{}}
	for _, t := range b.Rooms {
		r := QuoteRoom{Room: t.Room, Name: t.Name, Goals: []string{}, Amount: t.Amount}
		if room, ok := p.Room(t.Room); ok {
			r.Goals = append(r.Goals, Wanted(&room.Brief)...)
		}
		q.Rooms = append(q.Rooms, r)
	}
	return q
}

// MakeQuote sums a plan's bill up for the household and plans each option: every room left out, every goal of a room that has others,
// and the other aims. It stops when ctx does.
func MakeQuote(ctx context.Context, p *model.Project, c *catalogue.Catalogue, b bill.Bill) (Quote, error) {
	q := SumUp(p, b)
	var others []*model.Project
	add := func(o Option, other *model.Project) {
		q.Options, others = append(q.Options, o), append(others, other)
	}
	for i := range p.Rooms {
		asked := Wanted(&p.Rooms[i].Brief)
		if len(asked) > 0 {
			add(Option{Kind: LeaveRoom, Room: p.Rooms[i].ID}, leftOut(p, i, asked))
		}
		for _, g := range asked {
			if len(asked) > 1 { // a room's only goal is the room
				add(Option{Kind: LeaveGoal, Room: p.Rooms[i].ID, Goal: g}, leftOut(p, i, []string{g}))
			}
		}
	}
	for _, aim := range bill.Aims {
		if aim != b.Aim && len(b.Lines) > 0 {
			other := *p
			other.Choices.Aim = string(aim)
			add(Option{Kind: OtherAim, Aim: aim}, &other)
		}
	}
	bills, err := cheaply(ctx, p, c, others)
	for i, x := range bills {
		o := &q.Options[i]
		o.Total, o.More, o.Upkeep, o.Losses = x.Total, x.Total-b.Total, x.Upkeep, x.Losses
	}
	return q, err
}

// Wanted are the goals that a brief asks for, by their keys.
func Wanted(b *model.Brief) (keys []string) {
	for _, g := range goals {
		if g.asked(b) {
			keys = append(keys, g.key)
		}
	}
	return keys
}

// leftOut is the project without some goals of its i-th room.
func leftOut(p *model.Project, i int, keys []string) *model.Project {
	out := *p
	out.Rooms = slices.Clone(p.Rooms)
	for _, g := range goals {
		if slices.Contains(keys, g.key) {
			g.drop(&out.Rooms[i].Brief)
		}
	}
	return &out
}

// cheaply is the bills of homes that stand where p does, as Make has them but without reasons and runners-up; several at once, since
// they have nothing to do with each other.
func cheaply(ctx context.Context, p *model.Project, c *catalogue.Catalogue, homes []*model.Project) ([]bill.Bill, error) {
	options := ideal.Usual()
	options.Year = ideal.YearOf(p)
	year := sync.OnceValue(func() []rules.Day { return fitting.YearOf(p) })
	var counts fitting.Counts
	bills, errs := make([]bill.Bill, len(homes)), make([]error, len(homes))
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(homes)) {
		wait.Go(func() {
			for i := range next {
				draft := ideal.DraftWith(homes[i], options)
				again, err := bill.NewAgain(homes[i], c, draft.Sheet, fitting.NewHome(draft.Sheet, year).CountWith(&counts))
				if err == nil {
					bills[i], err = again.Bill(ctx, homes[i], draft.Needs)
				}
				errs[i] = err
			}
		})
	}
	for i := range homes {
		next <- i
	}
	close(next)
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return bills, nil
}
