// Package billpage is the page of what to buy and do: what is wanting first, then the lines room by room,
// the totals, and the cautions that go with the work.
package billpage

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/pricepage"
)

// Page is the bill.
type Page struct {
	snap  page.Snapshot
	leaf  draw.Leaf
	drawn drawn
	goes  []page.Goto // where Enter leads, by item
	lines []int       // of the bill, by item; -1 for other items

	view view
}

// view is what the page shows.
type view int

const (
	billing view = iota
	trading      // the bills that none beats
	quoting      // what the household is shown
)

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	plan  *planner.Plan
	open  *open.Points
	fault error
	inner int
	busy  bool

	view   view
	trades *page.Trades
	quote  *page.Quote
	doc    *projectfile.Document // the quote names rooms as they are now
}

// New is an empty page.
func New() page.Page { return &Page{} }

// SetSize gives the page its room.
func (p *Page) SetSize(w, h int) {
	p.leaf.SetSize(w, h)
	p.refresh()
}

// Show takes what is known now.
func (p *Page) Show(s page.Snapshot) {
	p.snap, p.leaf.Theme = s, s.Theme
	p.refresh()
}

// Title names the page.
func (p *Page) Title() string { return "Bill" }

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil {
		return
	}
	now := drawn{p.snap.Plan, p.snap.Open, p.snap.PlanFault, p.leaf.Inner(), p.snap.Planning, p.view, p.snap.Trades, p.snap.Quote, p.snap.Doc}
	if p.drawn == now {
		return
	}
	p.drawn = now
	p.leaf.Aside = p.aside()
	w := writer{snap: p.snap, width: p.leaf.Inner()}
	switch {
	case p.snap.Plan == nil || p.view == billing:
		w.write()
	case p.view == trading:
		w.trades()
	case p.view == quoting:
		w.quote()
	}
	p.goes, p.lines, p.leaf.Head = w.goes, w.at, w.head
	p.leaf.SetRows(w.rows)
}

// aside is what the home comes to.
func (p *Page) aside() []string {
	if p.snap.Plan == nil {
		return nil
	}
	b := p.snap.Plan.Bill
	return []string{
		b.Total.In(b.Currency) + " with tax",
		fmt.Sprintf("%d devices, %s of work", len(b.Devices), q.Span(int64(b.Minutes)*60e9).Show(p.snap.Units)),
	}
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes leaves letters to the globals.
func (p *Page) Takes() page.Takes { return page.Own }

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	bs := keys.Bill.Copy()
	switch p.view {
	case trading:
		named(bs, keys.Take, "choose")
		named(bs, keys.TradeOffs, "the bill")
		bs = keys.Without(bs, keys.Keep, keys.NextBest, keys.Avoid, keys.NextPart, keys.PrevPart)
		if p.snap.ReadOnly != "" {
			keys.Off(bs, keys.Take, p.snap.ReadOnly)
		}
		return bs
	case quoting:
		named(bs, keys.Quote, "the bill")
		named(bs, keys.NextPart, "next part")
		bs = keys.Without(bs, keys.Keep, keys.NextBest, keys.Avoid)
		if o, ok := p.option(); ok {
			named(bs, keys.Take, map[bool]string{true: "have it so", false: "leave it out"}[o.Kind == planner.OtherAim])
			if p.snap.ReadOnly != "" {
				keys.Off(bs, keys.Take, p.snap.ReadOnly)
			}
			return bs
		}
	}
	switch {
	case p.leaf.At() < 0:
		keys.Off(bs, keys.Take, "There is no line to open.")
	case p.goes[p.leaf.At()].Page == "":
		keys.Off(bs, keys.Take, "This line belongs to the whole home, not to a room.")
	}
	if p.view == quoting {
		return bs
	}
	return p.deciding(bs)
}

// named gives a command another word in the footer.
func named(bs []keys.Binding, do keys.Command, text string) {
	for i := range bs {
		if bs[i].Do == do {
			bs[i].Text = text
		}
	}
}

// deciding says which of the keys that decide about a line are off.
func (p *Page) deciding(bs []keys.Binding) []keys.Binding {
	l, ok := p.line()
	off := func(why string, dos ...keys.Command) {
		for _, do := range dos {
			keys.Off(bs, do, why)
		}
	}
	if ok && p.comesAlong(l) {
		off("It comes with parts that need it; keep those out instead.", keys.Avoid)
	}
	switch {
	case p.snap.ReadOnly != "":
		off(p.snap.ReadOnly, keys.Keep, keys.NextBest, keys.Avoid)
	case !ok:
		off("The cursor is on no line of the bill.", keys.Keep, keys.NextBest, keys.Avoid)
	case len(p.things(l)) == 0:
		off("What comes with another part can't be decided by itself.", keys.Keep, keys.NextBest)
	case l.Reason == "":
		off("The next best part is still being worked out.", keys.NextBest)
	case l.RunnerUp == "":
		off("Nothing else on the shelf does this here.", keys.NextBest)
	case len(p.swapped(l)) == 0:
		off("The controllers are chosen together; pin one with p, or keep one out with x.", keys.NextBest)
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	if msg, ok := msg.(page.Refused); ok {
		return page.Say{Text: "That can't be written into the project: " + msg.Err.Error()}
	}
	return p.leaf.Take(msg, p.Help(), p.do)
}

func (p *Page) do(c keys.Command) page.Action {
	l, _ := p.line()
	switch c {
	case keys.Take:
		if p.view == trading {
			return p.choose()
		}
		if o, ok := p.option(); ok {
			return p.have(o)
		}
		return p.open()
	case keys.TradeOffs:
		return p.turn(trading, page.ShowTrades{})
	case keys.Import:
		return page.Goto{Page: page.Supply, At: pricepage.Anew}
	case keys.Quote:
		return p.turn(quoting, page.ShowQuote{})
	case keys.Keep:
		return p.keep(l)
	case keys.NextBest:
		return p.nextBest(l)
	case keys.Avoid:
		return p.avoid(l)
	}
	return nil
}

// turn shows another view, which asks for what it needs, or the bill again.
func (p *Page) turn(to view, ask page.Action) page.Action {
	if p.view == to {
		to, ask = billing, nil
	}
	p.view = to
	p.refresh()
	p.leaf.Go(0)
	return ask
}

func (p *Page) open() page.Action {
	if p.leaf.At() < 0 {
		return nil
	}
	if to := p.goes[p.leaf.At()]; to.Page != "" {
		return to
	}
	return nil
}
