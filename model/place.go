package model

import "strings"

// Place says where a switch box is, to stand behind "the switch box": by the door, left of the bed, outside. It is
// empty where nobody has said.
func (b SwitchBox) Place() string {
	by := strings.TrimPrefix(strings.TrimSpace(b.By), "the ")
	first, _, _ := strings.Cut(by, " ")
	switch strings.ToLower(first) {
	case "", "left", "right", "inside", "outside", "upstairs", "downstairs", "under", "over", "above", "below", "behind", "beside",
		"near", "next", "at", "in", "on", "by", "between", "opposite":
		return by
	}
	return "by the " + by
}
