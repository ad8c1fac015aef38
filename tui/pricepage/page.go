// Package pricepage is the page of a supplier's price list: which file, how it was read, what is wrong with it, which line is taken for
// which part, and whether to keep the prices.
package pricepage

import (
	"maps"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/supply"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page asks for a list, then shows it.
type Page struct {
	snap   page.Snapshot
	leaf   draw.Leaf
	file   field.Field
	asking bool // for the file
	fault  string
	lines  []supply.Row // by item; the zero Row for other items
	drawn  drawn

	tell    field.Field // what is said of the list
	telling bool

	read page.ReadPrices // what was asked for last
	less bool            // lines that are wrong are left out
}

// drawn is what the rows were made from; while it stays, so do they.
type drawn struct {
	known  *page.Prices
	asking bool
	text   string // of the field that is open
	fault  string
	less   bool
	inner  int
}

// New asks for a file.
func New() page.Page { return &Page{asking: true} }

// SetSize gives the page its room.
func (p *Page) SetSize(w, h int) {
	p.leaf.SetSize(w, h)
	p.refresh()
}

// Anew as the At of a Goto asks for a file, whatever list was looked over before.
const Anew = "another list"

// Show takes what is known now.
func (p *Page) Show(s page.Snapshot) {
	p.snap, p.leaf.Theme = s, s.Theme
	if s.At == Anew || !p.asking && s.Prices == nil { // dropped, or kept
		p.asking, p.telling, p.read = true, false, page.ReadPrices{}
		p.file.Set("")
	}
	if p.asking && p.read.File != "" && s.Prices != nil && !s.Prices.Busy {
		if s.Prices.Import != nil {
			p.asking = false
			p.leaf.Go(0)
		} else if s.Prices.Fault != nil {
			p.fault = s.Prices.Fault.Error()
		}
	}
	p.refresh()
}

// Title names the page.
func (p *Page) Title() string { return "Prices" }

// Takes wants every key while the file is asked for.
func (p *Page) Takes() page.Takes {
	if p.asking || p.telling {
		return page.Text
	}
	return page.Own
}

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	if p.asking {
		return keys.PriceFile.Copy()
	}
	if p.telling {
		return keys.PriceForm.Copy()
	}
	bs := keys.Prices.Copy()
	k := p.snap.Prices
	off := func(do keys.Command, why string) { keys.Off(bs, do, why) }
	switch {
	case k == nil || k.Import == nil || k.Busy:
		for _, do := range []keys.Command{keys.KeepPrices, keys.TakeGuess, keys.TakeLikely, keys.LeaveOut, keys.SayOfList} {
			off(do, "The list is being worked on; it comes in a moment.")
		}
		return bs
	case p.snap.ReadOnly != "":
		off(keys.KeepPrices, p.snap.ReadOnly)
	case k.Import.Whole():
		off(keys.KeepPrices, "Something is wrong with the list as a whole.")
	case len(k.Import.Wrong) > 0 && !p.less:
		off(keys.KeepPrices, "Put the lines right that are wrong, or leave them out with l.")
	case len(k.Import.Taken) == 0:
		off(keys.KeepPrices, "Nothing is taken yet: take a guess with y, or the likely ones with c.")
	}
	switch l := p.line(); {
	case l.Part == "" || !p.guessed(l):
		off(keys.TakeGuess, "The cursor is on no guess.")
	case l.Article == "":
		off(keys.TakeGuess, "This line has no article number to remember; take the likely guesses with c.")
	}
	if k.Import.Likely() == 0 && !p.read.Confirm {
		off(keys.TakeLikely, "No guess is likely enough to be taken with others.")
	}
	if len(k.Import.Wrong) == 0 || k.Import.Whole() {
		off(keys.LeaveOut, "No line is wrong.")
		if k.Import.Whole() {
			off(keys.LeaveOut, "Something is wrong with the list as a whole.")
		}
	}
	return bs
}

