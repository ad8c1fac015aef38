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
