package bill_test

import (
	"context"
	"fmt"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/ideal"
)

func BenchmarkExampleHomes(b *testing.B) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		d := ideal.Draft(p)
		b.Run(h.File, func(b *testing.B) {
			for b.Loop() {
				if _, err := bill.Cheapest(context.Background(), p, fixtures.Catalogue(), d.Needs, d.Sheet); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkBuilding(b *testing.B) {
	for _, rooms := range []int{10, 40, 100, 1000} {
		p := projectfile.Parse(fixtures.Building(rooms)).Project()
		d := ideal.Draft(p)
		b.Run(fmt.Sprint(rooms), func(b *testing.B) {
			for b.Loop() {
				if _, err := bill.Cheapest(context.Background(), p, fixtures.Catalogue(), d.Needs, d.Sheet); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(d.Needs)), "needs")
			b.ReportMetric(float64(len(d.Sheet.Rules)), "rules")
		})
	}
}
