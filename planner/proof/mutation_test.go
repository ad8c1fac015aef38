package proof

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
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

// TestNoPieceOfARuleIsMissed takes guards, windows and holds out of the rules of the example homes, one at a time, and
// expects some promise of the room to come out worse, or the piece to be listed as superfluous with the reason why it is. Of rooms that are alike but
// for their names one stands for all. Every piece is tried with MUTATE=1 in the environment, and every so many otherwise.
func TestNoPieceOfARuleIsMissed(t *testing.T) {
	every, err := strconv.Atoi(os.Getenv("MUTATE"))
	if err != nil {
		every = 80
	}
	if testing.Short() {
		t.Skip("proves a room for each piece")
	}
	for _, home := range fixtures.Homes() {
		t.Run(home.File, func(t *testing.T) { missed(t, projectfile.Parse(home.Source).Project(), home.File, every) })
	}
}

func missed(t *testing.T, p *model.Project, file string, every int) {
	sheet := ideal.Draft(p).Sheet
	o := Options{Cache: &Cache{}, Faults: true, Effort: Effort{Hulls: 60_000, Zones: 6_000, Soonest: 1}}
	first, known := firstAlike(sheet), knownSuperfluous(t, file)
	before := map[string][]Verdict{}
	tried, superfluous := 0, map[string]bool{}
	for n, piece := range pieces(sheet) {
		r := sheet.Rules[piece.rule]
		if n%every != 0 || r.Room == "" || !first[r.Room] {
			continue
		}
		mutant := without(sheet, piece)
		if _, err := rules.Compile(mutant); err != nil {
			continue
		}
		tried++
		var err error
		if before[r.Room] == nil {
			if before[r.Room], err = Room(t.Context(), p, sheet, r.Room, o); err != nil {
				t.Fatal(err)
			}
		}
		after, err := Room(t.Context(), p, mutant, r.Room, o)
		if err != nil {
			t.Fatal(err)
		}
		if name := piece.name(sheet); !worse(before[r.Room], after) {
			superfluous[name] = true
			if known[name] == "" {
				w := rules.Words(sheet, r)
				t.Errorf("%s could be left out without any promise noticing, and isn't listed with a reason: %s [%s] %s {%s}", name, w.Cause, w.Guard, w.Effect, w.Hold)
			}
		} else if known[name] != "" {
			t.Errorf("%s is listed as superfluous, and is missed", name)
		}
	}
	t.Logf("%s: %d pieces, %d superfluous as far as the promises go", file, tried, len(superfluous))
	for _, name := range slices.Sorted(maps.Keys(known)) {
		if every == 1 && !superfluous[name] {
			t.Errorf("%s is listed as superfluous, and isn't", name)
		}
	}
}

// firstAlike are the rooms whose rules are not those of a room before them under another name.
func firstAlike(s rules.Sheet) map[string]bool {
	of, order := map[string]string{}, []string{}
	for _, r := range s.Rules {
		if _, ok := of[r.Room]; !ok {
			order = append(order, r.Room)
		}
		r.Purpose = ""
		r.Effects = slices.Clone(r.Effects)
		for i := range r.Effects {
			r.Effects[i].Text, r.Effects[i].People = "", nil
		}
		of[r.Room] += strings.ReplaceAll(fmt.Sprintf("%+v\n", r), r.Room, "the room")
	}
	out, seen := map[string]bool{}, map[string]bool{}
	for _, room := range order {
		out[room] = !seen[of[room]]
		seen[of[room]] = true
	}
	return out
}

// name of a piece: its rule, and which literal of its guard or hold it is.
func (p piece) name(s rules.Sheet) string {
	what := "guard"
	if p.hold {
		what = "hold"
	}
	return fmt.Sprintf("%s %s %d", s.Rules[p.rule].ID, what, p.at)
}

// knownSuperfluous are the pieces of a home that have been looked through, each with its reason: the line with a colon at its end above it.
func knownSuperfluous(t *testing.T, file string) map[string]string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", strings.TrimSuffix(file, ".yaml")+"-superfluous.txt"))
	if err != nil {
		t.Fatal(err)
	}
	out, reason := map[string]string{}, ""
	for line := range strings.Lines(string(b)) {
		line = strings.TrimSpace(line)
		switch {
		case line == "", strings.HasPrefix(line, "#"):
		case strings.HasSuffix(line, ":"):
			reason = line
		case reason == "" || out[line] != "":
			t.Fatalf("%s: %q has no reason, or is listed twice", file, line)
		default:
			out[line] = reason
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
