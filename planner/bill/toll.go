package bill

import (
	"fmt"
	"math"
	"strconv"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
)

// Tolls are what a plan costs besides money, as whole numbers, so that sums and minima of them are exact.
const (
	upkeep = iota // seconds of somebody's time a year
	losses        // needs lost by the failure of one thing outside the device, summed over such things
	tolls
)

// toll is what something costs besides money.
type toll [tolls]int

func (t toll) plus(o toll, n int) toll {
	for i := range t {
		t[i] += n * o[i]
	}
	return t
}

// within reports whether no toll is above that of o.
func (t toll) within(o toll) bool {
	for i := range t {
		if t[i] > o[i] {
			return false
		}
	}
	return true
}

// Upkeep of one device, in seconds a year:
//
//	CellChange / years between changes of its cells + moving parts x minutes to install it x 60 / MovingLife
//
// A change of cells is a walk with steps and a spare set, and the device tried afterwards. A moving part, a relay's
// contacts or a valve's motor, is good for some 100 000 moves (the usual electrical life that relays are rated
// for, IEC 61810-1); at 20 moves a day that is 14 years, and then the whole device is changed.
const (
	CellChange = 10 * 60 // seconds
	MovingLife = 14      // years
)

// cellChanges is how often a year a part's cells are changed; 0 without cells.
func cellChanges(p *catalogue.Part) float64 {
	if p.Kind == CellKind || p.Battery.Count == 0 || p.Battery.Years <= 0 {
		return 0
	}
	return 1 / p.Battery.Years
}

// upkeepOf is the upkeep of one article by itself, in whole seconds a year.
func upkeepOf(p *catalogue.Part) int {
	wear := float64(p.Moving*p.Minutes*60) / MovingLife
	return int(math.Round(CellChange*cellChanges(p) + wear))
}

// lossOf counts the things outside a device without which a need that it serves is lost: the controller, unless the
// part sits in a switch box, where the switch still works the load by hand; and the home's Wi-Fi network, for a part
// that speaks Wi-Fi. The internet is counted for the home as a whole, see outside.
func lossOf(p *catalogue.Part) (controller, network int) {
	controller = 1
	if p.Place == "box" {
		controller = 0
	}
	if p.Radio == "wifi" {
		network = 1
	}
	return controller, network
}

// outside reports whether a controller's rules live on a computer outside the home: then they stop with the internet.
func (s *shelf) outside(host *catalogue.Part) bool {
	return does(host, catalogue.Host) && !s.limits[host.Host.Limits].Offline
}

// Care is what the devices of a bill ask for each year.
type Care struct {
	Seconds     int     `json:"seconds_a_year"`      // of somebody's time, see upkeep
	CellChanges float64 `json:"cell_changes_a_year"` // devices whose cells are changed
	Moving      int     `json:"moving_parts"`        // that wear
}

// Losses counts the needs that are lost while one thing is gone.
type Losses struct {
	Internet   int `json:"without_internet"`   // all of them where a controller's rules live outside the home
	Network    int `json:"without_wifi"`       // served by a device on the home's Wi-Fi
	Controller int `json:"without_controller"` // that nobody can work by hand: all but what has its switch
	Of         int `json:"of_needs"`           // needs that are served at all
}

// All is the number that resilience makes least: each need once for each thing that it is lost with.
func (l Losses) All() int { return l.Internet + l.Network + l.Controller }

// tolls fills in care and losses, from what is bought and what it serves.
func (w *writer) tolls() {
	b := &w.bill
	for _, e := range w.lines {
		b.Upkeep.Seconds += e.Quantity * upkeepOf(e.article.Part)
		b.Upkeep.CellChanges += float64(e.Quantity) * cellChanges(e.article.Part)
		b.Upkeep.Moving += e.Quantity * e.article.Moving
	}
	b.Losses.Of = w.h.served
	for _, pt := range w.taken {
		for _, o := range pt.offers {
			controller, network := lossOf(o.article.Part)
			for _, k := range o.covers {
				b.Losses.Controller += k * controller
				b.Losses.Network += k * network
			}
		}
	}
	for _, s := range w.sol.hosted.seated {
		if w.h.sh.outside(s.article.Part) {
			b.Losses.Internet = w.h.served
		}
	}
}

// Says puts the care of a year in a sentence.
func (c Care) Says() string {
	if c.Seconds == 0 {
		return "It asks for no upkeep."
	}
	var what []string
	if c.CellChanges > 0 {
		what = append(what, fmt.Sprintf("%.1f changes of cells (by the catalogue's years)", c.CellChanges))
	}
	if c.Moving > 0 {
		what = append(what, "the wear of "+english.Plural(c.Moving, "moving part"))
	}
	return "Upkeep is " + Work(c.Seconds) + " a year: " + english.List(what) + "."
}

// Says puts the losses in a sentence.
func (l Losses) Says() string {
	if l.Of == 0 {
		return "Nothing is there to be lost."
	}
	n := func(k int) string {
		if k == 0 {
			return "none"
		}
		return strconv.Itoa(k)
	}
	return fmt.Sprintf("Lost without the internet: %s of %s; without the Wi-Fi network: %s; without a controller: %s. What sits behind a wall switch still works by hand.",
		n(l.Internet), english.Plural(l.Of, "need"), n(l.Network), n(l.Controller))
}
