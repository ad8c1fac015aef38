package talk

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/page"
)

// A question about the home that only a room brings up is offered at the end of that room.
func TestTheEndOfARoomLeadsBackToTheHome(t *testing.T) {
	doc := projectfile.Parse([]byte("roombrief: 1\nhome: {name: Ours}\nrooms: []\n"))
	for {
		q, ok := interview.Next(doc, "")
		if !ok {
			break
		}
		next, err := interview.Answer(doc, q, "")
		if err != nil {
			t.Fatal(err)
		}
		doc = next
	}
	doc, id, err := interview.AddRoom(doc, "hall", "Hall")
	if err != nil {
		t.Fatal(err)
	}
	p := New().(*Page)
	p.SetSize(76, 19)
	p.Show(snapshot(doc, id, ""))
	p.ask(-1)
	if view := ansi.Strip(p.View()); !strings.Contains(view, "On to the home") {
		t.Fatalf("the home is not offered:\n%s", view)
	}
	for i, e := range p.ends() {
		if e.key == "h" {
			to, ok := p.end(i).(page.Goto)
			if !ok || to.Room != page.HomeItself || to.Page != page.Talk {
				t.Errorf("h leads to %+v", to)
			}
		}
	}
}

// An answer is never cut short to stay in its column.
func TestLongAnswersAreWhole(t *testing.T) {
	doc := projectfile.Parse([]byte("roombrief: 1\nrooms:\n  - {id: b, kind: shower room, fans: [{id: extract, airflow: 21 l/s}]}\n"))
	for _, q := range interview.All(doc, "b") {
		if len(q.Choices) == 0 {
			continue
		}
		p := New().(*Page)
		p.SetSize(76, 40)
		p.Show(snapshot(doc, "b", q.ID))
		view := ansi.Strip(p.View())
		for _, c := range q.Choices {
			if !strings.Contains(view, c.Label) {
				t.Errorf("%q is not whole:\n%s", c.Label, view)
			}
		}
	}
}
