package talk

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/page"
)

// hall is a page on the first question of a new hall.
func hall(t *testing.T) (p *Page, doc *projectfile.Document, room string) {
	t.Helper()
	doc, room, err := interview.AddRoom(projectfile.Parse(projectfile.Starter("x")), "hall", "")
	if err != nil {
		t.Fatal(err)
	}
	p = New().(*Page)
	p.SetSize(76, 19)
	p.Show(snapshot(doc, room, "floor"))
	return p, doc, room
}

var ctrlD = tea.KeyMsg{Type: tea.KeyCtrlD}

func TestTheRestIsTakenAndTheNextChapterBegins(t *testing.T) {
	p, _, room := hall(t)
	a, ok := p.Update(ctrlD).(page.Reckon)
	if !ok {
		t.Fatal("the rest isn't taken")
	}
	doc, err := a.Make()
	if err != nil {
		t.Fatal(err)
	}
	p.Show(snapshot(doc, room, ""))
	if q, ok := p.now(); !ok || q.Chapter == interview.Here || q.Answered {
		t.Errorf("it stays at %+v", q)
	}
	// Whatever comes later leaves the question in front.
	first := p.id
	next, err := interview.Answer(doc, p.qs[slices.IndexFunc(p.qs, func(q interview.Question) bool { return strings.HasSuffix(q.Path, "/name") })], "Porch")
	if err != nil {
		t.Fatal(err)
	}
	p.Show(snapshot(next, room, ""))
	if p.id != first {
		t.Errorf("it went from %s to %s", first, p.id)
	}
}

// Where nothing of a chapter is left, that is said, and a later change of the file leaves the question in front.
func TestTheRestOfNothing(t *testing.T) {
	p, doc, room := hall(t)
	full, err := interview.AcceptChapter(doc, room, interview.Here)
	if err != nil {
		t.Fatal(err)
	}
	p.Show(snapshot(full, room, "floor"))
	if a, ok := p.Update(ctrlD).(page.Say); !ok || !strings.Contains(a.Text, "What is here") {
		t.Errorf("%+v", a)
	}
	p.Show(snapshot(doc, room, ""))
	if p.id != "floor" {
		t.Errorf("it went on to %s", p.id)
	}
}

// An answer that was given while the rest was still being worked out has the rest dropped, and with it the going on.
func TestTheRestThatCameTooLate(t *testing.T) {
	p, doc, room := hall(t)
	p.Update(ctrlD)
	var a page.Replace
	for _, k := range []tea.KeyMsg{{Type: tea.KeyRunes, Runes: []rune("1")}, {Type: tea.KeyEnter}} {
		a, _ = p.Update(k).(page.Replace)
	}
	if a.Doc == nil {
		t.Fatal("the answer isn't taken")
	}
	p.Show(snapshot(a.Doc, room, ""))
	front := p.id
	p.Show(snapshot(doc, room, "")) // taken back: the question in front stays there
	if p.id != front {
		t.Errorf("it went from %s to %s", front, p.id)
	}

	p, doc, room = hall(t)
	p.Update(ctrlD)
	other, err := interview.Say(doc, room, "room", "no glare")
	if err != nil {
		t.Fatal(err)
	}
	p.Show(snapshot(other, room, "")) // something else changed the file
	if p.id != "floor" {
		t.Errorf("it went on to %s before the rest was taken", p.id)
	}
}
