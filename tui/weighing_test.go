package tui

import (
	"context"
	"strings"
	"testing"

	"example.org/roombrief/planner/open"
)

// unsure is a home in which nobody knows whether a box has a neutral.
const unsure = `roombrief: 1
home:
  name: 14 Alder Row
  currency: GBP
  mains: {voltage: 230 V}
rooms:
  - id: den
    name: Den
    kind: study
    circuits: [{id: lamp, lamps: 1, flux: 470 lm, power: 6 W, base: GU10, dimmable: yes, switch: box}]
    switches: [{id: box, gangs: 2, neutral: unknown, depth: 47 mm, by: door}]
    brief:
      lighting: {start: on request, periods: [{from: "06:00", level: 100 %}]}
`

func TestOpenPointsArePricedAfterPlanning(t *testing.T) {
	b := newBench(t, unsure, 80, 24)
	b.settle()
	if b.r.open.busy || b.r.open.known == nil || !b.r.open.known.Done {
		t.Fatalf("not priced: %+v", b.r.open.known)
	}
	b.press("9")
	b.sees("Den: look in the switch box by the door.")
	b.sees("A neutral saves ")
	b.press("enter")
	b.sees("Den")
	if b.r.at.room != "den" {
		t.Errorf("Enter leads to the room %q", b.r.at.room)
	}
}

func TestPricesOfAnOlderDocumentAreDropped(t *testing.T) {
	b := newBench(t, unsure, 80, 24)
	b.settle()
	known := b.r.open.known
	b.send(weighed{gen: b.r.open.gen - 1, points: &open.Points{}})
	if b.r.open.known != known {
		t.Error("stale prices were taken")
	}
	it := open.New(b.r.session.hist.now(), b.r.shelf, open.Options{})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	b.send(weighOn(ctx, b.r.open.gen, it)())
	if b.r.open.busy || b.r.open.known != nil {
		t.Error("a weighing that failed is shown as one that goes on")
	}
}

func TestAnEditPricesAnew(t *testing.T) {
	b := newBench(t, unsure, 80, 24)
	b.settle()
	b.press("9", "enter") // to the line of the neutral
	b.settle()
	gen := b.r.open.gen
	b.r.replan()
	if b.r.open.gen == gen || !b.r.open.busy || b.r.open.known == nil {
		t.Error("an edit does not stop the weighing, or forgets what was known")
	}
}

func TestTheEndOfASurveySaysWhereToLook(t *testing.T) {
	b := newBench(t, unsure, 80, 24)
	b.settle()
	b.press("enter", "down")
	b.press("2")
	for range 60 {
		if strings.Contains(b.r.View(), open.Head) {
			break
		}
		b.press("tab")
	}
	b.sees(open.Head)
	b.sees("Look in the switch box by the door: up to ")
	b.press("o")
	b.sees("A neutral saves ")
}
