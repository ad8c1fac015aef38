package interview

import (
	"testing"

	"example.org/roombrief/model/projectfile"
)

// empty is a home of which nothing is known.
func empty() *projectfile.Document { return projectfile.Parse([]byte("roombrief: 1\n")) }

// accept takes every default of a room, or of the home, and counts the answers.
func accept(t *testing.T, d *projectfile.Document, room string) (*projectfile.Document, int) {
	t.Helper()
	for n := 0; ; n++ {
		qn, ok := Next(d, room)
		if !ok {
			return d, n
		}
		if n > 200 {
			t.Fatalf("still asking after %d answers: %s", n, qn.ID)
		}
		out, err := Answer(d, qn, "")
		if err != nil {
			t.Fatalf("%s: default %q: %v", qn.ID, qn.Default, err)
		}
		for _, x := range All(out, room) {
			if x.ID == qn.ID && !x.Answered {
				t.Fatalf("%s: still open after its default %q\n%s", qn.ID, qn.Default, out.Source())
			}
		}
		d = out
	}
}

func TestEveryKindByItsDefaults(t *testing.T) {
	for _, k := range Kinds() {
		t.Run(k.ID, func(t *testing.T) {
			d, home := accept(t, empty(), "")
			d, id, err := AddRoom(d, k.ID, "")
			if err != nil {
				t.Fatal(err)
			}
			d, room := accept(t, d, id)
			d, after := accept(t, d, "")
			for _, p := range d.Problems() {
				t.Error(p.Error())
			}
			done, of := Progress(d, id)
			t.Logf("%d answers for the home, %d for the room, %d after it", home, room, after)
			if done != of {
				t.Errorf("%d of %d answered at the end", done, of)
			}
			if presses := home + 2 + room + after; presses >= 60 {
				t.Errorf("%d key presses from an empty home; fewer than 60 are promised", presses)
			}
			if t.Failed() || k.ID == "shower room" || k.ID == "utility room" {
				t.Logf("\n%s", d.Source())
			}
		})
	}
}
