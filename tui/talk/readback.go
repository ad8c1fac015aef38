package talk

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/readback"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/margin"
	"example.org/roombrief/tui/page"
)

// Back is a room's brief told back in sentences, until somebody of the household says: yes, that.
type Back struct {
	s     page.Snapshot
	w, h  int
	room  string
	said  []readback.Sentence
	by    []model.Person // who can agree
	mark  int
	top   int
	hits  []int
	state readback.State
	last  model.Agreed
	next  onward
}

// NewBack makes the page.
func NewBack() page.Page { return &Back{} }

// SetSize gives the cells to draw in.
func (p *Back) SetSize(w, h int) { p.w, p.h = w, h }

// Show takes what is known now.
func (p *Back) Show(s page.Snapshot) {
	if s.Room != p.room {
		p.mark, p.top, p.room = 0, 0, s.Room
	}
	same := p.s.Doc == s.Doc && p.s.Room == s.Room
	p.s = s
	if same {
		return
	}
	p.said = nil
	if _, ok := s.RoomNow(); ok {
		p.said = readback.Room(s.Project, s.Room)
		p.last, p.state = readback.Agreement(s.Project, s.Room)
	}
	p.by = nil
	for _, who := range s.Project.People {
		switch who.Role {
		case "pet", "neighbour", "child", "guest":
			continue
		}
		if len(p.by) < 9 {
			p.by = append(p.by, who)
		}
	}
	p.mark = min(p.mark, max(len(p.said)-1, 0))
}

// Takes says that digits are people.
func (p *Back) Takes() page.Takes { return page.Letters }

// Title names the page in the header.
func (p *Back) Title() string { return "Read-back" }

// Help is the keys of the page, with the people's own.
func (p *Back) Help() []keys.Binding {
	bs := keys.Readback.Copy()
	for i, who := range p.by {
		bs = append(bs, keys.Binding{Keys: []string{fmt.Sprint(i + 1)}, Cap: fmt.Sprint(i + 1), Do: keys.Agree,
			Help: who.Title() + " says: yes, that.", Off: p.s.ReadOnly})
	}
	if len(p.said) == 0 {
		bs = keys.Off(bs, keys.Take, "There is nothing to read back yet.")
	}
	if _, more := p.onward(); !more {
		bs = keys.Off(bs, keys.NextRoom, "No other room has questions left.")
	}
	return bs
}

func (p *Back) onward() (named, bool) {
	if p.next.doc != p.s.Doc || p.next.room != p.room {
		to, ok := roomWithQuestions(p.s, p.room)
		p.next = onward{p.s.Doc, p.room, to, ok}
	}
	return p.next.to, p.next.ok
}

// Update takes a key, a click or what came of an edit.
func (p *Back) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return p.key(msg)
	case tea.MouseMsg:
		return p.mouse(msg)
	case page.Refused:
		return page.Say{Text: msg.Err.Error()}
	}
	return nil
}

func (p *Back) key(msg tea.KeyMsg) page.Action {
	b, ok := keys.Find(p.Help(), msg)
	if !ok {
		return page.Pass{}
	}
	switch b.Do {
	case keys.Agree:
		return p.agree(int(b.Keys[0][0] - '1'))
	case keys.Up:
		p.mark = max(p.mark-1, 0)
	case keys.Down:
		p.mark = min(p.mark+1, max(len(p.said)-1, 0))
	case keys.Take:
		return p.change(p.mark)
	case keys.NextRoom:
		if next, more := p.onward(); more {
			return page.Goto{Page: page.Talk, Room: next.id}
		}
	case keys.AddRoom:
		return page.Goto{Page: page.NewRoom}
	case keys.Leave:
		return page.Goto{Page: page.Rooms}
	}
	return nil
}

// change goes to the question that a sentence came from.
func (p *Back) change(i int) page.Action {
	if i < 0 || i >= len(p.said) {
		return nil
	}
	return page.Goto{Page: page.Talk, At: p.said[i].Goal}
}

// agree notes who agreed, today.
func (p *Back) agree(i int) page.Action {
	if i < 0 || i >= len(p.by) || len(p.said) == 0 {
		return nil
	}
	who := p.by[i]
	doc, err := readback.Agree(p.s.Doc, p.room, who.ID, p.s.Today)
	if err != nil {
		return page.Say{Text: err.Error()}
	}
	return page.Several{
		page.Replace{Doc: doc, Label: who.Title() + "’s agreement"},
		page.Say{Text: "Agreed. It lapses by itself when the brief of this room changes."},
	}
}

