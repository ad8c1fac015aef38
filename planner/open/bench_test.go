package open

import (
	"context"
	"fmt"
	"os"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
)

func BenchmarkExampleHomes(b *testing.B) {
	for _, h := range fixtures.Homes() {
		doc := projectfile.Parse(h.Source)
		b.Run(h.File, func(b *testing.B) { weighAll(b, doc) })
	}
}

func BenchmarkBuilding(b *testing.B) {
	sizes := []int{40}
	if os.Getenv("ROOMBRIEF_LONG") != "" {
		sizes = append(sizes, 120)
	}
	for _, rooms := range sizes {
		doc := projectfile.Parse(fixtures.Building(rooms))
		b.Run(fmt.Sprint(rooms), func(b *testing.B) { weighAll(b, doc) })
	}
}

// weighAll prices every open point from nothing, promises included.
func weighAll(b *testing.B, doc *projectfile.Document) {
	shelf := fixtures.Catalogue()
	var p *Points
	for b.Loop() {
		var err error
		if p, err = All(context.Background(), doc, shelf, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(List(doc.Project()))), "points")
	b.ReportMetric(float64(p.Tried.Plans), "plans")
	b.ReportMetric(float64(p.Tried.Pairs), "pairs")
	b.ReportMetric(float64(p.Tried.Skip), "left-out")
}

// The list is made anew for every frame of the screen.
func BenchmarkList(b *testing.B) {
	p := projectfile.Parse(fixtures.Building(1000)).Project()
	for b.Loop() {
		List(p)
	}
}
