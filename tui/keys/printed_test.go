package keys

import "testing"

func TestCapsOfAScreenWithoutArrows(t *testing.T) {
	for cap, want := range map[string]string{"↑↓": "Up/Down", "Shift+←→": "Shift+Left/Right", "→": "Right", "< >": "< >", "Enter": "Enter"} {
		b := Binding{Cap: cap}
		if got := b.Printed(false); got != want {
			t.Errorf("%q is printed %q, want %q", cap, got, want)
		}
		if got := b.Printed(true); got != cap {
			t.Errorf("%q is printed %q where arrows are drawn", cap, got)
		}
	}
}
