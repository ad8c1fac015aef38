// Package floorpage is the plan of a floor: rooms to scale, doors, devices, what sensors of people see, and how well the radio of each
// room is heard, with notes on the room that is chosen.
package floorpage

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// Page is the plan.
type Page struct {
	snap   page.Snapshot
	w, h   int
	number int    // of the floor
	room   string // that is chosen
	turn   int    // 1 turned, -1 not, 0 as it fits
	closer int    // steps nearer than what fits
	scroll int    // of the notes

	made  made
	floor floorplan.Floor
	plot  plot
	notes []note // of the chosen room
	about string // room that they are about
}

// made is what the floor was made from; while it stays, so does the floor.
type made struct {
	project *model.Project
	plan    *planner.Plan
	number  int
}

// plot is a drawing that stays while what it shows does.
type plot struct {
	arrangement
	made
	room   string
	w, h   int
	sheet  sheet
	canvas *canvas
	x, y   int // first cell seen
}

// New is an empty page.
func New() page.Page { return &Page{} }

// SetSize gives the page its room.
func (p *Page) SetSize(w, h int) { p.w, p.h = w, h }

// Show takes what is known now.
func (p *Page) Show(s page.Snapshot) {
	other := s.Room != p.snap.Room || p.snap.Project == nil
	p.snap = s
	if s.Project == nil {
		return
	}
	if _, ok := s.Project.Room(p.room); other || !ok {
		p.choose(s.Room)
	}
	p.refresh()
}

// choose stands on a room, or on the first one.
func (p *Page) choose(id string) {
	r, ok := p.snap.Project.Room(id)
	if !ok {
		if len(p.snap.Project.Rooms) == 0 {
			p.room = ""
			return
		}
		r = p.snap.Project.Rooms[0]
	}
	p.room, p.number, p.scroll = r.ID, r.Floor, 0
}

// refresh makes the floor anew when it is another one, or when what it was made from has changed.
func (p *Page) refresh() {
	now := made{p.snap.Project, p.snap.Plan, p.number}
	if p.made == now || p.snap.Project == nil {
		return
	}
	p.made, p.about = now, "\x00"
	p.floor = floorplan.Of(p.snap.Project, p.snap.Catalogue, p.snap.Plan, p.number)
}

// Title names the page.
func (p *Page) Title() string { return "Plan" }

// Pointing is the room that is chosen.
func (p *Page) Pointing() string { return p.room }

// Takes leaves letters to the globals.
func (p *Page) Takes() page.Takes { return page.Own }

// Help is the keys that work now.
func (p *Page) Help() []keys.Binding {
	bs := keys.Plan.Copy()
	if p.snap.Project == nil || len(p.snap.Project.Rooms) == 0 {
		for i := range bs {
			bs[i].Off = "There is no room yet; press 1 and add one."
		}
		return bs
	}
	if len(floorplan.Numbers(p.snap.Project)) < 2 {
		keys.Off(bs, keys.NextPart, "All rooms are on one floor.")
		keys.Off(bs, keys.PrevPart, "All rooms are on one floor.")
	}
	return bs
}

// Update takes keys and the mouse.
func (p *Page) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.MouseMsg:
		return p.mouse(msg)
	case tea.KeyMsg:
		b, ok := keys.Find(p.Help(), msg)
		switch {
		case !ok:
		case b.Off != "":
			return page.Say{Text: b.Off}
		default:
			return p.do(b.Do)
		}
	}
	return nil
}

func (p *Page) do(do keys.Command) page.Action {
	switch do {
	case keys.Up, keys.Down, keys.Left, keys.Right:
		p.step(do)
	case keys.NextPart:
		p.storey(1)
	case keys.PrevPart:
		p.storey(-1)
	case keys.Closer:
		p.closer = min(p.closer+1, 8)
	case keys.Farther:
		p.closer = max(p.closer-1, -6)
	case keys.TurnPlan:
		p.turn = 1
		if p.plot.turned {
			p.turn = -1
		}
	case keys.PageDn:
		p.scroll += max(p.plot.noteH-2, 1)
	case keys.PageUp:
		p.scroll = max(p.scroll-max(p.plot.noteH-2, 1), 0)
	case keys.Take:
		return page.Goto{Page: page.Sheet, Room: p.room}
	case keys.PrevRoom, keys.NextRoom:
		s := p.snap
		s.Room = p.room
		return draw.Beside(s, page.Plan, do)
	}
	return nil
}

// mouse chooses the room that is clicked, opens it on a second click, and scrolls the notes.
func (p *Page) mouse(m tea.MouseMsg) page.Action {
	switch {
	case m.Button == tea.MouseButtonWheelUp:
		p.scroll = max(p.scroll-2, 0)
	case m.Button == tea.MouseButtonWheelDown:
		p.scroll += 2
	case m.Button == tea.MouseButtonLeft && m.Action == tea.MouseActionPress && p.plot.canvas != nil:
		x, y := m.X+p.plot.x, m.Y-1+p.plot.y
		for i, b := range p.plot.sheet.boxes {
			if x < b.x0 || x > b.x1 || y < b.y0 || y > b.y1 || m.X >= p.plot.planW {
				continue
			}
			if id := p.floor.Rooms[i].ID; id != p.room {
				p.choose(id)
				return nil
			}
			return page.Goto{Page: page.Sheet, Room: p.room}
		}
	}
	return nil
}

// View draws the page.
func (p *Page) View() string {
	if p.w < 1 || p.h < 1 || p.snap.Project == nil {
		return ""
	}
	t := p.snap.Theme
	if len(p.snap.Project.Rooms) == 0 {
		return strings.Join(layout.Fill([]string{"", "  There is no room yet. Press 1 and add one."}, p.w, p.h, t.Glyphs.More), "\n")
	}
	p.redraw()
	lines := append([]string{p.head()}, p.body()...)
	return strings.Join(layout.Fill(lines, p.w, p.h, t.Glyphs.More), "\n")
}

