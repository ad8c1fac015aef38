package ideal

import (
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// thingsOf counts what a room has by kind, as the draft has them.
func thingsOf(d Drafted, room string) map[rules.ThingKind]int {
	out := map[rules.ThingKind]int{}
	for _, t := range d.Sheet.Things {
		if t.Room == room {
			out[t.Kind]++
		}
	}
	return out
}

func TestChosenWaysToSensePeople(t *testing.T) {
	for _, tt := range []struct {
		room, sense             string
		motion, doors, presence int
	}{
		{"shower-room", "", 1, 1, 0},
		{"shower-room", "doors", 1, 1, 0},
		{"shower-room", "motion", 1, 0, 0},
		{"shower-room", "still", 0, 0, 1},
		{"utility", "still", 0, 0, 0}, // nothing there asks for people
	} {
		p := alderRow(t)
		p.Choices.Sense = map[string]string{tt.room: tt.sense}
		d := Draft(p)
		k := thingsOf(d, tt.room)
		if k[rules.Motion] != tt.motion || k[rules.Door] != tt.doors || k[rules.Presence] != tt.presence {
			t.Errorf("%+v: %d motion, %d doors, %d presence", tt, k[rules.Motion], k[rules.Door], k[rules.Presence])
		}
		if _, err := rules.Compile(d.Sheet); err != nil {
			t.Errorf("%+v: %v", tt, err)
		}
	}
}

func TestChoicesThatARoomCannotHaveAreSaid(t *testing.T) {
	p := alderRow(t)
	p.Rooms[0].Doors = []model.Door{{ID: "arch", To: "landing", Usually: "none"}}
	room := p.Rooms[0].ID
	p.Choices = model.Choices{Sense: map[string]string{room: "doors"}, Doors: map[string]string{room: "patient"}, Blind: map[string]q.Span{room: q.Span(12 * time.Second)}}
	var said []string
	for _, f := range Draft(p).Findings {
		if strings.HasPrefix(f.At, "choices/") {
			said = append(said, f.At)
		}
	}
	if got := strings.Join(said, " "); got != "choices/sense/shower-room choices/doors/shower-room choices/blind/shower-room" {
		t.Error(got)
	}
}

func TestAChosenBlindTimeReachesRulesAndNeeds(t *testing.T) {
	p := alderRow(t)
	p.Choices.Blind = map[string]q.Span{"shower-room": q.Span(12 * time.Second)}
	p.Choices.Doors = map[string]string{"shower-room": "patient"}
	d := Draft(p)
	seen := map[q.Span]bool{}
	for _, r := range d.Sheet.Rules {
		for _, e := range r.Effects {
			if e.Wait == "shower-room/door-check" {
				seen[e.For] = true
			}
			if e.Wait == "shower-room/door-open" && strings.HasPrefix(r.ID, "shower-room/door-shuts") && e.Kind != rules.Start {
				t.Error("the doors aren't patient")
			}
		}
	}
	if !seen[q.Span(27*time.Second)] || len(seen) != 2 { // the other is 0, of its stop
		t.Error(seen)
	}
	for _, n := range d.Needs {
		want := q.Span(0)
		if n.Wants[0] == catalogue.SenseMotion {
			want = Usual().Blind
			if n.Room == "shower-room" {
				want = q.Span(12 * time.Second)
			}
		}
		if n.Facts.Blind != want {
			t.Errorf("%s: blind for %s at most, want %s", n.ID, n.Facts.Blind, want)
		}
	}
}

// Doors are patient where the brief leaves nobody in the dark and people there keep still for longer than the light stays on: in a
// bedroom for an hour.
func TestDoorsArePatientWhereTheBriefNeedsIt(t *testing.T) {
	for _, tt := range []struct {
		after  int // minutes
		never  string
		chosen string
		want   bool
	}{
		{20, "occupied", "", true},
		{59, "occupied", "", true},
		{60, "occupied", "", false},
		{20, "", "", true},
		{20, "moving", "", false},
		{20, "occupied", "brisk", false},
		{60, "moving", "patient", true},
	} {
		r := model.Room{ID: "bed", Kind: "bedroom", Brief: model.Brief{Lighting: want(model.Lighting{Stop: model.Stop{After: minutes(tt.after), NeverWhile: tt.never}})}}
		c := model.Choices{}
		if tt.chosen != "" {
			c.Doors = map[string]string{"bed": tt.chosen}
		}
		if got := Usual().In(&c, &r).PatientDoors; got != tt.want {
			t.Errorf("%+v: %v", tt, got)
		}
	}
	p := alderRow(t)
	p.Choices = model.Choices{}
	if !strings.Contains(said(p), "waits for the 15m that people there may keep still") {
		t.Error("nothing is said of the doors that wait")
	}
	if strings.Contains(said(alderRow(t)), "may keep still") {
		t.Error("something is said of doors that were chosen")
	}
}

func said(p *model.Project) string {
	var out []string
	for _, f := range Draft(p).Findings {
		out = append(out, f.Text)
	}
	return strings.Join(out, "\n")
}
