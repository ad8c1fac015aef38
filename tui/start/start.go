// Package start is the first page when no file was named: what was worked on lately, a new home, and the
// example homes, which are opened as copies.
package start

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/field"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// Recent is a project that was worked on before.
type Recent struct {
	File string
	When string // to print, "" when unknown
}

// Example is a home that can be opened as a copy.
type Example struct {
	File   string // name of the copy
	Name   string
	About  string
	Source []byte
}

// Options are what the page offers.
type Options struct {
	Recent   []Recent
	Examples []Example
	Taken    func(file string) bool   // whether there is such a file already
	Short    func(file string) string // a path as people read it
}

type entry struct {
	key   string
	name  string
	about string
	copy  []byte // of an example
	file  string // of a recent project, or proposed for a copy
	fresh bool   // a new home
}

// Page is the start page.
type Page struct {
	o       Options
	s       page.Snapshot
	w, h    int
	entries []entry
	mark    int
	asking  bool // for the file name
	file    field.Field
	fault   string
	hits    []int
}

// New makes the page.
func New(o Options) *Page {
	if o.Taken == nil {
		o.Taken = func(string) bool { return false }
	}
	if o.Short == nil {
		o.Short = func(file string) string { return file }
	}
	p := &Page{o: o}
	for i, r := range o.Recent {
		p.entries = append(p.entries, entry{key: fmt.Sprint(i + 1), name: o.Short(r.File), about: r.When, file: r.File})
	}
	p.entries = append(p.entries, entry{key: "n", name: "A new home", about: "an empty notebook", fresh: true, file: "home.yaml"})
	for i, e := range o.Examples {
		p.entries = append(p.entries, entry{key: string(rune('a' + i)), name: e.Name, about: e.About, copy: e.Source, file: e.File})
	}
	return p
}

// SetSize gives the cells to draw in.
func (p *Page) SetSize(w, h int) { p.w, p.h = w, h }

// Show takes the theme.
func (p *Page) Show(s page.Snapshot) { p.s = s }

// Takes says that letters and digits are lines, or the file name.
func (p *Page) Takes() page.Takes {
	if p.asking {
		return page.Text
	}
	return page.Letters
}

// Title names the page in the header.
func (p *Page) Title() string { return "Start" }

// Help is the keys of the page.
func (p *Page) Help() []keys.Binding {
	bs := keys.Start.Copy()
	if p.asking {
		return append(keys.Without(bs, keys.Up, keys.Down),
			keys.Binding{Do: keys.Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "back", Help: "Back to the list."})
	}
	return bs
}

// Update takes a key or a click.
func (p *Page) Update(msg tea.Msg) page.Action {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if p.asking {
			return p.nameKey(msg)
		}
		return p.key(msg)
	case tea.MouseMsg:
		return p.mouse(msg)
	}
	return nil
}

func (p *Page) key(msg tea.KeyMsg) page.Action {
	for i, e := range p.entries {
		if !msg.Paste && msg.String() == e.key {
			return p.pick(i)
		}
	}
	b, ok := keys.Start.Of(msg)
	if !ok {
		return page.Pass{}
	}
	switch b.Do {
	case keys.Up:
		p.mark = max(p.mark-1, 0)
	case keys.Down:
		p.mark = min(p.mark+1, len(p.entries)-1)
	case keys.Take:
		return p.pick(p.mark)
	}
	return nil
}

// pick opens a recent project, or asks for the file name of a copy or a new home.
func (p *Page) pick(i int) page.Action {
	p.mark, p.fault = i, ""
	e := p.entries[i]
	if !e.fresh && e.copy == nil {
		return page.Open{File: e.file}
	}
	p.asking = true
	p.file.Propose(p.free(e.file))
	return nil
}

// free is a file name near to the one wanted that nothing has yet.
func (p *Page) free(file string) string {
	ext := filepath.Ext(file)
	stem := strings.TrimSuffix(file, ext)
	out := file
	for n := 2; p.o.Taken(out) && n < 1000; n++ {
		out = fmt.Sprintf("%s-%d%s", stem, n, ext)
	}
	return out
}

func (p *Page) nameKey(msg tea.KeyMsg) page.Action {
	switch {
	case msg.Type == tea.KeyEnter:
		return p.create()
	case msg.Type == tea.KeyEsc:
		p.asking = false
	default:
		p.file.Key(msg)
		p.fault = ""
	}
	return nil
}

