package proof

import (
	"context"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// What is kept where some things may be anything at any time is kept as they really are: on the rules of a shower room,
// and on those with one piece of a guard or hold missing, so that much is broken.
func TestWhatIsKeptWithThingsFreeIsKept(t *testing.T) {
	every := 3
	if testing.Short() {
		every = 30
	}
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	sheet := ideal.Draft(p).Sheet
	sheets := []rules.Sheet{sheet}
	for n, piece := range pieces(sheet) {
		if mutant := without(sheet, piece); sheet.Rules[piece.rule].Room == "shower-room" && n%every == 0 {
			if _, err := rules.Compile(mutant); err == nil {
				sheets = append(sheets, mutant)
			}
		}
	}
	ctx := context.Background()
	kept, more, seen := 0, 0, map[string]bool{}
	for _, s := range sheets {
		ix := promises.NewIndex(s)
		for _, x := range promises.OfRoom(p, ix, ideal.Usual(), rules.Equinox, "shower-room") {
			cases, err := x.Cases(ix)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range cases {
				if c.Can || len(c.Real()) == 0 || seen[c.Key()] {
					continue
				}
				seen[c.Key()] = true
				if hulled(ctx, newGraph(c.System(false)), Usual.Hulls, broken).Kind != Nowhere {
					more++
					continue
				}
				kept++
				for _, r := range c.Real() {
					out := hulled(ctx, newGraph(r.System(true)), Usual.Hulls, broken)
					if out.Kind == Found && out.Exact {
						t.Errorf("%s is kept with things free, and broken by\n%+v", x.ID, out.Story)
					}
				}
			}
		}
	}
	if kept == 0 || more == 0 {
		t.Errorf("%d kept, %d not: nothing was compared", kept, more)
	}
	t.Logf("%d cases kept with things free, %d not", kept, more)
}

// What is remembered of one sheet says of another what a proof of that would.
func TestRememberingChangesNoVerdict(t *testing.T) {
	every := 9
	if testing.Short() {
		every = 40
	}
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	sheet := ideal.Draft(p).Sheet
	ctx, shared := context.Background(), &Cache{}
	told := 0
	for n, piece := range pieces(sheet) {
		mutant := without(sheet, piece)
		if _, err := rules.Compile(mutant); err != nil || sheet.Rules[piece.rule].Room != "shower-room" || n%every != 0 {
			continue
		}
		ix := promises.NewIndex(mutant)
		for _, x := range promises.OfRoom(p, ix, ideal.Usual(), rules.Equinox, "shower-room") {
			a, err := prove(ctx, ix, x, Usual, shared)
			if err != nil {
				t.Fatal(err)
			}
			b, err := prove(ctx, ix, x, Usual, nil)
			if err != nil {
				t.Fatal(err)
			}
			if a.State != b.State || a.Moving != b.Moving || len(a.Story) != len(b.Story) {
				t.Errorf("%s is %s as remembered (%s), and %s", x.ID, a.State, a.Why, b.State)
			}
			if a.Cached && a.State == Breaks {
				told++
			}
		}
	}
	if told == 0 {
		t.Error("no broken promise was remembered, so nothing was held against anything")
	}
}
