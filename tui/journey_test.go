package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/interview"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/start"
)

// fresh opens an empty home.
func fresh(t testing.TB, w, h int) *bench {
	b := newBench(t, string(projectfile.Starter("14 Alder Row")), w, h)
	b.settle()
	return b
}

// golden compares a screen with the one in testdata; UPDATE_GOLDEN=1 writes it anew.
func golden(t *testing.T, name, got string) {
	t.Helper()
	var lines []string
	for _, l := range strings.Split(got, "\n") {
		lines = append(lines, strings.TrimRight(l, " "))
	}
	got = strings.Join(lines, "\n") + "\n"
	path := filepath.Join("testdata", name+".txt")
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s looks different; got\n%s\nwant\n%s", name, got, want)
	}
}

// A shower room from an empty home, good defaults all the way, has to take fewer than sixty keys.
func TestAShowerRoomTakesFewKeys(t *testing.T) {
	b := fresh(t, 80, 24)
	presses := 0
	for !strings.Contains(b.view(), "That was every question") {
		if presses++; presses > 59 {
			t.Fatalf("sixty keys and still asking:\n%s", b.view())
		}
		b.press("enter")
	}
	b.press("r")
	b.sees("Nobody has agreed to it yet")
	b.press("1")
	b.sees("said on 2 March 2026: yes, that.")
	presses += 2
	t.Logf("%d key presses", presses)
	if p := b.r.session.project; len(p.Rooms) != 1 || len(p.Records.Agreed) != 1 {
		t.Errorf("%d rooms, %d agreements", len(p.Rooms), len(p.Records.Agreed))
	}
	if n := len(b.r.plan.plan.Bill.Devices); n == 0 {
		t.Error("no devices follow from it")
	}
}

// toQuestion turns the interview of the first room to a question.
func toQuestion(t testing.TB, b *bench, wanted func(interview.Question) bool) interview.Question {
	t.Helper()
	room := b.r.session.project.Rooms[0].ID
	for _, q := range interview.All(b.r.session.hist.now(), room) {
		if wanted(q) {
			b.take(b.r.carry(page.Goto{Page: page.Talk, Room: room, At: q.ID}))
			b.settle()
			b.sees(strings.Fields(q.Ask)[0])
			return q
		}
	}
	t.Fatal("there is no such question")
	return interview.Question{}
}

func alder(t testing.TB, w, h int) *bench {
	b := newBench(t, string(fixtures.Homes()[0].Source), w, h)
	b.settle()
	return b
}

func TestASingleKeyAnswersAndGoesOn(t *testing.T) {
	b := alder(t, 80, 24)
	q := toQuestion(t, b, func(q interview.Question) bool { return q.Kind == interview.YesNo && q.Answered })
	for _, c := range q.Choices {
		if c.Value == q.Now {
			continue
		}
		b.press(c.Key)
		break
	}
	if len(b.r.session.hist.steps) != 2 {
		t.Errorf("%d steps after one key", len(b.r.session.hist.steps))
	}
}

func TestAWrongAnswerIsRefusedInASentenceAndKept(t *testing.T) {
	b := alder(t, 80, 24)
	toQuestion(t, b, func(q interview.Question) bool { return q.Kind == interview.Amount })
	before := b.source()
	for _, r := range "soonish" {
		b.press(string(r))
	}
	b.press("enter")
	if b.source() != before {
		t.Error("it was taken")
	}
	b.sees("soonish")
	b.press("esc", "2")
	if !strings.Contains(b.view(), "soonish") {
		b.press("shift+tab", "tab")
		b.sees("soonish")
	}
}

func TestParkingMakesAnOpenPoint(t *testing.T) {
	b := alder(t, 80, 24)
	toQuestion(t, b, func(q interview.Question) bool { return !q.Answered && !q.Parked })
	open := len(b.r.session.project.Open)
	b.press("ctrl+p")
	if got := len(b.r.session.project.Open); got != open+1 {
		t.Errorf("%d open points, were %d", got, open)
	}
	b.sees("Parked")
}

