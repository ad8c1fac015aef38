package interview

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model/projectfile"
)

var update = flag.Bool("update", false, "write the golden files anew")

var day = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// talk runs the plain interview on typed lines and gives what it printed, with each line typed after its mark.
func talk(t *testing.T, d *projectfile.Document, opts PlainOptions, typed ...string) (string, *projectfile.Document, int) {
	t.Helper()
	var out bytes.Buffer
	saves := 0
	opts.Today, opts.Echo = day, true
	d, err := Plain(context.Background(), d, opts, strings.NewReader(strings.Join(typed, "\n")+"\n"), &out,
		func(*projectfile.Document) error { saves++; return nil })
	if err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	for _, p := range d.Problems() {
		t.Error(p.Error())
	}
	return out.String(), d, saves
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; run the test with -update and look at the difference\n%s", name, got)
	}
}

func enters(n int) []string { return make([]string, n) }

func TestPlainShowerRoom(t *testing.T) {
	typed := append([]string{"14 Alder Row", "york", "b", "", "Rosa, Otto (slow mover), Dilip next door, cat 4 kg"}, enters(4)...)
	typed = append(typed, "s", "", "", "2.1 x 2.4, 2,35")
	typed = append(typed, enters(7)...)
	typed = append(typed, "park electrician", "35", "c t", "say I don't want to be blinded at night.", "")
	typed = append(typed, "", "6:30 90%, sunset-30 35 2700, 10:45 pm 5% amber mirror", "6", "?", "", "")
	typed = append(typed, "60", "", "no", "20m, 1h", "11pm to 6am except damp air", "")
	typed = append(typed, "Rosa, Dilip", "r d", "", "no", "", "<", "", "")
	typed = append(typed, "4 C 87 %, 17 C 75 %", "Rosa", "done")
	out, d, _ := talk(t, empty(), PlainOptions{}, typed...)
	golden(t, "shower-room.txt", out)
	golden(t, "shower-room.yaml", string(d.Source()))
	if strings.Contains(out, "\x1b") {
		t.Error("an escape sequence was printed")
	}
}

func TestPlainCommands(t *testing.T) {
	cases := []struct {
		name  string
		typed []string
		want  []string
		file  []string
		not   []string
	}{
		{"why", []string{"?"}, []string{"It stands at the head of every paper.", "For example: 14 Alder Row"}, nil, []string{"name:"}},
		{"back keeps the answer", []string{"One", "<", "", "l"}, []string{"[One] is written now; Enter keeps it"}, []string{"name: One"}, nil},
		{"back changes the answer", []string{"One", "<", "Two"}, nil, []string{"name: Two"}, nil},
		{"no way back from the first", []string{"<"}, []string{"This is the first question."}, nil, nil},
		{"park", []string{"park Otto"}, []string{"Parked: 1."}, []string{"at: home/name", "ask: Otto", "since: 2026-03-02"}, []string{"Our home"}},
		{"skip", []string{"skip", ""}, nil, []string{"timezone"}, []string{"name:"}},
		{"skip chapter", []string{"skip chapter"}, []string{"Which room now?"}, nil, []string{"name:"}},
		{"defaults", []string{"defaults"}, []string{"Which room now?"}, []string{"Our home", "terms:"}, nil},
		{"an answer that looks like a command", []string{"=park"}, nil, []string{"name: park"}, nil},
		{"words need a room", []string{"say hello"}, []string{"Words are kept with a room"}, nil, []string{"hello"}},
		{"bad answer asks again", []string{"", "l", "maybe", "c"}, []string{`"maybe" is not a year`}, []string{"wired: 1980"}, nil},
		{"quit", []string{"quit", "One"}, []string{"Saved. Not asked yet:"}, nil, []string{"One"}},
		{"own kind of room", []string{"defaults", "conservatory", "", "skip chapter"}, []string{"[Conservatory]"}, []string{"kind: conservatory"}, nil},
		{"no such kind", []string{"defaults", "é"}, []string{"neither a room nor a kind"}, nil, []string{"kind:"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			out, d, _ := talk(t, empty(), PlainOptions{}, c.typed...)
			for _, w := range c.want {
				if !strings.Contains(out, w) {
					t.Errorf("%q was not printed:\n%s", w, out)
				}
			}
			for _, w := range c.file {
				if !strings.Contains(string(d.Source()), w) {
					t.Errorf("%q is not in the file:\n%s", w, d.Source())
				}
			}
			for _, w := range c.not {
				if strings.Contains(string(d.Source()), w) {
					t.Errorf("%q is in the file:\n%s", w, d.Source())
				}
			}
		})
	}
}

func TestPlainSavesEachAnswer(t *testing.T) {
	_, d, saves := talk(t, empty(), PlainOptions{}, "One", "york", "c")
	if saves != 3 {
		t.Errorf("saved %d times for 3 answers", saves)
	}
	if !d.Has("home/mains/wired") {
		t.Error("the last answer before the end of the input is lost")
	}
}

func TestPlainStopsWhenSavingFails(t *testing.T) {
	full := errors.New("the disk is full")
	var out bytes.Buffer
	_, err := Plain(context.Background(), empty(), PlainOptions{}, strings.NewReader("One\nTwo\n"), &out, func(*projectfile.Document) error { return full })
	if !errors.Is(err, full) {
		t.Errorf("got %v", err)
	}
}

func TestPlainUnknownRoom(t *testing.T) {
	var out bytes.Buffer
	_, err := Plain(context.Background(), empty(), PlainOptions{Room: "attic"}, strings.NewReader(""), &out, nil)
	if err == nil || !strings.Contains(err.Error(), `no room called "attic"`) {
		t.Errorf("got %v", err)
	}
}

func TestPlainEndsWithTheContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, _ := io.Pipe()
	_, err := Plain(ctx, empty(), PlainOptions{}, r, &bytes.Buffer{}, nil)
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestPlainLongLine(t *testing.T) {
	out, d, _ := talk(t, empty(), PlainOptions{}, strings.Repeat("x", maxLine+5), "One")
	if !strings.Contains(out, "longer than") || !strings.Contains(string(d.Source()), "name: One") {
		t.Errorf("the line was not refused, or the next one was lost:\n%s", out)
	}
}
