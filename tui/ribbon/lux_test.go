package ribbon

import (
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/physics"
	"example.org/roombrief/tui/draw/trial"
)

// squeezed is what a page shows with its line breaks and its margin's bar taken for blanks.
func squeezed(d *trial.Desk) string {
	var right []string
	for _, l := range strings.Split(d.Seen(), "\n") {
		_, note, _ := strings.Cut(l, "│")
		right = append(right, note)
	}
	return strings.Join(strings.Fields(strings.Join(right, " ")), " ")
}

func TestLuxOfEveryPeriod(t *testing.T) {
	for _, c := range []struct {
		file, room string
		press      []string
		row, note  string
	}{
		{"alder-row.yaml", "shower-room", nil, "90 %  89 lx", "90 % gives 89 lx; 75 to 150 lx is usual here."},
		{"alder-row.yaml", "shower-room", nil, "35 %  35 lx", "338 lx at the mirror; 300 to 500 lx is usual there."},
		{"alder-row.yaml", "shower-room", []string{"end"}, "0.9 lx floor", "4 % gives 0.9 lx on the floor: enough to see by, and blinds nobody."},
		{"alder-row.yaml", "hall", nil, "80 %  13 lx", "80 % gives 13 lx; 30 to 75 lx is usual here: add 1 lamp like those there."},
		{"alder-row.yaml", "nursery", []string{"end"}, "0.6 lx floor", "2 % gives 0.6 lx on the floor: too little to see a step by; 4 % gives 1.0 lx."},
		{"alder-row.yaml", "study", nil, "0 %", "At 0 % the room leaves its light as it is found."},
		{"larkspur-lane.yaml", "laundry", nil, "100 %  4.3 fc", "add 5 lamps like those there."},
	} {
		s := trial.Home(t, c.file, c.room)
		s.Units = physics.System(s.Project)
		d := trial.Sit(t, New(), s, 116, 35).Press(c.press...)
		if !strings.Contains(d.Seen(), c.row) || !strings.Contains(squeezed(d), c.note) {
			t.Errorf("%s lacks %q or %q:\n%s", c.room, c.row, c.note, d.Seen())
		}
	}
}

func TestLuxFollowsTheLevel(t *testing.T) {
	d := sit(t, "hall").Press("+")
	if !strings.Contains(d.Seen(), "95 %  54 lx") && !strings.Contains(d.Seen(), "100 %  56 lx") {
		t.Errorf("the light is not that of the new level:\n%s", d.Seen())
	}
}

func TestLamplessRoomHasNoLux(t *testing.T) {
	bare := strings.Replace(cottage, "    circuits:\n      - {id: ceiling, lamps: 1, flux: 470 lm, base: E27, dimmable: yes}\n      - {id: shelf, lamps: 1, flux: 470 lm, base: E27, dimmable: yes}\n", "", 1)
	bare = strings.Replace(bare, ", circuits: [shelf]", "", 1)
	if got := trial.Sit(t, New(), trial.Of(t, []byte(bare), "hall"), 116, 35).Seen(); strings.Contains(got, " lx") {
		t.Errorf("light out of no lamps:\n%s", got)
	}
}

func TestSunOverTheYear(t *testing.T) {
	today := time.Date(2026, 11, 24, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		lat, lon float64
		zone     string
		from     q.DayTime
		units    q.System
		want     []string
	}{
		{53.96, -1.08, "Europe/London", q.DayTime{Sun: q.Sunset}, q.Metric, []string{"Sunset runs from 15:4", "in December to 21:4", "in June."}},
		{53.96, -1.08, "Europe/London", q.DayTime{Sun: q.Sunset, Offset: -20 * time.Minute}, q.Metric, []string{"20 min before sunset runs from 15:2", "to 21:2"}},
		{-33.9, 151.2, "Australia/Sydney", q.DayTime{Sun: q.Sunset}, q.Metric, []string{"in June to 20:", "in January."}},
		{69.65, 18.96, "Europe/Oslo", q.DayTime{Sun: q.Sunset}, q.Metric, []string{"days of the year it does not come", "to 00:", "in May"}},
		{89, 0, "UTC", q.DayTime{Sun: q.Dusk}, q.US, []string{"it does not come"}},
	} {
		place := model.Place{Latitude: q.Degrees(c.lat), Longitude: q.Degrees(c.lon), Timezone: c.zone}
		got := yearOf(today, place).runs(c.from, c.units)
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("at %v: %q lacks %q", c.lat, got, want)
			}
		}
	}
	if got := (sunYear{days: []Sun{{Never, Never, Never, Never, true}}}).runs(q.DayTime{Sun: q.Sunset}, q.Metric); !strings.Contains(got, "write a clock time") {
		t.Errorf("a sun that never sets: %q", got)
	}
}

// BenchmarkMarked is a step of the cursor and its frame, with the year of the sun at hand.
func BenchmarkMarked(b *testing.B) {
	d := trial.Sit(b, New(), trial.Home(b, "alder-row.yaml", "shower-room"), 116, 35).Press("down")
	for b.Loop() {
		d.Press("up", "down")
		d.Page.View()
	}
}

func BenchmarkYear(b *testing.B) {
	place := model.Place{Latitude: 53.96, Longitude: -1.08, Timezone: "Europe/London"}
	for b.Loop() {
		yearOf(trial.Today, place)
	}
}
