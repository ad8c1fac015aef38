package ribbon

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

const (
	step   = 5 // minutes of an arrow key
	warm   = 1800
	cool   = 6500
	middle = 2700
)

func (p *Page) do(do keys.Command) page.Action {
	switch do {
	case keys.Earlier:
		return p.moveStart(-step)
	case keys.Later:
		return p.moveStart(step)
	case keys.HourEarlier:
		return p.moveStart(-60)
	case keys.HourLater:
		return p.moveStart(60)
	case keys.Brighter:
		return p.changeLevel(1)
	case keys.Dimmer:
		return p.changeLevel(-1)
	case keys.Warmer:
		return p.changeColour(-100)
	case keys.Cooler:
		return p.changeColour(100)
	case keys.PlainLamp:
		return p.change(func(pd *model.Period) { pd.Colour = 0 }, "colour")
	case keys.Change:
		p.mode, p.fault = writingStart, ""
		p.field.Set(p.periods()[p.marked()].From.String())
	case keys.NewPeriod:
		p.mode, p.fault = writingNew, ""
		p.field.Set("")
	case keys.Split:
		return p.split()
	case keys.Lamps:
		p.mode, p.pick = picking, 0
	case keys.Delete:
		return p.remove()
	case keys.Date:
		p.season = (p.season + 1) % len(p.dates)
	case keys.NextRoom:
		return p.turn(1)
	case keys.PrevRoom:
		return p.turn(-1)
	}
	return nil
}

func (p *Page) turn(by int) page.Action {
	if id := draw.RoomBeside(p.snap.Project, p.snap.Room, by); id != "" {
		return page.Goto{Page: page.Ribbon, Room: id}
	}
	return page.Say{Text: "There is no room beyond this one."}
}

// moveStart moves the start of the marked period, up to five minutes from its neighbours.
func (p *Page) moveStart(by int) page.Action {
	at, ss := p.leaf.At(), stretches(p.periods(), p.sun)
	if at >= len(ss) {
		return page.Say{Text: "This period does not come on the day shown. Press d for another day, or Enter to write its start."}
	}
	s := ss[at]
	pd := p.periods()[s.period]
	want := by
	if off := ((int(pd.From.Offset.Minutes()) % step) + step) % step; off != 0 && by*by == step*step {
		want = -off
		if by > 0 {
			want = step - off
		}
	}
	if len(ss) > 1 {
		before := ss[(at+len(ss)-1)%len(ss)].from
		room := wrap(s.from-before) - step // towards the one before
		after := s.to - s.from - step
		want = max(min(want, after), -room)
	}
	if want == 0 || want*by < 0 {
		return page.Say{Text: "The next period is five minutes away; remove it, or move it first."}
	}
	from := pd.From
	from.Offset += time.Duration(want) * time.Minute
	if from.Sun == q.NoSun {
		from.Offset = time.Duration(wrap(int(from.Offset.Minutes()))) * time.Minute
	}
	p.standOn, p.stand = from, true
	return p.change(func(pd *model.Period) { pd.From = from }, "start")
}

func (p *Page) changeLevel(by int) page.Action {
	now := float64(p.periods()[p.marked()].Level)
	next := now + float64(by)
	if now > 10 || now == 10 && by > 0 {
		grid := float64(int(now/5)) * 5
		switch {
		case by > 0:
			next = grid + 5
		case grid < now:
			next = grid
		default:
			next = grid - 5
		}
	}
	next = max(min(next, 100), 0)
	if next == now {
		return nil
	}
	return p.change(func(pd *model.Period) { pd.Level = q.Percent(next) }, "level")
}

func (p *Page) changeColour(by int) page.Action {
	now := int(p.periods()[p.marked()].Colour)
	next := max(min((now/100)*100+by, cool), warm)
	if now == 0 {
		next = middle
	}
	if next == now {
		return page.Say{Text: fmt.Sprintf("Lamps are made from %d K to %d K.", warm, cool)}
	}
	return p.change(func(pd *model.Period) { pd.Colour = q.ColourTemp(next) }, "colour")
}

func (p *Page) base() string { return "rooms/" + p.room.ID + "/brief/lighting/periods" }

