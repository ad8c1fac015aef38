package ribbon

import "testing"

// The red that is kept for danger never stands for a lamp, whatever the terminal can show.
func TestSixteenColoursKeepRedForDanger(t *testing.T) {
	for k := 1000; k < 10000; k += 100 {
		for _, dark := range []bool{true, false} {
			if c := few(k, dark); c == "1" || c == "9" {
				t.Fatalf("%d K is drawn in red", k)
			}
		}
	}
}
