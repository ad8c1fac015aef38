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

// What is kept at any hour, or with periods that change at any instant, is kept on the real day; and what such a day shows of the
// premise holds there too. The rules are those of the example homes, and some with a piece taken out.
func TestWhatIsKeptAtAnyHourIsKeptOnTheDay(t *testing.T) {
	every := 60
	if testing.Short() {
		every = 300
	}
	h := hourly{t: t, seen: map[string]bool{}}
	for _, home := range fixtures.Homes()[:2] {
		p := projectfile.Parse(home.Source).Project()
		sheet := ideal.Draft(p).Sheet
		h.compare(promises.OfAll(p, promises.NewIndex(sheet), ideal.Usual(), rules.Equinox), promises.NewIndex(sheet))
		for n, piece := range pieces(sheet) {
			mutant := without(sheet, piece)
			if _, err := rules.Compile(mutant); err != nil || n%every != 0 {
				continue
			}
			ix := promises.NewIndex(mutant)
			h.compare(promises.OfRoom(p, ix, ideal.Usual(), rules.Equinox, sheet.Rules[piece.rule].Room), ix)
		}
	}
	t.Logf("%d cases kept at any hour, %d not, %d shown to be met, %d undecided on the day", h.kept, h.other, h.shown, h.undecided)
	if h.kept < 50 || h.other == 0 || h.shown < 50 || h.undecided*5 > h.kept {
		t.Error("too few cases were held against each other")
	}
}

type hourly struct {
	t                             *testing.T
	seen                          map[string]bool
	kept, other, shown, undecided int
}

func (h *hourly) compare(ps []promises.Promise, ix *promises.Index) {
	for _, x := range ps {
		cases, err := x.Cases(ix)
		if err != nil {
			h.t.Fatal(err)
		}
		for _, c := range cases {
			if !c.Can && !h.seen[c.Key()] {
				h.seen[c.Key()] = true
				h.one(x.ID, c)
			}
		}
	}
}

func (h *hourly) one(id string, c promises.Case) {
	ctx := context.Background()
	l := &ladder{c: c, e: Usual}
	if any := walked(ctx, l.anyDay(), Usual.Hulls, broken, way{shows: l.shows()}); any.Shown {
		h.shown++
		if out := search(ctx, newGraph(c.System(true)), Effort{Hulls: 20_000, Zones: 2000}, met); out.Kind == Nowhere {
			h.t.Errorf("%s is shown to be met, and nothing meets it on the day", id)
		}
	}
	g := l.anyHour()
	switch {
	case g == nil:
		return
	case hulled(ctx, g, Usual.Hulls, broken).Kind != Nowhere:
		h.other++
		return
	}
	h.kept++
	switch out := search(ctx, newGraph(c.System(true)), Effort{Hulls: 20_000, Zones: 1000}, broken); {
	case out.Kind == Found && out.Exact:
		h.t.Errorf("%s is kept at any hour, and broken on the day by\n%+v", id, out.Story)
	case out.Kind != Nowhere:
		h.undecided++
	}
}
