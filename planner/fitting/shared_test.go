package fitting_test

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/ideal"
	"example.org/roombrief/planner/rules"
)

// Homes that share their counts come to what each comes to by itself: the example homes, whole and with each room unasked.
func TestSharedCountsAreTheHomesOwn(t *testing.T) {
	for _, name := range []string{"alder-row", "larkspur-lane"} {
		src, err := os.ReadFile(filepath.Join("..", "..", "fixtures", "homes", name+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		whole := projectfile.Parse(src).Project()
		year := fitting.YearOf(whole)
		var counts fitting.Counts
		for left := -1; left < min(len(whole.Rooms), 4); left++ {
			p := *whole
			p.Rooms = append(p.Rooms[:0:0], p.Rooms...)
			if left >= 0 {
				p.Rooms[left].Brief = model.Brief{}
			}
			options := ideal.Usual()
			options.Year = ideal.YearOf(&p)
			sheet := ideal.DraftWith(&p, options).Sheet
			days := func() []rules.Day { return year }
			shared := fitting.NewHome(sheet, days).CountWith(&counts)
			for _, l := range fixtures.Catalogue().Limits {
				if got, want := shared(l), fitting.NewHome(sheet, days).Count(l); got != want {
					t.Errorf("%s without room %d on %s: %d rules, by itself %d", name, left, l.ID, got, want)
				}
			}
		}
	}
}
