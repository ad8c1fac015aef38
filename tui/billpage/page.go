// Package billpage is the page of what to buy and do: what is wanting first, then the lines room by room,
// the totals, and the cautions that go with the work.
package billpage

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page is the bill.
type Page struct {
	snap  page.Snapshot
	leaf  draw.Leaf
	drawn drawn
	goes  []page.Goto // where Enter leads, by item
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	plan  *planner.Plan
	fault error
	inner int
	busy  bool
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
	now := drawn{p.snap.Plan, p.snap.PlanFault, p.leaf.Inner(), p.snap.Planning}
	if p.drawn == now {
		return
	}
	p.drawn = now
	p.leaf.Aside = p.aside()
	w := writer{snap: p.snap, width: p.leaf.Inner()}
	w.write()
	p.goes, p.leaf.Head = w.goes, w.head
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
	switch {
	case p.leaf.At() < 0:
		keys.Off(bs, keys.Take, "there is no line to open")
	case p.goes[p.leaf.At()].Page == "":
		keys.Off(bs, keys.Take, "this line belongs to the whole home, not to a room")
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.MouseMsg:
		if p.leaf.Mouse(msg) {
			return p.open()
		}
	case tea.KeyMsg:
		b, ok := keys.Find(p.Help(), msg)
		switch {
		case !ok:
		case b.Off != "":
			return page.Say{Text: b.Off}
		case p.leaf.Drive(b.Do):
		case b.Do == keys.Take:
			return p.open()
		}
	}
	return nil
}

func (p *Page) open() page.Action {
	if to := p.goes[p.leaf.At()]; to.Page != "" {
		return to
	}
	return nil
}
