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
		{"2 m", "dn/motion", "2 m", "choices/places/{dn/motion}", "there is no room"},
		{"2 m", "den", "2 m", "choices/places/den", "names a room, but nothing in it"},
	} {
		d := Parse([]byte(strings.NewReplacer("BOX", c.box, "THING", c.thing, "AT", c.at).Replace(src)))
		if c.path == "" {
			if len(d.Problems()) != 0 || d.Project().Choices.Places["den/motion"] != (model.Point{X: 0.2, Y: 2}) || d.Project().Rooms[0].Fans[0].Position.X != 0.3 {
				t.Errorf("%v %+v", d.Problems(), d.Project().Choices)
			}
			continue
		}
		if p := d.Problems(); len(p) != 1 || p[0].Path != c.path || !strings.Contains(p[0].Message, c.says) || p[0].Hint == "" {
			t.Errorf("%+v: %+v", c, p)
		}
	}
}
