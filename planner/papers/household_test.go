package papers

import (
	"testing"

	"example.org/roombrief/model"
)

func TestWhereAButtonIs(t *testing.T) {
	for in, want := range map[string]string{
		"front door": "By the front door", "over the ironing board": "Over the ironing board", "right of the hob": "Right of the hob",
		"the basin": "By the basin", "arm of the sofa": "By the arm of the sofa", "": "By bed",
	} {
		if got := where(model.Button{ID: "by-bed", Where: in}); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
