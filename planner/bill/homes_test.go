package bill_test

import (
	"encoding/json"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/needs"
)

// audit holds a bill against the house by itself: everything covered or said, nothing overfull.
func audit(t *testing.T, p *model.Project) bill.Bill {
	t.Helper()
	c, d := fixtures.Catalogue(), ideal.Draft(p)
	b, err := bill.Cheapest(t.Context(), p, c, d.Needs, d.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	byID := map[string]needs.Need{}
	for _, n := range d.Needs {
		byID[n.ID] = n
	}
	parts := map[string]map[string]bool{} // that cover a need
	devices := map[string]bool{}
	used, brought, rules := map[string]int{}, map[string]int{}, 0
	for _, dev := range b.Devices {
		part, ok := c.Part(dev.Part)
		if !ok || devices[dev.ID] {
			t.Errorf("device %s is there twice, or has no part %s", dev.ID, dev.Part)
		}
		devices[dev.ID] = true
		if part.Radio != "" {
			used[part.Radio]++
		}
		if l, ok := c.LimitSet(part.Host.Limits); ok {
			if l.Rules == 0 {
				l.Rules = 1 << 20
			}
			rules += l.Rules
		}
		for _, id := range dev.Covers {
			if parts[id] == nil {
				parts[id] = map[string]bool{}
			}
			parts[id][dev.Part] = true
			auditFit(t, byID[id], &part)
		}
	}
	for _, l := range b.Lines {
		part, _ := c.Part(l.Part)
		for r, n := range part.Host.Children {
			brought[r] += n * l.Quantity
		}
		if l.Reason == "" {
			t.Errorf("no reason for %s", l.Part)
		}
	}
	for r, n := range used {
		if n > brought[r] {
			t.Errorf("%d devices on %s, room for %d", n, r, brought[r])
		}
	}
	if len(d.Sheet.Rules) > rules {
		t.Errorf("%d rules, room for %d", len(d.Sheet.Rules), rules)
	}
	unmet := map[string]int{}
	for _, u := range b.Unmet {
		unmet[u.Need]++
		if u.Got != "" {
			unmet[u.Need]--
		}
		if u.Reason == "" || u.Remedy == "" {
			t.Errorf("%+v lacks a reason or a remedy", u)
		}
	}
	for _, n := range d.Needs {
		if len(parts[n.ID])+unmet[n.ID] != 1 {
			t.Errorf("%s is covered by %v and unmet %d times", n.ID, parts[n.ID], unmet[n.ID])
		}
	}
	return b
}

// auditFit checks a part that sits in a box, or lamps, against what the survey knows.
func auditFit(t *testing.T, n needs.Need, part *catalogue.Part) {
	t.Helper()
	if has, known := n.Facts.Neutral.Get(); part.Neutral == "needed" && !(known && has) {
		t.Errorf("%s: %s needs a neutral, the box has %v (known %v)", n.ID, part.ID, has, known)
	}
	if part.Place == "lamp" && part.Base != n.Facts.Base {
		t.Errorf("%s: %s in a %s fitting", n.ID, part.ID, n.Facts.Base)
	}
	if part.LeastLoad > n.Facts.Load && n.Facts.Load > 0 {
		t.Errorf("%s: %s works from %v W, the load is %v W", n.ID, part.ID, part.LeastLoad, n.Facts.Load)
	}
}

func TestExampleHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		t.Run(h.File, func(t *testing.T) { audit(t, projectfile.Parse(h.Source).Project()) })
	}
}

// Of homes that aren't vast no better routes for radio are left untried.
func TestBuildingsAreExact(t *testing.T) {
	sizes := []int{12, 40, 48}
	if !testing.Short() {
		sizes = append(sizes, 80, 100)
	}
	for _, rooms := range sizes {
		p := projectfile.Parse(fixtures.Building(rooms)).Project()
		for _, a := range cheapestOf(t, p).Assumed {
			if a.Asked == "whether other routes for radio are better" {
				t.Errorf("%d rooms: %s", rooms, a.Text)
			}
		}
	}
}

func TestBuildings(t *testing.T) {
	for _, rooms := range []int{1, 12, 60} {
		p := projectfile.Parse(fixtures.Building(rooms)).Project()
		first, _ := json.Marshal(audit(t, p))
		if again, _ := json.Marshal(audit(t, p)); string(again) != string(first) {
			t.Errorf("%d rooms: two bills for one home", rooms)
		}
	}
}
