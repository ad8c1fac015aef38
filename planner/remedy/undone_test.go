package remedy

import (
	"context"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/rules"
)

// frail leaves the shower room alone when the mains come back, with its lamps as they came on, where the project calls its doors frail.
func frail(ctx context.Context, p *model.Project) (planner.Plan, error) {
	if p.Choices.Doors["shower-room"] != "frail" {
		return unlimited(ctx, p)
	}
	q := *p
	q.Choices.Doors = with(p.Choices.Doors, "shower-room", "patient")
	d, err := unlimited(ctx, &q)
	d.Fitted.Rules = slices.DeleteFunc(slices.Clone(d.Fitted.Rules), func(r rules.Rule) bool {
		return r.Room == "shower-room" && r.Cause.Kind == rules.PowerBack && r.Goal == "lighting"
	})
	return d, err
}

// A promise that only a fault breaks can be asked about, too: here a power cut leaves the light burning, and doors that aren't frail
// mend it.
func TestWhatOnlyAFaultBreaksIsMended(t *testing.T) {
	const left = "shower-room/not-left-burning"
	s := searchOf(t, "shower-room")
	patient := s.moves[slices.IndexFunc(s.moves, func(m Move) bool { return m.ID == "doors:patient" })]
	s.make, s.moves = frail, []Move{patient}
	p := alderRow()
	p.Choices.Doors = with(p.Choices.Doors, "shower-room", "frail")
	var err error
	if s.base, err = s.planOf(p); err != nil {
		t.Fatal(err)
	}
	r := find(t, s, left+"/power-cut")
	if len(r.Remedies) != 1 || !slices.Contains(r.Remedies[0].Keeps, left+"/power-cut") {
		t.Fatalf("%+v %s", r.Remedies, r.Sentence())
	}
	if s.before[left].State != proof.Kept {
		t.Error("without a fault it should be kept")
	}
}

// Price comes first, then who decides, then what faults undo.
func TestOfOnePriceTheRemedyThatFewestFaultsUndoComesFirst(t *testing.T) {
	one, two := []promises.Fault{{Kind: promises.PowerCut}}, []promises.Fault{{Kind: promises.PowerCut}, {Kind: promises.Restart}}
	var s search
	var all []*candidate
	add := func(words string, price bill.Money, asks int, undone []promises.Fault) {
		c := &candidate{price: price, asks: asks}
		all = append(all, c)
		s.wholes = append(s.wholes, found{c, Remedy{Words: words, Undone: undone}})
	}
	add("two faults", 0, 0, two)
	add("asks", 0, 1, nil)
	add("one fault", 0, 0, one)
	add("one fault, later", 0, 0, one)
	add("dear", 5, 0, nil)
	add("saves", -5, 1, two)
	s.effort.Wanted = len(all)
	s.rank(all)
	var got []string
	for _, r := range s.out.Remedies {
		got = append(got, r.Words)
	}
	if want := "saves; one fault; one fault, later; two faults; asks; dear"; strings.Join(got, "; ") != want {
		t.Errorf("%s\nwant %s", strings.Join(got, "; "), want)
	}
}

// Whoever reads in the den keeps still for up to an hour, and patient doors wait for as long. A contact that is dead leaves it at that. With
// the motion sensor dead nobody is seen, and a lamp that was switched on by hand before goes out over its reader.
func TestARemedySaysWhichFaultsUndoIt(t *testing.T) {
	doc := projectfile.Parse([]byte(header + "controllers: [{id: shelf, limits: able}]\n" + `rooms:
  - id: den
    kind: study
    doors: [{id: door, to: outside, usually: closed}]
    circuits: [{id: lamp, lamps: 1, dimmable: yes}]
    brief:
      lighting:
        start: on request
        keep_manual: true
        stop: {after: 15m, never_while: occupied}
        periods: [{from: "06:00", level: 60 %}]
choices:
  doors: {den: brisk}
`))
	if !doc.OK() {
		t.Fatal(doc.Problems())
	}
	e := Usual
	e.Cache = &shared
	r, err := For(t.Context(), doc.Project(), fixtures.Catalogue(), verdictOf(t, doc, "den/never-dark-on-someone"), e)
	if err != nil || len(r.Remedies) == 0 {
		t.Fatal(err, r.Sentence())
	}
	const want = "What it mends holds through a power cut, through a restart of the controller, through a change of the clock and with the sensor for the door of the den dead or off the radio as well, but not with the sensor for motion in the den dead or off the radio."
	if x := r.Remedies[0]; ids(x) != "doors:patient" || !slices.Contains(x.Changes, want) || len(x.Undone) != 1 || x.Undone[0].Thing != "den/motion" {
		t.Errorf("%s: %q", ids(x), x.Changes)
	}
}

func TestManyWaitsAreCounted(t *testing.T) {
	if got := counted([]string{"a", "b"}, "less"); len(got) != 2 || got[0] != "A wait less: a." {
		t.Errorf("%q", got)
	}
	if got := counted([]string{"a", "b", "c", "d"}, "more"); len(got) != 1 || got[0] != "4 waits more." {
		t.Errorf("%q", got)
	}
}
