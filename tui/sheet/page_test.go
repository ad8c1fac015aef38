package sheet

import (
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

func sit(t testing.TB, room string, w, h int) *trial.Desk {
	return trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", room), w, h)
}

// to puts the cursor on the line whose path ends so.
func to(d *trial.Desk, path string) *trial.Desk {
	d.T.Helper()
	p := d.Page.(*Page)
	for i, q := range p.asks {
		if strings.HasSuffix(q.Path, path) {
			p.leaf.Go(i)
			return d
		}
	}
	d.T.Fatalf("no line for %s", path)
	return d
}

func answer(d *trial.Desk) string {
	q, _ := d.Page.(*Page).here()
	if q.Parked && !q.Answered {
		return "parked: " + q.AskWho
	}
	return q.Now
}

func shower(d *trial.Desk) model.Room {
	r, _ := d.Snap.Project.Room("shower-room")
	return r
}

func TestEveryQuestionIsALine(t *testing.T) {
	d := sit(t, "shower-room", 76, 400)
	got := strings.Join(strings.Fields(d.Seen()), " ")
	for _, q := range interview.All(d.Snap.Doc, "shower-room") {
		for _, word := range []string{strings.Fields(q.Ask)[0], string(q.Chapter)} {
			if !strings.Contains(got, word) {
				t.Errorf("%q is not on the sheet", word)
			}
		}
	}
	for _, want := range []string{
		`"If I get up at night I don't want to be blinded."`, "✓ Rosa agreed to this brief on 2 March 2026.", "What is here", "Light", "Air",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not on the sheet:\n%s", want, got)
		}
	}
}

func TestAmountChanged(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 19), "stop/after").Press("enter", "ctrl+u", "=8 min", "enter")
	if got := shower(d).Brief.Lighting.Want.Stop.After.String(); got != "8m" {
		t.Errorf("the light stops after %s, want 8m", got)
	}
	if d.Page.Takes() != page.Own || answer(d) != "8m" {
		t.Errorf("the cursor is on %q, keys are taken as %v", answer(d), d.Page.Takes())
	}
	if got := d.Seen(); strings.Contains(got, "✓ Rosa") {
		t.Errorf("the agreement did not lapse:\n%s", got)
	}
	d.Press("home")
	if got := d.Seen(); !strings.Contains(got, "? Lapsed: Rosa agreed to this brief on 2 March 2026; lighting") {
		t.Errorf("the lapse is not told:\n%s", got)
	}
}

func TestWrongAmountStaysOpen(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 19), "stop/after").Press("enter", "ctrl+u", "=soon", "enter")
	if d.Page.Takes() != page.Text || !strings.Contains(d.Seen(), "✗ ") || d.Last != nil {
		t.Errorf("a wrong amount was taken:\n%s", d.Seen())
	}
	d.Press("backspace")
	if strings.Contains(d.Seen(), "✗ ") {
		t.Error("the message stays while the answer is put right")
	}
	if d.Press("esc"); d.Page.Takes() != page.Own || answer(d) != "6m" {
		t.Errorf("Esc left %q", answer(d))
	}
}

func TestChoices(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 19), "lighting/start").Press("enter")
	if got := d.Seen(); !strings.Contains(got, "▸ ") || len(d.Page.(*Page).asks[d.Page.(*Page).leaf.At()].Choices) < 2 {
		t.Errorf("the choices are not shown:\n%s", got)
	}
	was := answer(d)
	d.Press("down", "enter")
	if answer(d) == was {
		t.Errorf("the answer is still %q", was)
	}
	after := answer(d)
	d.Press("left")
	if answer(d) != was {
		t.Errorf("Left goes from %q to %q, want %q", after, answer(d), was)
	}
	d.Press("right")
	if answer(d) != after {
		t.Errorf("Right goes to %q, want %q", answer(d), after)
	}
}

func TestSeveral(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 24), "leak/points").Press("enter", " ", "enter")
	if got := shower(d).Brief.Leak.Want.Points; len(got) != 1 || got[0] != "tray" {
		t.Errorf("watched are %v, want the tray alone", got)
	}
	d.Press("enter", "esc")
	if got := shower(d).Brief.Leak.Want.Points; len(got) != 1 {
		t.Errorf("Esc changed the points to %v", got)
	}
}

func TestSeveralWithOneOfTheirOwn(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 24), "shower-room/water").Press("enter")
	q, _ := d.Page.(*Page).here()
	for range q.Choices {
		d.Press("down")
	}
	d.Press("enter", "=, filter supply", "enter")
	var got []string
	for _, w := range shower(d).Water {
		got = append(got, w.ID)
	}
	if s := strings.Join(got, " "); s != "cistern tray filter" {
		t.Errorf("the water points are %s:\n%s", s, d.Seen())
	}
}

func TestArrowsLoseNothingWritten(t *testing.T) {
	d := to(sit(t, "", 76, 24), "home/place").Press("right")
	if answer(d) != "53.96, -1.08 Europe/London" || d.Said() == "" {
		t.Errorf("the place became %q, said %q", answer(d), d.Said())
	}
}

func TestParkAndClear(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 19), "stop/after").Press("x")
	q, _ := d.Page.(*Page).here()
	if q.Answered || !strings.HasSuffix(q.Path, "stop/after") {
		t.Fatalf("the line is %q, answered %v", q.Path, q.Answered)
	}
	d.Press("x")
	if !strings.Contains(d.Said(), "no answer to clear") {
		t.Errorf("clearing nothing says %q", d.Said())
	}
	d.Press("p", "ctrl+u", "=Rosa's mother", "enter")
	if got := answer(d); got != "parked: Rosa's mother" || !strings.Contains(d.Seen(), "? open, ask Rosa's") {
		t.Errorf("parked is %q:\n%s", got, d.Seen())
	}
	if since := d.Snap.Project.Open[len(d.Snap.Project.Open)-1].Since.Format("2006-01-02"); since != "2026-11-24" {
		t.Errorf("parked since %s", since)
	}
	d.Press("x")
	if q, _ := d.Page.(*Page).here(); q.Parked {
		t.Error("the open point is still there")
	}
}

