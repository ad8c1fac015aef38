// Package openpage is the page of what nobody knows yet: where to look before leaving, what hangs on each answer, and what need not
// be looked at.
package openpage

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/caution"
	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page is the list of open points.
type Page struct {
	snap  page.Snapshot
	leaf  draw.Leaf
	drawn drawn
	goes  []page.Goto // where Enter leads, by item
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	points *open.Points
	busy   bool
	fault  error
	inner  int
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
	other := s.Room != p.snap.Room
	p.snap, p.leaf.Theme = s, s.Theme
	p.refresh()
	if other {
		p.leaf.Go(max(slices.IndexFunc(p.goes, func(to page.Goto) bool { return to.Room == s.Room }), 0))
	}
}

// Title names the page.
func (p *Page) Title() string { return "Open points" }

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil || p.snap.Project == nil {
		return
	}
	now := drawn{p.snap.Open, p.snap.Weighing, p.snap.PlanFault, p.leaf.Inner()}
	if p.drawn == now {
		return
	}
	p.drawn, p.goes = now, nil
	head := english.Some(len(open.List(p.snap.Project)), "open point")
	if p.snap.Weighing && p.snap.Open != nil {
		head += ": working out what hangs on them" + p.snap.Theme.Glyphs.More
	}
	p.leaf.Head = []string{"  " + p.leaf.Theme.Faint.Render(head), ""}
	p.leaf.Aside = p.aside()
	p.leaf.SetRows(p.rows())
}

// aside is what they are measured against.
func (p *Page) aside() []string {
	if o := p.snap.Open; o != nil && o.Currency != "" {
		return []string{"planned: " + o.Total.In(o.Currency) + " with tax"}
	}
	return nil
}

func (p *Page) rows() []draw.Row {
	o := p.snap.Open
	switch {
	case p.snap.PlanFault != nil:
		return draw.Paragraph(fmt.Sprintf("There is no plan, so nothing can be priced: %v", p.snap.PlanFault), p.leaf.Inner())
	case len(open.List(p.snap.Project)) == 0:
		return draw.Paragraph("Nothing is open: every fact is known, and no question is parked.", p.leaf.Inner())
	case o == nil:
		return draw.Paragraph("What hangs on the open points is being worked out; it comes in a moment.", p.leaf.Inner())
	}
	rows := append(p.looks(o), p.idle(o)...)
	if len(o.Left) > 0 && !p.snap.Weighing {
		rows = append(rows, draw.Row{Item: -1})
		for _, x := range o.Left {
			rows = append(rows, p.hang("", "Not worked out: "+x.Text, -1)...)
		}
	}
	if n := len(o.Left); n > 0 && p.snap.Weighing {
		rows = append(rows, draw.Row{Item: -1})
		rows = append(rows, p.hang("", english.Count(n, "more point is", "more points are")+" being worked out.", -1)...)
		return rows
	}
	rows = append(rows, draw.Row{Item: -1})
	for _, s := range o.Basis() {
		rows = append(rows, p.hang("", s, -1)...)
	}
	return rows
}

// looks are the places to look at, most at stake first.
func (p *Page) looks(o *open.Points) (rows []draw.Row) {
	if len(o.Looks) == 0 {
		return nil
	}
	t := p.leaf.Theme
	rows = append(rows, draw.Row{Text: t.Strong.Render(open.Head), Item: -1, Head: true})
	for i, e := range o.Entries(p.roomName) {
		rows = append(rows, draw.Row{Item: -1})
		item := p.item(o.Looks[i].Points[0])
		for _, l := range draw.Wrap(e.Head, p.leaf.Inner()) {
			rows = append(rows, draw.Row{Text: t.Text.Render(l), Item: item, Note: p.note(o.Looks[i], e)})
		}
		for _, s := range e.Says {
			rows = append(rows, p.hang("  "+t.Glyphs.Note+" ", s, item)...)
		}
	}
	return rows
}

// note is what stands in the margin beside a place: the parts that come and go, who will know, where Enter leads.
func (p *Page) note(l open.Look, e open.Entry) []string {
	out := append([]string{}, e.More...)
	for _, x := range l.Points {
		for _, a := range x.Answers {
			if s := a.PartsSaid(); s != "" {
				out = append(out, english.Upper(a.Words)+": "+s+".")
			}
			for _, s := range a.Breaks {
				out = append(out, english.Upper(a.Words)+" breaks: "+s)
			}
		}
	}
	if k := l.Caution(); k != "" {
		out = append(out, "Caution: "+caution.Text(k))
	}
	return append(out, "Enter goes to the line where the answer belongs.")
}

// idle are the points on which nothing hangs.
func (p *Page) idle(o *open.Points) (rows []draw.Row) {
	if len(o.Idle) == 0 {
		return nil
	}
	if len(o.Looks) > 0 {
		rows = append(rows, draw.Row{Item: -1})
	}
	rows = append(rows, draw.Row{Text: p.leaf.Theme.Strong.Render("Nothing hangs on these"), Item: -1, Head: true}, draw.Row{Item: -1})
	for i, s := range o.IdleLines(p.roomName) {
		x := o.Idle[i]
		item := p.item(x)
		note := []string{"Whatever the answer, the bill and the promises stay as they are."}
		if x.Planned != "" {
			note = append(note, "Planned as: "+x.Planned+".")
		}
		for _, r := range p.hang(p.leaf.Theme.Glyphs.Note+" ", s, item) {
			r.Note = note
			rows = append(rows, r)
		}
	}
	return rows
}

func (p *Page) hang(mark, text string, item int) (rows []draw.Row) {
	for _, s := range draw.Hang(mark, text, p.leaf.Inner()) {
		rows = append(rows, draw.Row{Text: s, Item: item})
	}
	return rows
}

// item is the number of a new line that the cursor can stand on.
func (p *Page) item(x open.Priced) int {
	to := page.Goto{Page: page.Sheet, Room: x.Room, At: x.At}
	if x.Room == "" {
		to.Room = page.HomeItself
	}
	p.goes = append(p.goes, to)
	return len(p.goes) - 1
}

func (p *Page) roomName(id string) string {
	r, _ := p.snap.Project.Room(id)
	return r.Title()
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes leaves letters to the globals.
func (p *Page) Takes() page.Takes { return page.Own }

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	bs := keys.Points.Copy()
	if p.leaf.At() < 0 {
		keys.Off(bs, keys.Take, "There is no line to open.")
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	return p.leaf.Take(msg, p.Help(), p.do)
}

func (p *Page) do(c keys.Command) page.Action {
	if at := p.leaf.At(); c == keys.Take && at >= 0 && at < len(p.goes) {
		return p.goes[at]
	}
	return nil
}