func (p *Back) mouse(msg tea.MouseMsg) page.Action {
	if msg.Action != tea.MouseActionPress {
		return nil
	}
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		p.mark = max(p.mark-1, 0)
	case tea.MouseButtonWheelDown:
		p.mark = min(p.mark+1, max(len(p.said)-1, 0))
	case tea.MouseButtonLeft:
		if msg.Y < 0 || msg.Y >= len(p.hits) || p.hits[msg.Y] < 0 {
			return nil
		}
		i := p.hits[msg.Y]
		if i >= len(p.said) {
			return p.agree(i - len(p.said))
		}
		if i == p.mark {
			return p.change(i)
		}
		p.mark = i
	}
	return nil
}

// View draws the sentences, and who may agree to them below, always in sight.
func (p *Back) View() string {
	room, ok := p.s.RoomNow()
	if p.w <= 0 || p.h <= 0 || p.s.Doc == nil {
		return ""
	}
	t := p.s.Theme
	bw, mw := layout.Columns(p.w)
	if !ok {
		return margin.Page(t, p.w, p.h, []string{"", t.Text.Render("There is no room yet to read back.")}, nil)
	}
	var head, body, foot sheet
	head.put(-1, layout.Ends(t.Accent.Render(room.Title()), t.Faint.Render("as it was understood"), bw, t.Glyphs.More))
	p.sentences(&body, min(bw, measure+6))
	p.household(&foot, bw)
	h := max(p.h-len(head.lines)-len(foot.lines), 1)
	body.seen(t, &p.top, h)
	for i := range h {
		if i < len(body.lines) {
			head.put(body.hits[i], body.lines[i])
		} else {
			head.put(-1, "")
		}
	}
	for i, l := range foot.lines {
		head.put(foot.hits[i], l)
	}
	p.hits = head.hits
	var notes []margin.Note
	if mw > 0 {
		notes = margin.Room(p.s, p.room, mw, 1)
	}
	return margin.Page(t, p.w, p.h, head.lines, notes)
}

func (p *Back) sentences(s *sheet, w int) {
	t := p.s.Theme
	if len(p.said) == 0 {
		s.put(-1, "", t.Text.Render("Nothing has been asked of this room yet."))
		return
	}
	goal := ""
	for i, one := range p.said {
		if one.Goal != goal {
			goal = one.Goal
			s.put(-1, "")
		}
		mark, ink := "  ", t.Text
		if i == p.mark {
			mark, ink = t.Accent.Render(t.Glyphs.Here)+" ", t.Accent
		}
		head := ""
		if one.Caution {
			head = "Caution: "
		}
		for j, l := range layout.Wrap(head+strings.TrimPrefix(one.Text, head), w-2) {
			if rest, ok := strings.CutPrefix(l, head); ok && j == 0 && head != "" {
				s.put(i, mark+t.Danger.Render(strings.TrimSpace(head))+" "+ink.Render(rest))
				continue
			}
			if j > 0 {
				mark = "  "
			}
			s.put(i, mark+ink.Render(l))
		}
		if i == p.mark {
			s.focus = len(s.lines) - 1
		}
	}
}

// household says whether somebody agreed, and who may.
func (p *Back) household(s *sheet, w int) {
	t := p.s.Theme
	s.put(-1, t.Hair.Render(line(t.Glyphs.Hair, w)))
	who := p.last.By
	if person, ok := p.s.Project.Person(p.last.By); ok {
		who = person.Title()
	}
	day := p.last.On.Format("2 January 2006")
	switch p.state {
	case readback.Agreed:
		s.put(-1, t.Strong.Render(t.Glyphs.Done+" "+who+" said on "+day+": yes, that."))
	case readback.Lapsed:
		what := "the brief has"
		if goals := readback.Changed(p.s.Project, p.room); len(goals) > 0 {
			for i, g := range goals {
				goals[i] = readback.GoalWord(g)
			}
			what = english.List(goals) + " changed"
		} else {
			what += " changed"
		}
		for _, l := range layout.Wrap(t.Glyphs.Open+" Agreed by "+who+" on "+day+", and lapsed: "+what+" since.", w) {
			s.put(-1, t.Strong.Render(l))
		}
	default:
		s.put(-1, t.Strong.Render("Is that it? Nobody has agreed to it yet."))
	}
	if len(p.by) == 0 {
		s.put(-1, t.Faint.Render("Nobody of the household is named yet: the interview of the home asks who lives here."))
		return
	}
	line := t.Faint.Render("“Yes, that”, says:")
	for i, who := range p.by {
		line += "  " + t.KeyCap.Render(fmt.Sprint(i+1)) + " " + t.Text.Render(who.Title())
	}
	s.put(-1, layout.Cut(line, w, t.Glyphs.More))
}
