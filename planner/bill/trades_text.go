package bill

import (
	"fmt"
	"math"
	"strings"

	"example.org/roombrief/model/english"
)

// Letter names the i-th trade in table and picture: a, b, c; beyond z there is only a dot.
func Letter(i int) string {
	if i >= 26 {
		return "."
	}
	return string(rune('a' + i))
}

// By says what a trade is the best by; "" when no aim.
func (x *Trade) By() string {
	var by []string
	for _, a := range x.Aims {
		by = append(by, string(a))
	}
	return english.List(by)
}

// TradesText is the trades as a table and a picture for people, width columns wide.
func TradesText(t Trades, width int) string {
	o := &text{width: min(max(width, narrowest), widest)}
	if len(t.Trades) == 0 {
		return "Nothing to choose between: no brief asks for anything yet.\n"
	}
	o.wrapped(t.Says(), "")
	o.line("")
	for _, row := range TradesTable(t) {
		o.line(row)
	}
	o.line("")
	for _, row := range TradesPicture(t, min(o.width, 76), 12) {
		o.line(row)
	}
	o.line("")
	for i, x := range t.Trades {
		if len(x.Instead) > 0 {
			o.wrapped(Letter(i)+" has, against a: "+english.List(x.Instead[:min(len(x.Instead), 3)])+x.rest()+".", "  ")
		}
	}
	return o.out.String()
}

func (x *Trade) rest() string {
	if n := len(x.Instead) - 3; n > 0 {
		return ", and " + english.Plural(n, "more kind")
	}
	return ""
}

// Says what the list holds, and whether it is all there is.
func (t *Trades) Says() string {
	if len(t.Trades) == 1 && t.Complete {
		return "One bill is best in everything: money, upkeep and what is lost when something fails."
	}
	all := "there are no others"
	if !t.Complete {
		all = "there may be more in between"
	}
	return fmt.Sprintf("%s of which none beats another in money, upkeep and losses at once; %s.", english.Plural(len(t.Trades), "bill"), all)
}

// TradesTable is a head and a row for each trade.
func TradesTable(t Trades) []string {
	rows := []string{fmt.Sprintf("   %9s  %12s  %5s  %8s  %5s  %10s %s", "total "+t.Currency, "upkeep/year", "cells", "internet", "Wi-Fi", "controller", "best by")}
	for i, x := range t.Trades {
		rows = append(rows, strings.TrimRight(fmt.Sprintf("%s  %9s  %12s  %5.1f  %8d  %5d  %10d %s", Letter(i), x.Total.Plain(), Work(x.Upkeep.Seconds),
			x.Upkeep.CellChanges, x.Losses.Internet, x.Losses.Network, x.Losses.Controller, x.By()), " "))
	}
	return rows
}

// TradesPicture draws upkeep over money: each trade's letter at its place or beside it, on axes that begin at the least of each. The
// bottom row says what the ends of the axes are.
func TradesPicture(t Trades, width, height int) []string {
	w, h := max(width-2, 10), max(height-2, 3)
	low, high := t.Trades[0].Total, t.Trades[0].Total
	least, most := t.Trades[0].Upkeep.Seconds, t.Trades[0].Upkeep.Seconds
	for _, x := range t.Trades {
		low, high = min(low, x.Total), max(high, x.Total)
		least, most = min(least, x.Upkeep.Seconds), max(most, x.Upkeep.Seconds)
	}
	at := func(v, low, high float64, cells int) int {
		if high <= low {
			return 0
		}
		return int(math.Round((v - low) / (high - low) * float64(cells-1)))
	}
	grid := make([][]rune, h)
	for i := range grid {
		grid[i] = []rune(strings.Repeat(" ", w))
	}
	for i, x := range t.Trades {
		col := at(float64(x.Total), float64(low), float64(high), w)
		row := h - 1 - at(float64(x.Upkeep.Seconds), float64(least), float64(most), h)
		for col < w-1 && grid[row][col] != ' ' { // those at one place stand beside each other, the cheapest where it belongs
			col++
		}
		grid[row][col] = []rune(Letter(i))[0]
	}
	out := []string{"upkeep a year: " + Work(most) + " at the top, " + Work(least) + " at the bottom"}
	for _, g := range grid {
		out = append(out, strings.TrimRight("|"+string(g), " "))
	}
	left, right := low.Plain(), high.Plain()+" "+t.Currency
	return append(out, "+"+strings.Repeat("-", w), " "+left+strings.Repeat(" ", max(w-len(left)-len(right), 1))+right)
}
