package draw

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/roombrief/model"
)

// Plain turns an id into words: mirror-left is "mirror left".
func Plain(id string) string { return strings.ReplaceAll(id, "-", " ") }

// List joins words as a sentence does: "ceiling, mirror and shelf".
func List(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
}

// RoomBeside is the id of the room so many places after one, "" beyond the ends or when it isn't there.
func RoomBeside(p *model.Project, room string, by int) string {
	if p == nil {
		return ""
	}
	for i, r := range p.Rooms {
		if r.ID == room && i+by >= 0 && i+by < len(p.Rooms) {
			return p.Rooms[i+by].ID
		}
	}
	return ""
}

// Money prints minor units as an amount: 1,234.50.
func Money(minor int64) string {
	sign := ""
	if minor < 0 {
		sign, minor = "-", -minor
	}
	whole := strconv.FormatInt(minor/100, 10)
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return fmt.Sprintf("%s%s.%02d", sign, whole, minor%100)
}
