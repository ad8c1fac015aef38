package planner

import (
	"context"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/physics"
)

// do is how a sentence says what to do: a clause that begins with what somebody does, or what does it.
var do = regexp.MustCompile(`(?i)(?:^|[.;:(] |, or |, and |, so |, )(note|read|give|take|choose|name|fit|add|lower|raise|ask|move|look|put|correct|measure|write|draw|keep|plug|split|have|air|hold|bring|allow|change|price|try|plan|mark|dim|test|see|walk|dry|there are|accepted|read)\b|(does|do) it\b|sees? the rest|circuit of its own`)

// faulty are homes in which something is wrong on purpose, each with what its warning speaks of.
var faulty = []struct{ name, rooms, about string }{
	{"no fan", "  - {id: bath, kind: bathroom, brief: {ventilation: {ceiling: 65 %}}}\n", "no fan is noted"},
	{"a weak fan", "  - {id: bath, kind: bathroom, outline: {x: 0 m, y: 0 m, width: 2 m, depth: 3 m, ceiling: 2.4 m}, fans: [{id: extract, airflow: 6 l/s}], brief: {ventilation: {ceiling: 60 %, within: 20m}}}\n", "l/s"},
	{"a ceiling that no fan reaches", "  - {id: bath, kind: bathroom, outline: {x: 0 m, y: 0 m, width: 2 m, depth: 3 m, ceiling: 2.4 m}, fans: [{id: extract, airflow: 15 l/s}], brief: {ventilation: {ceiling: 35 %}}}\n", "In no season"},
	{"a ceiling that grows mould", "  - {id: bath, kind: bathroom, coldest: 9 C, outline: {x: 0 m, y: 0 m, width: 2 m, depth: 3 m, ceiling: 2.4 m}, fans: [{id: extract, airflow: 40 l/s}], brief: {ventilation: {ceiling: 75 %}}}\n", "mould"},
	{"a fan of no known size", "  - {id: bath, kind: bathroom, fans: [{id: extract}], brief: {ventilation: {ceiling: reckoned}}}\n", "note the room's size"},
	{"no lamps", "  - {id: hall, kind: hall, brief: {lighting: {start: on entry, periods: [{from: 00:00, level: 50 %}]}}}\n", "no lamp circuit"},
	{"no periods", "  - {id: hall, kind: hall, circuits: [{id: a, lamps: 1}], brief: {lighting: {start: on entry}}}\n", "no period"},
	{"too little light", "  - {id: den, kind: study, outline: {x: 0 m, y: 0 m, width: 5 m, depth: 5 m, ceiling: 2.4 m}, circuits: [{id: a, lamps: 1, flux: 200 lm}], brief: {lighting: {start: on entry, periods: [{from: 00:00, level: 50 %}]}}}\n", "lamps give only"},
	{"a lamp of no known light", "  - {id: den, kind: study, circuits: [{id: a, lamps: 1}], brief: {lighting: {start: on entry, periods: [{from: 00:00, level: 50 %}]}}}\n", ""},
	{"sun without a place", "  - {id: hall, kind: hall, circuits: [{id: a, lamps: 1}], brief: {lighting: {start: on entry, periods: [{from: sunset, level: 50 %}, {from: 20:00, level: 5 %}], stop: {after: 5s, never_while: moving}}}}\n", "place and time zone"},
	{"water that nobody hears of", "  - {id: bath, kind: bathroom, water: [{id: tap, kind: supply}], brief: {leak: {points: [tap]}}}\n", "Nobody hears of water"},
	{"no water points", "  - {id: bath, kind: bathroom, brief: {leak: {points: []}}}\n", "nothing is watched"},
	{"a shut-off without an end", "  - {id: den, kind: utility room, appliances: [{id: iron, kind: clothes iron, power: 2400 W}], brief: {shutoff: [{appliance: iron}]}}\n", "doesn't say when"},
	{"an outlet too small", "  - {id: den, kind: utility room, appliances: [{id: kiln, kind: kiln, power: 6000 W}], brief: {shutoff: [{appliance: kiln, after: 1h, tell: []}]}}\n", "more than an outlet"},
	{"a button for nothing", "  - {id: den, kind: study, brief: {buttons: [{id: b, press: lights auto}, {id: c, press: fan 10m}, {id: d}, {id: e, press: acknowledge}]}}\n", "does nothing yet"},
	{"doors that can't tell", "  - {id: den, kind: study, doors: [{id: gap, to: outside, usually: none}], circuits: [{id: a, lamps: 1, flux: 800 lm}], brief: {lighting: {start: on entry, periods: [{from: 00:00, level: 50 %}], stop: {after: 9m, never_while: occupied}}}}\nchoices: {sense: {den: doors}, doors: {den: patient}, use: {den/a: no-such-part}}\n", "Doors can't tell"},
}

