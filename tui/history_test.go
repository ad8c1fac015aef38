package tui

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/model/projectfile"
)

func docOf(n int) *projectfile.Document {
	src := fmt.Sprintf("roombrief: 1\nhome: {name: Home %d}\nnotes: [%s]\n", n, fmt.Sprint(n*n))
	return projectfile.Parse([]byte(src))
}

// However long the walk back and forth, each step is what it was when it was made; only those near the one
// that is shown are held as documents.
func TestHistoryGivesEveryStepBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := begin(docOf(0))
		want, at := []string{string(docOf(0).Source())}, 0
		for i := 1; i < 400; {
			run := rapid.IntRange(1, 90).Draw(t, "run")
			switch rapid.SampledFrom([]string{"push", "push", "join", "undo", "redo"}).Draw(t, "what") {
			case "push":
				for range run {
					h.push(step{doc: docOf(i), label: fmt.Sprint(i)}, false)
					want, at = append(want[:at+1], string(docOf(i).Source())), at+1
					i++
				}
			case "join":
				for k := range run {
					h.push(step{doc: docOf(i), label: "the same"}, k > 0)
					if k == 0 {
						want, at = append(want[:at+1], ""), at+1
					}
					want[at] = string(docOf(i).Source())
					i++
				}
			case "undo":
				for range run {
					if _, ok := h.undo(); ok != (at > 0) {
						t.Fatalf("undo of step %d: %v", at, ok)
					}
					at = max(at-1, 0)
				}
			case "redo":
				for range run {
					if _, ok := h.redo(); ok != (at < len(want)-1) {
						t.Fatalf("redo after step %d: %v", at, ok)
					}
					at = min(at+1, len(want)-1)
				}
			}
			if got := string(h.now().Source()); got != want[at] || h.at != at || len(h.steps) != len(want) {
				t.Fatalf("step %d of %d is\n%s\nwant step %d of %d\n%s", h.at, len(h.steps), got, at, len(want), want[at])
			}
			held := 0
			for _, s := range h.steps {
				if s.doc != nil {
					held++
				}
			}
			if held > 2*near+1 {
				t.Fatalf("%d documents are held", held)
			}
		}
	})
}

func TestSpliceIsTheLeastThatDiffers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		old := rapid.SliceOfN(rapid.ByteRange('a', 'c'), 0, 12).Draw(t, "old")
		new := rapid.SliceOfN(rapid.ByteRange('a', 'c'), 0, 12).Draw(t, "new")
		s := spliceOf(old, new)
		if !slices.Equal(s.forth(old), new) || !slices.Equal(s.back(new), old) {
			t.Fatalf("%q to %q by %+v", old, new, s)
		}
		if n := len(s.gone); n > 0 && len(s.come) > 0 && (s.gone[0] == s.come[0] || s.gone[n-1] == s.come[len(s.come)-1]) {
			t.Fatalf("%q to %q by %+v, which is longer than need be", old, new, s)
		}
	})
}
