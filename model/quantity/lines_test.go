package quantity

import "testing"

func TestTogether(t *testing.T) {
	for in, want := range map[string]string{
		"": "",
		"comes on at 100 %, warm white (3000 K).": "comes on at 100_%, warm white (3000_K).",
		"4.23 GBP more":      "4.23_GBP more",
		"21 l/s 18 W":        "21_l/s 18_W",
		"2 lamps in 3 rooms": "2 lamps in 3 rooms",
		"a % b":              "a % b",
		"5 ":                 "5 ",
	} {
		got := Together(in)
		if Apart(got) != in {
			t.Errorf("%q comes back as %q", in, Apart(got))
		}
		marked := ""
		for _, r := range got {
			if r == '\u00a0' {
				r = '_'
			}
			marked += string(r)
		}
		if marked != want {
			t.Errorf("%q: %q, want %q", in, marked, want)
		}
	}
}
