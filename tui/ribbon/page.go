package ribbon

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Page is the day of a room: the ribbon, and its periods as lines under it.
type Page struct {
	snap    page.Snapshot
	room    model.Room
	have    bool // a room is open
	leaf    draw.Leaf
	h       int
	season  int
	dates   []date
	place   model.Place // that the dates were made for
	today   time.Time
	sun     Sun
	year    sunYear   // of the place, once it is asked for
	glow    glow      // of the room in this document
	order   []stretch // as the rows stand
	mode    mode
	field   field.Field
	fault   string // why the field is refused
	pick    int    // circuit under the cursor while lamps are picked
	standOn q.DayTime
	stand   bool // put the cursor on standOn when it shows up
	drag    bool // the start of the marked period is pulled with the mouse
}

type mode int

const (
	looking mode = iota
	writingStart
	writingNew
	picking
)

// New is an empty page.
func New() page.Page { return &Page{} }

// SetSize gives the page its room.
func (p *Page) SetSize(w, h int) {
	p.h = h
	p.leaf.SetSize(w, h)
	p.draw()
}

// Show takes what is known now.
func (p *Page) Show(s page.Snapshot) {
	if s.Room != p.snap.Room {
		p.mode, p.fault, p.stand = looking, "", false
		p.leaf.Go(0)
	}
	was := p.marked()
	if s.At != "" && (s.At != p.snap.At || s.Room != p.snap.Room) {
		if i, ok := periodAt(s.At, s.Room); ok {
			was = i
		}
	}
	stale := s.Doc != p.snap.Doc || s.Project != p.snap.Project || s.Room != p.snap.Room
	p.snap, p.leaf.Theme = s, s.Theme
	p.room, p.have = s.RoomNow()
	if stale && s.Project != nil {
		p.glow = shine(s.Project, p.room)
	}
	if s.Project != nil && (len(p.dates) == 0 || p.place != s.Project.Home.Place || !p.today.Equal(s.Today)) {
		p.place, p.today = s.Project.Home.Place, s.Today
		p.dates, p.year = datesOf(s.Today, p.place), sunYear{}
	}
	p.draw()
	switch {
	case p.stand && p.goTo(p.standOn):
		p.stand = false
	case was >= 0:
		p.goToPeriod(was)
	}
	p.draw()
}

// periodAt is the period of a room that a path speaks of.
func periodAt(path, room string) (int, bool) {
	rest, ok := strings.CutPrefix(path, "rooms/"+room+"/brief/lighting/periods/")
	if !ok {
		return 0, false
	}
	first, _, _ := strings.Cut(rest, "/")
	i, err := strconv.Atoi(first)
	return i, err == nil
}

// Title names the page.
func (p *Page) Title() string { return "Day" }

func (p *Page) periods() []model.Period {
	if !p.have || !p.room.Brief.Lighting.Wanted() {
		return nil
	}
	return p.room.Brief.Lighting.Want.Periods
}

// marked is the period under the cursor, -1 when there is none.
func (p *Page) marked() int {
	if i := p.leaf.At(); i >= 0 && i < len(p.order) {
		return p.order[i].period
	}
	return -1
}

func (p *Page) goToPeriod(period int) {
	for i, s := range p.order {
		if s.period == period {
			p.leaf.Go(i)
		}
	}
}

func (p *Page) goTo(from q.DayTime) bool {
	for i, s := range p.order {
		if p.periods()[s.period].From == from {
			p.leaf.Go(i)
			return true
		}
	}
	return false
}

// draw makes head, rows and margin from the snapshot; View only puts them together.
func (p *Page) draw() {
	if p.leaf.Theme.R == nil {
		return
	}
	p.leaf.Aside = nil
	p.order = nil
	if why := p.nothing(); why != "" {
		p.leaf.Head = append([]string{""}, draw.Hang("  ", why, p.leaf.Inner())...)
		if p.mode == writingNew {
			p.leaf.Head = append(append(p.leaf.Head, ""), p.open()...)
		} else {
			p.mode = looking // what was changed here is gone, as with another version of the file
		}
		p.leaf.SetRows(nil)
		return
	}
	p.sun = p.dates[p.season].sun
	p.order = withAbsent(stretches(p.periods(), p.sun), len(p.periods()))
	p.leaf.SetRows(p.rows())
	p.leaf.Head = p.head()
	p.leaf.SetRows(p.rows())
	p.aside()
}

// nothing says why there is no day to show.
func (p *Page) nothing() string {
	switch {
	case !p.have:
		return "No room is open. Press 1 and choose one."
	case p.room.Brief.Lighting.State == model.Unasked:
		return "Nobody has been asked about light in this room yet. Press 2 for its interview, or 3 to set it down on its sheet."
	case p.room.Brief.Lighting.State == model.Declined:
		return "The household wants no light by itself in this room. Its sheet, on 3, has the line to change that."
	case len(p.periods()) == 0:
		return "Light is wanted here, but the day has no periods yet. Press n and write when the first one starts."
	}
	return ""
}

// View draws the page.
func (p *Page) View() string { return p.leaf.View() }

// Takes leaves the keys to the page while something is written or picked.
func (p *Page) Takes() page.Takes {
	if p.mode == looking {
		return page.Own
	}
	return page.Text
}

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	if p.mode != looking {
		return keys.WritingWith(p.mode == picking, p.mode == picking)
	}
	bs := keys.Ribbon.Copy()
	all := []keys.Command{
		keys.Earlier, keys.Later, keys.HourEarlier, keys.HourLater, keys.Brighter, keys.Dimmer, keys.Warmer,
		keys.Cooler, keys.PlainLamp, keys.Change, keys.Split, keys.Lamps, keys.Delete, keys.NewPeriod,
	}
	off := func(why string, dos ...keys.Command) {
		for _, do := range dos {
			keys.Off(bs, do, why)
		}
	}
	i := p.marked()
	switch {
	case p.snap.ReadOnly != "":
		off(p.snap.ReadOnly, all...)
	case !p.have:
		off("No room is open.", append(all, keys.Date)...)
	case !p.room.Brief.Lighting.Wanted():
		off("Light by itself is not wanted in this room.", append(all, keys.Date)...)
	case i < 0:
		off("The day has no periods yet.", all[:len(all)-1]...)
	default:
		pd := p.periods()[i]
		if len(p.periods()) == 1 {
			off("A day keeps at least one period; decline light on the sheet instead.", keys.Delete)
		}
		if len(p.room.Circuits) < 2 {
			off("The room has one lamp circuit.", keys.Lamps)
		}
		if pd.Level == 0 {
			off("The period leaves the light as it is; give it a level first.", keys.Warmer, keys.Cooler, keys.PlainLamp)
		} else if pd.Colour == 0 {
			off("The colour is as the lamp is already.", keys.PlainLamp)
		}
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	var a page.Action
	switch msg := msg.(type) {
	case tea.KeyMsg:
		a = p.key(msg)
	case tea.MouseMsg:
		if p.mode == looking {
			a = p.mouse(msg)
		}
	case page.Refused:
		a = page.Say{Text: fmt.Sprintf("Not changed: %v", msg.Err)}
	}
	p.draw()
	return a
}

func (p *Page) key(k tea.KeyMsg) page.Action {
	switch p.mode {
	case writingStart, writingNew:
		return p.write(k)
	case picking:
		return p.pickLamps(k)
	}
	return p.leaf.Take(k, p.Help(), p.do)
}
