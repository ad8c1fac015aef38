package projectfile

import (
	"strings"
	"testing"
)

const withChoices = `roombrief: 1
rooms:
  - {id: shower-room, kind: shower room}
choices:
  sense: {shower-room: %s}
  doors: {%s: patient}
  blind: {shower-room: %s, x-own: later}
`

func TestChoicesOfARoomAreChecked(t *testing.T) {
	for _, tt := range []struct{ sense, room, blind, at string }{
		{"still", "shower-room", "12s", ""},
		{"radar", "shower-room", "12s", "choices/sense/shower-room"},
		{"still", "shower-rom", "12s", "choices/doors/shower-rom"},
		{"still", "shower-room", "2h", "choices/blind/shower-room"},
	} {
		src := strings.NewReplacer("%s}\n  doors", tt.sense+"}\n  doors", "{%s: patient", "{"+tt.room+": patient", "%s, x-own", tt.blind+", x-own").Replace(withChoices)
		d := Parse([]byte(src))
		at := ""
		for _, p := range d.Problems() {
			at = p.Path
		}
		if at != tt.at {
			t.Errorf("%+v: problem at %q\n%s%v", tt, at, src, d.Problems())
		}
		if tt.at == "" && d.Project().Choices.Sense["shower-room"] != "still" {
			t.Errorf("%+v", d.Project().Choices)
		}
	}
}
