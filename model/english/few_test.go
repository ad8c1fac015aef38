package english

import "testing"

func TestFew(t *testing.T) {
	for _, c := range []struct {
		n    int
		want string
	}{{0, ""}, {1, "a"}, {2, "a and b"}, {4, "a, b, c and d"}, {5, "a, b, c and 2 more rooms"}} {
		all := []string{"a", "b", "c", "d", "e"}
		if got := Few(all[:c.n], "rooms"); got != c.want || all[3] != "d" {
			t.Errorf("%d: %q %v", c.n, got, all)
		}
	}
}
