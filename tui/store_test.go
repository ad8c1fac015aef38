package tui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/planner/papers"
)

// onDisk are options whose folders are a test's own.
func onDisk(t *testing.T) (Options, string) {
	dir := t.TempDir()
	env := map[string]string{"XDG_CONFIG_HOME": filepath.Join(dir, "config"), "XDG_STATE_HOME": filepath.Join(dir, "state")}
	o := Options{Env: func(key string) string { return env[key] }}
	return o.filled(), dir
}

func TestAFileIsMadeWhenAbsentAndKeptOnTheList(t *testing.T) {
	o, dir := onDisk(t)
	file := filepath.Join(dir, "alder-row.yaml")
	if _, err := o.openStored(file, false, nil); !errors.Is(err, os.ErrNotExist) {
		t.Fatalf("opening what isn't there: %v", err)
	}
	it, err := o.openStored(file, true, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer it.Disk.Close()
	body, err := os.ReadFile(file)
	if err != nil || string(body) != string(it.Source) || !strings.Contains(string(body), "Alder row") {
		t.Fatalf("made as %q, %v", body, err)
	}
	it.Disk.Remember()
	offers := o.storedOffers()
	if len(offers.Recent) != 1 || offers.Recent[0].File != file {
		t.Errorf("offered: %+v", offers.Recent)
	}
	if len(offers.Examples) != 3 {
		t.Errorf("%d example homes are offered", len(offers.Examples))
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	if got := o.storedOffers().Recent; len(got) != 0 {
		t.Errorf("a file that is gone is offered: %+v", got)
	}
}

func TestASecondOpeningIsForReadingOnly(t *testing.T) {
	o, dir := onDisk(t)
	file := filepath.Join(dir, "home.yaml")
	first, err := o.openStored(file, true, nil)
	if err != nil {
		t.Fatal(err)
	}
	second, err := o.openStored(file, true, nil)
	if err != nil || !strings.Contains(second.ReadOnly, "open in another program") {
		t.Errorf("read only because %q, %v", second.ReadOnly, err)
	}
	if err := first.Disk.Close(); err != nil {
		t.Fatal(err)
	}
	third, err := o.openStored(file, true, nil)
	if err != nil || third.ReadOnly != "" {
		t.Errorf("once closed: %q, %v", third.ReadOnly, err)
	}
	third.Disk.Close()
}

func TestADraftIsOfferedAndLeavingItLosesNothing(t *testing.T) {
	o, dir := onDisk(t)
	file := filepath.Join(dir, "home.yaml")
	it, err := o.openStored(file, true, nil)
	if err != nil {
		t.Fatal(err)
	}
	draft := append(it.Source[:len(it.Source):len(it.Source)], "# edited\n"...)
	if err := it.Disk.Keep(draft); err != nil {
		t.Fatal(err)
	}
	it.Disk.Close() // as a killed program leaves it: the draft stays
	it, err = o.openStored(file, true, nil)
	if err != nil || string(it.Draft) != string(draft) || it.DraftOld {
		t.Fatalf("offered %q (file changed: %v), %v", it.Draft, it.DraftOld, err)
	}
	kept, err := it.Disk.Aside(it.Draft)
	if err == nil {
		err = it.Disk.Discard()
	}
	body, rerr := os.ReadFile(filepath.Join(dir, kept))
	if err != nil || rerr != nil || string(body) != string(draft) {
		t.Errorf("put aside as %q: %v, %v", kept, err, rerr)
	}
	it.Disk.Close()
	if it, err = o.openStored(file, true, nil); err != nil || it.Draft != nil {
		t.Errorf("offered again: %q, %v", it.Draft, err)
	}
	it.Disk.Close()
}

func TestAForeignChangeIsNeitherOverwrittenNorTakenByLooking(t *testing.T) {
	o, dir := onDisk(t)
	file := filepath.Join(dir, "home.yaml")
	it, err := o.openStored(file, true, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer it.Disk.Close()
	theirs := string(it.Source) + "# theirs\n"
	mine := []byte(string(it.Source) + "# mine\n")
	if err := os.WriteFile(file, []byte(theirs), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := it.Disk.Save(mine); !errors.Is(err, ErrElsewhere) {
		t.Fatalf("saved over it: %v", err)
	}
	if body, err := it.Disk.Peek(); err != nil || string(body) != theirs {
		t.Errorf("looked at %q, %v", body, err)
	}
	if err := it.Disk.Save(mine); !errors.Is(err, ErrElsewhere) {
		t.Errorf("looking counted as taking: %v", err)
	}
	kept, err := it.Disk.Overwrite(mine)
	if err != nil {
		t.Fatal(err)
	}
	if body, err := os.ReadFile(filepath.Join(dir, kept)); err != nil || string(body) != theirs {
		t.Errorf("theirs was kept as %q: %q, %v", kept, body, err)
	}
}

func TestPapersLandInTheirFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "papers")
	if err := writePapers(dir, []papers.Paper{{Name: "a.md", Body: []byte("a")}, {Name: "b.csv", Body: []byte("b")}}); err != nil {
		t.Fatal(err)
	}
	if body, err := os.ReadFile(filepath.Join(dir, "b.csv")); err != nil || string(body) != "b" {
		t.Errorf("%q, %v", body, err)
	}
	block := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(block, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := writePapers(block, nil); err == nil || !strings.Contains(err.Error(), "can't be made") {
		t.Errorf("a file in the way: %v", err)
	}
}

func TestAgo(t *testing.T) {
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.Local)
	for _, c := range []struct {
		then time.Time
		want string
	}{
		{now.Add(-time.Hour), "today, 08:00"},
		{now.Add(-10 * time.Hour), "yesterday"},
		{now.AddDate(0, 0, -3), "3 days ago"},
		{now.AddDate(0, -1, 0), "2 February 2026"},
		{now.Add(time.Hour), "today, 10:00"},
	} {
		if got := ago(now, c.then); got != c.want {
			t.Errorf("ago(%v) = %q, want %q", c.then, got, c.want)
		}
	}
}

func TestDiff(t *testing.T) {
	plain := testTheme()
	strip := func(lines []string) string { return strings.Join(lines, "|") }
	for _, c := range []struct{ old, new, want string }{
		{"a\nb\nc", "a\nB\nc", "line 2|- b|+ B"},
		{"a\nb\nc\nd\ne", "a\nc\nd\nE", "line 2|- b||line 4|- e|+ E"},
		{"a", "a", "The two are the same."},
		{"", "x", "line 1|- |+ x"},
	} {
		if got := strip(diff(plain, c.old, c.new)); got != c.want {
			t.Errorf("diff(%q, %q) = %s, want %s", c.old, c.new, got, c.want)
		}
	}
}
