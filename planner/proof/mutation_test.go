package proof

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// piece is a guard or hold literal of a rule of a sheet.
type piece struct {
	rule int
	hold bool
	at   int
}

func pieces(s rules.Sheet) []piece {
	var out []piece
	for i := range s.Rules {
		for k := range s.Rules[i].Guard {
			out = append(out, piece{i, false, k})
		}
		for k := range s.Rules[i].Hold {
			out = append(out, piece{i, true, k})
		}
	}
	return out
}

// without is the sheet without a piece.
func without(s rules.Sheet, p piece) rules.Sheet {
	s.Rules = append([]rules.Rule(nil), s.Rules...)
	r := &s.Rules[p.rule]
	drop := func(ls []rules.Literal) []rules.Literal {
		return append(append([]rules.Literal(nil), ls[:p.at]...), ls[p.at+1:]...)
	}
	if p.hold {
		r.Hold = drop(r.Hold)
		if len(r.Hold) == 0 {
			r.HoldFor = 0
		}
	} else {
		r.Guard = drop(r.Guard)
	}
	return s
}

// TestNoPieceOfARuleIsMissed takes guards, windows and holds out of the rules of an example home, one at a time, and
// expects some promise of the room to come out worse, or the piece to be listed as superfluous. Every piece is tried with
// MUTATE=1 in the environment, and every so many otherwise.
func TestNoPieceOfARuleIsMissed(t *testing.T) {
	every, err := strconv.Atoi(os.Getenv("MUTATE"))
	if err != nil {
		every = 40
	}
	if testing.Short() {
		t.Skip("proves a room for each piece")
	}
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	sheet := ideal.Draft(p).Sheet
	cache := &Cache{}
	o := Options{Cache: cache, Faults: true, Effort: Effort{Hulls: 60_000, Zones: 6_000, Soonest: 1}}
	ctx := context.Background()
	before := map[string][]Verdict{}
	tried, superfluous := 0, []string{}
	for n, piece := range pieces(sheet) {
		if n%every != 0 {
			continue
		}
		r := sheet.Rules[piece.rule]
		if r.Room == "" {
			continue
		}
		tried++
		mutant := without(sheet, piece)
		if _, err := rules.Compile(mutant); err != nil {
			continue
		}
		if before[r.Room] == nil {
			if before[r.Room], err = Room(ctx, p, sheet, r.Room, o); err != nil {
				t.Fatal(err)
			}
		}
		after, err := Room(ctx, p, mutant, r.Room, o)
		if err != nil {
			t.Fatal(err)
		}
		if !worse(before[r.Room], after) {
			superfluous = append(superfluous, piece.name(sheet))
		}
	}
	t.Logf("%d pieces, %d superfluous as far as the promises go", tried, len(superfluous))
	known := knownSuperfluous(t)
	for _, s := range superfluous {
		if !known[s] {
			t.Errorf("%s could be left out without any promise noticing, and isn't listed", s)
		}
	}
	for _, s := range slices.Sorted(maps.Keys(known)) {
		if every == 1 && !slices.Contains(superfluous, s) {
			t.Errorf("%s is listed as superfluous, and is missed", s)
		}
	}
}

// name of a piece: its rule, and which literal of its guard or hold it is.
func (p piece) name(s rules.Sheet) string {
	what := "guard"
	if p.hold {
		what = "hold"
	}
	return fmt.Sprintf("%s %s %d", s.Rules[p.rule].ID, what, p.at)
}

// knownSuperfluous are the pieces that have been looked through.
func knownSuperfluous(t *testing.T) map[string]bool {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "alder-row-superfluous.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for line := range strings.Lines(string(b)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			out[line] = true
		}
	}
	return out
}

// worse reports whether some promise came out worse.
func worse(before, after []Verdict) bool {
	now := map[string]Verdict{}
	for _, v := range after {
		now[v.Promise.ID] = v
	}
	for _, v := range before {
		w, ok := now[v.Promise.ID]
		if !ok || w.State != v.State || w.Moving != v.Moving {
			return true
		}
	}
	return false
}
