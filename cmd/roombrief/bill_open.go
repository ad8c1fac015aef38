package main

import (
	"context"
	"fmt"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/open"
)

// openJSON is `bill --open --json`. Money there is in minor units of the currency, with tax, against the plan as it is.
type openJSON struct {
	Currency string          `json:"currency"`
	Total    bill.Money      `json:"total"`   // of the plan as it is, with tax
	Looks    []lookJSON      `json:"looks"`   // where something is at stake, most first
	Nothing  []openPointJSON `json:"nothing"` // on which nothing hangs
	Tried    triedJSON       `json:"tried"`
}

type triedJSON struct {
	Plans   int `json:"plans"`    // homes that were planned
	Pairs   int `json:"pairs"`    // pairs of points that were planned together
	LeftOut int `json:"left_out"` // pairs that were not, because there are too many

	Routes bool `json:"keeps_routes"` // answers keep to the routes for radio of the plan as it is
}

type lookJSON struct {
	At     string          `json:"at"`   // path of the thing, or of the question
	Room   string          `json:"room"` // "" is the home
	Do     string          `json:"do"`   // "look in the switch box by the door"
	Points []openPointJSON `json:"points"`
}

type openPointJSON struct {
	At       string         `json:"at"` // path, without rooms/ before a room
	Room     string         `json:"room"`
	Asks     string         `json:"asks"`
	Ask      string         `json:"ask,omitempty"` // who will know
	Words    string         `json:"words,omitempty"`
	Parked   bool           `json:"parked"`
	Planned  string         `json:"planned_as,omitempty"` // what the plan takes it for
	Stake    stakeJSON      `json:"stake"`
	Answers  []answerJSON   `json:"answers"`
	Together []togetherJSON `json:"together,omitempty"`
	Why      string         `json:"why,omitempty"` // why not every answer could be planned
}

type stakeJSON struct {
	Promises int        `json:"promises"` // that some answer breaks, mends or drops
	Things   int        `json:"things"`   // that some answer has served better or worse
	Money    bill.Money `json:"money"`    // between the cheapest and the dearest answer
}

type answerJSON struct {
	Answer string         `json:"answer"`
	More   bill.Money     `json:"more"` // less than 0 is a saving
	Gains  []string       `json:"gains,omitempty"`
	Loses  []string       `json:"loses,omitempty"`
	Airs   []string       `json:"airs,omitempty"`   // rooms that are aired in time, and are not as planned
	Damp   []string       `json:"damp,omitempty"`   // rooms that are not, and are as planned
	Clear  []string       `json:"clear,omitempty"`  // rooms whose coldest surface stays free of mould, and doesn't as planned
	Mould  []string       `json:"mould,omitempty"`  // rooms where it doesn't, and does as planned
	Starts []string       `json:"starts,omitempty"` // fans that start at another humidity than planned, and at which
	Parts  []partMoreJSON `json:"parts,omitempty"`
	Lines  []lineMoreJSON `json:"lines,omitempty"` // of the bill that grow or shrink
	Breaks []string       `json:"breaks,omitempty"`
	Mends  []string       `json:"mends,omitempty"`
	Drops  []string       `json:"drops,omitempty"`
	Makes  []string       `json:"makes,omitempty"`
}

type partMoreJSON struct {
	Part string `json:"part"`
	Name string `json:"name"`
	More int    `json:"more"` // less than 0 are left out
}

type lineMoreJSON struct {
	Room string `json:"room"` // "" is the home
	Part string `json:"part"`
	More int    `json:"more"` // less than 0 are left out
}

type togetherJSON struct {
	With [2]string `json:"with"` // paths of two points
	Only bool      `json:"only"` // neither matters by itself
	answerJSON
	OneByOne bill.Money `json:"one_by_one"` // what the two answers come to one by one, added up
}

// printOpen prices the open points of a home and prints them; it reports whether something is at stake.
func printOpen(ctx context.Context, p process, path, aim string, asJSON bool) (bool, error) {
	go fixtures.Catalogue() // read while the project is
	doc, err := load(p, path)
	if err != nil {
		return false, err
	}
	if aim != "" {
		if doc, err = doc.Apply(projectfile.Set("choices/aim", aim)); err != nil {
			return false, status{badCall, err}
		}
	}
	shelf, err := shelfOf(path, doc.Project())
	if err != nil {
		return false, err
	}
	points, err := open.All(ctx, doc, shelf, open.Options{})
	if err != nil {
		return false, status{badCall, fmt.Errorf("%s: %w", path, err)}
	}
	if asJSON {
		err = printJSON(p.out, openView(points))
	} else {
		_, err = fmt.Fprint(p.out, points.Text(doc.Project(), widthOf(p)))
	}
	return len(points.Looks) > 0, err
}

func openView(p *open.Points) openJSON {
	out := openJSON{Currency: p.Currency, Total: p.Total, Looks: []lookJSON{}, Nothing: []openPointJSON{},
		Tried: triedJSON{p.Tried.Plans, p.Tried.Pairs, p.Tried.Skip, p.Tried.Routes}}
	for _, l := range p.Looks {
		x := lookJSON{At: l.At, Room: l.Room, Do: l.Words}
		for _, point := range l.Points {
			x.Points = append(x.Points, pointView(point))
		}
		out.Looks = append(out.Looks, x)
	}
	for _, point := range p.Idle {
		out.Nothing = append(out.Nothing, pointView(point))
	}
	return out
}

func pointView(x open.Priced) openPointJSON {
	out := openPointJSON{At: x.At, Room: x.Room, Asks: x.Asks, Ask: x.Ask, Words: x.Words, Parked: x.Parked, Planned: x.Planned,
		Stake: stakeJSON{x.Stake.Promises, x.Stake.Things, x.Stake.Money}, Answers: []answerJSON{}, Why: x.Why}
	for _, a := range x.Answers {
		out.Answers = append(out.Answers, answerView(a))
	}
	for _, t := range x.Together {
		out.Together = append(out.Together, togetherJSON{With: t.With, Only: t.Only, answerJSON: answerView(t.Most), OneByOne: t.Sum})
	}
	return out
}

func answerView(a open.Answer) answerJSON {
	out := answerJSON{Answer: a.Words, More: a.More, Gains: a.Gains, Loses: a.Loses, Airs: a.Airs, Damp: a.Damp, Clear: a.Clear, Mould: a.Mould, Starts: a.Starts,
		Breaks: a.Breaks, Mends: a.Mends, Drops: a.Drops, Makes: a.Makes}
	for _, x := range a.Parts {
		out.Parts = append(out.Parts, partMoreJSON{x.ID, x.Name, x.More})
	}
	for _, x := range a.Lines {
		out.Lines = append(out.Lines, lineMoreJSON{x.Room, x.Part, x.More})
	}
	return out
}
