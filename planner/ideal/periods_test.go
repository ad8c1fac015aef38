package ideal

import (
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/planner/site"
)

// The year drawn from every fifth day against reckoning each day.
func TestYearIsTheSunOfEachDay(t *testing.T) {
	loc, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	for _, latitude := range []float64{-33, 0, 54.9, 59.9, 70} {
		year, err := YearAt(latitude, -1.08, loc)
		if err != nil || len(year) != 365 {
			t.Fatal(len(year), err)
		}
		for n, got := range year {
			d, err := site.SunDay(latitude, -1.08, site.DateOf(time.Date(SunYear, 1, 1+n, 12, 0, 0, 0, time.UTC)), loc)
			if err != nil {
				t.Fatal(err)
			}
			want := DayOf(d)
			for _, s := range []q.Sun{q.Dawn, q.Sunrise, q.Sunset, q.Dusk} {
				g, w := got.Second(q.DayTime{Sun: s}), want.Second(q.DayTime{Sun: s})
				if off := (g - w + rules.DaySeconds) % rules.DaySeconds; off > 20 && off < rules.DaySeconds-20 {
					t.Fatalf("%v of day %d at %v degrees is %d, want %d", s, n, latitude, g, w)
				}
			}
		}
	}
}
