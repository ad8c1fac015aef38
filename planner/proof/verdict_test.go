package proof

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
)

var update = flag.Bool("update", false, "write testdata anew")

// told is verdicts as a page: what is kept in a line, what is broken with its story.
func told(vs []Verdict) []byte {
	var b bytes.Buffer
	for _, v := range vs {
		fmt.Fprintf(&b, "%s %s", v.Promise.ID, v.State)
		if v.Moving > 0 {
			fmt.Fprintf(&b, ", kept if whoever is inside moves at least every %s", v.Moving)
		}
		if day := v.When.Day(); day != "" {
			fmt.Fprintf(&b, ", on %d days as on %s", v.When.Alike, day)
		}
		if v.Why != "" {
			fmt.Fprintf(&b, ", %s", v.Why)
		}
		fmt.Fprintf(&b, ": %s\n", v.Promise.Sentence)
		for _, s := range v.Story {
			who := "    "
			if s.Act {
				who = "  * "
			}
			fmt.Fprintf(&b, "%s%s %s\n", who, s.At, s.Text)
		}
	}
	return b.Bytes()
}

// TestHomes holds the verdicts on the example homes, faults and all, against what has been looked through.
func TestHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		if only := os.Getenv("HOME_ONLY"); only != "" && !strings.Contains(h.Name, only) {
			continue
		}
		t.Run(h.File, func(t *testing.T) {
			p := projectfile.Parse(h.Source).Project()
			vs, err := Home(context.Background(), p, ideal.Draft(p).Sheet, Options{Faults: true})
			if err != nil {
				t.Fatal(err)
			}
			for _, v := range vs {
				if v.State == Undecided {
					t.Errorf("%s is undecided: %s", v.Promise.ID, v.Why)
				}
				if v.State == Breaks && len(v.Story) == 0 && v.Why == "" {
					t.Errorf("%s is broken, and nothing says how", v.Promise.ID)
				}
			}
			file := filepath.Join("testdata", strings.TrimSuffix(h.File, ".yaml")+".txt")
			got := told(vs)
			if *update {
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("the verdicts of %s have changed; look through what they are with -update", h.Name)
			}
		})
	}
}

// TestAnEditProvesOnlyWhatItTouches proves a home, changes one room, and counts what is proved again.
func TestAnEditProvesOnlyWhatItTouches(t *testing.T) {
	source := fixtures.Homes()[0].Source
	cache := &Cache{}
	home := func(src []byte) []Verdict {
		p := projectfile.Parse(src).Project()
		vs, err := Home(context.Background(), p, ideal.Draft(p).Sheet, Options{Cache: cache})
		if err != nil {
			t.Fatal(err)
		}
		return vs
	}
	first := home(source)
	for i, v := range home(source) {
		if !v.Cached && v.Promise.Computed() == nil && v.Zones > 0 {
			t.Errorf("%s was proved twice", v.Promise.ID)
		}
		if v.State != first[i].State || v.Promise.ID != first[i].Promise.ID || len(v.Story) != len(first[i].Story) {
			t.Errorf("%s differs when it comes from memory", v.Promise.ID)
		}
	}
	edited := bytes.Replace(source, []byte("{after: 6m, never_while: occupied}"), []byte("{after: 8m, never_while: occupied}"), 1)
	if bytes.Equal(edited, source) {
		t.Fatal("the edit changes nothing")
	}
	anew := 0
	for _, v := range home(edited) {
		if !v.Cached && v.Zones > 0 {
			anew++
			if v.Promise.Room != "shower-room" {
				t.Errorf("%s was proved again for an edit of the shower room", v.Promise.ID)
			}
		}
	}
	if anew == 0 {
		t.Error("the edited room wasn't proved again")
	}
}

func TestAProofStopsWhenItIsTold(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	p := projectfile.Parse(fixtures.Homes()[1].Source).Project()
	if _, err := Home(ctx, p, ideal.Draft(p).Sheet, Options{}); err == nil {
		t.Error("it went on to the end")
	}
}

// A case that stands for several days is told by the easiest story of them all, and is kept for people who move often enough
// on each of those days.
func TestTheWorstOfSeveralDays(t *testing.T) {
	few, many := answer{state: Breaks, acts: 1, moving: 300}, answer{state: Breaks, acts: 4, moving: 90}
	none := answer{state: Breaks, acts: 4}
	for _, w := range []struct {
		name   string
		each   []answer
		state  State
		real   int
		moving int32
	}{
		{"the strictest comes later", []answer{few, many}, Breaks, 1, 90},
		{"the story with fewest acts comes later", []answer{many, few}, Breaks, 2, 90},
		{"moving doesn't help on one day", []answer{few, none}, Breaks, 1, 0},
		{"one day is undecided", []answer{few, {state: Undecided}}, Breaks, 1, 0},
		{"one day is kept", []answer{{state: Kept}, few, {state: Empty}}, Breaks, 2, 300},
		{"none is broken", []answer{{state: Empty}, {state: Kept}}, Kept, 2, 0},
	} {
		if out := worstOf(w.each); out.state != w.state || out.real != w.real || out.moving != w.moving {
			t.Errorf("%s: %s of %d, moving %d s", w.name, out.state, out.real, out.moving)
		}
	}
}
