package proof

import (
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
)

func TestHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		if want := os.Getenv("HOME_ONLY"); want != "" && !strings.Contains(h.Name, want) {
			continue
		}
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		t0 := time.Now()
		var vs []Verdict
		cache := &Cache{}
		for _, r := range p.Rooms {
			t1 := time.Now()
			v, err := Room(context.Background(), p, d.Sheet, r.ID, Options{Workers: 1, Cache: cache})
			if err != nil {
				t.Fatal(err)
			}
			vs = append(vs, v...)
			if os.Getenv("HOME_ONLY") != "" {
				println(r.ID, time.Since(t1).String())
			}
		}
		t.Log(h.Name, time.Since(t0))
		for _, v := range vs {
			if v.Spots > 300 {
				t.Log("HEAVY", v.Promise.ID, v.Zones, v.Spots)
			}
			t.Log(h.Name, v.Promise.ID, v.State, v.Moving, v.Why, v.Zones, v.Spots, v.Timers, v.Cached, v.Promise.Sentence)
			if v.State == Breaks {
				for _, s := range v.Story {
					t.Log("      ", s.At, s.Text)
				}
			}
		}
	}
}
