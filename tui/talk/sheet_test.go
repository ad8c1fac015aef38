package talk

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTightenDropsWhiteSpaceThenAsides(t *testing.T) {
	build := func() *sheet {
		s := &sheet{}
		s.put(-1, "head", "")
		s.aside("why")
		s.put(-1, "")
		s.put(0, "yes")
		s.focus = len(s.lines)
		s.put(1, "no")
		s.aside("hint")
		return s
	}
	for h, want := range map[int]string{
		9: "head||why||yes|no|hint",
		7: "head||why||yes|no|hint",
		6: "head|why|yes|no|hint",
		4: "head|yes|no",
		1: "head|yes|no",
	} {
		s := build()
		s.tighten(h)
		if got := strings.Join(s.lines, "|"); got != want {
			t.Errorf("in %d lines: %s, want %s", h, got, want)
		}
		if s.lines[s.focus] != "no" || s.hits[s.focus] != 1 {
			t.Errorf("in %d lines the focus is on %q", h, s.lines[s.focus])
		}
	}
}

func TestSeenKeepsTheFocusAndTheClicksInPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s sheet
		n := rapid.IntRange(1, 60).Draw(t, "lines")
		s.right = map[int]int{}
		for i := range n {
			s.put(i, "line")
			s.right[i] = 100 + i
		}
		s.focus = rapid.IntRange(0, n-1).Draw(t, "focus")
		top, h := rapid.IntRange(0, 80).Draw(t, "top"), rapid.IntRange(2, 40).Draw(t, "h")
		focus := s.focus
		s.seen(plainTheme(), &top, h)
		if len(s.lines) > h {
			t.Fatalf("%d lines in %d", len(s.lines), h)
		}
		at := focus - top
		if at < 0 || at >= len(s.lines) || s.hits[at] != focus || s.right[at] != 100+focus {
			t.Fatalf("line %d of %d is not seen in %d from %d", focus, n, h, top)
		}
	})
}
