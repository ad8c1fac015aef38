package proof

import (
	"context"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/rules"
)

func TestHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		for _, x := range promises.Of(p, d.Sheet, ideal.Usual(), rules.Equinox) {
			t0 := time.Now()
			v, err := Prove(context.Background(), d.Sheet, x, Usual)
			if err != nil {
				t.Fatal(err)
			}
			t.Log(h.Name, x.ID, v.State, v.Why, v.Zones, v.Spots, v.Timers, time.Since(t0), x.Sentence)
			for _, s := range v.Story {
				t.Log("      ", s.At, s.Text)
			}
		}
	}
}
