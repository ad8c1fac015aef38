package rooms

import (
	"fmt"
	"strings"
	"testing"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

const small = `roombrief: 1
home: {name: Cottage, currency: GBP}
people: [{id: rosa, name: Rosa, role: owner}]
rooms:
  - {id: hall, name: Hall, kind: hall, floor: 0}
  - {id: attic, name: Ada's place, kind: study, floor: 2}
  - {id: cellar, name: Cellar, kind: garage, floor: -1}
  - {id: wc, name: Downstairs WC, kind: wc, floor: 0}
open:
  - {at: wc/circuits, ask: electrician, since: 2026-03-02}
records:
  agreed:
    - {room: attic, by: rosa, on: 2026-03-02, brief: "00000000"}
`

func sit(t testing.TB) *trial.Desk {
	return trial.Sit(t, New(), trial.Of(t, []byte(small), "hall"), 76, 24)
}

func TestListDrawn(t *testing.T) {
	got := strings.Split(sit(t).Seen(), "\n")
	for i, want := range []string{
		"                         answered  agreed",
		"  The home itself",
		"",
		"  2 floors up",
		"  Ada's place, study",
		"",
		"  Entrance floor",
		"▸ Hall",
		"  Downstairs WC",
		"",
		"  Basement",
		"  Cellar, garage",
	} {
		if !strings.HasPrefix(got[i], want) {
			t.Errorf("line %d is %q, want %q", i, got[i], want)
		}
	}
	if !strings.Contains(got[4], "? lapsed, 2 Mar") || !strings.Contains(got[7], "not yet") {
		t.Errorf("the agreements are not told apart:\n%s\n%s", got[4], got[7])
	}
	if !strings.HasSuffix(got[8], " 1") {
		t.Errorf("the open point is not counted: %q", got[8])
	}
}

func TestNotes(t *testing.T) {
	d := sit(t)
	d.Page.SetSize(116, 30)
	d.Press("home", "down")
	if got := d.Seen(); !strings.Contains(got, "Changed since Rosa agreed on 2 March") || !strings.Contains(got, "r reads it back") {
		t.Errorf("the lapse is not told:\n%s", got)
	}
	d.Press("down", "down")
	if got := d.Seen(); !strings.Contains(got, "Open: ") || !strings.Contains(got, "electrician") {
		t.Errorf("the open point is not told:\n%s", got)
	}
}

func TestWhereKeysLead(t *testing.T) {
	for _, c := range []struct {
		press []string
		want  page.Action
	}{
		{[]string{"enter"}, page.Goto{Page: page.Talk, Room: "hall"}},
		{[]string{"b"}, page.Goto{Page: page.Sheet, Room: "hall"}},
		{[]string{"d"}, page.Goto{Page: page.Ribbon, Room: "hall"}},
		{[]string{"r"}, page.Goto{Page: page.Readback, Room: "hall"}},
		{[]string{"a"}, page.Goto{Page: page.NewRoom}},
		{[]string{"home", "b"}, page.Goto{Page: page.Sheet, Room: page.HomeItself}},
		{[]string{"home", "enter"}, page.Goto{Page: page.Talk, Room: page.HomeItself}},
		{[]string{"home", "x"}, page.Say{Text: "This line is the home itself; choose a room."}},
		{[]string{"K"}, page.Say{Text: "It is the first room of its floor."}},
	} {
		if d := sit(t).Press(c.press...); d.Last != c.want {
			t.Errorf("%v leads to %v, want %v", c.press, d.Last, c.want)
		}
	}
}

func TestPointsAtTheRoomUnderTheCursor(t *testing.T) {
	d := sit(t)
	for _, want := range []string{"hall", "attic", page.HomeItself} {
		if got := d.Page.(page.Pointing).Pointing(); got != want {
			t.Errorf("it points at %q, want %q", got, want)
		}
		d.Press("up")
	}
}

func order(d *trial.Desk) string {
	var ids []string
	for _, r := range d.Snap.Project.Rooms {
		ids = append(ids, r.ID)
	}
	return strings.Join(ids, " ")
}

func TestMoveAndRemove(t *testing.T) {
	d := sit(t).Press("shift+down")
	if got := order(d); got != "attic cellar wc hall" {
		t.Errorf("the order is %s", got)
	}
	if at := d.Page.(*Page).here().room; at != "hall" {
		t.Errorf("the cursor went to %s", at)
	}
	d.Press("up", "x")
	if got := order(d); got != "attic cellar hall" || len(d.Snap.Project.Open) != 0 {
		t.Errorf("after a removal the rooms are %s, the open points %v", got, d.Snap.Project.Open)
	}
}

// A home whose rooms lean on each other in every way gives each room up, or says why not.
func TestRemoveAnyRoom(t *testing.T) {
	kept := map[string]string{"utility": "utility/stopcock"} // the kitchen's leak goal shuts it
	s := trial.Home(t, "alder-row.yaml", "")
	for _, r := range s.Project.Rooms {
		doc, err := s.Doc.Apply(removal(s.Project, r.ID)...)
		why := kept[r.ID]
		switch {
		case why == "" && err != nil:
			t.Errorf("%s is not given up: %v", r.ID, err)
		case why == "" && !doc.OK():
			t.Errorf("without %s the project has problems: %v", r.ID, doc.Problems())
		case why != "" && (err == nil || !strings.Contains(err.Error(), why)):
			t.Errorf("%s: %v, want a refusal for %s", r.ID, err, why)
		}
	}
}

func TestReadOnly(t *testing.T) {
	s := trial.Of(t, []byte(small), "hall")
	s.ReadOnly = "the file is open elsewhere"
	for _, k := range []string{"a", "x", "J"} {
		if d := trial.Sit(t, New(), s, 76, 24).Press(k); d.Said() != s.ReadOnly {
			t.Errorf("%s says %q", k, d.Said())
		}
	}
}

func TestEmptyHome(t *testing.T) {
	d := trial.Sit(t, New(), trial.Of(t, projectfile.Starter("New home"), ""), 76, 19)
	if got := d.Seen(); !strings.Contains(got, "No rooms yet. Press a") {
		t.Errorf("an empty home shows:\n%s", got)
	}
}

func TestFits(t *testing.T) {
	for _, home := range []string{"alder-row.yaml", "larkspur-lane.yaml", "twelve-doors.yaml"} {
		trial.Fits(t, New, trial.Home(t, home, ""), "down", "pgdown", "end")
	}
}

// big is a home of 40 rooms.
func big(b *testing.B) page.Snapshot {
	src := "roombrief: 1\nhome: {name: Block, currency: GBP}\nrooms:\n"
	for i := range 40 {
		src += fmt.Sprintf("  - {id: room-%d, name: Room %d, kind: bedroom, floor: %d, circuits: [{id: ceiling, lamps: 1, flux: 470 lm, base: E27, dimmable: yes}]}\n", i, i, i/10)
	}
	return trial.Of(b, []byte(src), "")
}

func BenchmarkShow(b *testing.B) {
	s := big(b)
	docs := []*projectfile.Document{s.Doc, projectfile.Parse(s.Doc.Source())}
	d := trial.Sit(b, New(), s, 116, 35)
	for i := 0; b.Loop(); i++ {
		s.Doc = docs[i%2]
		d.Page.Show(s)
	}
}

func BenchmarkView(b *testing.B) {
	d := trial.Sit(b, New(), big(b), 116, 35)
	for b.Loop() {
		d.Press("down")
		d.Page.View()
	}
}
