package projectfile

import (
	"strings"
	"testing"

	"example.org/roombrief/model"
)

func TestPlacesAreChecked(t *testing.T) {
	const src = `roombrief: 1
rooms:
  - id: den
    outline: {x: 0 m, y: 0 m, width: 2.1 m, depth: 2.4 m}
    switches: [{id: box, gangs: 1, position: {x: BOX, y: 1 m}}]
    fans: [{id: extract, position: {x: 0.3 m, y: 0.2 m}}]
choices:
  places: {THING: {x: 0.2 m, y: AT}}
`
	for _, c := range []struct{ box, thing, at, path, says string }{
		{"2 m", "den/motion", "2 m", "", ""},
		{"20 m", "den/motion", "2 m", "rooms/den/switches/box/position", "outside the room, which is 2.1 m by 2.4 m"},
		{"2 m", "den/motion", "9 m", "choices/places/{den/motion}", "outside the room"},
		{"0 m", "den/motion", "2 m", "", ""},
		{"2 m", "dn/motion", "2 m", "choices/places/{dn/motion}", "there is no room"},
		{"2 m", "den", "2 m", "choices/places/den", "names a room, but nothing in it"},
	} {
		d := Parse([]byte(strings.NewReplacer("BOX", c.box, "THING", c.thing, "AT", c.at).Replace(src)))
		if c.path == "" {
			if len(d.Problems()) != 0 || d.Project().Choices.Places["den/motion"] != (model.Point{X: 0.2, Y: 2}) || d.Project().Rooms[0].Fans[0].Position.Value.X != 0.3 {
				t.Errorf("%v %+v", d.Problems(), d.Project().Choices)
			}
			continue
		}
		if p := d.Problems(); len(p) != 1 || p[0].Path != c.path || !strings.Contains(p[0].Message, c.says) || p[0].Hint == "" {
			t.Errorf("%+v: %+v", c, p)
		}
	}
}

func TestPlacesOfControllersAreChecked(t *testing.T) {
	d := Parse([]byte("roombrief: 1\ncontrollers:\n  - {id: shelf, room: den, position: {x: 9 m, y: 0 m}}\n  - {id: nook, position: {x: 9 m, y: 0 m}}\nrooms:\n  - id: den\n    outline: {width: 2 m, depth: 2 m}\n"))
	if p := d.Problems(); len(p) != 1 || p[0].Path != "controllers/shelf/position" || !strings.Contains(p[0].Message, "outside the room") {
		t.Errorf("%v", p)
	}
}

// Nothing and nothing is the room's corner; only what isn't written is not noted.
func TestAPlaceInTheCornerIsNoted(t *testing.T) {
	for _, c := range []struct {
		written string
		want    model.Fact[model.Point]
		says    []string
	}{
		{"", model.Fact[model.Point]{}, nil},
		{"position: {x: 0 m, y: 0 m}", model.Know(model.Point{}), nil},
		{"position: {x: 1 m, y: 0 m}", model.Know(model.Point{X: 1}), nil},
		{"position: {x: 1 m}", model.Know(model.Point{X: 1}), []string{"has no y"}},
		{"position: {}", model.Know(model.Point{}), []string{"has no x", "has no y"}},
		{"position: unknown", model.Fact[model.Point]{State: model.Unknown}, nil},
	} {
		d := Parse([]byte("roombrief: 1\nrooms:\n  - id: den\n    outline: {width: 2 m, depth: 2 m}\n    switches:\n      - id: box\n        gangs: 1\n        " + c.written + "\n"))
		if !d.OK() || d.Project().Rooms[0].Switches[0].Position != c.want || len(d.Problems()) != len(c.says) {
			t.Errorf("%q: %+v %v", c.written, d.Project().Rooms[0].Switches[0].Position, d.Problems())
			continue
		}
		for i, s := range c.says {
			if !strings.Contains(d.Problems()[i].Message, s) {
				t.Errorf("%q: %v", c.written, d.Problems())
			}
		}
	}
}
