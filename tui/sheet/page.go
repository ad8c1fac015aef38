// Package sheet is the brief of a room, or the facts of the home, as lines that are changed in place. The
// lines are the questions of the interview, so that nothing is asked in two ways.
package sheet

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page is a sheet.
type Page struct {
	snap     page.Snapshot
	room     model.Room
	have     bool // a room is open; else it is the home's sheet
	leaf     draw.Leaf
	asks     []interview.Question
	progress string // how many are answered
	drawn    drawn
	now      nature   // of the room in this document
	tried    guess    // of the answer in hand
	plot     []string // of the room's air, once rows want it

	mode   mode
	field  field.Field
	mark   int          // choice under the cursor
	ticked map[int]bool // of several choices
	fault  string       // why the answer is refused
	stand  string       // id of the question to stand on when it shows up
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	doc   *projectfile.Document
	plan  *planner.Plan
	proof page.Tally
	room  string
	inner int
	busy  bool
}

type mode int

const (
	looking mode = iota
	writing
	marking
	parking
	saying
)

// New is an empty page.
func New() page.Page { return &Page{} }

// SetSize gives the page its room.
func (p *Page) SetSize(w, h int) {
	p.leaf.SetSize(w, h)
	p.refresh()
}

// Show takes what is known now.
func (p *Page) Show(s page.Snapshot) {
	was := p.snap
	if p.stand == "" {
		if q, ok := p.here(); ok {
			p.stand = q.ID
		}
	}
	p.snap, p.leaf.Theme = s, s.Theme
	p.room, p.have = s.RoomNow()
	moved := s.Room != was.Room
	if s.Doc != was.Doc || moved {
		p.asks = nil
		if s.Doc != nil {
			p.asks = interview.All(s.Doc, p.room.ID)
		}
	}
	if s.Doc != was.Doc || s.Project != was.Project || moved {
		p.now, p.tried = nature{}, guess{}
		if p.have {
			p.now = natureOf(s.Project, p.room)
		}
	}
	if s.Doc != was.Doc && p.mode != looking {
		p.quit() // another version of the file may ask something else here
	}
	if moved {
		p.quit()
		p.stand = ""
		p.leaf.Go(0)
	}
	if s.At != "" && (moved || s.At != was.At) {
		p.stand = nearest(p.asks, s.At)
	}
	p.refresh()
	p.standThere()
}

// standThere puts the cursor on the question that was asked for, or leaves it where it is.
func (p *Page) standThere() {
	for i, q := range p.asks {
		if q.ID == p.stand {
			p.leaf.Go(i)
		}
	}
	p.stand = ""
}

// nearest is the question whose path has most steps in common with one that was asked for.
func nearest(asks []interview.Question, path string) string {
	want := strings.Split(strings.TrimPrefix(path, "rooms/"), "/")
	best, most := "", 0
	for _, q := range asks {
		steps := strings.Split(strings.TrimPrefix(q.Path, "rooms/"), "/")
		n := 0
		for n < len(steps) && n < len(want) && steps[n] == want[n] {
			n++
		}
		score := 4 * n
		if n == len(steps) && n == len(want) {
			score += 2
		}
		for _, s := range steps[n:] {
			if s == want[len(want)-1] {
				score += 3
			}
		}
		if slices.Contains(strings.FieldsFunc(q.Now, func(r rune) bool { return r == ' ' || r == ',' || r == ';' }), want[len(want)-1]) {
			score += 2 // a thing of the room stands in the line that lists its kind
		}
		if score > most {
			best, most = q.ID, score
		}
	}
	return best
}

// Title names the page.
func (p *Page) Title() string { return "Brief" }

// here is the question under the cursor.
func (p *Page) here() (interview.Question, bool) {
	if i := p.leaf.At(); i >= 0 && i < len(p.asks) {
		return p.asks[i], true
	}
	return interview.Question{}, false
}

