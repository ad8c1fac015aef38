package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
)

// forty is Alder Row with its rooms repeated until there are forty.
func forty(t testing.TB) string {
	src := string(fixtures.Homes()[0].Source)
	head, rest, ok := strings.Cut(src, "\nrooms:\n")
	if !ok {
		t.Fatal("the example home has no list of rooms")
	}
	var more strings.Builder
	rooms := rest
	tail := ""
	for i, l := range strings.Split(rest, "\n") {
		if i > 0 && l != "" && l[0] != ' ' && l[0] != '#' {
			at := strings.Index(rest, "\n"+l) + 1
			rooms, tail = rest[:at], rest[at:]
			break
		}
	}
	for i := range 28 {
		fmt.Fprintf(&more, "  - {id: spare-%d, name: Spare room %d, like: landing}\n", i, i)
	}
	return head + "\nrooms:\n" + strings.TrimRight(rooms, "\n") + "\n" + more.String() + tail
}

// BenchmarkKeyToFrame is a key press to a drawn frame in a home of forty rooms, planning off the thread as
// it is. The worst percentile is what a person would notice.
func BenchmarkKeyToFrame(b *testing.B) {
	for _, c := range []struct {
		name, page string
		keys       []string // pressed in turn
	}{
		{"rooms", "1", []string{"down"}}, {"sheet", "3", []string{"down"}}, {"day", "4", []string{"down"}},
		{"bill", "5", []string{"down"}}, {"rules", "6", []string{"down"}},
		{"interview", "2", []string{"ctrl+p", "ctrl+u"}}, // an edit each: park a question, take it back
	} {
		b.Run(c.name, func(b *testing.B) {
			x := newBench(b, forty(b), 120, 40)
			x.settle()
			x.press(c.page)
			took := make([]time.Duration, 0, b.N)
			b.ResetTimer()
			for i := range b.N {
				start := time.Now()
				x.send(keyMsg(c.keys[i%len(c.keys)]))
				if x.r.View() == "" {
					b.Fatal("nothing was drawn")
				}
				took = append(took, time.Since(start))
				x.wait, x.late = nil, nil
				x.r.session.saver.busy = false
			}
			b.StopTimer()
			if edits := len(x.r.session.hist.steps) > 1; edits != (c.name == "interview") {
				b.Fatalf("changed the document: %v", edits)
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)*99/100].Microseconds())/1000, "p99-ms")
		})
	}
}

// BenchmarkFirstFrame opens Alder Row and draws its first page, without its plan, which follows off the
// thread.
func BenchmarkFirstFrame(b *testing.B) {
	src := string(fixtures.Homes()[0].Source)
	fixtures.Catalogue()
	for b.Loop() {
		x := newBench(b, src, 80, 24)
		if x.r.View() == "" {
			b.Fatal("nothing was drawn")
		}
		x.r.plan.cancel()
	}
}

// BenchmarkPlannedFrame opens Alder Row, plans it and draws the page with what follows.
func BenchmarkPlannedFrame(b *testing.B) {
	src := string(fixtures.Homes()[0].Source)
	fixtures.Catalogue()
	for b.Loop() {
		x := newBench(b, src, 80, 24)
		x.settle()
		if x.r.plan.plan == nil || x.r.View() == "" {
			b.Fatal("nothing was drawn")
		}
	}
}
