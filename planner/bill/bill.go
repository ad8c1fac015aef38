// Package bill finds the exact cheapest devices that cover the needs of a home.
//
// How it goes, file by file:
//
//	shelf.go    prices in the home's currency, terms, what may be used at all
//	serve.go    which part serves which need, in which house; why not
//	lamps.go    the same for lamp circuits, which may need other lamps or guarded switches
//	group.go    needs that one part could share: a switch box, a room's air, its water points
//	cover.go    every sensible way to cover one group: cost against radio slots
//	hosts.go    controllers, with and without radio adapters, and the places for them
//	toll.go     what a plan costs besides money: upkeep, and what it loses when something fails
//	goal.go     the aims: which toll comes before money
//	choose.go   the cheapest home: which radios, which controllers, which way for each group
//	merge.go    groups alike taken together, so that a thousand rooms are no harder than ten
//	branch.go   the same when slots run short: branch and bound with exact slot prices
//	owned.go    parts that are there already, which cost only their labour
//	net.go      the home as its radios see it; hearing.go: what of a choice no controller hears
//	route.go    the best choice in which all is in reach; stays.go, air.go, dive.go (where nothing else finds one): its parts
//	whole.go    the same as one program, where trying routes one by one takes too long: sought.go asks, leaves.go branches,
//	cuts.go     finds rows, sheaf.go has planner/linear solve it in fractions, plunge.go and settle.go make homes of them,
//	tally.go    counts what is alike wherever it is
//	reached.go  what repeaters carry and what stays out of reach; rerouted.go: next best parts with routes
//	year.go     cells and power of a year
//	mend.go     lumps of slots that have to come out even: a good choice early
//	relax.go    where the slot prices come from, by way of simplex.go
//	write.go    the bill: lines, totals; reason.go, runner.go: why, and what the next best costs
//	money.go    what is rounded, and how; source.go: where prices come from and how old they are
//	assume.go   what was taken for granted; text.go: the bill as text
//	again.go    the same home once more, with facts that are otherwise
//
// Money. A part's price is marked up and rounded half up to a minor unit once, its labour likewise
// once; everything after that is whole numbers. So a line is quantity x (each + labour of one), less each for
// what is there already; the minimum is exact to the penny, and tax is rounded half up once, on the total.
// Which plain lamps, plates and cells go with a part is settled by their full price, there already or not.
//
// Quality before money: each need is served by the first of its wants that anything can serve here.
// Among the plans that do so the one that is best by the aim wins (goal.go, toll.go), of those the cheapest. Ties: the fewest radios, radios in the order of
// Radios, then for each group the fewest articles, then the part that stands first on the shelf.
// When radio slots run short, the later of two equal rooms gives way.
package bill

