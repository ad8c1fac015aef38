package talk

import (
	"fmt"
	"slices"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/margin"
)

// ending is the page after the last question.
func (p *Page) ending(s *sheet, w int) {
	t := p.s.Theme
	where := "the home"
	if room, ok := p.s.RoomNow(); ok {
		where = room.Title()
	}
	s.put(-1, t.Accent.Render(english.Upper(where)))
	s.put(-1, "")
	head := "That was every question."
	if n, _ := p.parked(); n == 1 {
		head = "That was every question; one is parked."
	} else if n > 1 {
		head = fmt.Sprintf("That was every question; %d are parked.", n)
	}
	if p.room == "" && len(p.s.Project.Rooms) == 0 {
		head = "That is the home. Now the rooms, one by one, as you walk through them."
	}
	for _, l := range layout.Wrap(head, min(w, measure)) {
		s.put(-1, t.Strong.Render(l))
	}
	s.put(-1, "")
	for i, e := range p.ends() {
		mark, label := "  ", t.Text.Render(e.text)
		if i == p.mark {
			mark, label, s.focus = t.Accent.Render(t.Glyphs.Here)+" ", t.Accent.Render(e.text), len(s.lines)
		}
		p.row(s, i, mark+t.KeyCap.Render(e.key)+"  "+label, e.note, w)
	}
	p.before(s, w)
}

// before is what to look at before leaving: in this room, at the end of the home in all of it.
func (p *Page) before(s *sheet, w int) {
	t, o := p.s.Theme, p.s.Open
	if len(margin.Points(p.s.Project, p.room)) == 0 {
		return
	}
	s.put(-1, "", t.Strong.Render(open.Head))
	var looks []open.Look
	if o != nil {
		looks = slices.DeleteFunc(slices.Clone(o.Looks), func(l open.Look) bool { return p.room != "" && l.Room != p.room })
	}
	switch {
	case len(looks) == 0 && p.s.Weighing:
		s.put(-1, t.Faint.Render("Working out what hangs on what nobody knows"+t.Glyphs.More))
	case len(looks) == 0:
		for _, l := range layout.Wrap("Nothing. What is open here changes neither the bill nor a promise, whatever the answer.", min(w, measure)) {
			s.put(-1, t.Faint.Render(l))
		}
	}
	for _, l := range looks {
		text := english.Upper(l.Words)
		if r, ok := p.s.Project.Room(l.Room); ok && p.room == "" {
			text = r.Title() + ": " + l.Words
		}
		for i, line := range layout.Wrap(text+": "+l.Short(o.Currency)+".", min(w-2, measure)) {
			mark := "  "
			if i == 0 {
				mark = t.Glyphs.Open + " "
			}
			s.put(-1, mark+t.Text.Render(line))
		}
	}
}
