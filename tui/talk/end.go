package talk

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/english"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/margin"
	"example.org/roombrief/tui/page"
)

// ending is one way on from the end of a room.
type ending struct {
	key  string
	text string
	note string
	do   func(p *Page) page.Action
}

func goTo(to page.Goto) func(*Page) page.Action {
	return func(*Page) page.Action { return to }
}

// ends are the ways on, the likeliest first.
func (p *Page) ends() []ending {
	var out []ending
	add := ending{key: "a", text: "Add a room", note: "by its kind", do: goTo(page.Goto{Page: page.NewRoom})}
	next, more := p.nextRoom()
	goOn := ending{key: "n", text: "On to the " + english.Lower(next.name), note: "which has questions left",
		do: goTo(page.Goto{Page: page.Talk, Room: next.id})}
	if p.room != "" {
		out = append(out, ending{key: "r", text: "Read the brief back", note: "until the household says: yes, that",
			do: goTo(page.Goto{Page: page.Readback})})
	}
	if _, left := interview.Next(p.s.Doc, ""); left && p.room != "" {
		out = append(out, ending{key: "h", text: "On to the home", note: "which has questions left",
			do: goTo(page.Goto{Page: page.Talk, Room: page.HomeItself})})
	}
	if p.room == "" && !more {
		out = append(out, add)
	}
	if more {
		out = append(out, goOn)
	}
	if p.room != "" || more {
		out = append(out, add)
	}
	if n := len(margin.Points(p.s.Project, p.room)); n > 0 {
		out = append(out, ending{key: "o", text: fmt.Sprintf("What nobody knows yet (%d)", n), note: "what to look at before you leave, and why",
			do: goTo(page.Goto{Page: page.Points})})
	}
	if n, at := p.parked(); n > 0 {
		out = append(out, ending{key: "p", text: fmt.Sprintf("Look at what is parked (%d)", n),
			do: func(p *Page) page.Action { p.ask(at); return nil }})
	}
	if len(p.qs) > 0 {
		out = append(out, ending{key: "f", text: "From the first question again", note: "answers stay until others are given",
			do: func(p *Page) page.Action { p.ask(0); return nil }})
	}
	return append(out, ending{key: "l", text: "To the list of rooms", do: goTo(page.Goto{Page: page.Rooms})})
}

// parked counts the parked questions and finds the first.
func (p *Page) parked() (n, first int) {
	first = -1
	for i, q := range p.qs {
		if q.Parked && !q.Answered {
			if n++; first < 0 {
				first = i
			}
		}
	}
	return n, first
}

type named struct{ id, name string }

// nextRoom is the first room after this one, round the list, that has a question open.
func (p *Page) nextRoom() (named, bool) {
	if p.next.doc != p.doc || p.next.room != p.room {
		to, ok := roomWithQuestions(p.s, p.room)
		p.next = onward{p.doc, p.room, to, ok}
	}
	return p.next.to, p.next.ok
}

// onward remembers which room comes next: finding out asks every room.
type onward struct {
	doc  *projectfile.Document
	room string
	to   named
	ok   bool
}

func roomWithQuestions(s page.Snapshot, after string) (named, bool) {
	rooms := s.Project.Rooms
	start := 0
	for i, r := range rooms {
		if r.ID == after {
			start = i + 1
		}
	}
	for i := range rooms {
		r := rooms[(start+i)%len(rooms)]
		if r.ID == after {
			continue
		}
		if _, open := interview.Next(s.Doc, r.ID); open {
			return named{r.ID, r.Title()}, true
		}
	}
	return named{}, false
}

func (p *Page) endKey(msg tea.KeyMsg) page.Action {
	ends := p.ends()
	for i, e := range ends {
		if !msg.Paste && msg.String() == e.key {
			return p.end(i)
		}
	}
	b, ok := keys.TalkEnd.Of(msg)
	if !ok {
		return p.stray(msg)
	}
	switch b.Do {
	case keys.Up:
		p.mark = max(p.mark-1, 0)
	case keys.Down:
		p.mark = min(p.mark+1, len(ends)-1)
	case keys.Take:
		return p.end(p.mark)
	default:
		return p.common(b.Do)
	}
	return nil
}

func (p *Page) end(i int) page.Action {
	ends := p.ends()
	if i < 0 || i >= len(ends) {
		return nil
	}
	p.mark = i
	return ends[i].do(p)
}
