package proof

import (
	"context"
	"os"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

// What is kept where some things may be anything at any time is kept as they really are: on the rules of rooms with fans, light
// and water, on those with one piece of a guard or hold missing, so that much is broken, and with each single fault.
func TestWhatIsKeptWithThingsFreeIsKept(t *testing.T) {
	every := 12
	switch {
	case os.Getenv("ROOMBRIEF_LONG") != "":
		every = 1
	case testing.Short():
		every = 40
	}
	for _, at := range []struct {
		home int
		room string
	}{{0, "shower-room"}, {0, "wc"}, {0, "back-bedroom"}, {1, "bathroom"}, {1, "laundry"}} {
		t.Run(at.room, func(t *testing.T) {
			p := projectfile.Parse(fixtures.Homes()[at.home].Source).Project()
			o := ideal.Usual()
			o.Year = ideal.YearOf(p)
			sheet := ideal.Draft(p).Sheet
			f := freedom{t: t, seen: map[string]bool{}}
			f.compare(p, sheet, at.room, o)
			n := 0
			for _, piece := range pieces(sheet) {
				if sheet.Rules[piece.rule].Room != at.room {
					continue
				}
				if n++; n%every != 0 {
					continue
				}
				if mutant := without(sheet, piece); compiles(mutant) {
					f.compare(p, mutant, at.room, o)
				}
			}
			if f.kept == 0 {
				t.Error("nothing is kept with things free, so nothing was compared")
			}
			t.Logf("%d cases kept with things free, %d not; %d of the real ones not decided", f.kept, f.other, f.undecided)
		})
	}
}

func compiles(s rules.Sheet) bool {
	_, err := rules.Compile(s)
	return err == nil
}

// freedom holds cases with things free against the real ones behind them.
type freedom struct {
	t                      *testing.T
	seen                   map[string]bool
	kept, other, undecided int
}

func (f *freedom) compare(p *model.Project, sheet rules.Sheet, room string, o ideal.Options) {
	ix := promises.NewIndex(sheet)
	for _, x := range promises.OfRoom(p, ix, o, rules.Equinox, room) {
		for _, y := range append([]promises.Promise{x}, x.Faulty(ix)...) {
			cases, err := y.Cases(ix)
			if err != nil {
				f.t.Fatal(err)
			}
			for _, c := range cases {
				if !c.Can && len(c.Real()) > 0 && !f.seen[c.Key()] {
					f.seen[c.Key()] = true
					f.one(y.ID, c)
				}
			}
		}
	}
}

func (f *freedom) one(id string, c promises.Case) {
	ctx := context.Background()
	free := hulled(ctx, newGraph(c.System(false)), Usual.Hulls, broken).Kind == Nowhere
	for _, less := range c.Less() {
		free = free || (&answer{}).quickly(ctx, less, Usual)
	}
	if !free {
		f.other++
		return
	}
	f.kept++
	for _, r := range c.Real() {
		switch out := search(ctx, newGraph(r.System(true)), Effort{Hulls: 10_000, Zones: 500}, broken); {
		case out.Kind == Found && out.Exact:
			f.t.Errorf("%s is kept with things free, and broken by\n%+v", id, out.Story)
		case out.Kind != Nowhere:
			f.undecided++
		}
	}
}

// What is remembered of one sheet says of another what a proof of that would.
func TestRememberingChangesNoVerdict(t *testing.T) {
	const every = 9
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
