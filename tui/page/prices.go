package page

import "example.org/roombrief/model/supply"

// Prices is what is known of a supplier's list that is being looked over. It is never changed once it has been shown.
type Prices struct {
	File   string      // as it was asked for
	Form   [][2]string // how it was read
	Import *supply.Import
	Keep   string // file that the prices would be kept in
	Busy   bool   // it is being read, or kept
	Fault  error  // why it can't be read, or was not kept
}

// ReadPrices asks for a supplier's list; it comes with the snapshots from then on. Nothing is kept by it.
type ReadPrices struct {
	File    string
	Confirm bool              // take the guesses that are likely
	Map     map[string]string // part by the supplier's article, as the user said
	Said    [][2]string       // what else the user said of the list, in order: a name and a value each, as supply.Options.Say takes them
}

// KeepPrices keeps what was taken of the list that is shown, and has the home planned with it.
type KeepPrices struct{}

func (ReadPrices) action() {}
func (KeepPrices) action() {}