// redraw makes the drawing anew when it shows something else than before.
func (p *Page) redraw() {
	loose := len(p.looseLines(p.w))
	a := arrange(&p.floor, p.w, p.h-1-loose, p.turn, p.closer)
	if p.about != p.room {
		p.about, p.notes = p.room, nil
		if r := p.floor.Room(p.room); r != nil {
			p.notes = notesOf(p.snap, &p.floor, r)
		}
	}
	l := &p.plot
	if l.canvas != nil && l.arrangement == a && l.made == p.made && l.room == p.room && l.w == p.w && l.h == p.h {
		return
	}
	l.arrangement, l.made, l.room, l.w, l.h = a, p.made, p.room, p.w, p.h
	l.sheet = layFit(&p.floor, a)
	l.canvas = drawn(&l.sheet, p.room, p.snap.Theme)
	p.follow()
}

// follow moves the window over the drawing so that the chosen room is seen.
func (p *Page) follow() {
	l := &p.plot
	for i, b := range l.sheet.boxes {
		if p.floor.Rooms[i].ID == p.room {
			l.x = window(l.x, l.planW, l.canvas.w, b.x0, b.x1)
			l.y = window(l.y, l.planH, l.canvas.h, b.y0, b.y1)
			return
		}
	}
	l.x, l.y = window(l.x, l.planW, l.canvas.w, 0, 0), window(l.y, l.planH, l.canvas.h, 0, 0)
}

// window is the first cell of n to show of all so that those from a to b are seen, near the middle where it has to move.
func window(first, n, all, a, b int) int {
	switch {
	case all <= n:
		return 0
	case b-a >= n:
		return min(a, all-n) // where its name stands
	}
	if a < first || b >= first+n {
		first = (a+b)/2 - n/2
	}
	return min(max(first, 0), all-n)
}

// head is one line over the plan: the floor, the scale, what is out of sight.
func (p *Page) head() string {
	t, l := p.snap.Theme, &p.plot
	numbers := floorplan.Numbers(p.snap.Project)
	left := floorplan.Name(p.number)
	if len(numbers) > 1 {
		left += fmt.Sprintf(", %d of %d", slices.Index(numbers, p.number)+1, len(numbers))
	}
	var right []string
	if word := draw.Planning(p.snap); word != "" {
		right = append(right, word)
	}
	if l.canvas.w > l.planW || l.canvas.h > l.planH {
		right = append(right, "a part of it")
	}
	if l.turned {
		right = append(right, "turned left")
	}
	if len(p.floor.Rooms) > 0 {
		right = append(right, scaleText(l.perCol, p.snap.Units))
	}
	return layout.Ends(t.Strong.Render(left), t.Faint.Render(strings.Join(right, ", ")), p.w, t.Glyphs.More)
}

// body is the plan with its notes.
func (p *Page) body() []string {
	t, l := p.snap.Theme, &p.plot
	plan := l.canvas.lines(t, l.x, l.y, l.planW, l.planH)
	if len(p.floor.Rooms) == 0 {
		plan = []string{"", "No room of this floor has an outline yet."}
	}
	loose := p.looseLines(p.w)
	notes := p.noteLines(l.noteW, l.noteH)
	if l.below {
		out := layout.Fill(plan, l.planW, l.planH, t.Glyphs.More)
		out = append(out, loose...)
		out = append(out, t.Hair.Render(strings.Repeat(t.Glyphs.Hair, p.w)))
		return append(out, layout.Indent(notes, 2)...)
	}
	plan = layout.Fill(plan, l.planW, p.h-1-len(loose), t.Glyphs.More)
	plan = append(plan, loose...)
	bar := " " + t.Hair.Render(t.Glyphs.Bar) + " "
	for i := range plan {
		if i < len(notes) {
			plan[i] = layout.Fit(plan[i], l.planW, t.Glyphs.More) + bar + notes[i]
		} else {
			plan[i] = layout.Fit(plan[i], l.planW, t.Glyphs.More) + bar
		}
	}
	return plan
}

// noteLines are the notes from where they are scrolled to, with a word where more stand below.
func (p *Page) noteLines(w, h int) []string {
	t, name := p.snap.Theme, ""
	if r := p.floor.Room(p.room); r != nil {
		name = r.Title()
	}
	all := linesOf(p.snap, layout.Cut(name, w, t.Glyphs.More), p.notes, w, true)
	if len(all) <= h {
		p.scroll = 0
		return all
	}
	p.scroll = min(p.scroll, len(all)-h)
	out := slices.Clone(all[p.scroll : p.scroll+h])
	if p.scroll+h < len(all) && h > 1 {
		out[h-1] = t.Faint.Render("PgDn: more")
	}
	return out
}

// looseLines name the rooms of the floor that have no outline.
func (p *Page) looseLines(w int) []string {
	if len(p.floor.Loose) == 0 {
		return nil
	}
	t := p.snap.Theme
	var words []string
	for _, r := range p.floor.Loose {
		name := r.Title()
		if link := linkText(&r, 14, t); link != "" {
			name += " (" + link + ")"
		}
		if r.ID == p.room {
			name = t.Glyphs.Here + name
		}
		words = append(words, name)
	}
	lines := layout.Wrap("Without an outline: "+strings.Join(words, ", "), max(w-1, 8))
	if len(lines) > 3 {
		lines = append(lines[:2], layout.Cut(strings.Join(lines[2:], " "), w-1, t.Glyphs.More))
	}
	return lines
}
