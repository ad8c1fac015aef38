package bill_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"pgregory.net/rapid"
)

// randomExisting draws parts that are there already: of anything on the shelf, fewer or more than a home uses.
func randomExisting(t *rapid.T, c *catalogue.Catalogue) (all []model.Existing) {
	for i := rapid.IntRange(1, 4).Draw(t, "kinds owned"); i > 0; i-- {
		all = append(all, model.Existing{Part: rapid.SampledFrom(c.Parts).Draw(t, "owned").ID, Count: rapid.IntRange(1, 4).Draw(t, "how many")})
	}
	return all
}

// With parts that are there already, trying everything finds nothing cheaper, and the lines say the same.
func TestOwnedPartsAreUsedWhereTheySaveMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		p.Existing = randomExisting(t, c)
		count := randomCount(t)
		b, err := bill.CheapestFor(context.Background(), p, c, ns, sheet, count)
		if err != nil {
			t.Fatal(err)
		}
		o := brute(p, c, ns, sheet, count)
		if o.best == math.MaxInt64 {
			return // no controllers hold it
		}
		if net(b) != o.best {
			t.Fatalf("owned %v: bill is %d, the cheapest of all is %d\n%s", p.Existing, net(b), o.best, bill.Text(b, 100, nil))
		}
		checkSums(t, b)
		left, saved := map[string]int{}, bill.Money(0)
		for _, e := range p.Existing {
			left[e.Part] += e.Count
		}
		for _, l := range b.Lines {
			if l.Owned != min(l.Quantity, left[l.Part]) {
				t.Fatalf("%s: %d of %d are there already, and %d are left", l.Part, l.Owned, l.Quantity, left[l.Part])
			}
			left[l.Part] -= l.Owned
			saved += bill.Money(l.Owned) * l.Each
		}
		if saved != b.Saved {
			t.Fatalf("lines save %d, the bill says %d", saved, b.Saved)
		}
	})
}

// More to hand never makes a home dearer, and a home without any is the bill of before.
func TestOwningMoreNeverCostsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		var last bill.Bill
		for i, e := range append([]model.Existing{{}}, randomExisting(t, c)...) {
			if i > 0 {
				p.Existing = append(p.Existing, e)
			}
			b, err := bill.Cheapest(context.Background(), p, c, ns, sheet)
			if err != nil {
				t.Fatal(err)
			}
			short := slices.ContainsFunc(b.Unmet, func(u bill.Unmet) bool { return u.Need == "controllers" })
			if i > 0 && !short && net(b) > net(last) {
				t.Fatalf("with %v the bill is %d, with less of it %d", p.Existing, net(b), net(last))
			}
			last = b
		}
	})
}

func exampleHome(t testing.TB, file string) *model.Project {
	t.Helper()
	for _, h := range fixtures.Homes() {
		if h.File == file {
			return projectfile.Parse(h.Source).Project()
		}
	}
	t.Fatalf("no home %s", file)
	return nil
}

func cheapestOf(t testing.TB, p *model.Project) bill.Bill {
	t.Helper()
	d := ideal.Draft(p)
	b, err := bill.Cheapest(context.Background(), p, fixtures.Catalogue(), d.Needs, d.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Own exactly what a home buys: then only the work is left to pay.
func TestAllOwnedLeavesTheLabour(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		before := cheapestOf(t, p)
		counts := map[string]int{}
		var order []string
		for _, l := range before.Lines {
			if counts[l.Part] == 0 {
				order = append(order, l.Part)
			}
			counts[l.Part] += l.Quantity
		}
		for _, id := range order {
			p.Existing = append(p.Existing, model.Existing{Part: id, Count: counts[id]})
		}
		after := cheapestOf(t, p)
		if net(after) > int64(before.Labour) {
			t.Errorf("%s: with everything there, %s is left to pay, and the work is %s", h.File, (after.Parts + after.Labour).Plain(), before.Labour.Plain())
		}
	}
}

func TestOwnedPartIsSaid(t *testing.T) {
	p := exampleHome(t, "alder-row.yaml")
	l := cheapestOf(t, p).Lines[0]
	p.Existing = []model.Existing{{Part: l.Part, Count: 1}, {Part: "no-such-part", Count: 2}}
	b := cheapestOf(t, p)
	if got := b.Lines[0]; got.Owned != 1 || !strings.Contains(got.Reason, "already") || b.Saved != l.Each {
		t.Errorf("saved %v, line %+v", b.Saved, got)
	}
	if !slices.ContainsFunc(b.Assumed, func(a bill.Assumption) bool {
		return strings.HasPrefix(a.Text, "2 × no-such-part is there already, but the shelf has no such part")
	}) {
		t.Errorf("nothing is said of the part that the shelf doesn't know: %+v", b.Assumed)
	}
}

func BenchmarkOwned(b *testing.B) {
	p := exampleHome(b, "alder-row.yaml")
	for i, l := range cheapestOf(b, p).Lines {
		if i%3 == 0 && l.Quantity > 1 {
			p.Existing = append(p.Existing, model.Existing{Part: l.Part, Count: 1})
		}
	}
	for _, id := range []string{"motion-ble", "door-zigbee", "leak-point-wifi"} {
		p.Existing = append(p.Existing, model.Existing{Part: id, Count: 1})
	}
	d := ideal.Draft(p)
	for b.Loop() {
		if _, err := bill.Cheapest(context.Background(), p, fixtures.Catalogue(), d.Needs, d.Sheet); err != nil {
			b.Fatal(err)
		}
	}
}
