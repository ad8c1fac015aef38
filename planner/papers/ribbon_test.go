package papers

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/rules"
)

func ribbonOf(t *testing.T, file, room string, change func(*model.Project, *model.Room)) string {
	t.Helper()
	for _, h := range fixtures.Homes() {
		if h.File != file {
			continue
		}
		p := *projectfile.Parse(h.Source).Project()
		r, _ := p.Room(room)
		if change != nil {
			change(&p, &r)
		}
		return source{project: &p}.lightRibbon(r)
	}
	t.Fatal("no such home")
	return ""
}

// In York the sun is up from 08:21 to 15:43 on 21 December and from 04:31 to 21:40 on 20 June (GMT and BST, as in the calculator); the
// edge at sunset moves with it, clock edges stay.
func TestLightOverTheDayFollowsTheSun(t *testing.T) {
	got := ribbonOf(t, "alder-row.yaml", "shower-room", nil)
	for _, want := range []string{"Shortest day, 21 December", "sun up from 08:21 to 15:43", ">15:43<", "Longest day, 20 June", "sun up from 04:31 to 21:40", ">21:40<", ">90 % 4000 K<", ">35 % 2700 K<", ">4 % 2200 K<", ">mirror<", ">ceiling<"} {
		if !strings.Contains(got, want) {
			t.Errorf("the ribbon lacks %q:\n%s", want, got)
		}
	}
	if strings.Count(got, ">06:20<") != 2 {
		t.Errorf("06:20 isn't an edge of both days:\n%s", got)
	}
	d := xml.NewDecoder(strings.NewReader(got))
	for {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestLightOverTheDayWithoutAPlace(t *testing.T) {
	nowhere := func(p *model.Project, r *model.Room) { p.Home.Place = model.Place{} }
	if got := ribbonOf(t, "alder-row.yaml", "shower-room", nowhere); got != "" {
		t.Errorf("a sunset that nobody knows is drawn:\n%s", got)
	}
	got := ribbonOf(t, "alder-row.yaml", "kitchen", nowhere) // by the clock alone
	if !strings.Contains(got, "Every day") || strings.Contains(got, "sun") || !strings.Contains(got, ">19:30<") {
		t.Error(got)
	}
	arctic := func(p *model.Project, r *model.Room) { p.Home.Place.Latitude = 71 }
	if got := ribbonOf(t, "alder-row.yaml", "shower-room", arctic); !strings.Contains(got, "the sun stays down") || !strings.Contains(got, "the sun stays up") {
		t.Error(got)
	}
	none := func(p *model.Project, r *model.Room) { r.Brief.Lighting = model.Goal[model.Lighting]{} }
	if got := ribbonOf(t, "alder-row.yaml", "shower-room", none); got != "" {
		t.Error(got)
	}
	evil := func(p *model.Project, r *model.Room) { r.Name = `</svg><script>x`; r.Circuits[0].ID = "<b" }
	if got := ribbonOf(t, "alder-row.yaml", "shower-room", evil); strings.Contains(got, "<script") || strings.Contains(got, "<b") {
		t.Error(got)
	}
}

// The spans of a day share it out without a gap, whatever the sun.
func TestSpansFillTheDay(t *testing.T) {
	for _, h := range fixtures.Homes() {
		for _, r := range projectfile.Parse(h.Source).Project().Rooms {
			for _, day := range []rules.Day{rules.Equinox, {Sunset: 86399, Dusk: 86399}, {Dawn: 43200, Sunrise: 43200, Sunset: 43200, Dusk: 43200}} {
				sum := 0
				for _, s := range spansOf(r.Brief.Lighting.Want.Periods, day) {
					sum += s.to - s.from
				}
				if n := len(r.Brief.Lighting.Want.Periods); n > 0 && sum != rules.DaySeconds {
					t.Errorf("%s, %s: %d s of the day", h.File, r.ID, sum)
				}
			}
		}
	}
}
