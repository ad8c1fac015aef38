package projectfile

import (
	"strings"
	"testing"
)

// What a place says otherwise of its controller's limits is read with the file, each wrong one at its own line.
func TestLimitsOfAPlace(t *testing.T) {
	file := func(except string) *Document {
		return Parse([]byte("roombrief: 1\nhome: {name: A test}\ncontrollers:\n  - id: shelf\n    limits: able\n    except: " + except + "\n"))
	}
	if d := file("{longest_wait: 2h, flags: yes, guards: time, presses: 'press, hold', rules: 80}"); !d.OK() {
		t.Errorf("%v", d.Problems())
	}
	for _, c := range []struct{ except, path, message string }{
		{"{longest_wait: soon}", "controllers/shelf/except/longest_wait", "soon"},
		{"{rules: many}", "controllers/shelf/except/rules", "no whole number"},
		{"{wings: 2}", "controllers/shelf/except/wings", "there is no such limit"},
		{"{guards: smell}", "controllers/shelf/except/guards", "can't stand here"},
	} {
		d := file(c.except)
		if d.OK() || len(d.Problems()) != 1 {
			t.Errorf("%s: %v", c.except, d.Problems())
			continue
		}
		if p := d.Problems()[0]; p.Line != 6 || p.Path != c.path || !strings.Contains(p.Message, c.message) {
			t.Errorf("%s: %v", c.except, p)
		}
	}
}