// change edits the marked period.
func (p *Page) change(set func(*model.Period), what string) page.Action {
	i := p.marked()
	was := p.periods()[i]
	now := was
	now.Circuits = slices.Clone(was.Circuits)
	set(&now)
	edit := page.Edit{Label: what + " of the " + was.From.Show(p.snap.Units) + " period", Join: true}
	if what == "start" {
		edit.Label = "start of a period"
	}
	at := p.base() + "/" + strconv.Itoa(i)
	edit.At = at
	field := func(name string, same bool, value string) {
		switch {
		case same:
		case value == "":
			edit.Edits = append(edit.Edits, projectfile.Remove(at+"/"+name))
		default:
			edit.Edits = append(edit.Edits, projectfile.Set(at+"/"+name, value))
		}
	}
	field("from", was.From == now.From, quoted(now.From.String()))
	field("level", was.Level == now.Level, now.Level.String())
	field("colour", was.Colour == now.Colour, colourText(now.Colour))
	field("circuits", slices.Equal(was.Circuits, now.Circuits), listText(now.Circuits))
	return edit
}

func colourText(c q.ColourTemp) string {
	if c == 0 {
		return ""
	}
	return c.String()
}

func listText(ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	return "[" + strings.Join(ids, ", ") + "]"
}

// quoted protects a clock time that older YAML readers take for a number in base sixty.
func quoted(t string) string {
	if strings.Contains(t, ":") && t[0] >= '1' && t[0] <= '9' {
		return strconv.Quote(t)
	}
	return t
}

// periodYAML writes a period as an item of a flow list.
func periodYAML(pd model.Period) string {
	s := "{from: " + quoted(pd.From.String()) + ", level: " + pd.Level.String()
	if pd.Colour != 0 {
		s += ", colour: " + pd.Colour.String()
	}
	if len(pd.Circuits) > 0 {
		s += ", circuits: " + listText(pd.Circuits)
	}
	return s + "}"
}

// split starts a second half with the same light in the middle of the marked period.
func (p *Page) split() page.Action {
	ss := stretches(p.periods(), p.sun)
	at := p.leaf.At()
	if at >= len(ss) {
		return page.Say{Text: "This period does not come on the day shown, so it has no middle. Press d for another day."}
	}
	s := ss[at]
	middle := (s.from + s.to) / 2 / step * step
	if middle-s.from < step || s.to-middle < step {
		return page.Say{Text: "The period is too short to split."}
	}
	return p.insert(q.DayTime{Offset: time.Duration(wrap(middle)) * time.Minute}, "split of a period")
}

// insert puts a period with the light of the one that runs then into the list, in the order of the day.
func (p *Page) insert(from q.DayTime, label string) page.Action {
	ps := p.periods()
	fresh := model.Period{Level: 60}
	to := len(ps)
	if m, ok := p.sun.Minute(from); ok {
		for _, s := range stretches(ps, p.sun) {
			if s.from <= m && m < s.to || m+day < s.to {
				fresh = ps[s.period]
				fresh.Circuits = slices.Clone(fresh.Circuits)
				to = s.period + 1
			}
		}
	}
	fresh.From = from
	p.standOn, p.stand = from, true
	edit := page.Edit{Label: label}
	edit.Edits = []projectfile.Edit{projectfile.Append(p.base(), periodYAML(fresh))}
	if to < len(ps) {
		edit.Edits = append(edit.Edits, projectfile.Move(p.base()+"/"+strconv.Itoa(len(ps)), to))
	}
	return edit
}

func (p *Page) remove() page.Action {
	i := p.marked()
	return page.Edit{
		Label: "removal of the " + p.periods()[i].From.Show(p.snap.Units) + " period",
		At:    p.base() + "/" + strconv.Itoa(i),
		Edits: []projectfile.Edit{projectfile.Remove(p.base() + "/" + strconv.Itoa(i))},
	}
}

// write passes a key to the field that a start is written in.
func (p *Page) write(k tea.KeyMsg) page.Action {
	switch k.Type {
	case tea.KeyEsc:
		p.mode, p.fault = looking, ""
		return nil
	case tea.KeyEnter:
		return p.written()
	}
	if p.field.Key(k) {
		p.fault = ""
	}
	return nil
}

func (p *Page) written() page.Action {
	var from q.DayTime
	if err := from.UnmarshalText([]byte(p.field.Text())); err != nil {
		p.fault = err.Error()
		return nil
	}
	m, comes := p.sun.Minute(from)
	for _, s := range p.order {
		if p.mode == writingStart && s.period == p.marked() {
			continue
		}
		if comes && s.from == m || p.periods()[s.period].From == from {
			p.fault = "Another period starts at that moment already."
			return nil
		}
	}
	was := p.mode
	p.mode, p.fault = looking, ""
	if was == writingNew {
		return p.insert(from, "new period")
	}
	if p.periods()[p.marked()].From == from {
		return nil
	}
	p.standOn, p.stand = from, true
	return p.change(func(pd *model.Period) { pd.From = from }, "start")
}
