package model

import "testing"

func TestPlaceOfASwitchBox(t *testing.T) {
	for by, want := range map[string]string{"door": "by the door", "the door": "by the door", "left of the bed": "left of the bed", "outside": "outside", "": ""} {
		if got := (SwitchBox{By: by}).Place(); got != want {
			t.Errorf("%q: %q, want %q", by, got, want)
		}
	}
}
