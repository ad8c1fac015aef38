// Package trial sets pages up for tests: a pinned look, the example homes planned, keys pressed, and what
// is seen without its styles.
package trial

import (
	"context"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

// Today is the day of every trial.
var Today = time.Date(2026, 11, 24, 0, 0, 0, 0, time.UTC)

// Look is a theme whose drawing does not depend on the terminal that the test runs in.
func Look(colour, ascii bool) theme.Theme {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.Ascii)
	if colour {
		r.SetColorProfile(termenv.TrueColor)
	}
	return theme.New(r, theme.Options{Colour: colour, Dark: true, ASCII: ascii})
}

var homes struct {
	sync.Mutex
	planned map[string]page.Snapshot
}

// Home is the snapshot of an example home, planned, with one of its rooms open. Each home is planned once.
func Home(t testing.TB, file, room string) page.Snapshot {
	t.Helper()
	homes.Lock()
	defer homes.Unlock()
	s, ok := homes.planned[file]
	if !ok {
		s = Of(t, source(t, file), "")
		if homes.planned == nil {
			homes.planned = map[string]page.Snapshot{}
		}
		homes.planned[file] = s
	}
	s.Room, s.Theme = room, Look(true, false)
	return s
}

func source(t testing.TB, file string) []byte {
	t.Helper()
	for _, h := range fixtures.Homes() {
		if h.File == file {
			return h.Source
		}
	}
	t.Fatalf("there is no example home %s", file)
	return nil
}

// Of is the snapshot of a project, planned.
func Of(t testing.TB, source []byte, room string) page.Snapshot {
	t.Helper()
	s := page.Snapshot{Catalogue: fixtures.Catalogue(), Room: room, Theme: Look(true, false), Today: Today}
	return With(t, s, projectfile.Parse(source))
}

// Changed is a snapshot just after its document was changed: the plan still follows the old one.
func Changed(t testing.TB, s page.Snapshot, doc *projectfile.Document) page.Snapshot {
	t.Helper()
	if !doc.OK() {
		t.Fatalf("the project has problems: %v", doc.Problems())
	}
	s.Doc, s.Project, s.Planning = doc, doc.Project(), true
	return s
}

// With is a snapshot after its document was changed, planned anew.
func With(t testing.TB, s page.Snapshot, doc *projectfile.Document) page.Snapshot {
	t.Helper()
	s = Changed(t, s, doc)
	s.Planning = false
	plan, err := planner.Make(context.Background(), s.Project, s.Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	s.Plan = &plan
	return s
}

// Desk is a page at work: it carries out edits as the root does.
type Desk struct {
	T    testing.TB
	Page page.Page
	Snap page.Snapshot
	Last page.Action // the newest action
}

// Sit puts a page in front of somebody, w by h cells.
func Sit(t testing.TB, p page.Page, s page.Snapshot, w, h int) *Desk {
	t.Helper()
	p.SetSize(w, h)
	p.Show(s)
	return &Desk{T: t, Page: p, Snap: s}
}

// Press presses keys by their names: "down", "enter", "x", or "=text" to type a text.
func (d *Desk) Press(names ...string) *Desk {
	d.T.Helper()
	for _, n := range names {
		if text, ok := strings.CutPrefix(n, "="); ok && text != "" {
			for _, r := range text {
				d.Send(key(string(r)))
			}
			continue
		}
		d.Send(key(n))
	}
	return d
}

// Send passes a message and carries its action out.
func (d *Desk) Send(msg tea.Msg) {
	d.T.Helper()
	d.Last = d.Page.Update(msg)
	switch a := d.Last.(type) {
	case page.Edit:
		doc, err := d.Snap.Doc.Apply(a.Edits...)
		if err != nil {
			d.Last = d.Page.Update(page.Refused{Err: err, Label: a.Label})
			return
		}
		d.Snap = Changed(d.T, d.Snap, doc)
		d.Page.Show(d.Snap)
	case page.Replace:
		d.Snap = Changed(d.T, d.Snap, a.Doc)
		d.Page.Show(d.Snap)
	}
}

// Seen is what the page shows, without styles and trailing blanks.
func (d *Desk) Seen() string {
	lines := strings.Split(ansi.Strip(d.Page.View()), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// Said is the sentence of the newest action, "" when it was none.
func (d *Desk) Said() string {
	if s, ok := d.Last.(page.Say); ok {
		return s.Text
	}
	return ""
}

var named = map[string]tea.KeyType{
	"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight, "enter": tea.KeyEnter, "esc": tea.KeyEsc,
	"home": tea.KeyHome, "end": tea.KeyEnd, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "delete": tea.KeyDelete,
	"backspace": tea.KeyBackspace, "shift+left": tea.KeyShiftLeft, "shift+right": tea.KeyShiftRight,
	"shift+up": tea.KeyShiftUp, "shift+down": tea.KeyShiftDown, "ctrl+u": tea.KeyCtrlU, "ctrl+w": tea.KeyCtrlW,
}

func key(name string) tea.KeyMsg {
	if t, ok := named[name]; ok {
		return tea.KeyMsg{Type: t}
	}
	if name == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// Fits checks that a page keeps to its cells at many sizes, in every look.
func Fits(t *testing.T, make func() page.Page, s page.Snapshot, presses ...string) {
	t.Helper()
	for _, look := range []struct{ colour, ascii bool }{{true, false}, {false, false}, {false, true}} {
		s.Theme = Look(look.colour, look.ascii)
		for _, size := range [][2]int{{38, 7}, {47, 11}, {76, 19}, {90, 25}, {97, 20}, {116, 35}, {161, 50}, {0, 0}, {3, 2}} {
			d := Sit(t, make(), s, size[0], size[1])
			d.Press(presses...)
			if err := within(d.Page.View(), size[0], size[1]); err != nil {
				t.Errorf("at %dx%d: %v", size[0], size[1], err)
			}
			if look.ascii {
				if i := strings.IndexFunc(d.Seen(), func(r rune) bool { return r > 0xff }); i >= 0 {
					t.Errorf("at %dx%d: a page in ASCII shows %q", size[0], size[1], d.Seen()[i:min(i+12, len(d.Seen()))])
				}
			}
		}
	}
}

func within(view string, w, h int) error {
	if view == "" {
		return nil
	}
	lines := strings.Split(view, "\n")
	if len(lines) > h {
		return fmt.Errorf("%d lines", len(lines))
	}
	for _, l := range lines {
		if n := ansi.StringWidth(l); n > w {
			return fmt.Errorf("%d cells wide: %q", n, ansi.Strip(l))
		}
	}
	return nil
}
