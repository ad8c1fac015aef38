package bill_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"pgregory.net/rapid"
)

// net is a bill before tax.
func net(b bill.Bill) int64 { return int64(b.Parts + b.Labour) }

// Forbid a line's part for what the line covers and all that could share a part with it, and try everything again: that is what the next best costs.
func TestRunnerUpIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		if rapid.Bool().Draw(t, "something is owned") {
			p.Existing = randomExisting(t, c)
		}
		count := randomCount(t)
		b, err := bill.CheapestFor(context.Background(), p, c, ns, sheet, count)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range b.Lines {
			if l.Room == "" || l.Part == "plate" || l.Part == "spacer" || l.Part == "plain" {
				continue
			}
			o := brute(p, c, ns, sheet, count)
			if o.best == math.MaxInt64 {
				return // no controllers hold it
			}
			rank, touching := o.rank, o.touching()
			at := map[int]bool{}
			for i, n := range ns {
				if slices.Contains(l.Covers, n.ID) {
					at[touching[i]] = true
				}
			}
			o.banned = func(part string, n needs.Need) bool {
				i := slices.IndexFunc(ns, func(m needs.Need) bool { return m.ID == n.ID })
				return part == l.Part && at[touching[i]]
			}
			o.solve()
			if served := fmt.Sprint(rank) == fmt.Sprint(o.rank); served != (l.RunnerUp != "") {
				t.Fatalf("%s: next best %q, but without it needs are served as %v instead of %v", l.Part, l.RunnerUp, o.rank, rank)
			}
			if l.RunnerUp != "" && (l.RunnerUp == l.Part || int64(l.RunnerAt) != o.best-net(b)) {
				t.Fatalf("%s: next best %s at %d, trying everything gives %d", l.Part, l.RunnerUp, l.RunnerAt, o.best-net(b))
			}
		}
	})
}

// One more part on the shelf never makes a home dearer that was served as asked before.
func TestAddingAPartNeverCostsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		count := randomCount(t)
		for i := range ns {
			ns[i].Wants = ns[i].Wants[len(ns[i].Wants)-1:] // one want each, so that quality stays what it is
		}
		drop := rapid.IntRange(0, len(c.Parts)-4).Draw(t, "dropped") // never plate, spacer or plain lamp
		fewer := *c
		fewer.Parts = append(append([]catalogue.Part(nil), c.Parts[:drop]...), c.Parts[drop+1:]...)
		all, err := bill.CheapestFor(context.Background(), p, c, ns, sheet, count)
		less, err2 := bill.CheapestFor(context.Background(), p, &fewer, ns, sheet, count)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if len(less.Unmet) == 0 && net(all) > net(less) {
			t.Fatalf("with %s the bill is %d, without it %d", c.Parts[drop].ID, net(all), net(less))
		}
	})
}

func TestCheapestIsTheMinimumOfEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c, ns, sheet := randomHome(t)
		count := randomCount(t)
		b, err := bill.CheapestFor(context.Background(), p, c, ns, sheet, count)
		if err != nil {
			t.Fatal(err)
		}
		o := brute(p, c, ns, sheet, count)
		if o.best == math.MaxInt64 { // no controllers hold it
			if !slices.ContainsFunc(b.Unmet, func(u bill.Unmet) bool { return u.Need == "controllers" }) {
				t.Fatalf("no controllers hold the home, and the bill doesn't say so:\n%s", bill.Text(b, 100, nil))
			}
			return
		}
		if net(b) != o.best {
			t.Fatalf("bill is %d, the cheapest of all is %d\n%s", net(b), o.best, bill.Text(b, 100, nil))
		}
		checkCovered(t, ns, o.rank, b)
		checkSums(t, b)
	})
}

// checkCovered: every need is covered by exactly one device or unmet, once, and poorer service is said.
func checkCovered(t *rapid.T, ns []needs.Need, rank []int, b bill.Bill) {
	covered, unmet := map[string]bool{}, map[string]bill.Unmet{}
	for _, d := range b.Devices {
		for _, id := range d.Covers {
			covered[id] = true
		}
	}
	for _, u := range b.Unmet {
		if _, twice := unmet[u.Need]; twice {
			t.Fatalf("%s is unmet twice", u.Need)
		}
		unmet[u.Need] = u
	}
	for i, n := range ns {
		u, listed := unmet[n.ID]
		if want := rank[i] >= 0; covered[n.ID] != want || listed != (rank[i] != 0) || listed && (u.Got != "") != want {
			t.Fatalf("%s: covered %v, unmet %v (%+v), best want %d", n.ID, covered[n.ID], listed, u, rank[i])
		}
	}
}

// checkSums: lines, rooms and totals say the same money.
func checkSums(t *rapid.T, b bill.Bill) {
	var lines, rooms bill.Money
	minutes := 0
	for _, l := range b.Lines {
		lines += l.Amount
		minutes += l.Minutes
	}
	for _, r := range b.Rooms {
		rooms += r.Amount
	}
	if lines != b.Parts+b.Labour || rooms != lines || minutes != b.Minutes || b.Total != lines+b.Tax {
		t.Fatalf("lines %d, rooms %d, parts and labour %d, minutes %d of %d", lines, rooms, b.Parts+b.Labour, minutes, b.Minutes)
	}
}
