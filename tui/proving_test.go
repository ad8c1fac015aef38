package tui

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/papers"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/page"
)

// two rooms with lamps, of which the den's light goes out on its reader.
const two = `roombrief: 1
home:
  name: 14 Alder Row
rooms:
  - {id: cellar, name: Cellar, kind: store}
  - id: den
    name: Den
    kind: study
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on request
        stop: {after: 2m, never_while: moving}
        periods: [{from: "06:00", level: 60 %}]
`

// provingBench is a bench that proves for real, with the rooms in the order in which it did.
func provingBench(t testing.TB, source string, w, h int) (*bench, *[]string) {
	var order []string
	b := newBench(t, source, w, h)
	b.r.o.prove = func(ctx context.Context, p *model.Project, sheet rules.Sheet, room string) ([]proof.Verdict, error) {
		order = append(order, room)
		return planner.Prove(ctx, p, sheet, room)
	}
	return b, &order
}

func TestPromisesAreProvedAfterPlanningTheRoomInHandFirst(t *testing.T) {
	b, order := provingBench(t, two, 80, 24)
	b.send(keyMsg("down")) // from the cellar to the den
	b.settle()
	if got := strings.Join(*order, " "); got != "den  cellar" {
		t.Errorf("proved in the order %q", got)
	}
	if b.r.proof.busy {
		t.Error("it says that it still proves")
	}
	b.press("8")
	b.sees("broken")
	b.sees("▸ Promises")
}

func TestAStoryOpensAndEscComesBack(t *testing.T) {
	b, _ := provingBench(t, two, 80, 24)
	b.r.at.room = "den"
	b.settle()
	b.press("8", "enter")
	b.sees("people inside")
	b.sees("▸ Promises")
	b.press("esc")
	b.sees("It is assumed that")
}

func TestVerdictsOfAnOlderPlanAreDropped(t *testing.T) {
	b, _ := provingBench(t, two, 80, 24)
	b.settle()
	known := b.r.proof.known
	b.send(proved{gen: b.r.proof.gen - 1, task: task{room: "den"}, err: errors.New("stale")})
	if b.r.proof.known != known {
		t.Error("stale verdicts were taken")
	}
}

func TestAnEditStopsTheProofAndKeepsWhatWasKnown(t *testing.T) {
	b, order := provingBench(t, two, 80, 24)
	b.r.at.room = "den"
	b.settle()
	ctx := b.r.proof.ctx
	b.send(keyMsg("2"))
	b.send(keyMsg("ctrl+p")) // an edit: park the question
	if ctx.Err() == nil || !b.r.proof.busy {
		t.Error("the proof goes on with what is not any more")
	}
	if x, ok := b.r.snapshot().Proofs.Of("den"); !ok || len(x.Verdicts) == 0 {
		t.Error("what was known is gone before it is known anew")
	}
	n := len(*order)
	b.settle()
	if len(*order) != n+3 || b.r.proof.busy {
		t.Errorf("%d rooms proved anew", len(*order)-n)
	}
}

func TestAPlanThatFailsProvesNothing(t *testing.T) {
	b, order := provingBench(t, two, 80, 24)
	b.send(planned{gen: b.r.plan.gen, err: errors.New("no")})
	b.wait = nil
	if b.r.proof.busy || len(*order) > 0 {
		t.Error("it proves without a plan")
	}
}

func TestTheRoomsCountIsSeenBesideTheInterview(t *testing.T) {
	verdicts := []proof.Verdict{{State: proof.Kept}, {State: proof.Kept}, {Promise: promises.Promise{ID: "x"}, State: proof.Breaks}}
	b := newBench(t, two, 120, 40)
	b.r.o.prove = func(_ context.Context, _ *model.Project, _ rules.Sheet, room string) ([]proof.Verdict, error) {
		if room == "den" {
			return verdicts, nil
		}
		return nil, nil
	}
	b.r.at.room = "den"
	b.settle()
	b.press("2")
	b.sees("2 kept, 1 broken.")
	b.sees("1 broken")
}

