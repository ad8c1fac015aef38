package projectfile

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"pgregory.net/rapid"
)

const guestHouse = `roombrief: 1
people: [{id: host, alerts: yes}]
rooms:
  - id: room-1
    name: The first
    kind: bedroom
    outline: {x: 0 m, y: 0 m, width: 4 m, depth: 3 m}
    windows: [{id: street, faces: S, area: 1 m2}]
    circuits:
      - {id: ceiling, lamps: 3, dimmable: unknown, switch: box}
      - {id: bed, lamps: 2, switch: box}
    switches: [{id: box, gangs: 2, neutral: no}]
    brief:
      lighting:
        start: on entry
        periods: [{from: 07:00, level: 80 %}, {from: 22:00, level: 10 %, circuits: [bed]}]
        stop: {after: 6m, never_while: occupied}
      ventilation: none
  - id: room-2
    like: room-1
    outline: {x: 4 m}
    circuits:
      - {id: bed, dimmable: yes}
      - {id: desk, lamps: 1, switch: box}
    brief:
      lighting: {periods: [{from: 08:00, level: 60 %}]}
      ventilation: {ceiling: 65 %}
  - {id: room-3, like: room-2, windows: [], brief: {lighting: none}, kind: }
`

func TestLike(t *testing.T) {
	d := parse(t, guestHouse)
	one, two, three := d.Project().Rooms[0], d.Project().Rooms[1], d.Project().Rooms[2]
	if two.Name != "" || two.Kind != "bedroom" || two.Like != "room-1" || three.Kind != "bedroom" {
		t.Errorf("name %q, kind %q, like %q, kind %q", two.Name, two.Kind, two.Like, three.Kind)
	}
	if want := (model.Outline{X: 4, Width: 4, Depth: 3}); two.Outline != want {
		t.Errorf("outline %+v, want %+v", two.Outline, want)
	}
	want := []model.Circuit{
		{ID: "ceiling", Lamps: 3, Dimmable: model.Fact[bool]{State: model.Unknown}, Switch: model.Know("box")},
		{ID: "bed", Lamps: 2, Dimmable: model.Know(true), Switch: model.Know("box")},
		{ID: "desk", Lamps: 1, Switch: model.Know("box")},
	}
	if !reflect.DeepEqual(two.Circuits, want) {
		t.Errorf("circuits %+v", two.Circuits)
	}
	if !reflect.DeepEqual(three.Circuits, two.Circuits) || !reflect.DeepEqual(two.Switches, one.Switches) {
		t.Error("what a room doesn't say, the other says")
	}
	light := two.Brief.Lighting.Want
	if light.Start != "on entry" || len(light.Periods) != 1 || light.Periods[0].Level != 60 || light.Stop != one.Brief.Lighting.Want.Stop {
		t.Errorf("lighting %+v", light)
	}
	if !two.Brief.Ventilation.Wanted() || one.Brief.Ventilation.State != model.Declined || three.Brief.Lighting.State != model.Declined {
		t.Error("a goal of its own counts")
	}
	if len(three.Windows) != 0 || len(two.Windows) != 1 {
		t.Error("an empty list is a list of its own")
	}
	if len(one.Circuits) != 2 || one.Circuits[1].Dimmable.State != model.Absent {
		t.Error("the room that is repeated has changed")
	}
}

func TestLookupsSeeThroughLike(t *testing.T) {
	d := parse(t, guestHouse)
	for path, want := range map[string]string{
		"rooms/room-3/circuits/bed/dimmable":         "yes",
		"rooms/2/circuits/ceiling/lamps":             "3",
		"rooms/room-2/outline/width":                 "4 m",
		"rooms/room-2/brief/lighting/periods/0/from": "08:00",
		"rooms/room-3/brief/lighting":                "none",
	} {
		if got, _ := d.Text(path); got != want || !d.Has(path) {
			t.Errorf("%s is %q, want %q", path, got, want)
		}
	}
	if d.Has("rooms/room-2/name") || d.Has("rooms/room-1/circuits/desk") {
		t.Error("a room's own name is not repeated, nor does anything flow back")
	}
	if got := strings.Join(d.Keys("rooms/room-3/circuits"), " "); got != "ceiling bed desk" {
		t.Errorf("circuits %s", got)
	}
}

func TestInheritedMistakeIsToldOnce(t *testing.T) {
	d := Parse([]byte(strings.Replace(guestHouse, "lamps: 3", "lamps: many", 1)))
	want := "\n10:30: rooms/room-1/circuits/ceiling/lamps: \"many\" is not a whole number that can be used; accepted: a whole number such as 3"
	if got := said(d.Problems()); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// A room that repeats another and says nothing else is that other, but for its own id, name and like.
func TestLikeAloneIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 30).Draw(t, "rooms")
		src := "roombrief: 1\nrooms:\n"
		order := rapid.Permutation(seq(n)).Draw(t, "order")
		for _, i := range order {
			if i == 0 {
				src += "  - {id: r0, floor: 3, kind: study, circuits: [{id: a, lamps: 2}], brief: {leak: none, said: [{words: w}]}}\n"
				continue
			}
			src += fmt.Sprintf("  - {id: r%d, like: r%d}\n", i, rapid.IntRange(0, i-1).Draw(t, "like"))
		}
		d := Parse([]byte(src))
		if len(d.Problems()) > 0 {
			t.Fatal(said(d.Problems()))
		}
		first, _ := d.Project().Room("r0")
		for _, r := range d.Project().Rooms {
			r.ID, r.Like = first.ID, ""
			if !reflect.DeepEqual(r, first) {
				t.Fatalf("%+v\nis not\n%+v", r, first)
			}
		}
	})
}

func seq(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// A small file must not be able to ask for a large amount of work.
func TestRepeatingIsBounded(t *testing.T) {
	var src strings.Builder
	src.WriteString("roombrief: 1\nrooms:\n  - id: r0\n    circuits:\n")
	for i := range 20000 {
		fmt.Fprintf(&src, "      - {id: c%d, lamps: 1}\n", i)
	}
	for i := range 5000 {
		fmt.Fprintf(&src, "  - {id: r%d, like: r%d}\n", i+1, i)
	}
	d := Parse([]byte(src.String()))
	if d.OK() || d.Problems()[0].Message != "the rooms that repeat others come to more than can be held" {
		t.Error(said(d.Problems()[:1]))
	}
}

func TestLongChain(t *testing.T) {
	var src strings.Builder
	src.WriteString("roombrief: 1\nrooms:\n")
	const n = 20000
	for i := range n {
		fmt.Fprintf(&src, "  - {id: r%d, like: r%d}\n", i, (i+1)%n)
	}
	ps := Parse([]byte(src.String())).Problems()
	if len(ps) != 1 || !strings.Contains(ps[0].Message, "in a ring: r0 like r1 like r2 like r3 like … like r0") {
		t.Error(said(ps[:1]))
	}
}
