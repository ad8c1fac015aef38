package proof

import (
	"context"
	"strconv"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
)

// BenchmarkHome proves all promises of an example home on one core, from nothing.
func BenchmarkHome(b *testing.B) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		sheet := ideal.Draft(p).Sheet
		o := Options{Workers: 1}
		o.Draft = ideal.Usual()
		o.Draft.Year = ideal.YearOf(p)
		b.Run(h.File, func(b *testing.B) {
			spots, promised := 0, 0
			for range b.N {
				vs, err := Home(context.Background(), p, sheet, o)
				if err != nil {
					b.Fatal(err)
				}
				spots, promised = 0, len(vs)
				for _, v := range vs {
					spots += v.Spots
				}
			}
			b.ReportMetric(float64(promised), "promises")
			b.ReportMetric(float64(spots)/float64(promised), "states/promise")
		})
	}
}

// BenchmarkRoom proves each room of the first two example homes alone.
func BenchmarkRoom(b *testing.B) {
	for _, h := range fixtures.Homes()[:2] {
		p := projectfile.Parse(h.Source).Project()
		sheet := ideal.Draft(p).Sheet
		o := Options{Workers: 1}
		o.Draft = ideal.Usual()
		o.Draft.Year = ideal.YearOf(p)
		for _, r := range p.Rooms {
			b.Run(r.ID, func(b *testing.B) {
				for range b.N {
					if _, err := Room(context.Background(), p, sheet, r.ID, o); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkBuilding proves buildings of many near-equal rooms on two cores.
func BenchmarkBuilding(b *testing.B) {
	for _, rooms := range []int{100, 1000} {
		p := projectfile.Parse(fixtures.Building(rooms)).Project()
		sheet := ideal.Draft(p).Sheet
		b.Run(strconv.Itoa(rooms), func(b *testing.B) {
			for range b.N {
				if _, err := Home(context.Background(), p, sheet, Options{Workers: 2}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
