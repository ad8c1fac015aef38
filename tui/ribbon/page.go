package ribbon

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
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
	p.snap, p.leaf.Theme = s, s.Theme
	p.room, p.have = s.RoomNow()
	if s.Project != nil && (len(p.dates) == 0 || p.place != s.Project.Home.Place || !p.today.Equal(s.Today)) {
		p.place, p.today = s.Project.Home.Place, s.Today
		p.dates = datesOf(s.Today, p.place)
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

// withAbsent adds the periods that do not come on this date at the end, so that none is out of reach.
func withAbsent(ss []stretch, n int) []stretch {
	out := slices.Clone(ss)
	for i := range n {
		if !slices.ContainsFunc(ss, func(s stretch) bool { return s.period == i }) {
			out = append(out, stretch{period: i, from: Never, to: Never})
		}
	}
	return out
}

// head is the ribbon with white space round it, its tracks as tall as the page allows.
func (p *Page) head() []string {
	d := Day{Periods: p.periods(), Circuits: p.room.Circuits, Sun: p.sun, Cursor: p.marked(), Units: p.snap.Units}
	lines := max(min(len(p.order), 5), 3)
	if p.mode != looking {
		lines = 3
	}
	free := p.h - p.leaf.Fold() - 3 - lines
	n := max(len(tracks(d.Periods, d.Circuits, stretches(d.Periods, d.Sun))), 1)
	free--
	above, below := free >= n*4+2, free >= n*4+1
	if below {
		free--
	}
	if above {
		free--
	}
	d.Most = max(min(n, free/3), 1)
	if d.Most < n && d.Most > 1 && free < d.Most*3+1 {
		d.Most--
	}
	d.Rise = max(min((free-d.Most*2)/d.Most, 6), 1)
	d.Air = free-d.Most*(2+d.Rise) >= d.Most
	t, when := p.snap.Theme, p.dates[p.season].title()
	when = strings.ToUpper(when[:1]) + when[1:]
	out := []string{"  " + t.Faint.Render(layout.Ends(when, draw.Planning(p.snap), p.leaf.Inner(), t.Glyphs.More))}
	if above {
		out = append(out, "")
	}
	for _, s := range Ribbon(d, p.leaf.Inner(), t) {
		out = append(out, "  "+s)
	}
	if below {
		out = append(out, "")
	}
	return out
}

// rows is a line for each period, aligned, with what follows from it.
func (p *Page) rows() []draw.Row {
	if p.mode == picking {
		return p.lampRows()
	}
	ps := p.periods()
	var from, when, level, colour, lamps []string
	for _, s := range p.order {
		pd := ps[s.period]
		from = append(from, pd.From.Show(p.snap.Units))
		when = append(when, p.when(pd, s))
		l, c := lightWords(pd, p.snap.Units)
		level, colour = append(level, l), append(colour, c)
		lamps = append(lamps, lampWords(pd, p.room))
	}
	level = draw.Decimals(level)
	var out []draw.Row
	for i, s := range p.order {
		start := from[i]
		if p.mode == writingStart && i == p.leaf.At() {
			start = p.field.View(p.snap.Theme, 20)
		}
		text := layout.Fit(start, max(widest(from), 5), "") + "  " + layout.Fit(when[i], widest(when), "") + "  " +
			layout.Fit(level[i], widest(level), "") + "  " + layout.Fit(colour[i], widest(colour), "") + "  " + lamps[i]
		row := draw.Row{Text: text, Item: i, Note: p.note(s)}
		if p.mode == writingStart && i == p.leaf.At() {
			row.Text, row.Raw = "starts at "+start, true
		}
		out = append(out, row)
	}
	if p.mode == writingNew {
		out = append([]draw.Row{{Text: "new period, starts at " + p.field.View(p.snap.Theme, 20), Item: -1}}, out...)
	}
	if p.fault != "" {
		t := p.snap.Theme
		fault := draw.Row{Text: t.Strong.Render(t.Glyphs.Broken + " " + p.fault), Item: -1}
		at := 0
		if p.mode == writingStart {
			at = p.leaf.At()
		}
		out = slices.Insert(out, at+1, fault)
	}
	return out
}

func widest(col []string) int {
	w := 0
	for _, s := range col {
		w = max(w, layout.Width(s))
	}
	return w
}

// when is the stretch on this date: "to 15:45", or "15:45 to 22:45" for a sun time.
func (p *Page) when(pd model.Period, s stretch) string {
	if s.from == Never {
		return "not on this day"
	}
	to := "to " + clockIn(wrap(s.to), p.snap.Units)
	if pd.From.Sun != q.NoSun {
		return clockIn(s.from, p.snap.Units) + " " + to
	}
	return to
}

func lightWords(pd model.Period, u q.System) (level, colour string) {
	if pd.Level == 0 {
		return "0 %", "left as it is"
	}
	if pd.Colour == 0 {
		return pd.Level.Show(u), "as the lamp is"
	}
	return pd.Level.Show(u), pd.Colour.Show(u)
}

func lampWords(pd model.Period, r model.Room) string {
	if len(pd.Circuits) == 0 {
		return "all lamps"
	}
	return names(pd.Circuits)
}

// note is what follows from a period.
func (p *Page) note(s stretch) []string {
	pd := p.periods()[s.period]
	var out []string
	if s.from == Never {
		out = append(out, "On this day the sun gives no such moment, so the period before it goes on.")
	} else {
		out = append(out, "Lasts "+q.Span((s.to-s.from)*60*1e9).Show(p.snap.Units)+" on this day.")
	}
	if pd.From.Sun != q.NoSun {
		out = append(out, p.moves(pd.From))
	}
	if pd.Level == 0 {
		out = append(out, "At 0 % the room leaves its light as it is found.")
	}
	return out
}

// moves says where the year takes a sun time.
func (p *Page) moves(from q.DayTime) string {
	var parts []string
	for _, d := range p.dates[1:] {
		if m, ok := d.sun.Minute(from); ok {
			parts = append(parts, clockIn(m, p.snap.Units)+" at "+d.name)
		}
	}
	if len(parts) == 0 {
		return "It moves with the sun."
	}
	return "It moves with the sun: " + strings.Join(parts, ", ") + "."
}

func (p *Page) aside() {
	l := p.room.Brief.Lighting.Want
	var how []string
	if l.Start == "on request" {
		how = append(how, "Light comes when it is asked for")
	} else {
		how = append(how, "Light comes when somebody enters")
	}
	if l.Stop.After > 0 {
		how = append(how, "and goes "+l.Stop.After.Show(p.snap.Units)+" after the room is empty.")
	} else {
		how = append(how, "and stays until it is switched off.")
	}
	w := p.leaf.MarginWidth()
	p.leaf.Aside = draw.Wrap(strings.Join(how, " "), w)
	if nowhere(p.place) {
		p.leaf.Aside = append(p.leaf.Aside, draw.Wrap("Nobody wrote down where the home stands, so the sun is that of the equator.", w)...)
	}
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
	all := []keys.Command{keys.Earlier, keys.Later, keys.HourEarlier, keys.HourLater, keys.Brighter, keys.Dimmer, keys.Warmer,
		keys.Cooler, keys.PlainLamp, keys.Change, keys.Split, keys.Lamps, keys.Delete, keys.NewPeriod}
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
		off("no room is open", append(all, keys.Date)...)
	case !p.room.Brief.Lighting.Wanted():
		off("light by itself is not wanted in this room", append(all, keys.Date)...)
	case i < 0:
		off("the day has no periods yet", all[:len(all)-1]...)
	default:
		pd := p.periods()[i]
		if len(p.periods()) == 1 {
			off("a day keeps at least one period; decline light on the sheet instead", keys.Delete)
		}
		if len(p.room.Circuits) < 2 {
			off("the room has one lamp circuit", keys.Lamps)
		}
		if pd.Level == 0 {
			off("the period leaves the light as it is; give it a level first", keys.Warmer, keys.Cooler, keys.PlainLamp)
		} else if pd.Colour == 0 {
			off("the colour is as the lamp is already", keys.PlainLamp)
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
	b, ok := keys.Find(p.Help(), k)
	if !ok {
		return nil
	}
	if b.Off != "" {
		return page.Say{Text: b.Off}
	}
	if p.leaf.Drive(b.Do) {
		return nil
	}
	return p.do(b.Do)
}
