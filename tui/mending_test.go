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
