package catalogue

import (
	"slices"
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
)

func TestExceptChangesOnlyWhatItNames(t *testing.T) {
	base := Limits{ID: "modest", Rules: 60, LongestWait: q.Span(time.Hour), Guards: "both", Presses: []string{"press"}}
	got, err := base.Except(map[string]string{"rules": "80", "longest_wait": "2h", "flags": "yes", "guards": "time", "presses": "press, hold"})
	if err != nil {
		t.Fatal(err)
	}
	if got.ID != "modest" || got.Rules != 80 || got.LongestWait != q.Span(2*time.Hour) || !got.Flags || got.Guards != "time" ||
		!slices.Equal(got.Presses, []string{"press", "hold"}) || got.Stacks {
		t.Errorf("got %+v", got)
	}
	if base.Rules != 60 || len(base.Presses) != 1 {
		t.Errorf("the set itself changed: %+v", base)
	}
}

func TestExceptRefusesInSentences(t *testing.T) {
	for _, c := range []struct{ key, value, want string }{
		{"colour", "red", "no such limit"}, {"id", "x", "no such limit"}, {"rules", "-1", "whole number"}, {"flags", "maybe", "neither yes nor no"},
		{"longest_wait", "soon", "except/longest_wait"}, {"guards", "smell", "accepted: none, time, state, both"}, {"presses", "press, tap", "accepted: press, double, hold"},
	} {
		base := Limits{Rules: 7}
		got, err := base.Except(map[string]string{c.key: c.value})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %s gave %v, want %q", c.key, c.value, err, c.want)
		}
		if got.Rules != 7 {
			t.Errorf("%s: a refused change left %+v", c.key, got)
		}
	}
}

func TestEveryLimitIsExplained(t *testing.T) {
	for _, k := range LimitKeys() {
		if DocOf(k) == "" {
			t.Errorf("%s has no explanation", k)
		}
	}
	if DocOf("colour") != "" {
		t.Error("an unknown key is explained")
	}
}
