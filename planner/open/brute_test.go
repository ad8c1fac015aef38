package open

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"pgregory.net/rapid"
)

// randomRoom draws a room with unknown facts.
func randomRoom(t *rapid.T, id string) string {
	from := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, id+" "+name) }
	var b strings.Builder
	fmt.Fprintf(&b, "  - id: %s\n    kind: hall\n    circuits:\n", id)
	for i := range rapid.IntRange(1, 2).Draw(t, id+" circuits") {
		fmt.Fprintf(&b, "      - {id: c%d, lamps: 1, flux: 470 lm, power: 6 W, base: GU10, dimmable: %s, switch: %s}\n", i,
			from("dimmable", "yes", "no", "unknown"), from("switch", "box-0", "box-0", "box-1", "unknown"))
	}
	b.WriteString("    switches:\n")
	for i := range 2 {
		fmt.Fprintf(&b, "      - {id: box-%d, gangs: %s, neutral: %s, depth: %s, by: door}\n", i, from("gangs", "1", "2"),
			from("neutral", "yes", "no", "unknown", "unknown"), from("depth", "25 mm", "35 mm", "unknown"))
	}
	fmt.Fprintf(&b, "    brief:\n      lighting: {start: on request, periods: [{from: 00:00, level: %s}]}\n", from("level", "100 %", "40 %"))
	return b.String()
}

// randomShelf draws relays and dimmers of which some need a neutral, some a deep box, and some a radio that the controller lacks.
func randomShelf(t *rapid.T) *catalogue.Catalogue {
	var parts []catalogue.Part
	for i := range rapid.IntRange(2, 6).Draw(t, "parts") {
		p := relay(fmt.Sprint("part-", i), rapid.SampledFrom([]string{"zigbee", "thread"}).Draw(t, "radio"),
			rapid.SampledFrom([]string{"needed", "not needed"}).Draw(t, "needs"),
			q.Length(rapid.SampledFrom([]float64{0.010, 0.016, 0.020}).Draw(t, "takes")), float64(rapid.IntRange(5, 40).Draw(t, "price")))
		if rapid.Bool().Draw(t, "dims") {
			p.Does = append(p.Does, catalogue.DimLamp)
		}
		parts = append(parts, p)
	}
	parts = append(parts, catalogue.Part{ID: "plain", Name: "plain", Kind: "plain lamp", Place: "lamp", Base: "GU10", Dimmable: true, Uses: 5,
		Flux: 500, Price: map[string]float64{"GBP": float64(rapid.IntRange(1, 9).Draw(t, "lamp"))}})
	if rapid.Bool().Draw(t, "spacer") {
		parts = append(parts, catalogue.Part{ID: "spacer", Name: "spacer", Kind: bill.SpacerKind, Depth: 0.010, Price: map[string]float64{"GBP": 4}})
	}
	return shelfOf(parts...)
}

// scratch is what a plan that is made from scratch comes to beside the plan as it is.
func scratch(t *rapid.T, w *Weighing, p *model.Project) Answer {
	made, err := planner.Make(context.Background(), p, w.shelf)
	if err != nil {
		t.Fatal(err)
	}
	return w.differs(&planned{project: p, plan: made}, "")
}

// Every answer that is reckoned again is what planning the home from scratch gives; between two depths that are tried nothing changes;
// and the pairs that are found are those that planning every two answers finds, no more and no fewer.
func TestAgreesWithPlanningEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { // -rapid.checks=600 takes half a minute of one processor
		d := projectfile.Parse([]byte(head + randomRoom(t, "a") + randomRoom(t, "b")))
		if !d.OK() {
			t.Fatalf("the project is unsound: %v", d.Problems())
		}
		c := randomShelf(t)
		w := New(d, c, Options{Combos: 1 << 30})
		for more := true; more; {
			var err error
			if more, err = w.Step(context.Background()); err != nil {
				t.Fatal(err)
			}
		}
		if len(w.points) > 6 {
			t.Skip("too many to plan all pairs")
		}
		for _, x := range w.points {
			for i, v := range x.values {
				agree(t, w, x, i, v.is)
				if depth, ok := v.is.(q.Length); ok {
					end := depth + 0.04
					if i+1 < len(x.values) {
						end = x.values[i+1].is.(q.Length)
					}
					agree(t, w, x, i, depth+(end-depth)*q.Length(rapid.Float64Range(0, 0.99).Draw(t, "depth between")))
				}
			}
		}
		for i, x := range w.points {
			for _, y := range w.points[i+1:] {
				samePair(t, w, x, y)
			}
		}
	})
}

func agree(t *rapid.T, w *Weighing, x *weighed, i int, is any) {
	got, want := x.each[i], scratch(t, w, with(w.project, *x.fact, is))
	if got.More != want.More || !slices.Equal(got.better, want.better) || !slices.Equal(got.worse, want.worse) || !slices.Equal(got.Parts, want.Parts) {
		t.Fatalf("%s as %v: reckoned %+v, from scratch %+v", x.At, is, got, want)
	}
}

func samePair(t *rapid.T, w *Weighing, x, y *weighed) {
	most, differ := bill.Money(0), false
	for i, a := range x.values {
		for j, b := range y.values {
			d := scratch(t, w, with(with(w.project, *x.fact, a.is), *y.fact, b.is))
			most = max(most, beyond(d, x.each[i], y.each[j]))
			differ = differ || things(d, x.each[i], y.each[j])
		}
	}
	at := slices.IndexFunc(x.Together, func(t Together) bool { return t.With[1] == y.At })
	if found := at >= 0; found != (most > 0 || differ) {
		t.Fatalf("%s with %s: found %v, but planning everything finds %d beyond the sum, things %v", x.At, y.At, found, most, differ)
	}
	if at < 0 {
		return
	}
	if got := x.Together[at]; most > 0 {
		if by := got.Most.More - got.Sum; by != most && by != -most {
			t.Fatalf("%s with %s: %d beyond the sum, planning everything finds %d", x.At, y.At, by, most)
		}
	}
}
