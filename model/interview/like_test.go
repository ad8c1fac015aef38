package interview

import (
	"reflect"
	"strings"
	"testing"

	"example.org/roombrief/model/projectfile"
)

// twin is a finished room, and a second one that repeats it.
func twin(t *testing.T, kind string) (*projectfile.Document, string) {
	t.Helper()
	d, _ := accept(t, empty(), "")
	d, id, err := AddRoom(d, kind, "First")
	if err != nil {
		t.Fatal(err)
	}
	d, _ = accept(t, d, id)
	d, err = d.Apply(projectfile.Append("rooms", "id: second\nname: Second\nlike: first"))
	if err != nil {
		t.Fatal(err)
	}
	return d, "second"
}

func TestRoomThatRepeatsAnother(t *testing.T) {
	for _, kind := range []string{"shower room", "utility room", "hall"} {
		d, id := twin(t, kind)
		if qn, ok := Next(d, id); ok {
			t.Errorf("%s: %s is asked although the repeated room has it", kind, qn.ID)
		}
		first := d.Project().Rooms[0]
		for _, qn := range All(d, id) {
			if strings.Contains(qn.ID, "/tell") {
				continue
			}
			if _, err := Answer(d, qn, qn.Now); err != nil {
				t.Errorf("%s %s: %q: %v", kind, qn.ID, qn.Now, err)
			}
			texts := []string{"no", "none", "yes", "7", "45"}
			for _, c := range qn.Choices {
				texts = append(texts, c.Key)
			}
			for _, text := range texts {
				out, err := Answer(d, qn, text)
				if err != nil {
					continue
				}
				if !reflect.DeepEqual(first, out.Project().Rooms[0]) {
					t.Errorf("%s %s: %q in the second room changed the first", kind, qn.ID, text)
				}
				if !out.OK() {
					t.Errorf("%s %s: %q: %v", kind, qn.ID, text, out.Problems())
				}
			}
		}
	}
}
