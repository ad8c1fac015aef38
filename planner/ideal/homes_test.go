package ideal

import (
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/planner/rules"
)

// The example homes: all their rules run, and nothing in them is refused.
func TestExampleHomes(t *testing.T) {
	for _, home := range fixtures.Homes() {
		t.Run(home.Name, func(t *testing.T) {
			p := projectfile.Parse(home.Source).Project()
			d := Draft(p)
			if _, err := rules.Compile(d.Sheet); err != nil {
				t.Fatal(err)
			}
			if len(d.Sheet.Rules) == 0 || len(d.Needs) == 0 {
				t.Fatal("nothing was drafted")
			}
			for _, f := range d.Findings {
				if f.Serious {
					t.Errorf("%s: %s", f.At, f.Text)
				}
				t.Logf("%s: %s", f.At, f.Text)
			}
			t.Logf("%d things, %d rules, %d needs", len(d.Sheet.Things), len(d.Sheet.Rules), len(d.Needs))
		})
	}
}

// A report in a whole home: the cost of Step where a thousand waits could be held.
func BenchmarkStepOfAHome(b *testing.B) {
	for _, home := range fixtures.Homes() {
		d := Draft(projectfile.Parse(home.Source).Project())
		p, err := rules.Compile(d.Sheet)
		if err != nil {
			b.Fatal(err)
		}
		thing := -1
		for i, x := range d.Sheet.Things {
			if x.Kind == rules.Motion {
				thing = i
				break
			}
		}
		s := p.Start(7 * 3600)
		room := make([]rules.Happening, 0, 256)
		b.Run(home.Name, func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				room = p.Do(&s, rules.Event{Kind: rules.Reported, Thing: thing, Value: rules.Value{On: i%2 == 0}}, room[:0])
			}
		})
		b.Run(home.Name+", a minute", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				room = p.DoAdvance(&s, 60, room[:0])
			}
		})
	}
}
