package interview

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"example.org/roombrief/model/projectfile"
)

// The example homes were written by hand, in more ways than answers are: whatever they say can be shown
// as text, typed again, and is then as it was.
func TestExampleHomesCanBeTypedAgain(t *testing.T) {
	files, err := filepath.Glob("../../fixtures/homes/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no example homes: %v", err)
	}
	for _, f := range files {
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		d := projectfile.Parse(src)
		rooms := []string{""}
		for _, r := range d.Project().Rooms {
			rooms = append(rooms, r.ID)
		}
		for _, room := range rooms {
			for _, qn := range All(d, room) {
				if !qn.Answered {
					continue
				}
				again, err := Answer(d, qn, qn.Now)
				if err != nil {
					t.Errorf("%s %s %s: %q: %v", filepath.Base(f), room, qn.ID, qn.Now, err)
					continue
				}
				if string(again.Source()) != string(src) && !reflect.DeepEqual(again.Project(), d.Project()) {
					t.Errorf("%s %s %s: typing %q again changed the project", filepath.Base(f), room, qn.ID, qn.Now)
				}
			}
		}
	}
}
