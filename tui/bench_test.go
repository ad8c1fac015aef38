package tui

import (
	"slices"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/catalogue"
)

// took is how long each of many frames took. The worst percentile is what a person would notice.
type took []time.Duration

func (t took) report(b *testing.B) {
	slices.Sort(t)
	for name, d := range map[string]time.Duration{"p50-ms": t[len(t)/2], "p99-ms": t[len(t)*99/100]} {
		b.ReportMetric(float64(d.Microseconds())/1000, name)
	}
}

// frames times what each call of do leads to, until it is drawn. What do started is left waiting, as it
// would wait off the thread.
func frames(b *testing.B, x *bench, do func(i int)) {
	all := make(took, 0, b.N)
	b.ResetTimer()
	for i := range b.N {
		start := time.Now()
		do(i)
		if x.r.View() == "" {
			b.Fatal("nothing was drawn")
		}
		all = append(all, time.Since(start))
		x.wait, x.late = nil, nil
		x.r.session.saver.busy = false
	}
	b.StopTimer()
	all.report(b)
}

// BenchmarkKeyToFrame is a key press to a drawn frame in a home of forty rooms, planning off the thread as
// it is.
func BenchmarkKeyToFrame(b *testing.B) {
	for _, c := range []struct {
		name  string
		open  []string // keys that open the page
		keys  []string // pressed in turn
		edits bool     // an even number of keys, the last of which takes the first back
	}{
		{"rooms", []string{"1"}, []string{"down", "down", "up"}, false},
		{"interview", []string{"2"}, []string{"tab", "tab", "shift+tab"}, false},
		{"sheet", []string{"3"}, []string{"down", "down", "]", "tab", "["}, false},
		{"day", []string{"4"}, []string{"down", "]", "up", "["}, false},
		{"bill", []string{"5"}, []string{"down", "down", "tab"}, false},
		{"plan", []string{"0"}, []string{"down", "right", "tab", "up", "left"}, false},
		{"rules", []string{"6"}, []string{"down", "]", "tab"}, false},
		{"edit-in-interview", []string{"2"}, []string{"ctrl+p", "ctrl+u"}, true},
		{"edit-on-sheet", []string{"3"}, []string{"x", "u"}, true},
		{"edit-on-day", []string{"4"}, []string{"-", "+"}, true},
		{"edit-of-rooms", []string{"1"}, []string{"J", "K"}, true},
	} {
		b.Run(c.name, func(b *testing.B) {
			x := newBench(b, string(fixtures.Building(40)), 120, 40)
			x.planned(c.open...)
			frames(b, x, func(i int) { x.send(keyMsg(c.keys[i%len(c.keys)])) })
			if edits := len(x.r.session.hist.steps) > 1; edits != c.edits {
				b.Fatalf("changed the document: %v", edits)
			}
		})
	}
}

// planned waits for the plan and goes to a page. Reasons, verdicts and stakes would follow off the thread, and are left out.
func (b *bench) planned(keys ...string) {
	b.settleUntil(func() bool { return b.r.plan.plan != nil })
	for _, k := range keys {
		b.send(keyMsg(k))
	}
	b.wait, b.late = nil, nil
}

// BenchmarkPlanToFrame is the arrival of a plan of forty rooms to the frame that shows it.
func BenchmarkPlanToFrame(b *testing.B) {
	for _, c := range []struct{ name, page string }{
		{"rooms", "1"}, {"interview", "2"}, {"sheet", "3"}, {"day", "4"}, {"bill", "5"}, {"rules", "6"}, {"plan", "0"},
	} {
		b.Run(c.name, func(b *testing.B) {
			x := newBench(b, string(fixtures.Building(40)), 120, 40)
			x.planned(c.page)
			plan := *x.r.plan.plan
			frames(b, x, func(int) {
				other := plan
				x.send(planned{gen: x.r.plan.gen, plan: &other, shelf: x.r.shelf})
			})
		})
	}
}

// BenchmarkFirstFrame opens Alder Row and draws its first page, without its plan, which follows off the
// thread.
func BenchmarkFirstFrame(b *testing.B) {
	src := string(fixtures.Homes()[0].Source)
	for b.Loop() {
		x := newBench(b, src, 80, 24)
		if x.r.View() == "" {
			b.Fatal("nothing was drawn")
		}
		x.r.plan.cancel()
	}
}

// BenchmarkPlannedFrame reads the shelf, opens Alder Row, plans it and draws the page with what follows:
// all that the program does from bytes to the first whole frame.
func BenchmarkPlannedFrame(b *testing.B) {
	src := string(fixtures.Homes()[0].Source)
	fixtures.Catalogue() // is kept once it is read; what reading it takes is added below
	for b.Loop() {
		if _, err := catalogue.Parse(fixtures.CatalogueSource()); err != nil {
			b.Fatal(err)
		}
		x := newBench(b, src, 80, 24)
		x.settleUntil(func() bool { return x.r.plan.plan != nil }) // reasons, verdicts and stakes follow while people look
		if x.r.plan.plan == nil || x.r.View() == "" {
			b.Fatal("nothing was drawn")
		}
	}
}
