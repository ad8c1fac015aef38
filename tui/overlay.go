package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/theme"
)

// overlay is a page that has to be answered or put away before the one behind it goes on.
type overlay interface {
	key(r *root, msg tea.KeyMsg) tea.Cmd
	mouse(r *root, msg tea.MouseMsg) tea.Cmd
	lines(r *root, w, h int) []string
	help() []keys.Binding
}

// scroll is the part of an overlay that may be longer than the window.
type scroll struct {
	first int
	shown int
	total int
}

func (s *scroll) move(by int) {
	s.first = max(0, min(s.first+by, s.total-s.shown))
}

// key moves; it answers whether the key was one of its own.
func (s *scroll) key(msg tea.KeyMsg) bool {
	switch msg.String() {
	case "up", "k":
		s.move(-1)
	case "down", "j":
		s.move(1)
	case "pgup":
		s.move(-s.shown)
	case "pgdown", " ":
		s.move(s.shown)
	case "home":
		s.move(-s.total)
	case "end":
		s.move(s.total)
	default:
		return false
	}
	return true
}

func (s *scroll) wheel(msg tea.MouseMsg) {
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		s.move(-3)
	case tea.MouseButtonWheelDown:
		s.move(3)
	}
}

// cut takes the lines that are seen in h lines, and says in the last one when there are more.
func (s *scroll) cut(t theme.Theme, all []string, h int) []string {
	s.total, s.shown = len(all), h
	if len(all) <= h {
		s.first = 0
		return all
	}
	s.shown = max(h-1, 1)
	s.move(0)
	out := append([]string(nil), all[s.first:s.first+s.shown]...)
	note := t.Glyphs.Down + " more below"
	if s.first+s.shown >= s.total {
		note = t.Glyphs.Up + " that was all"
	}
	return append(out, t.Faint.Render(note))
}

// ask is a question of the program itself: a heading, sentences, and answers on single keys.
type ask struct {
	head   string
	alarm  bool
	text   []string // paragraphs
	long   []string // finished lines under the answers, which scroll
	picks  []pick
	escape func(r *root) tea.Cmd // what Esc does; nil is nothing at all
	scroll scroll
}

type pick struct {
	key  string
	text string
	note string // what it means, under it
	do   func(r *root) tea.Cmd
}

func (a *ask) key(r *root, msg tea.KeyMsg) tea.Cmd {
	name := msg.String()
	if msg.Paste {
		return nil
	}
	for _, p := range a.picks {
		if p.key == name {
			r.over = nil
			return p.do(r)
		}
	}
	if name == "esc" && a.escape != nil {
		r.over = nil
		return a.escape(r)
	}
	a.scroll.key(msg)
	return nil
}

func (a *ask) mouse(_ *root, msg tea.MouseMsg) tea.Cmd {
	a.scroll.wheel(msg)
	return nil
}

func (a *ask) help() []keys.Binding {
	var bs []keys.Binding
	for _, p := range a.picks {
		bs = append(bs, keys.Binding{Keys: []string{p.key}, Cap: caps(p.key), Text: p.text})
	}
	return bs
}

func (a *ask) lines(r *root, w, h int) []string {
	t := r.theme
	wide := min(w, 76)
	head := t.Strong.Render(a.head)
	if a.alarm {
		head = t.Danger.Render(t.Glyphs.Broken + " " + a.head)
	}
	out := []string{"", head, ""}
	for _, p := range a.text {
		for _, l := range layout.Wrap(p, wide) {
			out = append(out, t.Text.Render(l))
		}
		out = append(out, "")
	}
	for _, p := range a.picks {
		out = append(out, "  "+t.KeyCap.Render(caps(p.key))+"  "+t.Text.Render(p.text))
		if p.note != "" {
			for _, l := range layout.Wrap(p.note, wide-5) {
				out = append(out, "     "+t.Faint.Render(l))
			}
		}
	}
	if len(a.long) > 0 {
		out = append(out, "")
		if room := h - len(out); room > 2 {
			out = append(out, a.scroll.cut(t, a.long, room)...)
		} else {
			out = a.scroll.cut(t, append(out, a.long...), h)
		}
	} else if len(out) > h {
		out = a.scroll.cut(t, out, h)
	}
	return out
}

// helpPage lists the keys of the page behind it.
type helpPage struct {
	groups []keys.Group
	scroll scroll
}

// help opens the list of keys.
func (r *root) help() tea.Cmd {
	all := r.bindings()
	mine := len(r.page.Help())
	r.over = &helpPage{groups: []keys.Group{
		{Page: r.title(), Bindings: all[:mine]},
		{Page: keys.Everywhere.Page, Bindings: all[mine:]},
	}}
	return nil
}

func (p *helpPage) key(r *root, msg tea.KeyMsg) tea.Cmd {
	if p.scroll.key(msg) || msg.Paste {
		return nil
	}
	switch msg.String() {
	case "esc", "?", "f1", "enter", "q":
		r.over = nil
	}
	return nil
}

func (p *helpPage) mouse(_ *root, msg tea.MouseMsg) tea.Cmd {
	p.scroll.wheel(msg)
	return nil
}

func (p *helpPage) help() []keys.Binding {
	bs := []keys.Binding{{Keys: []string{"esc"}, Cap: "Esc", Text: "close"}}
	if p.scroll.total > p.scroll.shown {
		bs = append(bs, keys.Binding{Keys: []string{"up", "down"}, Cap: "↑↓", Text: "scroll"})
	}
	return bs
}

func (p *helpPage) lines(r *root, w, h int) []string {
	t := r.theme
	capw := 0
	for _, g := range p.groups {
		for _, b := range g.Bindings {
			capw = max(capw, layout.Width(b.Printed(t.Glyphs.Line)))
		}
	}
	capw = min(capw, w/3)
	out := []string{""}
	for i, g := range p.groups {
		if i > 0 {
			out = append(out, "")
		}
		out = append(out, t.Strong.Render("Keys: "+g.Page), "")
		for j, b := range g.Bindings {
			if j > 0 && b.Cap != "" && b.Text == "" && strings.HasSuffix(g.Bindings[j-1].Cap, b.Cap) {
				continue // the other half of a pair that was just explained
			}
			text := b.Help
			if b.Off != "" {
				text += " Not now: " + sentence(b.Off)
			}
			for j, l := range layout.Wrap(text, w-capw-4) {
				cap := ""
				if j == 0 {
					cap = b.Printed(t.Glyphs.Line)
				}
				out = append(out, "  "+t.KeyCap.Render(layout.Fit(cap, capw, t.Glyphs.More))+"  "+t.Faint.Render(l))
			}
		}
	}
	return p.scroll.cut(t, out, h)
}
