package talk

import (
	"io"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

func plainTheme() theme.Theme {
	return theme.New(lipgloss.NewRenderer(io.Discard), theme.Options{})
}

func snapshot(doc *projectfile.Document, room, at string) page.Snapshot {
	return page.Snapshot{
		Doc: doc, Project: doc.Project(), Room: room, At: at, Theme: plainTheme(),
		Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC),
	}
}

// Every question of every example home fits every window, keeps its marked answer in sight, and says its
// first words wherever there is room for them.
func TestEveryQuestionFitsEveryWindow(t *testing.T) {
	for _, h := range fixtures.Homes() {
		doc := projectfile.Parse(h.Source)
		rooms := []string{""}
		for _, r := range doc.Project().Rooms {
			rooms = append(rooms, r.ID)
		}
		for _, room := range rooms {
			for _, q := range interview.All(doc, room) {
				for _, size := range [][2]int{{38, 7}, {76, 19}, {116, 35}} {
					p := New().(*Page)
					p.SetSize(size[0], size[1])
					p.Show(snapshot(doc, room, q.ID))
					view := ansi.Strip(p.View())
					lines := strings.Split(view, "\n")
					if len(lines) > size[1] {
						t.Errorf("%s %s: %d lines in %v", room, q.ID, len(lines), size)
					}
					for _, l := range lines {
						if layout.Width(l) > size[0] {
							t.Errorf("%s %s: %d cells in %v: %q", room, q.ID, layout.Width(l), size, l)
						}
					}
					if !strings.Contains(view, ">") && !strings.Contains(view, "▸") {
						t.Errorf("%s %s: no mark in %v:\n%s", room, q.ID, size, view)
					}
					if size[1] >= 19 && !strings.Contains(view, strings.Fields(q.Ask)[0]) {
						t.Errorf("%s %s: the question is out of sight in %v:\n%s", room, q.ID, size, view)
					}
				}
			}
		}
	}
}

// What the default offers is taken by Enter, for every open question of a new room of every kind.
func TestEnterTakesTheDefaultInEveryKindOfRoom(t *testing.T) {
	for _, k := range interview.Kinds() {
		doc, room, err := interview.AddRoom(projectfile.Parse(projectfile.Starter("x")), k.ID, "")
		if err != nil {
			t.Fatal(err)
		}
		p := New().(*Page)
		p.SetSize(76, 19)
		p.Show(snapshot(doc, room, ""))
		for presses := 0; p.id != ""; presses++ {
			if presses > 80 {
				t.Fatalf("%s: still asking after 80 keys", k.ID)
			}
			asked := p.id
			a := p.Update(tea.KeyMsg{Type: tea.KeyEnter})
			if r, ok := a.(page.Replace); ok {
				doc = r.Doc
				p.Show(snapshot(doc, room, ""))
			}
			if p.id == asked {
				t.Fatalf("%s: Enter does not answer %s: %s\n%s", k.ID, asked, p.fault, ansi.Strip(p.View()))
			}
		}
		if !doc.OK() {
			t.Errorf("%s: a broken document: %v", k.ID, doc.Problems())
		}
	}
}

func TestEscKeepsWhatWasWritten(t *testing.T) {
	doc := projectfile.Parse(fixtures.Homes()[0].Source)
	p := New().(*Page)
	p.SetSize(76, 19)
	var wanted interview.Question
	for _, q := range interview.All(doc, "shower-room") {
		if q.Kind == interview.Amount {
			wanted = q
			break
		}
	}
	p.Show(snapshot(doc, "shower-room", wanted.ID))
	for _, r := range "77 m" {
		p.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
	if _, ok := p.Update(tea.KeyMsg{Type: tea.KeyEsc}).(page.Goto); !ok {
		t.Error("Esc stays")
	}
	p.Show(snapshot(doc, "shower-room", wanted.ID))
	if !strings.Contains(ansi.Strip(p.View()), "77 m") {
		t.Errorf("what was written is gone:\n%s", ansi.Strip(p.View()))
	}
}

// Coming back to a question and pressing Enter leaves its answer as it stands.
func TestEnterOnAnAnsweredQuestionChangesNothing(t *testing.T) {
	for _, h := range fixtures.Homes() {
		doc := projectfile.Parse(h.Source)
		rooms := []string{""}
		for _, r := range doc.Project().Rooms {
			rooms = append(rooms, r.ID)
		}
		for _, room := range rooms {
			for _, q := range interview.All(doc, room) {
				if !q.Answered {
					continue
				}
				p := New().(*Page)
				p.SetSize(76, 19)
				p.Show(snapshot(doc, room, q.ID))
				if r, ok := p.Update(tea.KeyMsg{Type: tea.KeyEnter}).(page.Replace); ok {
					was, _ := doc.Text(q.Path)
					now, _ := r.Doc.Text(q.Path)
					t.Errorf("%s %s (%s): %q (%q) became %q", h.File, q.ID, q.Kind, q.Now, was, now)
				}
				if p.fault != "" {
					t.Errorf("%s %s: %q is refused: %s", h.File, q.ID, q.Now, p.fault)
				}
			}
		}
	}
}

// Rooms are asked the same questions. What was written for one of them, and not taken, waits for that one, and is no answer of another.
func TestWhatWasWrittenForARoomIsNotOfferedInAnother(t *testing.T) {
	doc := projectfile.Parse(fixtures.Homes()[0].Source)
	p := New().(*Page)
	p.SetSize(76, 19)
	p.Show(snapshot(doc, "shower-room", "outline"))
	q, _ := p.now()
	p.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("9 x 9")})
	for _, leave := range []bool{false, true} {
		if leave {
			p.Update(tea.KeyMsg{Type: tea.KeyEsc})
		}
		p.Show(snapshot(doc, "kitchen", "outline"))
		if now, ok := p.now(); !ok || now.ID != q.ID || p.field.Text() != now.Now {
			t.Errorf("the kitchen is asked %q and offered %q", now.ID, p.field.Text())
		}
		p.Show(snapshot(doc, "shower-room", "outline"))
		if p.field.Text() != "9 x 9" {
			t.Errorf("back in the shower room %q stands", p.field.Text())
		}
	}
}