func TestWordsAreKeptVerbatim(t *testing.T) {
	b := alder(t, 80, 24)
	toQuestion(t, b, func(q interview.Question) bool { return q.Chapter == interview.Light })
	const words = "I'd rather: \"not\" be blinded #2 at night"
	b.press("ctrl+t")
	b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words), Paste: true})
	b.settle()
	b.press("enter")
	said := b.r.session.project.Rooms[0].Brief.Said
	if n := len(said); n == 0 || said[n-1].Words != words || said[n-1].Goal != "lighting" {
		t.Errorf("kept as %+v", said)
	}
}

func TestBackGoesBackWithoutAnAnswer(t *testing.T) {
	b := fresh(t, 80, 24)
	first := b.view()
	b.press("tab")
	if b.view() == first {
		t.Fatal("Tab went nowhere")
	}
	b.press("shift+tab")
	if b.view() != first {
		t.Errorf("not back:\n%s", b.view())
	}
	if len(b.r.session.hist.steps) != 1 {
		t.Error("walking changed the document")
	}
}

func TestTheRestOfAChapterOnOneKey(t *testing.T) {
	b := fresh(t, 80, 24)
	b.send(keyMsg("ctrl+d"))
	b.settle()
	if _, left := interview.Next(b.r.session.hist.now(), ""); left {
		t.Error("questions of the home are left")
	}
	b.sees("That is the home.")
	b.press("ctrl+u")
	if len(b.r.session.hist.steps) != 2 || b.r.session.hist.at != 0 {
		t.Error("it was not one step of undo")
	}
}

func TestTicksOfSeveralAnswers(t *testing.T) {
	b := alder(t, 80, 24)
	var q interview.Question
	for i, room := range b.r.session.project.Rooms {
		for _, x := range interview.All(b.r.session.hist.now(), room.ID) {
			if x.Kind == interview.Several && x.Chapter == interview.WaterGoal && len(x.Choices) > 1 && x.Answered && q.ID == "" {
				q = x
				b.take(b.r.carry(page.Goto{Page: page.Talk, Room: b.r.session.project.Rooms[i].ID, At: x.ID}))
			}
		}
	}
	if q.ID == "" {
		t.Fatal("the example home asks nothing with several answers")
	}
	for _, c := range q.Choices { // whatever is ticked, turn every tick round twice but the first
		b.press(c.Key, c.Key)
	}
	before := b.source()
	b.press(q.Choices[0].Key, "enter")
	if b.source() == before {
		t.Error("turning one tick round changed nothing")
	}
}

func TestASentenceOfTheReadBackLeadsToItsQuestion(t *testing.T) {
	b := alder(t, 120, 40)
	room := "shower-room"
	b.take(b.r.carry(page.Goto{Page: page.Readback, Room: room}))
	b.settle()
	b.press("enter")
	if b.r.at.page != page.Talk || b.r.at.room != room {
		t.Fatalf("at %+v", b.r.at)
	}
	b.sees("Shower room · Light")
}

func TestAChangedBriefLapsesItsAgreement(t *testing.T) {
	b := alder(t, 80, 24)
	b.take(b.r.carry(page.Goto{Page: page.Readback, Room: "shower-room"}))
	b.settle()
	b.sees("yes, that.")
	b.take(b.r.carry(page.Edit{
		Edits: []projectfile.Edit{projectfile.Set("rooms/shower-room/brief/lighting/stop/after", "17m")}, Label: "stop",
	}))
	b.settle()
	b.sees("lapsed")
}

