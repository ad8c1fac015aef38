package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// accept presses Enter, taking what is proposed, until one of the texts stands on the screen.
func (x *terminal) accept(texts ...string) string {
	x.t.Helper()
	for range 80 {
		s := x.screen()
		for _, text := range texts {
			if strings.Contains(s, text) {
				return s
			}
		}
		x.press("Enter")
		x.until("something else after Enter", func(now string) bool { return asked(now) != asked(s) })
	}
	x.t.Fatalf("80 Enters never came to %q; the screen was\n%s", texts, x.screen())
	return ""
}

// asked is the page without its margin and its last lines, which change by themselves as plans and saves come to an end.
func asked(screen string) string {
	lines := strings.Split(screen, "\n")
	for i, l := range lines {
		lines[i], _, _ = strings.Cut(l, "│")
	}
	return strings.Join(lines[:max(len(lines)-4, 0)], "\n")
}

// untilFile waits until a file on disk holds a text.
func (x *terminal) untilFile(path, text string) {
	x.t.Helper()
	x.until(path+" to hold "+text, func(string) bool {
		b, err := os.ReadFile(path)
		return err == nil && strings.Contains(string(b), text)
	})
}

// TestJourney is the whole way: a new home, two rooms interviewed, agreed, killed, reopened, edited, handed over.
func TestJourney(t *testing.T) {
	needTmux(t)
	for _, size := range []struct {
		name       string
		cols, rows int
	}{{"80x24", 80, 24}, {"120x40", 120, 40}} {
		t.Run(size.name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			home := filepath.Join(dir, "home.yaml")
			x := start(t, dir, size.cols, size.rows, nil)
			x.see("A new home")
			x.press("n").see("Where is the new home to be kept?")
			x.press("Enter").see("The home")
			x.accept("That is the home.")
			x.press("a").see("What kind of room is it?")
			x.press("Enter")
			x.accept("That was every question.")
			x.press("r").see("Is that it?")
			x.press("1").see("Owner")
			if x.keys >= 60 {
				t.Errorf("a shower room from an empty home took %d key presses, and 60 are too many", x.keys)
			}
			t.Logf("a shower room from an empty home: %d key presses", x.keys)
			x.untilFile(home, "agreed:")

			second(x)
			x.untilFile(home, "kind: WC")
			x.kill()
			reopened(t, dir, size.cols, size.rows)
			handedOver(t, dir)
		})
	}
}

// second adds a WC and takes what is proposed.
func second(x *terminal) {
	x.t.Helper()
	x.press("a").see("What kind of room is it?")
	x.press("w")
	x.accept("That was every question.")
}

// reopened opens the file again after the kill, finds everything, and changes a level on the day page.
func reopened(t *testing.T, dir string, cols, rows int) {
	t.Helper()
	x := start(t, dir, cols, rows, nil, "home.yaml")
	s := x.until("the rooms, or the unsaved work offered", func(s string) bool {
		return strings.Contains(s, "answered") || strings.Contains(s, "There is unsaved work")
	})
	if !strings.Contains(s, "answered") {
		x.press("t")
	}
	x.see("Shower room", "answered")
	x.press("4").see("ceiling", "90 %")
	x.press("-").see("85 %")
	x.untilFile(filepath.Join(dir, "home.yaml"), "level: 85 %")
	x.press("3").see("Lapsed:")
	x.press("5").see("each")
	x.press("6").see("Cause")
	x.press("7").see("home-papers")
	x.untilFile(filepath.Join(dir, "home-papers", "household.html"), "</html>")
	x.press("q")
	x.gone()
}

// handedOver writes the papers with the command.
func handedOver(t *testing.T, dir string) {
	t.Helper()
	x := start(t, dir, 80, 24, nil, "handover", "home.yaml", "-o", "papers")
	x.gone()
	for name, text := range map[string]string{
		"shopping-list.md": "| Part |", "shopping-list.csv": "quantity", "rule-sheet.md": "## Shower room", "household.html": "Shower room",
	} {
		b, err := os.ReadFile(filepath.Join(dir, "papers", name))
		if err != nil || !strings.Contains(string(b), text) {
			t.Errorf("%s: %v, without %q", name, err, text)
		}
	}
}

// TestTinyTerminal says so, and comes back when there is room.
func TestTinyTerminal(t *testing.T) {
	needTmux(t)
	dir := t.TempDir()
	if err := copyHomes(dir); err != nil {
		t.Fatal(err)
	}
	x := start(t, dir, 20, 5, nil, "alder-row.yaml")
	x.until("a sentence about the window", func(s string) bool { return strings.TrimSpace(s) != "" })
	x.press("C-c")
	x.gone()
}
