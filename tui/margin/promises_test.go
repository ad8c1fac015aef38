package margin

import (
	"testing"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/tui/page"
)

func verdicts(states ...proof.State) page.Proved {
	var out page.Proved
	for _, s := range states {
		out.Verdicts = append(out.Verdicts, proof.Verdict{State: s})
	}
	return out
}

func TestPromisesAreCountedInTheMarginAndTheStatusLine(t *testing.T) {
	for _, c := range []struct {
		name, room, note, line string
		proofs                 *page.Proofs
		proving, alarm         bool
	}{
		{name: "nothing known", room: "den"},
		{name: "nothing promised", room: "den", proofs: (*page.Proofs)(nil).With("den", page.Proved{})},
		{
			name: "all kept", room: "den", proofs: (*page.Proofs)(nil).With("den", verdicts(proof.Kept, proof.Kept)),
			note: "2 kept.", line: "2 kept",
		},
		{
			name: "one broken", room: "den", proofs: (*page.Proofs)(nil).With("den", verdicts(proof.Kept, proof.Breaks, proof.Empty)),
			note: "1 kept, 1 broken, 1 empty.", line: "1 broken", alarm: true,
		},
		{
			name: "another room", room: "den", proofs: (*page.Proofs)(nil).With("hall", verdicts(proof.Breaks)),
		},
		{
			name: "the home adds up", proofs: (*page.Proofs)(nil).With("hall", verdicts(proof.Breaks)).With("den", verdicts(proof.Kept, proof.Undecided)),
			note: "1 kept, 1 broken, 1 undecided.", line: "1 broken", alarm: true,
		},
		{
			name: "being proved anew", room: "den", proving: true, proofs: (*page.Proofs)(nil).With("den", verdicts(proof.Kept)).Aged([]string{"den"}),
			note: "1 kept. Proving…", line: "1 kept",
		},
		{
			name: "only others are", room: "den", proving: true, proofs: (*page.Proofs)(nil).With("den", verdicts(proof.Kept)),
			note: "1 kept.", line: "1 kept",
		},
	} {
		s := page.Snapshot{Plan: &planner.Plan{}, Room: c.room, Proofs: c.proofs, Proving: c.proving, Theme: plain()}
		var got Note
		for _, n := range Room(s, c.room, 30, 0) {
			if n.Head == "Promises" {
				got = n
			}
		}
		if got.Text != c.note || got.Alarm != c.alarm {
			t.Errorf("%s: the margin says %q, alarm %v", c.name, got.Text, got.Alarm)
		}
		want := "nothing to buy yet"
		if c.line != "" {
			want = c.line + " · " + want
		}
		if line := Line(s, 100); line != want {
			t.Errorf("%s: the status line says %q, want %q", c.name, line, want)
		}
	}
}
