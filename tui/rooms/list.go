package rooms

import (
	"fmt"
	"sort"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/interview"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/model/readback"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// entry is how far a room is: it follows from the document alone.
type entry struct {
	room     string // "" is the home itself
	asked    int
	answered int
	parked   int
	agreed   model.Agreed
	state    readback.State
	open     []open.Point
}

func (e entry) left() int { return e.asked - e.answered - e.parked }

// survey looks at the home and every room of a document.
func survey(s page.Snapshot) []entry {
	if s.Project == nil {
		return nil
	}
	out := []entry{count(s, "")}
	for _, r := range s.Project.Rooms {
		e := count(s, r.ID)
		e.agreed, e.state = readback.Agreement(s.Project, r.ID)
		out = append(out, e)
	}
	for _, o := range open.List(s.Project) {
		for i := range out {
			if out[i].room == o.Room {
				out[i].open = append(out[i].open, o)
			}
		}
	}
	return out
}

func count(s page.Snapshot, room string) entry {
	e := entry{room: room}
	for _, a := range interview.All(s.Doc, room) {
		e.asked++
		switch {
		case a.Answered:
			e.answered++
		case a.Parked:
			e.parked++
		}
	}
	return e
}

// line is a row of the list.
type line struct {
	entry
	name         string
	above, below string // neighbours on its floor
}

// drawList writes the home, then the rooms floor by floor from the top of the house down.
func (p *Page) drawList() {
	p.lines = nil
	t := p.leaf.Theme
	c := columnsFor(p.leaf.Inner(), p.totals(), p.widest())
	p.leaf.Head = []string{"  " + t.Faint.Render(c.row(draw.Planning(p.snap), "answered", "agreed", "devices", "cost", "open", ""))}
	var rows []draw.Row
	add := func(l line, r model.Room, kind string) {
		l.entry = p.entryOf(l.room)
		rows = append(rows, draw.Row{Text: p.text(c, l, kind), Item: len(p.lines), Note: p.note(l, r)})
		p.lines = append(p.lines, l)
	}
	home := "The home itself"
	add(line{name: home}, model.Room{}, "")
	for _, floor := range floors(p.snap.Project.Rooms) {
		rows = append(rows, draw.Row{Item: -1}, draw.Row{Text: t.Strong.Render(floorplan.Name(floor.number)), Item: -1})
		for i, r := range floor.rooms {
			l := line{entry: entry{room: r.ID}, name: r.Title()}
			if i > 0 {
				l.above = floor.rooms[i-1].ID
			}
			if i+1 < len(floor.rooms) {
				l.below = floor.rooms[i+1].ID
			}
			add(l, r, r.Kind)
		}
	}
	if len(p.snap.Project.Rooms) == 0 {
		rows = append(rows, draw.Row{Item: -1})
		for _, s := range draw.Wrap("No rooms yet. Press a to add the first one.", p.leaf.Inner()) {
			rows = append(rows, draw.Row{Text: s, Item: -1})
		}
	}
	p.aside()
	p.leaf.SetRows(rows)
}

func (p *Page) entryOf(room string) entry {
	for _, e := range p.entries {
		if e.room == room {
			return e
		}
	}
	return entry{room: room}
}

type floor struct {
	number int
	rooms  []model.Room
}

// floors from the top down; rooms keep the order in which they are walked.
func floors(rs []model.Room) []floor {
	var out []floor
next:
	for _, r := range rs {
		for i := range out {
			if out[i].number == r.Floor {
				out[i].rooms = append(out[i].rooms, r)
				continue next
			}
		}
		out = append(out, floor{r.Floor, []model.Room{r}})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].number > out[j].number })
	return out
}

// totals by room of the newest plan.
func (p *Page) totals() map[string]bill.Total {
	out := map[string]bill.Total{}
	if p.snap.Plan != nil {
		for _, t := range p.snap.Plan.Bill.Rooms {
			out[t.Room] = t
		}
	}
	return out
}

// columns are the widths of the list; the poorest columns go first when there is no room.
type columns struct {
	name, asked, agreed, devices, cost, open int
	totals                                   map[string]bill.Total
}

// widest is how wide the agreements are, no wider than a name with its day.
func (p *Page) widest() int {
	const least, most = 9, 17
	w := least
	for _, e := range p.entries {
		w = max(w, layout.Width(p.agreement(line{entry: e})))
	}
	return min(w, most)
}

func columnsFor(width int, totals map[string]bill.Total, agreed int) columns {
	c := columns{asked: 8, agreed: agreed, devices: 7, cost: 9, open: 4, totals: totals}
	for _, t := range totals {
		c.cost = max(c.cost, layout.Width(t.Amount.Plain()))
	}
	for _, drop := range []*int{nil, &c.devices, &c.open, &c.agreed, &c.cost, &c.asked} {
		if drop != nil {
			*drop = 0
		}
		rest := 0
		for _, w := range []int{c.asked, c.agreed, c.devices, c.cost, c.open} {
			if w > 0 {
				rest += w + 2
			}
		}
		if c.name = width - rest; c.name >= 16 {
			break
		}
	}
	c.name = max(c.name, 1)
	return c
}

