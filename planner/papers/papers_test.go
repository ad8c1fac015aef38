package papers

import (
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
)

func papersOf(t testing.TB, src []byte) (map[string]string, planner.Plan, *model.Project) {
	t.Helper()
	doc := projectfile.Parse(src)
	if !doc.OK() {
		t.Fatal(doc.Problems())
	}
	plan, err := planner.Make(context.Background(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	day := model.Date{Time: time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC)}
	all, err := All(doc.Project(), fixtures.Catalogue(), plan, Options{Today: day, Program: "Roombrief test"})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, p := range all {
		if p.For == "" || out[p.Name] != "" {
			t.Errorf("%s is for nobody, or there twice", p.Name)
		}
		out[p.Name] = string(p.Body)
	}
	return out, plan, doc.Project()
}

func TestPapersOfTheExampleHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		t.Run(h.File, func(t *testing.T) {
			all, plan, p := papersOf(t, h.Source)
			again, _, _ := papersOf(t, h.Source)
			for name, body := range all {
				if again[name] != body {
					t.Errorf("%s differs from one time to the next", name)
				}
				if !strings.Contains(body, p.Home.Name) && strings.HasSuffix(name, ".md") {
					t.Errorf("%s doesn't name the home", name)
				}
			}
			done := map[string]bool{}
			for _, h := range plan.Placed.Hosts {
				for _, r := range h.Fit.Sheet.Rules {
					if !strings.Contains(all["rule-sheet.md"], "`"+r.ID+"`") {
						t.Errorf("the rule sheet leaves out %s", r.ID)
					}
					for _, id := range h.Fit.From[r.ID] {
						done[id] = true
					}
				}
			}
			for _, r := range plan.Sheet.Rules {
				if !done[r.ID] {
					t.Errorf("nothing on the rule sheet carries out %s", r.ID)
				}
			}
			if !strings.Contains(all["shopping-list.md"], "licensed electrician") || !strings.Contains(all["household.html"], "no substitute for certified") {
				t.Error("a caution is missing in its place")
			}
		})
	}
}

// Other limits give another rule sheet.
func TestRuleSheetFollowsTheLimits(t *testing.T) {
	source := string(fixtures.Homes()[0].Source)
	sheets := map[string]string{}
	for _, limits := range []string{"able", "open", "able, except: {sun_times: no}", "able, except: {longest_wait: 30m}"} {
		all, _, _ := papersOf(t, []byte(strings.Replace(source, "limits: able}", "limits: "+limits+"}", 1)))
		for other, sheet := range sheets {
			if sheet == all["rule-sheet.md"] {
				t.Errorf("%s and %s have one rule sheet", limits, other)
			}
		}
		sheets[limits] = all["rule-sheet.md"]
	}
	if s := sheets["able, except: {sun_times: no}"]; !strings.Contains(s, "| from |") || !strings.Contains(s, "Through the year: set the clock time for") {
		t.Error("the table that stands for the sun is missing")
	}
}

// What the list adds up to is what the bill's lines cost, part by part.
func TestShoppingListAddsUp(t *testing.T) {
	all, plan, _ := papersOf(t, fixtures.Homes()[0].Source)
	rows, err := csv.NewReader(strings.NewReader(all["shopping-list.csv"])).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	quantity := map[string]int{}
	for _, l := range plan.Bill.Lines {
		quantity[l.Part] += l.Quantity
	}
	cents := int64(0)
	for _, r := range rows[1:] {
		n, _ := strconv.Atoi(r[2])
		if n == 0 || n != quantity[r[0]] {
			t.Errorf("%s: %s on the list, %d on the bill", r[0], r[2], quantity[r[0]])
		}
		delete(quantity, r[0])
		amount, err := strconv.ParseInt(strings.Replace(r[4], ".", "", 1), 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		cents += amount
	}
	if len(quantity) > 0 {
		t.Errorf("not on the list: %v", quantity)
	}
	if cents != int64(plan.Bill.Parts) {
		t.Errorf("the list comes to %d, the bill's parts to %d", cents, plan.Bill.Parts)
	}
}

// The household page fetches nothing and runs nothing.
func TestHouseholdPageStandsAlone(t *testing.T) {
	all, _, _ := papersOf(t, fixtures.Homes()[0].Source)
	page := all["household.html"]
	for _, bad := range []string{"<script", "http:", "https:", "src=", "<link", "@import", "url("} {
		if strings.Contains(page, bad) {
			t.Errorf("the page has %q", bad)
		}
	}
	for _, want := range []string{"If I get up at night I don&#39;t want to be blinded.", "@media print", "By the basin", "Fan for 20m"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// Names that a person wrote are text, in every paper.
func TestNamesCannotBreakOut(t *testing.T) {
	src := strings.Replace(string(fixtures.Homes()[0].Source), "name: 14 Alder Row", `name: "=1+1 | <b>*x*</b>"`, 1)
	src = strings.Replace(src, "name: Shower room", `name: "=cmd() | <i>wet</i>"`, 1)
	all, _, _ := papersOf(t, []byte(src))
	if strings.Contains(all["household.html"], "<i>wet") || strings.Contains(all["household.html"], "<b>*x*") {
		t.Error("a name became markup in the page")
	}
	prose := ""
	for i, part := range strings.Split(all["rule-sheet.md"], "\n```\n") {
		if i%2 == 0 {
			prose += part
		}
	}
	if strings.Contains(prose, "<i>") || !strings.Contains(all["rule-sheet.md"], `\|`) {
		t.Error("a name became markup in the rule sheet")
	}
	for _, line := range strings.Split(all["shopping-list.csv"], "\r\n") {
		for _, cell := range strings.Split(line, ",") {
			if strings.HasPrefix(strings.Trim(cell, `"`), "=") {
				t.Errorf("a spreadsheet would run %q", cell)
			}
		}
	}
}

func TestEmptyHome(t *testing.T) {
	all, _, _ := papersOf(t, projectfile.Starter("Empty"))
	if !strings.Contains(all["shopping-list.md"], "Nothing to buy yet") || !strings.Contains(all["household.html"], "No room has a brief yet") {
		t.Error("an empty home is not said to be one")
	}
}

func BenchmarkPapers(b *testing.B) {
	doc := projectfile.Parse(fixtures.Homes()[0].Source)
	plan, err := planner.Make(context.Background(), doc.Project(), fixtures.Catalogue())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := All(doc.Project(), fixtures.Catalogue(), plan, Options{Program: "Roombrief"}); err != nil {
			b.Fatal(err)
		}
	}
}
