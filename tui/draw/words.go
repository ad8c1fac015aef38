package draw

import (
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
