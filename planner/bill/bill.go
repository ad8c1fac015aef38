// Package bill finds the exact cheapest devices that cover the needs of a home.
package bill

// Bill is what to buy and do.
type Bill struct {
	Currency string
	Dated    string   // date of the prices
	Devices  []Device // in the order of the needs
	Lines    []Line   // by room, then controllers, consumables
	Unmet    []Unmet  // needs that no part of the catalogue can serve here
	Rooms    []Total  // what each room costs; shared things are under room ""
	Parts    Money    // with markup
	Labour   Money
	Tax      Money
	Total    Money
	Minutes  int
}

// Money in minor units (pence, cents) of the bill's currency.
type Money int64

// Device is a part placed in a room.
type Device struct {
	ID     string // path of the thing it serves first
	Part   string
	Room   string
	Covers []string // needs
}

// Line of the bill.
type Line struct {
	Room     string // "" for the home as a whole
	Part     string
	Name     string
	Quantity int
	Each     Money    // one, with markup, without labour
	Minutes  int      // to install all of them
	Amount   Money    // parts and labour of the line, before tax
	Covers   []string // needs
	Reason   string   // why this part: one sentence
	RunnerUp string   // next best part that would do, "" when nothing else does
	RunnerAt Money    // what the bill would cost more with it
	Caution  string   // kind of caution, "" when none
}

// Unmet is a need without a part, or served by less than was asked.
type Unmet struct {
	Need   string
	Asked  string
	Got    string // "" when nothing serves it
	Reason string
	Remedy string // what to do about it
}

// Total of one room, before tax.
type Total struct {
	Room    string
	Amount  Money
	Devices int
}
