package page

import "example.org/roombrief/planner/bill"

// Trades is what is known of the bills that none beats. It is never changed once it has been shown.
type Trades struct {
	Result bill.Trades
	Busy   bool  // the search goes on; Result is what was found for an older plan
	Fault  error // why there is no result
}

// ShowTrades asks for the bills that none beats; they come with the snapshots from then on.
type ShowTrades struct{}

func (ShowTrades) action() {}
