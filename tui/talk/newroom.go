package talk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/english"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/margin"
	"example.org/roombrief/tui/page"
)

// Room adds a room: its kind on a single key, then a name that is offered.
type Room struct {
	s      page.Snapshot
	w, h   int
	kinds  []interview.RoomKind
	mark   int
	naming bool
	name   field.Field
	fault  string
	hits   []int
	top    int
}

// NewRoom makes the page.
func NewRoom() page.Page { return &Room{kinds: interview.Kinds()} }

// SetSize gives the cells to draw in.
func (p *Room) SetSize(w, h int) { p.w, p.h = w, h }

// Show takes what is known now; every visit begins with the kind.
func (p *Room) Show(s page.Snapshot) {
	if s.Doc != p.s.Doc {
		p.naming, p.fault = false, ""
	}
	p.s = s
}

// Takes says that letters are kinds, or the name.
func (p *Room) Takes() page.Takes {
	if p.naming {
		return page.Text
	}
	return page.Letters
}

// Title names the page in the header.
func (p *Room) Title() string { return "A new room" }

// Help is the keys of the page.
func (p *Room) Help() []keys.Binding {
	bs := keys.NewRoom.Copy()
	if p.s.ReadOnly != "" {
		bs = keys.Off(bs, keys.Take, p.s.ReadOnly)
	}
	return bs
}

// Update takes a key or a click.
func (p *Room) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if p.naming {
			return p.nameKey(msg)
		}
		return p.key(msg)
	case tea.MouseMsg:
		p.mouse(msg)
	case page.Refused:
		p.fault = msg.Err.Error()
	}
	return nil
}

func (p *Room) key(msg tea.KeyMsg) page.Action {
	for i, k := range p.kinds {
		if !msg.Paste && msg.String() == k.Key {
			p.pick(i)
			return nil
		}
	}
	b, ok := keys.NewRoom.Of(msg)
	if !ok {
		if msg.Type == tea.KeyRunes && len(msg.Runes) == 1 && msg.Runes[0] != '?' {
			return page.Say{Text: "No kind of room is on " + string(msg.Runes) + "."}
		}
		return page.Pass{}
	}
	switch b.Do {
	case keys.Up:
		p.mark = max(p.mark-1, 0)
	case keys.Down:
		p.mark = min(p.mark+1, len(p.kinds)-1)
	case keys.Take:
		p.pick(p.mark)
	case keys.Leave:
		return page.Back{}
	}
	return nil
}

// pick takes a kind and offers a name that no room has yet.
func (p *Room) pick(i int) {
	p.mark, p.naming, p.fault = i, true, ""
	p.name.Propose(freeName(p.s, p.kinds[i].Name))
}

func freeName(s page.Snapshot, name string) string {
	taken := map[string]bool{}
	for _, r := range s.Project.Rooms {
		taken[r.Title()] = true
	}
	out := name
	for n := 2; taken[out]; n++ {
		out = fmt.Sprintf("%s %d", name, n)
	}
	return out
}

func (p *Room) nameKey(msg tea.KeyMsg) page.Action {
	b, ok := keys.NewRoom.Of(msg)
	switch {
	case ok && b.Do == keys.Take:
		return p.add()
	case ok && b.Do == keys.Leave:
		p.naming = false
	case !ok:
		p.name.Key(msg)
		p.fault = ""
	}
	return nil
}

func (p *Room) add() page.Action {
	name := p.name.Text()
	kind := p.kinds[p.mark]
	if name == "" {
		name = freeName(p.s, kind.Name)
	}
	doc, id, err := interview.AddRoom(p.s.Doc, kind.ID, name)
	if err != nil {
		p.fault = err.Error()
		return nil
	}
	p.naming = false
	return page.Replace{Doc: doc, Label: "adding " + name, Then: page.Goto{Page: page.Talk, Room: id}}
}

func (p *Room) mouse(msg tea.MouseMsg) {
	if msg.Action != tea.MouseActionPress || p.naming {
		return
	}
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		p.mark = max(p.mark-1, 0)
	case tea.MouseButtonWheelDown:
		p.mark = min(p.mark+1, len(p.kinds)-1)
	case tea.MouseButtonLeft:
		if msg.Y >= 0 && msg.Y < len(p.hits) && p.hits[msg.Y] >= 0 {
			p.pick(p.hits[msg.Y])
		}
	}
}

// View draws the kinds, or the name of the one that was taken.
func (p *Room) View() string {
	if p.w <= 0 || p.h <= 0 || p.s.Doc == nil {
		return ""
	}
	t := p.s.Theme
	bw, mw := layout.Columns(p.w)
	var s sheet
	if p.naming || p.h > len(p.kinds)+4 {
		s.put(-1, t.Accent.Render("A new room"), "")
	}
	if p.naming {
		s.put(-1, t.Strong.Render("What do you call this "+p.kinds[p.mark].ID+"?"), "")
		s.put(-1, t.Accent.Render(t.Glyphs.Here)+" "+p.name.View(t, bw-2), "")
		s.put(-1, "  "+t.Faint.Render("The papers print this name."))
		if p.fault != "" {
			s.put(-1, "", "  "+t.Strong.Render(english.Upper(p.fault)))
		}
	} else {
		p.kindLines(&s, bw)
	}
	s.seen(t, &p.top, p.h)
	p.hits = s.hits
	var notes []margin.Note
	if mw > 0 {
		notes = margin.Room(p.s, "", mw, 1)
	}
	return margin.Page(t, p.w, p.h, s.lines, notes)
}

func (p *Room) kindLines(s *sheet, w int) {
	t := p.s.Theme
	s.put(-1, t.Strong.Render("What kind of room is it?"))
	if p.h >= len(p.kinds)+6 {
		s.put(-1, "")
	}
	wide := 0
	for _, k := range p.kinds {
		wide = max(wide, layout.Width(k.Name))
	}
	for i, k := range p.kinds {
		mark, ink := "  ", t.Text
		if i == p.mark {
			mark, ink, s.focus = t.Accent.Render(t.Glyphs.Here)+" ", t.Accent, len(s.lines)
		}
		text := mark + t.KeyCap.Render(k.Key) + "  " + ink.Render(layout.Fit(k.Name, wide, t.Glyphs.More)) + "   " + t.Faint.Render(k.Note)
		s.put(i, layout.Cut(text, w, t.Glyphs.More))
	}
}