// guessed reports whether a line waits for a word, or was taken by one.
func (p *Page) guessed(l supply.Row) bool { return l.How == "" || p.read.Map[l.Article] != "" }

// line is the line of the list under the cursor.
func (p *Page) line() supply.Row {
	if at := p.leaf.At(); at >= 0 && at < len(p.lines) {
		return p.lines[at]
	}
	return supply.Row{}
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	var a page.Action
	k, ok := msg.(tea.KeyMsg)
	switch {
	case ok && p.asking:
		a = p.name(k)
	case ok && p.telling:
		a = p.say(k)
	case !p.asking && !p.telling:
		a = p.leaf.Take(msg, p.Help(), p.do)
	}
	p.refresh()
	return a
}

// name takes a key while the file is asked for.
func (p *Page) name(k tea.KeyMsg) page.Action {
	b, ok := keys.PriceFile.Of(k)
	switch {
	case ok && b.Do == keys.Leave:
		return page.Back{}
	case !ok:
		p.file.Key(k)
		p.fault = ""
		return nil
	case strings.TrimSpace(p.file.Text()) == "":
		p.fault = "Write which file, or go back with Esc."
		return nil
	}
	p.fault, p.less = "", false
	p.read = page.ReadPrices{File: strings.TrimSpace(p.file.Text()), Map: map[string]string{}}
	return p.read
}

func (p *Page) do(c keys.Command) page.Action {
	switch c {
	case keys.Take, keys.TakeGuess:
		return p.guess()
	case keys.TakeLikely:
		p.read.Confirm = !p.read.Confirm
		return p.read
	case keys.LeaveOut:
		p.less = !p.less
	case keys.KeepPrices:
		return page.KeepPrices{}
	case keys.SayOfList:
		p.telling, p.fault = true, ""
		p.tell.Set(p.word())
	case keys.OtherFile:
		p.asking = true
		p.file.Propose(p.read.File)
		p.read.File = ""
	}
	return nil
}

// guess takes the guess under the cursor, or gives it back.
func (p *Page) guess() page.Action {
	l := p.line()
	if l.Part == "" || l.Article == "" || !p.guessed(l) {
		return nil
	}
	now := maps.Clone(p.read.Map)
	if now[l.Article] != "" {
		delete(now, l.Article)
	} else {
		now[l.Article] = l.Part
	}
	p.read.Map = now
	return p.read
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

func (p *Page) refresh() {
	if p.leaf.Theme.R == nil {
		return
	}
	open := &p.file
	if p.telling {
		open = &p.tell
	}
	now := drawn{p.snap.Prices, p.asking || p.telling, open.View(p.leaf.Theme, max(p.leaf.Inner()-2, 2)), p.fault, p.less, p.leaf.Inner()}
	if p.drawn == now {
		return
	}
	p.drawn, p.lines, p.leaf.Head, p.leaf.Aside = now, nil, nil, nil
	if p.asking {
		p.leaf.SetRows(p.ask(now.text))
		return
	}
	if p.telling {
		p.leaf.SetRows(p.told(now.text))
		return
	}
	p.leaf.SetRows(p.report())
}

// ask is the question for the file.
func (p *Page) ask(text string) []draw.Row {
	t := p.leaf.Theme
	rows := []draw.Row{{Item: -1}, {Text: t.Strong.Render("Which price list did your supplier send?"), Item: -1}, {Item: -1}, {Text: t.Glyphs.Here + " " + text, Item: -1, Raw: true}, {Item: -1}}
	say := func(text string) { rows = append(rows, draw.Paragraph(text, p.leaf.Inner())...) }
	switch {
	case p.snap.Prices != nil && p.snap.Prices.Busy && p.read.File != "":
		say("It is being read.")
	case p.fault != "":
		say(t.Glyphs.Broken + " " + closed(p.fault))
	}
	say("A CSV file as it comes; ~ is your own folder. How it was read is shown before anything is kept.")
	return rows
}
