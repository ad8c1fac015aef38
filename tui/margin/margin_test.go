package margin

import (
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"

	"example.org/roombrief/model"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
	"example.org/roombrief/tui/theme"
)

func plain() theme.Theme {
	return theme.New(lipgloss.NewRenderer(io.Discard), theme.Options{})
}

func TestNotesStandBesideTheirLinesAndPushEachOtherDown(t *testing.T) {
	got := Lines(plain(), 20, 9, []Note{
		{At: 1, Head: "First", Text: "two lines\nof text"},
		{At: 2, Text: "pushed down"},
		{At: 7, Head: "Far", Alarm: true},
	})
	want := []string{"", "First", "two lines", "of text", "", "pushed down", "", "✗ Far", ""}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestPageFoldsItsMarginAway(t *testing.T) {
	note := []Note{{Text: "seen only where there is room"}}
	for _, w := range []int{40, 76, layout.MarginFrom - 1, layout.MarginFrom, 160} {
		got := Page(plain(), w, 5, []string{strings.Repeat("body ", 60), "x"}, note)
		lines := strings.Split(got, "\n")
		if len(lines) != 5 {
			t.Errorf("%d lines at %d", len(lines), w)
		}
		for _, l := range lines {
			if layout.Width(l) > w {
				t.Errorf("a line is %d wide at %d", layout.Width(l), w)
			}
		}
		if seen := strings.Contains(got, "seen only"); seen != (w >= layout.MarginFrom) {
			t.Errorf("margin seen at %d: %v", w, seen)
		}
	}
}

func TestOpenPointsAreParkedQuestionsAndUnknownFacts(t *testing.T) {
	p := &model.Project{
		People: []model.Person{{ID: "rosa", Name: "Rosa"}},
		Rooms: []model.Room{{
			ID:       "shower-room",
			Circuits: []model.Circuit{{ID: "ceiling", Dimmable: model.Fact[bool]{State: model.Unknown}}},
			Switches: []model.SwitchBox{{ID: "box-1", Neutral: model.Fact[bool]{State: model.Unknown}}},
		}, {ID: "hall"}},
		Open: []model.OpenPoint{
			{At: "shower-room/switches/box-1/neutral", Ask: "electrician"},
			{At: "hall/brief/lighting", Ask: "rosa"},
		},
	}
	var got []string
	for _, o := range Points(p, "") {
		got = append(got, o.Room+": "+o.Text)
	}
	want := "shower-room: is there a neutral in box 1, ask electrician|hall: brief: lighting, ask Rosa|shower-room: can the ceiling lamps be dimmed"
	if strings.Join(got, "|") != want {
		t.Errorf("got %s\nwant %s", strings.Join(got, "|"), want)
	}
	if n := len(Points(p, "hall")); n != 1 {
		t.Errorf("the hall has %d open points", n)
	}
}

// A status line never loses what is open or broken, however narrow it is.
func TestNarrowLineKeepsWhatIsOpen(t *testing.T) {
	p := &model.Project{Open: []model.OpenPoint{{At: "den/brief/lighting"}}, Rooms: []model.Room{{ID: "den"}}}
	s := page.Snapshot{Project: p, Room: "den", Theme: plain(), Plan: &planner.Plan{Bill: bill.Bill{Currency: "GBP", Total: 246126,
		Rooms: []bill.Total{{Room: "den", Amount: 10059, Devices: 4}}, Unmet: []bill.Unmet{{Need: "den/lamp"}}}}}
	for _, c := range []struct {
		w    int
		want string
	}{
		{100, "here 4 devices 100.59 · home about 2461.26 GBP with tax · 1 open · 1 not to be had"},
		{81, "here 4 devices 100.59 · home about 2461.26 GBP · 1 open · 1 not to be had"},
		{72, "here 100.59 · home about 2461.26 GBP · 1 open · 1 not to be had"},
		{53, "home about 2461.26 GBP · 1 open · 1 not to be had"},
	} {
		if got := Line(s, c.w); got != c.want {
			t.Errorf("at %d: %q, want %q", c.w, got, c.want)
		}
	}
}
