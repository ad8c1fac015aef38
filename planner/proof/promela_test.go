package proof

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/roombrief/planner/timed"

	"pgregory.net/rapid"
)

// promela writes a system, at one second a tick, as a model for an independent model checker.
func promela(sys timed.System) string {
	g := newGraphOpened(sys)
	var b strings.Builder
	short := map[int16]int16{}
	name := func(t timed.Timer) timed.Timer {
		if _, ok := short[t.ID]; !ok {
			short[t.ID] = int16(len(short))
		}
		t.ID = short[t.ID]
		return t
	}
	for i := range g.spots {
		s := &g.spots[i]
		renamed := make([]timed.Timer, len(s.state.Timers))
		for k, t := range s.state.Timers {
			renamed[k] = name(t)
		}
		s.state.Timers = renamed
	}
	fmt.Fprintf(&b, "int spot = -1;\nint r[%d];\nactive proctype room() {\ndo\n", len(short)+1)
	for _, n := range g.begin {
		fmt.Fprintf(&b, ":: d_step { spot == -1 -> spot = %d; }\n", n)
	}
	for i := range g.spots {
		s := g.spots[i]
		if len(s.state.Timers) > 0 {
			tick, guard := "", ""
			for _, t := range s.state.Timers {
				guard += fmt.Sprintf(" && r[%d] < %d", t.ID, t.Hi)
				tick += fmt.Sprintf(" r[%d]++;", t.ID)
			}
			fmt.Fprintf(&b, ":: d_step { spot == %d%s ->%s }\n", i, guard, tick)
		}
		for k := range s.steps {
			writeStep(&b, i, s.state, &s.steps[k], g.spots[s.steps[k].to].state)
		}
	}
	b.WriteString("od }\n")
	return b.String()
}

func writeStep(b *strings.Builder, spot int, s timed.State, st *step, to timed.State) {
	guard := ""
	for _, c := range st.when {
		guard += fmt.Sprintf(" && r[%d] >= %d && r[%d] <= %d", s.Timers[c.timer].ID, c.min, s.Timers[c.timer].ID, c.max)
	}
	if st.ends >= 0 {
		guard += fmt.Sprintf(" && r[%d] >= %d", s.Timers[st.ends].ID, s.Timers[st.ends].Lo)
	}
	for _, w := range st.wait {
		guard += fmt.Sprintf(" && r[%d] < %d", s.Timers[w].ID, s.Timers[w].Hi)
	}
	do := ""
	for _, t := range s.Timers {
		if _, runs := to.At(t.ID); !runs {
			do += fmt.Sprintf(" r[%d] = 0;", t.ID)
		}
	}
	for k, t := range to.Timers {
		if st.carry[k] < 0 {
			do += fmt.Sprintf(" r[%d] = 0;", t.ID)
		} else {
			guard += fmt.Sprintf(" && r[%d] <= %d", t.ID, t.Hi)
		}
	}
	fmt.Fprintf(b, ":: d_step { spot == %d%s -> spot = %d;%s }\n", spot, guard, st.to, do)
}

var stored = regexp.MustCompile(`(\d+) states, stored`)

// spinStates counts the reachable states of a system with the model checker, exhaustively.
func spinStates(t *testing.T, sys timed.System) int {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "m.pml"), []byte(promela(sys)), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"spin", "-a", "m.pml"}, {"gcc", "-O1", "-w", "-DSAFETY", "-DNOREDUCE", "-DMEMLIM=2000", "-o", "pan", "pan.c"}} {
		c := exec.Command(args[0], args[1:]...)
		c.Dir = dir
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
	}
	c := exec.Command("./pan", "-m5000000", "-E", "-n", "-w24")
	c.Dir = dir
	out, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("pan: %v\n%s", err, out)
	}
	if strings.Contains(string(out), "max search depth too small") {
		t.Fatalf("the model checker did not look everywhere:\n%s", out)
	}
	m := stored.FindSubmatch(out)
	if m == nil {
		t.Fatalf("no state count in:\n%s", out)
	}
	n, _ := strconv.Atoi(string(m[1]))
	return n - 1 // the one from which it chooses where to begin
}

// needSpin skips, loudly, where the model checker isn't installed; .ci/run installs it.
func needSpin(t *testing.T) {
	for _, tool := range []string{"spin", "gcc"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("NOT CHECKED against the independent model checker: %s is not installed", tool)
		}
	}
}

func everywhere(timed.State) bool { return false }

func TestStateCountsEqualTheModelCheckers(t *testing.T) {
	needSpin(t)
	for seed := 1; seed <= 12; seed++ {
		sys := rapid.Custom(func(r *rapid.T) *table { return drawTable(r) }).Example(seed)
		ours := Ticks(context.Background(), sys, 1, 5_000_000, everywhere)
		if theirs := spinStates(t, sys); theirs != ours.Zones {
			t.Errorf("system %d: %d states here, %d there\n%s", seed, ours.Zones, theirs, promela(sys))
		}
	}
}
