package billpage

import (
	"fmt"
	"strconv"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// trades draws the bills of which none beats another: the table, whose rows are items, and under it the picture.
func (w *writer) trades() {
	t := w.snap.Trades
	switch {
	case t == nil || t.Busy && len(t.Result.Trades) == 0:
		w.blank()
		w.words("", "Looking for the bills of which none beats another in money, upkeep and what is lost when something fails.")
		return
	case t.Fault != nil:
		w.blank()
		w.words("", fmt.Sprintf("There is nothing to choose between: %v", t.Fault))
		return
	}
	all := t.Result
	if len(all.Trades) == 0 {
		w.blank()
		w.words("", "Nothing to choose between yet. Press 1 for the rooms.")
		return
	}
	table := bill.TradesTable(all)
	head := "  " + w.snap.Theme.Faint.Render(layout.Fit(table[0], w.width, w.snap.Theme.Glyphs.More))
	if word := draw.Planning(w.snap); word != "" {
		head = "  " + w.snap.Theme.Faint.Render(word)
	}
	w.head = []string{head, ""}
	for i, x := range all.Trades {
		text := layout.Fit(table[i+1], w.width, w.snap.Theme.Glyphs.More)
		if w.chosen(&x) {
			text = w.snap.Theme.Strong.Render(text)
		}
		w.item(page.Goto{}, w.tradeNote(i, &x), text)
	}
	w.blank()
	for _, row := range bill.TradesPicture(all, w.width, 10) {
		w.rows = append(w.rows, draw.Row{Text: layout.Fit(row, w.width, w.snap.Theme.Glyphs.More), Item: -1})
	}
	w.blank()
	w.words("", all.Says()+" The internet, Wi-Fi and controller columns count the needs that are lost without it.")
}

// tradeNote is what choosing a trade would mean.
func (w *writer) tradeNote(i int, x *bill.Trade) []string {
	var out []string
	switch {
	case w.chosen(x):
		out = append(out, "This is the bill as it is planned now.")
	case choice(x) == nil:
		out = append(out, "It lies between others, and no worth leads to it; pin parts on the lines of the bill to have it.")
	default:
		out = append(out, "Enter chooses it; u takes that back.")
	}
	if by := x.By(); by != "" {
		out = append(out, "Best by "+by+".")
	}
	if x.Worth != (bill.Worth{}) {
		out = append(out, fmt.Sprintf("Best where an hour less of upkeep a year is worth %s, and a loss less %s.",
			x.Worth.Hour.In(w.snap.Trades.Result.Currency), x.Worth.Loss.In(w.snap.Trades.Result.Currency)))
	}
	if n := len(x.Instead); n > 0 && i > 0 {
		more := ""
		for _, s := range x.Instead[:min(n, 4)] {
			more += "; " + s
		}
		out = append(out, "More than in a: "+more[2:]+".")
	}
	return out
}

// chosen reports whether a trade is the bill as it is planned.
func (w *writer) chosen(x *bill.Trade) bool {
	b := &w.snap.Plan.Bill
	return x.Net == b.Parts+b.Labour && x.Upkeep.Seconds == b.Upkeep.Seconds && x.Losses == b.Losses
}

// choice is the edits that lead to a trade: an aim, or what upkeep and losses are worth; nil where nothing does.
func choice(x *bill.Trade) []projectfile.Edit {
	major := func(m bill.Money) string { return strconv.FormatFloat(float64(m)/100, 'f', -1, 64) }
	switch {
	case x.Worth != bill.Worth{}:
		return []projectfile.Edit{projectfile.Remove("choices/aim"),
			projectfile.Set("choices/worth", "{upkeep: "+major(x.Worth.Hour)+", loss: "+major(x.Worth.Loss)+"}")}
	case len(x.Aims) > 0:
		return aimed(x.Aims[0])
	}
	return nil
}

// aimed is the edits that give the bill an aim. The least money is what is aimed at where the file says nothing.
func aimed(aim bill.Aim) []projectfile.Edit {
	if aim == bill.Cost {
		return []projectfile.Edit{projectfile.Remove("choices/aim"), projectfile.Remove("choices/worth")}
	}
	return []projectfile.Edit{projectfile.Set("choices/aim", string(aim)), projectfile.Remove("choices/worth")}
}

// choose makes the trade under the cursor the bill.
func (p *Page) choose() page.Action {
	t := p.snap.Trades
	if t == nil || p.leaf.At() < 0 || p.leaf.At() >= len(t.Result.Trades) {
		return nil
	}
	x := &t.Result.Trades[p.leaf.At()]
	edits := choice(x)
	if edits == nil {
		return page.Say{Text: "No worth leads to this bill; pin parts on the lines of the bill to have it."}
	}
	return page.Edit{Edits: edits, Label: "bill " + bill.Letter(p.leaf.At()) + " of the trade-offs",
		Then: page.Say{Text: "The bill is now " + bill.Letter(p.leaf.At()) + ", " + x.Total.In(t.Result.Currency) + " with tax. u takes it back."}}
}
