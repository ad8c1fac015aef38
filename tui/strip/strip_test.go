package strip

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/planner/story"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/layout"
)

// values from their numbers.
func values(ns ...int) []story.Value {
	out := make([]story.Value, len(ns))
	for i, n := range ns {
		out[i] = story.Value{N: n, Text: fmt.Sprint(n)}
	}
	return out
}

// lines at seconds since the beginning.
func lines(at ...int) []story.Line {
	out := make([]story.Line, len(at))
	for i, s := range at {
		out[i] = story.Line{At: s, Text: "Something happens."}
	}
	return out
}

// shut is a story of somebody who is left in the dark behind a shut door.
var shut = story.Story{
	Lines: lines(0, 0, 10, 60, 75, 435),
	Tracks: []story.Track{
		{Name: "people", Shape: story.Count, Values: values(0, 0, 1, 1, 1, 1, 1)},
		{Name: "door", Shape: story.Switch, Values: values(0, 1, 1, 0, 0, 0, 0)},
		{Name: "lamp", Shape: story.Level, Most: 100, Values: values(0, 0, 4, 4, 60, 100, 0)},
		{Name: "press", Shape: story.Mark, Values: values(0, 0, 0, 0, 1, 0, 0)},
		{Name: "wait", Shape: story.Wait, Values: values(0, 0, 1, 1, 1, 1, 0)},
	},
}

func drawn(s story.Story, ascii bool, at, w, h int) string {
	out := Draw(trial.Look(false, ascii), s, at, w, h)
	for i := range out {
		out[i] = strings.TrimRight(out[i], " ")
	}
	return strings.Join(out, "\n")
}

// same compares drawings, which begin with an empty line where there is no cursor.
func same(t *testing.T, got, want string) {
	t.Helper()
	if got != strings.TrimSuffix(want, "\n") {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

func TestEachThingHasATrackAndTheBreakingIsMarked(t *testing.T) {
	same(t, drawn(shut, true, None, 61, 20), `
people  ....1----------------------------------           1
door    ..####.................................           0
lamp    ....11111155999999999999999999999999...           0
press             *                                       0
wait        --------------------------------              0
        --+-+-+---+-+-----------------------+--
          0s  10s 1m                        7m15s
                                            x broken
`)
}

func TestTheCursorStandsOnALineAndItsValuesAtTheRight(t *testing.T) {
	same(t, drawn(shut, false, 3, 61, 20), `                  ↓
people  ····1──────────────────────────────────           1
door    ··━━━━·································           0
lamp    ····▁▁▁▁▁▁▅▅▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇▇···           60
press             •                                       1
wait        ────────────────────────────────              1
        ──┬─┬─┬───┬─┬───────────────────────┬──
          0s  10s 1m                        7m15s
                                            ✗ broken
`)
}

func TestLongQuietIsLeaptOverAndSaidSo(t *testing.T) {
	long := shut
	long.Lines = lines(0, 0, 3, 5, 7200, 7203)
	same(t, drawn(long, true, 4, 61, 20), `                                  v
people  ......1-------------//-------------               1
door    ..##########........//.............               0
lamp    ......11111111115555//5555999999...               100
press                   *   //                            0
wait          --------------//----------                  1
        --+---+-----+---+---//----+-----+--
          0s        3s  5s        2h    2h3s
                                        x broken
`)
}

func TestTracksThatDoNotFitAreCounted(t *testing.T) {
	got := drawn(shut, true, None, 61, 7)
	if n := strings.Count(got, "\n") + 1; n != 7 || !strings.Contains(got, "and 3 more tracks") || !strings.Contains(got, "x broken") {
		t.Errorf("%d lines:\n%s", n, got)
	}
}

// Whatever the times: lines stand in order, inside the chart, and apart as long as there are cells.
func TestPlacesKeepTheirOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gaps := rapid.SliceOfN(rapid.OneOf(rapid.Just(0), rapid.IntRange(0, 90), rapid.IntRange(0, 200_000)), 1, 40).Draw(t, "gaps")
		room := rapid.IntRange(1, 120).Draw(t, "room")
		at := []int{0}
		for _, g := range gaps {
			at = append(at, at[len(at)-1]+g)
		}
		p := place(at, room)
		if len(p.x) != len(at) || p.width > room {
			t.Fatalf("%d places for %d lines, %d cells of %d", len(p.x), len(at), p.width, room)
		}
		apart := len(at) <= room-5
		for i, x := range p.x {
			if x < 0 || x >= p.width {
				t.Fatalf("line %d stands at %d of %d", i, x, p.width)
			}
			if i > 0 && (x < p.x[i-1] || apart && x == p.x[i-1]) {
				t.Fatalf("line %d stands at %d, the one before at %d", i, x, p.x[i-1])
			}
		}
		for _, l := range p.leaps {
			if l.to-l.from < leapCells-1 || l.from < 0 || l.to > p.width {
				t.Fatalf("a leap over cells %d to %d of %d", l.from, l.to, p.width)
			}
		}
	})
}

// However narrow the chart: it keeps to its cells, and what happens for one line only is seen.
func TestWhatIsShortStaysInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "lines")
		flash := rapid.IntRange(1, n).Draw(t, "flash")
		w, h := rapid.IntRange(24, 140).Draw(t, "w"), rapid.IntRange(6, 20).Draw(t, "h")
		at, ns := make([]int, n), make([]int, n+1)
		for i := range at {
			at[i] = i * rapid.IntRange(0, 500).Draw(t, "gap")
			if i > 0 {
				at[i] = max(at[i], at[i-1])
			}
		}
		ns[flash] = 1
		s := story.Story{Lines: lines(at...), Tracks: []story.Track{{Name: "door", Shape: story.Switch, Values: values(ns...)}}}
		out := Draw(trial.Look(false, true), s, None, w, h)
		if len(out) > h {
			t.Fatalf("%d lines of %d", len(out), h)
		}
		for _, l := range out {
			if layout.Width(l) > w {
				t.Fatalf("%d cells of %d: %q", layout.Width(l), w, l)
			}
		}
		if !strings.Contains(out[1], "#") {
			t.Fatalf("the flash at line %d of %d is not seen:\n%s", flash, n, strings.Join(out, "\n"))
		}
	})
}

func TestOnlyTheBreakingIsAlarming(t *testing.T) {
	look := trial.Look(true, false)
	mark := strings.SplitN(look.Danger.Render("x"), "x", 2)[0]
	out := Draw(look, shut, 0, 80, 20)
	for i, l := range out {
		if alarm, last := strings.Contains(l, mark), i >= len(out)-3; alarm && !last {
			t.Errorf("row %d is in the colour of alarm: %q", i, l)
		}
	}
	if !strings.Contains(out[len(out)-1], mark) {
		t.Error("the breaking is not in the colour of alarm")
	}
}

func BenchmarkDraw(b *testing.B) {
	look := trial.Look(true, false)
	for b.Loop() {
		Draw(look, shut, 3, 116, 30)
	}
}