func TestTheirWords(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 400), "stop/after").Press("w", "=It clicks off on me!", "enter")
	if got := d.Seen(); !strings.Contains(got, `"It clicks off on me!"`) {
		t.Errorf("the words are not on the sheet:\n%s", got)
	}
	said := shower(d).Brief.Said
	if last := said[len(said)-1]; last.Goal != "lighting" || last.Words != "It clicks off on me!" {
		t.Errorf("kept is %v", last)
	}
}

func TestGotoStandsOnTheLine(t *testing.T) {
	for at, want := range map[string]string{
		"rooms/shower-room/brief/ventilation/ceiling": "ventilation/ceiling",
		"shower-room/switches/box-1/neutral":          "box-1/neutral",
		"rooms/shower-room/circuits/mirror/dimmable":  "mirror/dimmable",
		"shower-room/extract":                         "fans",
	} {
		s := trial.Home(t, "alder-row.yaml", "shower-room")
		s.At = at
		d := trial.Sit(t, New(), s, 76, 19)
		if q, _ := d.Page.(*Page).here(); !strings.HasSuffix(q.Path, want) {
			t.Errorf("%s stands on %s, want %s", at, q.Path, want)
		}
	}
}

func TestOtherSheets(t *testing.T) {
	for _, c := range []struct {
		room, key string
		want      page.Action
	}{
		{"hall", "]", page.Goto{Page: page.Sheet, Room: "stairs"}},
		{"hall", "[", page.Goto{Page: page.Sheet, Room: page.HomeItself}},
		{"", "]", page.Goto{Page: page.Sheet, Room: "hall"}},
		{"", "[", page.Say{Text: "There is no room beyond this one."}},
		{"hall", "d", page.Goto{Page: page.Ribbon, Room: "hall"}},
		{"hall", "r", page.Goto{Page: page.Readback, Room: "hall"}},
		{"", "d", page.Say{Text: "This is the home's own sheet; open a room first."}},
	} {
		if d := sit(t, c.room, 76, 19).Press(c.key); d.Last != c.want {
			t.Errorf("in %q %s leads to %v, want %v", c.room, c.key, d.Last, c.want)
		}
	}
}

func TestReadOnly(t *testing.T) {
	s := trial.Home(t, "alder-row.yaml", "hall")
	s.ReadOnly = "the file is open elsewhere"
	d := trial.Sit(t, New(), s, 76, 19)
	for _, k := range []string{"enter", "x", "p", "w", "right"} {
		if d.Press(k); d.Said() != s.ReadOnly {
			t.Errorf("%s says %q", k, d.Said())
		}
	}
}

// Whatever line is opened, the page says how to leave it, and leaving changes nothing.
func TestEveryLineOpensAndCloses(t *testing.T) {
	for _, room := range []string{"", "shower-room", "kitchen", "wc"} {
		d := sit(t, room, 76, 19)
		before := string(d.Snap.Doc.Source())
		for range d.Page.(*Page).asks {
			d.Press("enter")
			leaves := false
			for _, b := range d.Page.Help() {
				leaves = leaves || b.Do == keys.Leave
			}
			if !leaves || d.Page.Takes() != page.Text {
				q, _ := d.Page.(*Page).here()
				t.Errorf("%s %s does not open", room, q.ID)
			}
			d.Press("esc", "down")
		}
		if string(d.Snap.Doc.Source()) != before {
			t.Errorf("looking at the lines of %q changed the file", room)
		}
	}
}

func TestFits(t *testing.T) {
	s := trial.Home(t, "alder-row.yaml", "shower-room")
	trial.Fits(t, New, s, "pgdown")
	trial.Fits(t, New, s, "tab", "enter")
	trial.Fits(t, New, s, "down", "down", "down", "enter", "=what", "enter")
	trial.Fits(t, New, s, "down", "p", "=whoever", "left")
	trial.Fits(t, New, trial.Home(t, "larkspur-lane.yaml", ""), "end", "enter")
}

func BenchmarkShow(b *testing.B) {
	s := trial.Home(b, "alder-row.yaml", "kitchen")
	d := trial.Sit(b, New(), s, 116, 35)
	for i := 0; b.Loop(); i++ {
		s.Room = []string{"kitchen", "utility"}[i%2]
		d.Page.Show(s)
	}
}

func BenchmarkView(b *testing.B) {
	d := sit(b, "kitchen", 116, 35)
	for b.Loop() {
		d.Press("down")
		d.Page.View()
	}
}

// While choices are open, another version of the file may come in that asks something else in their place.
func TestAnotherVersionClosesWhatIsOpen(t *testing.T) {
	d := to(sit(t, "shower-room", 76, 24), "leak/points").Press("enter", "down")
	doc := d.Snap.Doc
	for _, goal := range []string{"lighting", "ventilation", "leak"} {
		var err error
		if doc, err = doc.Apply(projectfile.Set("rooms/shower-room/brief/"+goal, "none")); err != nil {
			t.Fatal(err)
		}
	}
	d.Snap = trial.Changed(t, d.Snap, doc)
	d.Page.Show(d.Snap)
	d.Last = nil
	if d.Press("enter"); d.Last != nil {
		t.Errorf("Enter still answers what was open: %v", d.Last)
	}
}