func (p *Page) quit() { p.mode, p.fault, p.ticked, p.tried = looking, "", nil, guess{} }

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes keeps all keys while a line is changed.
func (p *Page) Takes() page.Takes {
	if p.mode == looking {
		return page.Own
	}
	return page.Text
}

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	q, ok := p.here()
	if p.mode != looking {
		return keys.WritingWith(p.mode == marking, p.mode == marking && q.Kind == interview.Several)
	}
	bs := keys.Sheet.Copy()
	off := func(why string, dos ...keys.Command) {
		for _, do := range dos {
			keys.Off(bs, do, why)
		}
	}
	if !p.have {
		off("This is the home's own sheet; open a room first.", keys.OpenDay, keys.OpenBack, keys.Words)
	}
	switch {
	case p.snap.ReadOnly != "":
		off(p.snap.ReadOnly, keys.Change, keys.Earlier, keys.Later, keys.Forget, keys.Park, keys.Words)
		return bs
	case !ok:
		off("There is no line to change.", keys.Change, keys.Earlier, keys.Later, keys.Forget, keys.Park, keys.Words)
		return bs
	}
	if !cycles(q) {
		off("Press Enter to change this line.", keys.Earlier, keys.Later)
	}
	if !q.Answered && !q.Parked {
		off("The line has no answer to clear.", keys.Forget)
	}
	if q.Parked {
		off("The line is parked already.", keys.Park)
	}
	return bs
}

// cycles tells whether Left and Right walk through a line's choices: few of them, and none written that
// would be lost by it.
func cycles(q interview.Question) bool {
	few := len(q.Choices) > 0 && len(q.Choices) <= 6
	return (q.Kind == interview.YesNo || q.Kind == interview.OneOf) && few && (!q.Answered || chosen(q) >= 0)
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	var a page.Action
	switch msg := msg.(type) {
	case tea.MouseMsg:
		if p.mode == looking && p.leaf.Mouse(msg) {
			a = p.change()
		}
	case page.Refused:
		a = page.Say{Text: fmt.Sprintf("Not changed: %v", msg.Err)}
	case tea.KeyMsg:
		a = p.key(msg)
	}
	p.refresh()
	return a
}

func (p *Page) key(k tea.KeyMsg) page.Action {
	switch p.mode {
	case writing, parking, saying:
		return p.write(k)
	case marking:
		return p.choose(k)
	}
	return p.leaf.Take(k, p.Help(), p.do)
}

func (p *Page) do(do keys.Command) page.Action {
	switch do {
	case keys.Change:
		return p.change()
	case keys.Earlier:
		return p.cycle(-1)
	case keys.Later:
		return p.cycle(1)
	case keys.Forget:
		return p.forget()
	case keys.Park:
		q, _ := p.here()
		p.mode = parking
		p.field.Propose(q.AskWho)
	case keys.Words:
		p.mode = saying
		p.field.Set("")
	case keys.OpenDay:
		return page.Goto{Page: page.Ribbon, Room: p.room.ID}
	case keys.OpenBack:
		return page.Goto{Page: page.Readback, Room: p.room.ID}
	case keys.NextRoom:
		return p.turn(1)
	case keys.PrevRoom:
		return p.turn(-1)
	}
	return nil
}

// turn goes to the sheet beside this one; the home's own comes before the first room.
func (p *Page) turn(by int) page.Action {
	rooms := p.snap.Project.Rooms
	if !p.have && by > 0 && len(rooms) > 0 {
		return page.Goto{Page: page.Sheet, Room: rooms[0].ID}
	}
	if id := draw.RoomBeside(p.snap.Project, p.room.ID, by); id != "" {
		return page.Goto{Page: page.Sheet, Room: id}
	}
	if p.have && by < 0 {
		return page.Goto{Page: page.Sheet, Room: page.HomeItself}
	}
	return page.Say{Text: "There is no room beyond this one."}
}
