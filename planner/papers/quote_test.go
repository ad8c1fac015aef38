package papers

import (
	"context"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
)

// The printed rows of a quote add up to its printed total, and it stands by itself on either paper.
func TestQuotePaperAddsUp(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		plan, err := planner.Make(context.Background(), p, fixtures.Catalogue())
		if err != nil {
			t.Fatal(err)
		}
		q := planner.Quote{Currency: plan.Bill.Currency, Net: plan.Bill.Parts + plan.Bill.Labour, Tax: plan.Bill.Tax, Total: plan.Bill.Total}
		for _, r := range plan.Bill.Rooms {
			q.Rooms = append(q.Rooms, planner.QuoteRoom{Room: r.Room, Name: r.Name, Goals: []string{"lighting"}, Amount: r.Amount})
		}
		q.Options = []planner.Option{{Kind: planner.LeaveRoom, Room: p.Rooms[0].ID, More: -12345}, {Kind: planner.LeaveGoal, Room: p.Rooms[0].ID, Goal: "lighting", More: -100},
			{Kind: planner.LeaveGoal, Room: p.Rooms[0].ID, Goal: "air", More: 5}, {Kind: planner.OtherAim, Aim: "upkeep", More: 777}}
		all, err := All(p, fixtures.Catalogue(), plan, Options{Quote: &q})
		if err != nil {
			t.Fatal(err)
		}
		page := ""
		for _, x := range all {
			if x.Name == QuoteName {
				page = string(x.Body)
			}
		}
		body, _, _ := strings.Cut(page, "</table>")
		var cents []int
		for _, m := range regexp.MustCompile(`class="money">(\d+)\.(\d\d)<`).FindAllStringSubmatch(body, -1) {
			n, _ := strconv.Atoi(m[1] + m[2])
			cents = append(cents, n)
		}
		n := len(cents)
		if n != len(plan.Bill.Rooms)+3 {
			t.Fatalf("%s: %d amounts for %d rooms", h.File, n, len(plan.Bill.Rooms))
		}
		sum := 0
		for _, c := range cents[:n-3] {
			sum += c
		}
		if sum != cents[n-3] || cents[n-3]+cents[n-2] != cents[n-1] {
			t.Errorf("%s: rooms %d, net %d, tax %d, total %d", h.File, sum, cents[n-3], cents[n-2], cents[n-1])
		}
		for _, want := range []string{"−123.45", "only its light", "&#43;7.77", "The least upkeep", "@page { margin", "Please read"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: no %q", h.File, want)
			}
		}
		for _, never := range []string{"<script", "http://", "https://", "size: A4", "only its air", "<no value>"} {
			if strings.Contains(page, never) {
				t.Errorf("%s: %q in it", h.File, never)
			}
		}
	}
}
