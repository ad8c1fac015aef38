package talk

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/readback"
)

// An agreement that has lapsed says in the household's words what has changed since.
func TestALapsedAgreementSaysWhatChanged(t *testing.T) {
	doc, err := readback.Agree(projectfile.Parse(fixtures.Homes()[0].Source), "kitchen", "Rosa", time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC))
	if err == nil {
		doc, err = doc.Apply(projectfile.Set("rooms/kitchen/brief/shutoff", "none"), projectfile.Set("rooms/kitchen/brief/leak", "none"))
	}
	if err != nil {
		t.Fatal(err)
	}
	p := NewBack()
	for _, size := range [][2]int{{76, 19}, {116, 35}, {60, 12}} {
		p.SetSize(size[0], size[1])
		p.Show(snapshot(doc, "kitchen", ""))
		got := strings.ReplaceAll(ansi.Strip(p.View()), "│", "")
		if !strings.Contains(strings.Join(strings.Fields(got), " "), "changed since.") || strings.Count(got, "\n") >= size[1] {
			t.Errorf("at %v it says\n%s", size, got)
		}
	}
	if got := ansi.Strip(p.View()); !strings.Contains(got, "lapsed: water and") {
		t.Errorf("it doesn't say what changed:\n%s", got)
	}
}
