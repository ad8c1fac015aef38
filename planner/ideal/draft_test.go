package ideal

import (
	"strings"
	"testing"

	"example.org/roombrief/planner/rules"
)

func TestShowWhatIsDrafted(t *testing.T) {
	d := Draft(alderRow(t))
	if len(d.Sheet.Rules) == 0 {
		t.Fatal("no rules")
	}
	for _, r := range d.Sheet.Rules {
		w := rules.Words(d.Sheet, r)
		for _, s := range []string{w.Cause, w.Guard, w.Effect, w.Hold, r.Purpose} {
			for _, bad := range []string{"trigger", "condition", "action", " then ", "!(", "%!"} {
				if strings.Contains(strings.ToLower(s), bad) {
					t.Errorf("%s says %q: %s", r.ID, bad, s)
				}
			}
		}
		t.Logf("%s: %s\n   %s | %s\n   %s | %s", r.ID, r.Purpose, w.Cause, w.Guard, w.Effect, w.Hold)
	}
	t.Log("\n" + rules.ChartOf(d.Sheet, "shower-room").Text(80))
	for _, n := range d.Needs {
		t.Log(n.ID, n.Wants, n.Why)
	}
	for _, f := range d.Findings {
		t.Log(f.At, f.Text)
	}
}
