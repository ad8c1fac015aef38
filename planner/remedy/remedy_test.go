package remedy_test

import (
	"os"
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
)

// Each remedy, made in the project's file, gives a home in which every promise of the room is kept when it is planned
// and proved afresh, at the price that was said.
func TestRemediesHoldWhenMadeInTheFile(t *testing.T) {
	rooms := map[string][]string{"alder-row.yaml": {"wc", "shower-room"}, "larkspur-lane.yaml": {"bathroom"}, "twelve-doors.yaml": {"room-3"}}
	if os.Getenv("ROOMBRIEF_LONG") == "" { // each room takes many proofs
		rooms = map[string][]string{"alder-row.yaml": {"wc"}}
	}
	for _, h := range fixtures.Homes() {
		doc := projectfile.Parse(h.Source)
		for _, room := range rooms[h.File] {
			// The first plan has the remedy already, so it is taken away first.
			doc, err := doc.Apply(projectfile.Set("choices/doors/"+room, "brisk"))
			if err != nil {
				t.Fatal(err)
			}
			vs := prove(t, doc, room)
			i := slices.IndexFunc(vs, func(v proof.Verdict) bool { return v.State == proof.Breaks })
			if i < 0 {
				t.Errorf("%s: nothing of %s is broken", h.File, room)
				continue
			}
			holds(t, doc, vs[i])
		}
	}
}

func holds(t *testing.T, doc *projectfile.Document, v proof.Verdict) {
	t.Helper()
	r, err := remedy.For(t.Context(), doc.Project(), fixtures.Catalogue(), v, remedy.Usual)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Remedies) == 0 {
		t.Errorf("%s: %s", v.Promise.ID, r.Sentence())
	}
	before, err := planner.Make(t.Context(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range r.Remedies {
		edited, err := doc.Apply(x.Edits...)
		if err != nil {
			t.Errorf("%s, %s: %v", v.Promise.ID, x.Words, err)
			continue
		}
		after, err := planner.Make(t.Context(), edited.Project(), fixtures.Catalogue())
		if err != nil {
			t.Fatal(err)
		}
		if got := after.Bill.Total - before.Bill.Total; got != x.Price {
			t.Errorf("%s, %s costs %s and not %s", v.Promise.ID, x.Words, got.Plain(), x.Price.Plain())
		}
		for _, w := range prove(t, edited, v.Promise.Room) {
			if w.State != proof.Kept && w.State != proof.Empty && !slices.Contains(x.Leaves, w.Promise.ID) {
				t.Errorf("%s, %s: %s is %s", v.Promise.ID, x.Words, w.Promise.ID, w.State)
			}
			if w.Promise.ID == v.Promise.ID && w.State != proof.Kept {
				t.Errorf("%s, %s: it is %s", v.Promise.ID, x.Words, w.State)
			}
		}
	}
}

func prove(t *testing.T, doc *projectfile.Document, room string) []proof.Verdict {
	t.Helper()
	plan, err := planner.Make(t.Context(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	out, err := planner.Prove(t.Context(), doc.Project(), plan.Fitted, room)
	if err != nil {
		t.Fatal(err)
	}
	return out
}
