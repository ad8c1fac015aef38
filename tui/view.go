package tui

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/margin"
	"example.org/roombrief/tui/page"
)

// View draws exactly as many lines as the window has: a taller frame would lose its top.
func (r *root) View() string {
	if r.w <= 0 || r.h <= 0 {
		return ""
	}
	if r.frame.TooSmall {
		return r.tooSmall()
	}
	f, more := r.frame, r.theme.Glyphs.More
	hair := r.theme.Hair.Render(strings.Repeat(r.theme.Glyphs.Hair, f.Upper.W))
	lines := []string{r.header(), hair}
	lines = append(lines, layout.Fill(r.body(), f.Body.W, f.Body.H, more)...)
	lines = append(lines, hair, r.status(), r.footer())
	pad := strings.Repeat(" ", f.Body.X)
	for i, l := range lines {
		if l != "" {
			lines[i] = pad + l
		}
	}
	return r.inked(strings.Join(lines, "\n"))
}

// inked keeps a frame to what the terminal can show.
func (r *root) inked(frame string) string {
	if r.theme.Glyphs.Line {
		return frame
	}
	return layout.ASCII(frame)
}

func (r *root) body() []string {
	if r.over != nil {
		return r.over.lines(r, r.frame.Body.W, r.frame.Body.H)
	}
	if r.page == nil {
		return nil
	}
	return strings.Split(r.page.View(), "\n")
}

// tooSmall says so as well as it fits.
func (r *root) tooSmall() string {
	text := fmt.Sprintf("This window is %d by %d; the notebook needs %d by %d. Make it larger; all is kept.",
		r.w, r.h, layout.LeastWidth, layout.LeastHeight)
	if r.w*r.h < 150 {
		text = fmt.Sprintf("Too small: %d x %d needed. All is kept.", layout.LeastWidth, layout.LeastHeight)
	}
	return r.inked(strings.Join(layout.Fill(layout.Wrap(text, r.w), r.w, r.h, r.theme.Glyphs.More), "\n"))
}

// tab is a page's name in the header.
type tab struct {
	page     page.ID
	do       keys.Command
	key      string
	name     string
	from, to int // cells of the header line; to is excluded
}

// tabs are the names of the pages, set at the right end of the header where they fit.
func (r *root) tabs() []tab {
	if r.session == nil || r.frame.Header.W < 74 {
		return nil
	}
	all := []tab{
		{page: page.Rooms, do: keys.ToRooms, key: "1", name: "Rooms"},
		{page: page.Talk, do: keys.ToTalk, key: "2", name: "Interview"},
		{page: page.Sheet, do: keys.ToSheet, key: "3", name: "Brief"},
		{page: page.Ribbon, do: keys.ToDay, key: "4", name: "Day"},
		{page: page.Bill, do: keys.ToBill, key: "5", name: "Bill"},
		{page: page.Rules, do: keys.ToRules, key: "6", name: "Rules"},
		{page: page.Promises, do: keys.ToProof, key: "8", name: "Promises"},
	}
	for _, last := range []struct {
		from int
		tab
	}{
		{100, tab{page: page.Points, do: keys.ToPoints, key: "9", name: "Open"}},
		{110, tab{page: page.Plan, do: keys.ToPlan, key: "0", name: "Plan"}},
	} {
		switch {
		case r.frame.Header.W >= last.from:
			all = append(all, last.tab)
		case r.at.page == last.page:
			all[len(all)-1] = last.tab // the page in front is always named
		}
	}
	x, gap := r.frame.Header.W, r.gap()
	for i := len(all) - 1; i >= 0; i-- {
		w := len(all[i].key) + 1 + len(all[i].name)
		all[i].from, all[i].to = x-w, x
		x -= w + gap
	}
	return all
}

// gap is the cells between the names of two pages: a narrow header keeps its cells for where you are.
func (r *root) gap() int {
	if r.frame.Header.W < 90 {
		return 1
	}
	return 2
}

// header says where you are: the home, the room, the page.
func (r *root) header() string {
	t, w := r.theme, r.frame.Header.W
	tabs := r.tabs()
	if tabs == nil {
		title := t.Accent.Render(r.title())
		return layout.Ends(r.where(w-layout.Width(title)-2), title, w, t.Glyphs.More)
	}
	digits := r.page == nil || r.page.Takes() == page.Own
	var right []string
	for _, one := range tabs {
		key := one.key
		if !digits {
			key = " "
		}
		if r.here(one.page) {
			right = append(right, t.Accent.Render(t.Glyphs.Here+" "+one.name))
		} else {
			right = append(right, t.KeyCap.Render(key)+" "+t.KeyText.Render(one.name))
		}
	}
	return layout.Ends(r.where(tabs[0].from-2), strings.Join(right, strings.Repeat(" ", r.gap())), w, t.Glyphs.More)
}