import (
	"context"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// Bill is what to buy and do. Its JSON form is what `roombrief bill --json` prints; money there is in
// minor units of the currency, as whole numbers.
type Bill struct {
	Currency string       `json:"currency"` // ISO 4217
	Dated    string       `json:"dated"`    // when the shelf's prices were indicative
	Devices  []Device     `json:"devices"`  // in the order of the needs
	Lines    []Line       `json:"lines"`    // by room, then the home's own
	Unmet    []Unmet      `json:"unmet"`    // needs that no part can serve here, or only poorly
	Assumed  []Assumption `json:"assumed"`  // what was taken for granted where the survey has no answer
	Rooms    []Total      `json:"rooms"`    // what each room costs; shared things are under room ""
	Parts    Money        `json:"parts"`    // with markup
	Labour   Money        `json:"labour"`
	Saved    Money        `json:"saved"` // price of the parts that are there already, which Parts leaves out
	Tax      Money        `json:"tax"`
	Total    Money        `json:"total"`
	Minutes  int          `json:"minutes"` // of work
	Aim      Aim          `json:"aim"`     // what it is the best at
	Worth    Worth        `json:"worth"`   // of upkeep and losses, in money
	Upkeep   Care         `json:"upkeep"`  // what it asks for each year
	Losses   Losses       `json:"losses"`  // what it loses when something outside the devices fails
	Year     Year         `json:"year"`    // cells and power of a year; empty in the bills of Again
	Terms    Terms        `json:"terms"`   // that the figures rest on
}

// Money in minor units (pence, cents) of the bill's currency.
type Money int64

// Terms of the bill, with defaults filled in.
type Terms struct {
	Labour Money   `json:"labour_per_hour"`
	Markup float64 `json:"markup_percent"`
	Tax    float64 `json:"tax_percent"`
}

// Device is a part placed in a room, or a controller in its place.
type Device struct {
	ID     string   `json:"id"` // path of the thing it serves first; place of a controller
	Part   string   `json:"part"`
	Room   string   `json:"room"`
	Covers []string `json:"covers"` // needs
	Speaks []string `json:"-"`      // radios of a controller with its adapters; nil for those of the part alone
}

// Line of the bill.
type Line struct {
	Room     string   `json:"room"` // "" for the home as a whole
	Part     string   `json:"part"`
	Name     string   `json:"name"`
	Quantity int      `json:"quantity"`
	Owned    int      `json:"owned"`     // of the quantity, there already: they cost only their labour
	Each     Money    `json:"each"`      // one, with markup, without labour
	Priced   string   `json:"priced"`    // from when its price is: a day, or the catalogue's month
	Supplier string   `json:"supplier"`  // whose price it is; "" is the catalogue's, which is indicative
	Article  string   `json:"article"`   // the supplier's number for it, "" when none is known
	Minutes  int      `json:"minutes"`   // to install all of them
	Amount   Money    `json:"amount"`    // parts and labour of the line, before tax
	Covers   []string `json:"covers"`    // needs
	Reason   string   `json:"reason"`    // why this part: one sentence
	RunnerUp string   `json:"runner_up"` // next best part that would do, "" when nothing else does

	RunnerName   string            `json:"runner_name"`                  // of the next best part, to print
	RunnerAt     Money             `json:"runner_at"`                    // what the whole bill, before tax, would cost more with it; below 0, less
	RunnerUpkeep int               `json:"runner_upkeep_seconds_a_year"` // how much more the whole bill would ask for; 0 unless the aim is upkeep
	RunnerLosses int               `json:"runner_losses"`                // how many more it would lose; 0 unless the aim is resilience
	RunnerWins   Money             `json:"runner_wins_at"`               // it wins once each of it costs so much less; 0 when no price does it
	RunnerUse    map[string]string `json:"runner_use"`                   // by need: the part that serves it then
	Caution      string            `json:"caution"`                      // kind of caution, "" when none
}

// Unmet is a need without a part, or served by less than was asked.
type Unmet struct {
	Need   string `json:"need"`
	Asked  string `json:"asked"`
	Got    string `json:"got"` // "" when nothing serves it
	Reason string `json:"reason"`
	Remedy string `json:"remedy"` // what to do about it
}

// Assumption is what the plan takes for granted where a fact is not known: always the worst case.
type Assumption struct {
	At    string `json:"at"`    // path in the project
	Asked string `json:"asked"` // what isn't known
	As    string `json:"as"`    // what it is taken for
	Text  string `json:"text"`  // both, in one sentence
}

// Total of one room, before tax.
type Total struct {
	Room    string `json:"room"`
	Name    string `json:"name"` // of the room, to print; "" for the home as a whole
	Amount  Money  `json:"amount"`
	Devices int    `json:"devices"`
}

// Count is how many rules the sheet of a home comes to on controllers with some limits.
type Count func(catalogue.Limits) int

// Cheapest is CheapestFor where every controller takes the rules of the sheet as they are.
func Cheapest(ctx context.Context, p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet) (Bill, error) {
	return CheapestFor(ctx, p, c, ns, sheet, nil)
}

// CheapestFor finds the bill of least money for the needs of a home, or the one that is best by another aim where the
// project names it. The sheet counts: controllers hold
// only so many rules, and count says how many of theirs the sheet comes to. It returns an error when the project's money can't
// be read as one currency, and when ctx ends; a need that can't be served is no error but an entry of Unmet.
func CheapestFor(ctx context.Context, p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet, count Count) (Bill, error) {
	_, rest, err := Soon(ctx, p, c, ns, sheet, count)
	if err != nil {
		return Bill{}, err
	}
	return rest()
}

// Soon is CheapestFor for whoever can't wait for the reasons and next best parts of the lines, which take most of the time: each of
// these is a home chosen anew. It gives the bill without them, and rest, which gives the same bill with them. Only one goroutine at a time may
// be in them, and rest ends with the same ctx.
func Soon(ctx context.Context, p *model.Project, c *catalogue.Catalogue, ns []needs.Need, sheet rules.Sheet, count Count) (b Bill, rest func() (Bill, error), err error) {
	a, err := NewAgain(p, c, sheet, count)
	if err != nil {
		return Bill{}, nil, err
	}
	h, plan, err := a.solve(ctx, p, ns)
	if err != nil {
		return Bill{}, nil, err
	}
	b, err = written(h, p, plan, counted)
	return b, func() (Bill, error) { return written(h, p, plan, reasoned) }, err
}