func (c columns) row(name, asked, agreed, devices, cost, open, more string) string {
	s := layout.Fit(name, c.name, more)
	for _, col := range []struct {
		text  string
		w     int
		right bool
	}{{asked, c.asked, true}, {agreed, c.agreed, false}, {devices, c.devices, true}, {cost, c.cost, true}, {open, c.open, true}} {
		switch {
		case col.w == 0:
		case col.right:
			s += "  " + draw.Right(col.text, col.w, more)
		default:
			s += "  " + layout.Fit(col.text, col.w, more)
		}
	}
	return s
}

func (p *Page) text(c columns, l line, kind string) string {
	name := l.name
	if !strings.Contains(strings.ToLower(l.name), strings.ToLower(kind)) {
		name += ", " + kind
	}
	asked := fmt.Sprintf("%d of %d", l.answered, l.asked)
	devices, cost, open := "", "", ""
	if t, ok := c.totals[l.room]; ok {
		devices, cost = fmt.Sprint(t.Devices), t.Amount.Plain()
	}
	if n := len(l.open); n > 0 {
		open = fmt.Sprint(n)
	}
	return c.row(name, asked, p.agreement(l), devices, cost, open, p.leaf.Theme.Glyphs.More)
}

// agreement says it with a glyph and a word, never by colour alone.
func (p *Page) agreement(l line) string {
	g := p.leaf.Theme.Glyphs
	switch {
	case l.room == "":
		return ""
	case l.state == readback.Agreed:
		return g.Done + " " + p.person(l.agreed.By) + ", " + l.agreed.On.Format("2 Jan")
	case l.state == readback.Lapsed:
		return g.Open + " lapsed, " + l.agreed.On.Format("2 Jan")
	}
	return "  not yet"
}

func (p *Page) person(id string) string {
	if x, ok := p.snap.Project.Person(id); ok {
		return x.Title()
	}
	return id
}

// note is what is left to do in a room.
func (p *Page) note(l line, r model.Room) []string {
	asks := "Every question is answered or parked."
	switch left := l.left(); {
	case left == 1:
		asks = "One question is left to ask."
	case left > 1:
		asks = fmt.Sprintf("%d questions are left to ask.", left)
	}
	out := []string{asks}
	if r.Kind != "" {
		out[0] = "Kind: " + r.Kind + ". " + asks
	}
	if l.state == readback.Lapsed {
		out = append(out, fmt.Sprintf("Changed since %s agreed on %s; r reads it back.", p.person(l.agreed.By), l.agreed.On.Format("2 January 2006")))
	}
	if x, ok := p.snap.Proofs.Of(l.room); ok && len(x.Verdicts) > 0 {
		out = append(out, "Promises: "+page.Said(x.Tally())+".")
	}
	for _, o := range l.open {
		text := "Open: " + strings.TrimRight(o.Text, ".")
		if x, ok := p.snap.Open.Of(o.At); ok {
			text += ": " + x.Short(p.snap.Open.Currency)
		}
		out = append(out, text+".")
	}
	if r.Like != "" {
		if other, ok := p.snap.Project.Room(r.Like); ok {
			out = append(out, "Repeats "+other.Title()+"; what is changed here differs from it.")
		}
	}
	return out
}

// aside is the home in a few figures.
func (p *Page) aside() {
	p.leaf.Aside = nil
	agreed, open := 0, 0
	for _, e := range p.entries {
		open += len(e.open)
		if e.state == readback.Agreed {
			agreed++
		}
	}
	devices, cost, work := "", "", ""
	if p.snap.Plan != nil {
		b := p.snap.Plan.Bill
		cost = b.Total.In(b.Currency) + " with tax"
		devices = english.Some(len(b.Devices), "device")
		if work = "no work"; b.Minutes > 0 {
			work = q.Span(int64(b.Minutes)*60e9).Show(p.snap.Units) + " of work"
		}
	}
	p.leaf.Aside = []string{cost, devices, work, fmt.Sprintf("%s, %d agreed", english.Some(len(p.snap.Project.Rooms), "room"), agreed), english.Some(open, "open point") + ahead(open)}
	if t := p.snap.Proofs.Tally(); t.All() > 0 {
		p.leaf.Aside = append(p.leaf.Aside, "promises: "+page.Said(t))
	}
}

// ahead says how to see what is open, where something is.
func ahead(open int) string {
	if open == 0 {
		return ""
	}
	return "; 9 prices them"
}
