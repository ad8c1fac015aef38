// Package rooms is the page of all rooms: how far each interview is, whether its brief is agreed, and
// what it comes to.
package rooms

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page is the list of rooms.
type Page struct {
	snap    page.Snapshot
	leaf    draw.Leaf
	entries []entry
	lines   []line // by item: the home, then the rooms by floor
	drawn   drawn
	stand   string // room to put the cursor on when it shows up
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	doc   *projectfile.Document
	plan  *planner.Plan
	proof *page.Proofs
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
	if s.Room != p.snap.Room || len(p.lines) == 0 {
		p.stand = s.Room
	}
	if s.Doc != p.snap.Doc {
		p.entries = survey(s)
	}
	p.snap, p.leaf.Theme = s, s.Theme
	p.refresh()
	if p.stand != "" {
		for i, l := range p.lines {
			if l.room == p.stand {
				p.leaf.Go(i)
				p.stand = ""
			}
		}
	}
}

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil || p.snap.Doc == nil {
		return
	}
	now := drawn{p.snap.Doc, p.snap.Plan, p.snap.Proofs, p.leaf.Inner(), p.snap.Planning}
	if p.drawn != now {
		p.drawList()
		p.drawn = now
	}
}

// Title names the page.
func (p *Page) Title() string { return "Rooms" }

// Pointing is the room under the cursor.
func (p *Page) Pointing() string {
	if len(p.lines) == 0 {
		return ""
	}
	return orHome(p.here().room)
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes leaves other letters to the globals.
func (p *Page) Takes() page.Takes { return page.Own }

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	bs := keys.Rooms.Copy()
	if p.snap.ReadOnly != "" {
		for _, do := range []keys.Command{keys.AddRoom, keys.MoveUp, keys.MoveDown, keys.Delete} {
			keys.Off(bs, do, p.snap.ReadOnly)
		}
	}
	l := p.here()
	if l.room == "" {
		for _, do := range []keys.Command{keys.OpenDay, keys.OpenBack, keys.MoveUp, keys.MoveDown, keys.Delete} {
			keys.Off(bs, do, "This line is the home itself; choose a room.")
		}
		return bs
	}
	if l.above == "" {
		keys.Off(bs, keys.MoveUp, "It is the first room of its floor.")
	}
	if l.below == "" {
		keys.Off(bs, keys.MoveDown, "It is the last room of its floor.")
	}
	return bs
}

func (p *Page) here() line {
	if i := p.leaf.At(); i >= 0 && i < len(p.lines) {
		return p.lines[i]
	}
	return line{}
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	if msg, ok := msg.(page.Refused); ok {
		return page.Say{Text: fmt.Sprintf("%s: not done. %v", msg.Label, msg.Err)}
	}
	return p.leaf.Take(msg, p.Help(), p.do)
}

func (p *Page) do(do keys.Command) page.Action {
	l := p.here()
	switch do {
	case keys.Take:
		return p.open()
	case keys.OpenBrief:
		return page.Goto{Page: page.Sheet, Room: orHome(l.room)}
	case keys.OpenDay:
		return page.Goto{Page: page.Ribbon, Room: l.room}
	case keys.OpenBack:
		return page.Goto{Page: page.Readback, Room: l.room}
	case keys.AddRoom:
		return page.Goto{Page: page.NewRoom}
	case keys.MoveUp:
		return p.move(l, l.above)
	case keys.MoveDown:
		return p.move(l, l.below)
	case keys.Delete:
		return page.Edit{Edits: removal(p.snap.Project, l.room), Label: "removal of " + l.name}
	}
	return nil
}

// open goes on with the interview while it has questions, else to the brief.
func (p *Page) open() page.Action {
	l := p.here()
	to := page.Goto{Page: page.Talk, Room: orHome(l.room)}
	if l.entry.left() == 0 {
		to.Page = page.Sheet
	}
	return to
}

func orHome(room string) string {
	if room == "" {
		return page.HomeItself
	}
	return room
}

// move puts a room where another one of its floor stands.
func (p *Page) move(l line, other string) page.Action {
	to := 0
	for i, r := range p.snap.Project.Rooms {
		if r.ID == other {
			to = i
		}
	}
	p.stand = l.room
	return page.Edit{Edits: []projectfile.Edit{projectfile.Move("rooms/"+l.room, to)}, Label: "place of " + l.name, Join: true}
}