func (p *Page) create() page.Action {
	file := strings.TrimSpace(p.file.Text())
	if file == "" {
		p.fault = "Write a file name, or go back with Esc."
		return nil
	}
	if ext := filepath.Ext(file); ext != ".yaml" && ext != ".yml" {
		file += ".yaml"
	}
	if p.o.Taken(file) {
		p.fault = file + " is there already; choose another name."
		return nil
	}
	source := p.entries[p.mark].copy
	if source == nil {
		source = projectfile.Starter(HomeName(file))
	}
	return page.Open{File: file, Create: true, Source: source}
}

// HomeName makes a home's name of a file name: alder-row.yaml is "Alder row".
func HomeName(file string) string {
	stem := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	stem = strings.TrimSpace(strings.NewReplacer("-", " ", "_", " ").Replace(stem))
	for i, r := range stem {
		return string(unicode.ToUpper(r)) + stem[i+len(string(r)):]
	}
	return "Home"
}

func (p *Page) mouse(msg tea.MouseMsg) page.Action {
	if msg.Action != tea.MouseActionPress || p.asking {
		return nil
	}
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		p.mark = max(p.mark-1, 0)
	case tea.MouseButtonWheelDown:
		p.mark = min(p.mark+1, len(p.entries)-1)
	case tea.MouseButtonLeft:
		if msg.Y >= 0 && msg.Y < len(p.hits) && p.hits[msg.Y] >= 0 {
			return p.pick(p.hits[msg.Y])
		}
	}
	return nil
}

// View draws the lines, or the file name of the one that was taken.
func (p *Page) View() string {
	t := p.s.Theme
	var lines []string
	p.hits = p.hits[:0]
	focus := 0
	put := func(hit int, l string) {
		lines = append(lines, l)
		p.hits = append(p.hits, hit)
	}
	put(-1, "")
	if p.asking {
		p.naming(put)
		return strings.Join(layout.Fill(lines, p.w, p.h, t.Glyphs.More), "\n")
	}
	if p.h < 22 {
		p.hits, lines = p.hits[:0], lines[:0]
	}
	put(-1, t.Strong.Render("What a home should do by itself, room by room:"))
	put(-1, t.Faint.Render("asked, read back, priced and written down."))
	group := ""
	for i, e := range p.entries {
		head := groupOf(e)
		if head != group {
			group = head
			put(-1, "")
			put(-1, t.Faint.Render(head))
		}
		if i == p.mark {
			focus = len(lines)
		}
		p.line(put, i, e)
	}
	if len(lines) > p.h && p.h > 1 {
		top := layout.Scroll(0, focus, p.h-1, len(lines))
		rest := len(lines) - top - (p.h - 1)
		lines, p.hits = lines[top:top+p.h-1], p.hits[top:top+p.h-1]
		if rest > 0 {
			put(-1, t.Faint.Render("  "+t.Glyphs.Down+" more below"))
		}
	}
	return strings.Join(layout.Fill(lines, p.w, p.h, t.Glyphs.More), "\n")
}

func groupOf(e entry) string {
	switch {
	case e.fresh:
		return "Begin"
	case e.copy != nil:
		return "Look at an example; a copy is made to write in"
	}
	return "Go on with"
}

func (p *Page) line(put func(int, string), i int, e entry) {
	t := p.s.Theme
	mark, ink := "  ", t.Text
	if i == p.mark {
		mark, ink = t.Accent.Render(t.Glyphs.Here)+" ", t.Accent
	}
	wide := 0 // names of a group stand in a column
	for _, x := range p.entries {
		if groupOf(x) == groupOf(e) {
			wide = max(wide, layout.Width(x.name))
		}
	}
	head := mark + t.KeyCap.Render(e.key) + "  " + ink.Render(layout.Fit(e.name, wide, t.Glyphs.More))
	used := layout.Width(head)
	about := layout.Wrap(e.about, max(min(p.w, 100)-used-3, 20))
	if e.about == "" || used+3+20 > p.w {
		put(i, layout.Cut(head, p.w, t.Glyphs.More))
		return
	}
	put(i, head+"   "+t.Faint.Render(about[0]))
	for _, l := range about[1:] {
		put(i, strings.Repeat(" ", used+3)+t.Faint.Render(l))
	}
}

func (p *Page) naming(put func(int, string)) {
	t := p.s.Theme
	e := p.entries[p.mark]
	head := "Where is the new home to be kept?"
	if e.copy != nil {
		head = "Where is the copy of " + e.name + " to be kept?"
	}
	put(-1, t.Strong.Render(head))
	put(-1, "")
	put(-1, t.Accent.Render(t.Glyphs.Here)+" "+p.file.View(t, min(p.w, 70)-2))
	put(-1, "")
	put(-1, "  "+t.Faint.Render("A file in this folder, or a path. Everything is saved in it as you go."))
	if p.fault != "" {
		put(-1, "")
		put(-1, "  "+t.Strong.Render(p.fault))
	}
}