func TestFaultsAreProvedWhenAskedForAndAgainAfterAnEdit(t *testing.T) {
	b, _ := provingBench(t, two, 100, 40)
	b.r.at.room = "den"
	b.settle()
	b.press("8")
	b.settle()
	if x, _ := b.r.proof.known.Of("den"); x.Failed {
		t.Fatal("faults are proved unasked")
	}
	for range 2 {
		if !b.r.proof.faults {
			b.press("f")
		}
		b.settle()
		x, _ := b.r.proof.known.Of("den")
		if !x.Failed || len(x.Faults) == 0 {
			t.Fatal("faults are not proved")
		}
		b.sees("with a fault")
		b.press("2", "ctrl+p") // an edit
		b.take(b.r.carry(page.Goto{Page: page.Promises, Room: "den"}))
	}
	b.settle()
	b.press("f")
	b.settle()
	if b.r.proof.faults {
		t.Error("a second press doesn't put them away")
	}
}

func TestTheLimitIsFoundAfterTheVerdicts(t *testing.T) {
	b, _ := provingBench(t, two, 80, 24)
	asked := ""
	b.r.o.blame = func(_ context.Context, _ *model.Project, _ *planner.Plan, room string, vs []proof.Verdict) ([]planner.Blame, error) {
		asked += room
		if b.r.proof.busy {
			t.Error("the verdicts wait for it")
		}
		return []planner.Blame{{Promise: vs[0].Promise.ID, Text: "It is the longest wait."}}, nil
	}
	b.r.at.room = "den"
	b.settle()
	b.press("8")
	b.sees("It is the longest wait.")
	if asked != "den" {
		t.Errorf("asked of the rooms %q", asked)
	}
}

func TestThePaperOfThePromisesFollowsWhenTheyAreProved(t *testing.T) {
	b, _ := provingBench(t, two, 80, 24)
	var names []string
	b.r.o.writePapers = func(_ string, all []papers.Paper) error {
		for _, p := range all {
			names = append(names, p.Name)
		}
		return nil
	}
	b.wait = nil
	b.send(b.r.replan()())
	proof := b.wait
	b.wait = nil
	b.send(keyMsg("7"))
	b.settle()
	b.sees("papers are in home-papers.")
	if strings.Contains(strings.Join(names, " "), papers.Promises) || len(names) == 0 {
		t.Errorf("written before the proof: %v", names)
	}
	names, b.wait = nil, proof
	b.settle()
	if len(names) == 0 || names[0] != papers.Promises || slices.ContainsFunc(names, func(n string) bool { return !papers.OfPromises(n) }) {
		t.Errorf("written after the proof: %v", names)
	}
	b.sees("promises.md is in home-papers too")
}

// BenchmarkEditToVerdict is an edit of a usual room of Alder Row to the verdicts of that room on the screen:
// planned and proved, with what the edit leaves as it was known from before.
func BenchmarkEditToVerdict(b *testing.B) {
	x := newBench(b, string(fixtures.Homes()[0].Source), 120, 40)
	x.r.o.prove = (&recall{}).prove
	x.wait = nil
	x.r.turn(place{page: page.Sheet, room: "hall"}, false)
	run := func(cmd tea.Cmd) (done bool) {
		x.send(cmd())
		p, ok := x.r.proof.known.Of("hall")
		return ok && !p.Stale
	}
	i := 0
	for b.Loop() {
		doc, err := x.r.session.hist.now().Apply(projectfile.Set("rooms/hall/brief/lighting/stop/after", fmt.Sprintf("%dm", 4+i%50)))
		if err != nil {
			b.Fatal(err)
		}
		i++
		x.r.session.hist.push(step{doc: doc}, false)
		x.r.session.project = doc.Project()
		if !run(x.r.replan()) && !run(x.r.prove()) {
			b.Fatal("the room is not proved")
		}
		x.wait = nil
	}
	x.r.proof.stop()
}