// Every warning says what to do: of the example homes as they are, of homes with something wrong, and of each sentence in the source
// that no home here brings about.
func TestEveryWarningSaysWhatToDo(t *testing.T) {
	const home = "roombrief: 1\nhome: {name: Faulty, mains: {voltage: 230 V, outlet: 13 A}}\nrooms:\n"
	sources := map[string]string{}
	for _, h := range fixtures.Homes() {
		sources[h.File] = string(h.Source)
	}
	for _, f := range faulty {
		sources[f.name] = home + f.rooms
	}
	said := map[string]string{}
	for name, src := range sources {
		d := projectfile.Parse([]byte(src))
		if !d.OK() {
			t.Fatalf("%s: %v", name, d.Problems())
		}
		said[name] = warnings(t, name, d.Project())
	}
	for _, f := range faulty {
		if !strings.Contains(said[f.name], f.about) {
			t.Errorf("%s: no warning of %q, but:\n%s", f.name, f.about, said[f.name])
		}
	}
}

func warnings(t *testing.T, name string, p *model.Project) string {
	t.Helper()
	plan, err := Make(context.Background(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var all []string
	check := func(text string) {
		all = append(all, text)
		if !do.MatchString(text) {
			t.Errorf("%s: only complains: %s", name, text)
		}
	}
	for _, f := range plan.Findings {
		check(f.Text)
	}
	for _, u := range plan.Bill.Unmet {
		if u.Remedy == "" || u.Reason == "" {
			t.Errorf("%s: %s has no remedy: %+v", name, u.Need, u)
		}
		check(u.Remedy)
	}
	for _, h := range plan.Placed.Hosts {
		for _, l := range h.Fit.Lost {
			check(l.Remedy)
		}
	}
	for _, r := range p.Rooms {
		for _, n := range physics.Room(p, r) {
			if !n.OK {
				check(n.Say)
			}
		}
	}
	asked := 0
	for _, a := range plan.Bill.Assumed {
		if strings.Contains(a.Text, "nobody knows yet") { // these stand under a heading that says to look and note it
			asked++
			continue
		}
		check(a.Text)
	}
	if text := bill.Text(plan.Bill, 100, nil); asked > 0 && !strings.Contains(text, "until somebody looks and notes it") {
		t.Errorf("%s: what nobody knows has no heading that says what to do", name)
	}
	return strings.Join(all, "\n")
}

// Each finding that a draft can have says what to do, also those that no home above brings about.
func TestEveryFindingInTheSourceSaysWhatToDo(t *testing.T) {
	files, err := filepath.Glob("ideal/*.go")
	if err != nil || len(files) < 10 {
		t.Fatal(files, err)
	}
	n := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(x ast.Node) bool {
			c, ok := x.(*ast.CallExpr)
			if !ok {
				return true
			}
			s, ok := c.Fun.(*ast.SelectorExpr)
			if !ok || s.Sel.Name != "find" && s.Sel.Name != "choice" || len(c.Args) < 3 {
				return true
			}
			if text, ok := literal(c.Args[2]); ok {
				n++
				if !do.MatchString(text) {
					t.Errorf("%s only complains: %s", f, text)
				}
			}
			return true
		})
	}
	if n < 30 {
		t.Errorf("only %d sentences found", n)
	}
}

// literal is a text of the source, its pieces put together.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		s, err := strconv.Unquote(e.Value)
		return s, err == nil
	case *ast.BinaryExpr:
		a, ok1 := literal(e.X)
		b, ok2 := literal(e.Y)
		return a + b, ok1 && ok2
	}
	return "", false
}
