package papers

import (
	"context"
	"encoding/csv"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/supply"
	"example.org/roombrief/planner"
)

// shopping is the two lists of the first example home with prices of two suppliers and some parts there already.
func shopping(t *testing.T) (planner.Plan, string, [][]string) {
	t.Helper()
	p := projectfile.Parse(fixtures.Homes()[0].Source).Project()
	first, err := planner.Make(context.Background(), p, fixtures.Catalogue())
	if err != nil {
		t.Fatal(err)
	}
	day := model.Date{Time: time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC)}
	var own []supply.Price
	owned := false
	for i, l := range first.Bill.Lines {
		if i%3 == 0 {
			own = append(own, supply.Price{Part: l.Part, Supplier: []string{"Ash | Sons", "Birch"}[i%2], Article: "A" + strconv.Itoa(i), Price: 10000, Currency: "GBP", Dated: day})
		}
		if l.Quantity > 1 && !owned {
			p.Existing, owned = append(p.Existing, model.Existing{Part: l.Part, Count: 1}), true
		}
	}
	p.Existing = append(p.Existing, model.Existing{Part: first.Bill.Lines[0].Part, Count: 50})
	shelf, err := supply.Priced(fixtures.Catalogue(), own, "GBP")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := planner.Make(context.Background(), p, shelf)
	if err != nil {
		t.Fatal(err)
	}
	all, err := All(p, shelf, plan, Options{Today: model.Date{Time: day.AddDate(0, 0, 29)}})
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	md := ""
	for _, x := range all {
		switch x.Name {
		case "shopping-list.md":
			md = string(x.Body)
		case "shopping-list.csv":
			if rows, err = csv.NewReader(strings.NewReader(string(x.Body))).ReadAll(); err != nil {
				t.Fatal(err)
			}
		}
	}
	return plan, md, rows
}

// Every supplier has its own list, and their sums are what the bill has for parts.
func TestShoppingBySupplier(t *testing.T) {
	plan, md, rows := shopping(t)
	cents := func(s string) int {
		n, err := strconv.Atoi(strings.Replace(s, ".", "", 1))
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	sum := 0
	for _, m := range regexp.MustCompile(`lines? here: (\d+\.\d\d) GBP\.`).FindAllStringSubmatch(md, -1) {
		sum += cents(m[1])
	}
	if sum != int(plan.Bill.Parts) {
		t.Errorf("the suppliers come to %d, the bill's parts to %d", sum, plan.Bill.Parts)
	}
	total, needed := 0, 0
	for _, r := range rows[1:] {
		total += cents(r[4])
		buy, _ := strconv.Atoi(r[2])
		all, _ := strconv.Atoi(r[10])
		there, _ := strconv.Atoi(r[11])
		if buy != all-there || buy < 0 || cents(r[3])*buy != cents(r[4]) {
			t.Errorf("row %v", r)
		}
		needed += all
	}
	lines := 0
	for _, l := range plan.Bill.Lines {
		lines += l.Quantity
	}
	if total != int(plan.Bill.Parts) || needed != lines {
		t.Errorf("the CSV comes to %d and %d pieces; the bill has %d and %d", total, needed, plan.Bill.Parts, lines)
	}
	for _, want := range []string{"## Ash \\| Sons\n", "## Birch\n", "## Wherever you buy\n", "## There already: not to be bought\n", "2026-11-01 (29 days old)", "2026-03 (8 months old)", "Spare cells"} {
		if !strings.Contains(md, want) {
			t.Errorf("no %q in\n%s", want, md)
		}
	}
	if a, b := strings.Index(md, "## Birch"), strings.Index(md, "## Wherever"); a > b {
		t.Error("what the catalogue alone has a price for stands before a supplier")
	}
}