// where names the home and the room in w cells; where both do not fit, the room.
func (r *root) where(w int) string {
	t := r.theme
	if r.session == nil {
		return t.Strong.Render("Roombrief")
	}
	home := r.session.project.Home.Name
	if home == "" {
		home = "The home"
	}
	room, ok := r.snapshot().RoomNow()
	if !ok || r.ofHome() {
		return t.Strong.Render(home)
	}
	if layout.Width(home)+3+layout.Width(room.Title()) > w {
		return t.Strong.Render(room.Title())
	}
	return t.Strong.Render(home) + t.Faint.Render(" "+t.Glyphs.Note+" ") + t.Text.Render(room.Title())
}

// here reports whether the page in front is id, or a part of it.
func (r *root) here(id page.ID) bool {
	return r.at.page == id || id == page.Talk && r.at.page == page.Readback || id == page.Promises && r.at.page == page.Story || id == page.Rooms && r.at.page == page.NewRoom || id == page.Bill && r.at.page == page.Supply
}

func (r *root) title() string {
	if p, ok := r.page.(page.Titled); ok {
		return p.Title()
	}
	return model.Titled(string(r.at.page))
}

// status is one line: what was just said, or what follows from the project; whether it is kept at its right.
func (r *root) status() string {
	t, w := r.theme, r.frame.Status.W
	kept := t.Faint.Render(r.kept())
	switch {
	case r.said.Alarm:
		return layout.Ends(t.Danger.Render(t.Glyphs.Broken+" "+sentence(r.said.Text)), kept, w, t.Glyphs.More)
	case r.said.Text != "":
		return layout.Ends(t.Text.Render(sentence(r.said.Text)), kept, w, t.Glyphs.More)
	case r.session == nil:
		return layout.Fit("", w, t.Glyphs.More)
	}
	s := r.snapshot()
	switch room := r.pointed(); room {
	case "":
		if r.ofHome() {
			s.Room = ""
		}
	case page.HomeItself:
		s.Room = ""
	default:
		s.Room = room
	}
	return layout.Ends(t.Faint.Render(margin.Line(s, w-layout.Width(kept)-2)), kept, w, t.Glyphs.More)
}

// ofHome reports whether the page in front is one of the home, and not of a room.
func (r *root) ofHome() bool {
	switch r.at.page {
	case page.Rooms, page.Bill, page.Supply, page.Points, page.NewRoom:
		return true
	}
	return false
}

// kept says in a word or two what a pulled plug would lose: nothing.
func (r *root) kept() string {
	s := r.session
	switch {
	case s == nil:
		return ""
	case s.readOnly != "":
		return "for reading only"
	case s.saver.fault != nil:
		return "not saved"
	case s.saver.clean:
		return "saved"
	}
	return "saving"
}

// footer lists as many keys as fit; `?` always does.
func (r *root) footer() string {
	t, w := r.theme, r.frame.Footer.W
	bs := r.bindings()
	if r.over != nil {
		bs = r.over.help()
	}
	var ask string
	var cells []string
	done := map[keys.Command]bool{}
	for _, b := range bs {
		if b.Text == "" || b.Do != "" && done[b.Do] {
			continue
		}
		done[b.Do] = true
		cell := t.KeyCap.Render(b.Printed(t.Glyphs.Line)) + " " + t.KeyText.Render(b.Text)
		if b.Off != "" {
			cell = t.Hair.Render("(" + b.Printed(t.Glyphs.Line) + " " + b.Text + ")")
		}
		if b.Do == keys.Help {
			ask = cell
			continue
		}
		cells = append(cells, cell)
	}
	return layout.Ends(spread(cells, w-layout.Width(ask)-2), ask, w, t.Glyphs.More)
}

// spread sets cells beside each other: three spaces apart where all fit so, else two, and as many as fit.
func spread(cells []string, w int) string {
	all := strings.Join(cells, "   ")
	if layout.Width(all) <= w {
		return all
	}
	line := ""
	for _, c := range cells {
		next := c
		if line != "" {
			next = line + "  " + c
		}
		if layout.Width(next) <= w {
			line = next
		}
	}
	return line
}
