package planner_test

import (
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
)

// BenchmarkProve proves every promise of an example home on what its controllers run, on one core and from nothing.
func BenchmarkProve(b *testing.B) {
	for _, h := range fixtures.Homes() {
		p := projectfile.Parse(h.Source).Project()
		plan, err := planner.Make(b.Context(), p, fixtures.Catalogue())
		if err != nil {
			b.Fatal(err)
		}
		b.Run(h.File, func(b *testing.B) {
			states, promised := 0, 0
			for b.Loop() {
				vs, err := proof.Home(b.Context(), p, plan.Fitted, proof.Options{Workers: 1})
				if err != nil {
					b.Fatal(err)
				}
				states, promised = 0, len(vs)
				for _, v := range vs {
					states += v.Spots
				}
			}
			b.ReportMetric(float64(promised), "promises")
			b.ReportMetric(float64(states)/float64(promised), "states/promise")
		})
	}
}

// BenchmarkProveRoom proves each room of an example home alone.
func BenchmarkProveRoom(b *testing.B) {
	for _, h := range fixtures.Homes()[:2] {
		p := projectfile.Parse(h.Source).Project()
		plan, err := planner.Make(b.Context(), p, fixtures.Catalogue())
		if err != nil {
			b.Fatal(err)
		}
		for _, r := range p.Rooms {
			b.Run(r.ID, func(b *testing.B) {
				for b.Loop() {
					if _, err := proof.Room(b.Context(), p, plan.Fitted, r.ID, proof.Options{Workers: 1}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
