package proof

import (
	"context"
	"strconv"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/ideal"
)

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

// BenchmarkHomes proves each example home as it is drafted, faults and all, on one core.
func BenchmarkHomes(b *testing.B) {
	for _, home := range fixtures.Homes() {
		p := projectfile.Parse(home.Source).Project()
		sheet := ideal.Draft(p).Sheet
		b.Run(home.File, func(b *testing.B) {
			for range b.N {
				if _, err := Home(context.Background(), p, sheet, Options{Faults: true, Workers: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
