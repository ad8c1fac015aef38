package interview

import (
	"strings"
	"testing"

	"example.org/roombrief/model/projectfile"
)

// What is there already keeps its notes and comments when the list is said anew.
func TestExistingKeepsWhatStays(t *testing.T) {
	const head = "roombrief: 1\nhome: {name: Flat, currency: GBP}\n"
	for _, tt := range []struct{ was, say, want string }{
		{"existing:\n  - {part: door-zigbee, count: 2, note: in the drawer} # dusty\n  - {part: door-thread, count: 1}\n", "3 door-zigbee, 1 leak-point-zigbee",
			"existing:\n  - {part: door-zigbee, count: 3, note: in the drawer} # dusty\n  - {part: leak-point-zigbee, count: 1}\n"},
		{"existing:\n  - {part: door-zigbee, count: 2}\n  - {part: door-zigbee, count: 1, note: loft}\n", "2 door-zigbee, 4 door-zigbee",
			"existing:\n  - {part: door-zigbee, count: 2}\n  - {part: door-zigbee, count: 4, note: loft}\n"},
		{"existing:\n  - {part: door-zigbee, count: 2}\n", "1 door-thread", "existing:\n  - {part: door-thread, count: 1}\n"},
		{"existing:\n  - {part: door-zigbee, count: 2}\n", "none", "existing: []\n"},
	} {
		d := projectfile.Parse([]byte(head + tt.was))
		for _, q := range All(d, "") {
			if q.Path != "existing" {
				continue
			}
			if !q.Answered || !strings.Contains(q.Answer, "× Door contact") {
				t.Errorf("shown as %q", q.Answer)
			}
			out, err := Answer(d, q, tt.say)
			if err != nil {
				t.Fatalf("%s: %v", tt.say, err)
			}
			if got := strings.TrimPrefix(string(out.Source()), head); got != tt.want {
				t.Errorf("%q on\n%sgives\n%swant\n%s", tt.say, tt.was, got, tt.want)
			}
		}
	}
}
