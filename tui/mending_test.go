package tui

import (
	"context"
	"errors"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
)

func storyBench(t *testing.T) *bench {
	b, _ := provingBench(t, two, 100, 44)
	b.r.at.room = "den"
	b.settle()
	b.press("8", "enter")
	b.settle()
	return b
}

func TestAChangeThatMendsIsMadeWithOneKeyAndUndoneWithOne(t *testing.T) {
	b := storyBench(t)
	b.sees("What would mend it, cheapest first:")
	b.sees("a  Put in a sensor that sees people who keep still")
	before := string(b.r.session.hist.now().Source())
	b.press("a")
	b.settle()
	if now := string(b.r.session.hist.now().Source()); !strings.Contains(now, "den: still") {
		t.Errorf("the change isn't in the file:\n%s", now)
	}
	b.sees("This promise is kept now")
	b.press("u")
	b.settle()
	if now := string(b.r.session.hist.now().Source()); now != before {
		t.Errorf("undo leaves\n%s", now)
	}
	if x, _ := b.r.proof.known.Of("den"); x.Tally().Broken == 0 {
		t.Error("undone, and still kept")
	}
	b.sees("people inside") // its story is back
	b.sees("What would mend it, cheapest first:")
}

// The hall's periods begin between two steps of a small controller's clock. The limit is named, and what would mend it is found for its
// story too; one key makes it, one takes it back.
func TestWhatALimitBreaksIsMended(t *testing.T) {
	const uneven = `roombrief: 1
home: {name: A test, currency: GBP}
controllers: [{id: shelf, limits: modest}]
rooms:
  - id: hall
    name: Hall
    kind: hall
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on entry
        stop: {after: 4m}
        periods: [{from: "06:12", level: 60 %}, {from: "22:33", level: 10 %}]
`
	b := newBench(t, uneven, 100, 44)
	b.r.o.prove = (&recall{}).prove
	b.r.at.room = "hall"
	b.settle()
	b.press("8")
	b.sees("shelf: clock_step")
	b.press("enter")
	b.settle()
	b.sees("a  Begin periods when shelf can: at 06:10 instead of 06:12")
	b.press("a")
	b.settle()
	b.sees("This promise is kept now")
	if now := string(b.r.session.hist.now().Source()); !strings.Contains(now, `{from: "06:10"`) || !strings.Contains(now, `{from: "22:30"`) {
		t.Errorf("the change isn't in the file:\n%s", now)
	}
	b.press("u")
	b.settle()
	if now := string(b.r.session.hist.now().Source()); now != uneven {
		t.Errorf("undo leaves\n%s", now)
	}
	b.sees("people inside")
}

func TestASearchThatFailsIsSaid(t *testing.T) {
	b, _ := provingBench(t, two, 100, 44)
	b.r.o.mend = func(context.Context, *model.Project, *catalogue.Catalogue, proof.Verdict) (remedy.Result, error) {
		return remedy.Result{}, errors.New("the shelf has no price")
	}
	b.r.at.room = "den"
	b.settle()
	b.press("8", "enter")
	b.settle()
	b.sees("could not be found: the shelf has no")
	b.press("a")
	if b.r.session.hist.canUndo() != "" {
		t.Error("a key changed something that was never shown")
	}
}

func TestWhatWasFoundForAnOlderDocumentIsDropped(t *testing.T) {
	b := storyBench(t)
	old := mended{gen: b.r.proof.gen, known: *b.r.mends.known}
	old.known.Fault = errors.New("stale")
	b.press("a")
	b.settle()
	b.press("u")
	b.settle()
	if b.r.mends.known == nil || b.r.mends.known.Fault != nil {
		t.Fatal("nothing was found anew")
	}
	b.send(old)
	if b.r.mends.known.Fault != nil {
		t.Error("a result from before the edits was taken")
	}
}
