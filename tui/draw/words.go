package draw

import (
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/tui/page"
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

// RoomOf is the room that a path speaks of: rooms/hall/circuits/lamp and hall/lamp both are the hall's;
// the paths of the home as a whole have none.
func RoomOf(path string) string {
	head, rest, deep := strings.Cut(path, "/")
	if head == "rooms" && deep {
		head, _, _ = strings.Cut(rest, "/")
		return head
	}
	switch head {
	case "home", "people", "controllers", "choices", "promises", "rooms":
		return ""
	}
	if !deep {
		return ""
	}
	return head
}

// Planning is a word for the head of a page while its plan follows an older document; else "".
func Planning(s page.Snapshot) string {
	if s.Planning {
		return "planning"
	}
	return ""
}