func TestAClickAnswers(t *testing.T) {
	b := alder(t, 80, 24)
	q := toQuestion(t, b, func(q interview.Question) bool { return q.Kind == interview.YesNo && q.Answered })
	for i, l := range strings.Split(b.view(), "\n") {
		for _, c := range q.Choices {
			if c.Value != q.Now && strings.Contains(l, "  "+c.Key+"  "+c.Label) {
				b.send(tea.MouseMsg{X: 10, Y: i, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
				b.settle()
				if len(b.r.session.hist.steps) != 2 {
					t.Error("the click answered nothing")
				}
				return
			}
		}
	}
	t.Fatalf("no answer to click on:\n%s", b.view())
}

func TestAClickOnTheHeaderTurnsThePage(t *testing.T) {
	b := alder(t, 80, 24)
	x := strings.Index(strings.Split(b.view(), "\n")[0], "Bill")
	b.send(tea.MouseMsg{X: len([]rune(strings.Split(b.view(), "\n")[0][:x])), Y: 0, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
	if b.r.at.page != page.Bill {
		t.Errorf("at %q", b.r.at.page)
	}
}

func TestTheStartPageMakesACopy(t *testing.T) {
	b := &bench{t: t, disk: &memory{}}
	o := testOptions(b)
	var made []string
	o.open = func(file string, create bool, source []byte) (*Opened, error) {
		made = append(made, file)
		if !create {
			t.Error("a copy is to be made, not opened")
		}
		return &Opened{Disk: b.disk, File: file, Source: source}, nil
	}
	o.offers = func() start.Options {
		h := fixtures.Homes()[0]
		return start.Options{
			Recent:   []start.Recent{{File: "old.yaml", When: "yesterday"}},
			Examples: []start.Example{{File: h.File, Name: h.Name, About: h.About, Source: h.Source}},
			Taken:    func(file string) bool { return file == "alder-row.yaml" },
		}
	}
	b.r = newRoot(o, testTheme())
	b.r.resize(80, 24)
	if err := b.r.first(); err != nil {
		t.Fatal(err)
	}
	golden(t, "start", b.view())
	b.press("a")
	b.sees("alder-row-2.yaml")
	b.press("enter")
	if len(made) != 1 || made[0] != "alder-row-2.yaml" {
		t.Fatalf("made %v", made)
	}
	b.sees("14 Alder Row")
	if b.r.at.page != page.Rooms {
		t.Errorf("at %q", b.r.at.page)
	}
}

func TestScreensLookAsTheyDid(t *testing.T) {
	b := fresh(t, 80, 24)
	golden(t, "question", b.view())
	b.press("?")
	golden(t, "keys", b.view())
	b = newBench(t, small, 80, 24, func(it *Opened) {
		it.Draft = []byte(strings.Replace(small, "Rosa", "Rosalind", 1))
		it.DraftAt = "2 March 2026, 09:00"
	})
	b.settle()
	b.press("d")
	golden(t, "recovery", b.view())
}

// No keys, in whatever order, may break a frame or lose a document.
func TestHammering(t *testing.T) {
	names := []string{
		"enter", "esc", "tab", "shift+tab", "up", "down", "ctrl+p", "ctrl+u", "ctrl+r", "ctrl+t", "f1", "?", "a", "b", "e", "1", "2", "3",
		"4", "5", "6", "8", "9", "0", "f", "t", "p", "x", "y", "n", "r", "=", "space", "backspace", "[", "]", "left", "right",
	}
	named["left"], named["right"] = tea.KeyLeft, tea.KeyRight
	seeds := 2
	if testing.Short() {
		seeds = 1
	}
	for seed := range seeds {
		b := alder(t, 80, 24)
		n := uint32(seed + 1)
		for range 150 {
			n = n*1664525 + 1013904223
			key := names[int(n>>16)%len(names)]
			b.press(key)
			if lines := strings.Count(b.view(), "\n") + 1; lines != 24 {
				t.Fatalf("%d lines after %s", lines, key)
			}
			if !b.r.session.hist.now().OK() {
				t.Fatalf("a broken document after %s", key)
			}
		}
		b.press("ctrl+c")
		if b.disk.saves > 0 && b.disk.file != b.source() {
			t.Error("left unsaved")
		}
	}
}
