package remedy

import (
	"slices"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
)

// What Room 5 of Twelve Doors sees speaks to another controller than runs its rules: motion of whoever leaves may be heard of after the door has
// shut, and the light burns for good. Parts that speak to the controller of the rules mend that.
func TestPartsThatSpeakToTheControllerOfTheRulesMendWhatComesLate(t *testing.T) {
	doc := projectfile.Parse(fixtures.Homes()[2].Source)
	plan, err := planner.Make(t.Context(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	const promise, id = "room-5/not-left-burning", "join:office-shelf"
	if v := verdictOf(t, doc, promise); v.State != proof.Breaks {
		t.Fatalf("it is %s", v.State)
	}
	moves := LimitMoves(doc.Project(), fixtures.Catalogue(), plan, "room-5")
	i := slices.IndexFunc(moves, func(m Move) bool { return m.ID == id })
	if i < 0 {
		t.Fatalf("there is no such move among %+v", moves)
	}
	edited, err := doc.Apply(moves[i].Edits...)
	if err != nil {
		t.Fatal(err)
	}
	after, err := planner.Make(t.Context(), edited.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range after.Fitted.Things {
		if x.Room == "room-5" && x.At != "" && x.At != "office-shelf" {
			t.Errorf("%s still speaks to %s", x.ID, x.At)
		}
	}
	if v := verdictOf(t, edited, promise); v.State != proof.Kept {
		t.Errorf("it is %s: %s", v.State, v.Why)
	}
	// Where all speak to it already there is no such move.
	for _, m := range LimitMoves(doc.Project(), fixtures.Catalogue(), plan, "room-1") {
		if m.ID == id {
			t.Errorf("room 1 has nothing to gain by %s", m.Words)
		}
	}
}
