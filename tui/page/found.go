package page

import (
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
)

// Found is what was worked out because somebody asked for it. It is never changed once it has been shown.
type Found[T any] struct {
	Result T
	Busy   bool  // the work goes on; Result is what was found for an older plan
	Fault  error // why there is no result
}

// Trades is what is known of the bills that none beats.
type Trades = Found[bill.Trades]

// Quote is what is known of the quote's options.
type Quote = Found[planner.Quote]

// ShowTrades asks for the bills that none beats; they come with the snapshots from then on.
type ShowTrades struct{}

// ShowQuote asks for the quote; it comes with the snapshots from then on.
type ShowQuote struct{}

func (ShowTrades) action() {}
func (ShowQuote) action()  {}
