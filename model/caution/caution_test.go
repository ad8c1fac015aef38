package caution

import (
	"strings"
	"testing"
)

func TestEveryKindHasASentenceThatDefers(t *testing.T) {
	if len(texts) != len(Kinds) {
		t.Fatalf("%d texts for %d kinds", len(texts), len(Kinds))
	}
	for _, k := range Kinds {
		s := Text(k)
		if len(s) < 60 || !strings.HasSuffix(s, ".") {
			t.Errorf("%s: not a sentence: %q", k, s)
		}
	}
	for _, k := range []string{"mains", "wet room", "water"} {
		if !strings.Contains(Text(k), "licensed") {
			t.Errorf("%s: defers to nobody", k)
		}
	}
}
