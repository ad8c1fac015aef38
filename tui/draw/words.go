package draw

import (
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// Plain turns an id into words: mirror-left is "mirror left".
func Plain(id string) string { return strings.ReplaceAll(id, "-", " ") }

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

// Beside turns a page to the room before or after the one that is open; it answers nothing to any other command.
func Beside(s page.Snapshot, to page.ID, do keys.Command) page.Action {
	by := 1
	switch do {
	case keys.PrevRoom:
		by = -1
	case keys.NextRoom:
	default:
		return nil
	}
	if id := RoomBeside(s.Project, s.Room, by); id != "" {
		return page.Goto{Page: to, Room: id}
	}
	return page.Say{Text: "There is no room beyond this one."}
}

// Planning is a word for the head of a page while its plan follows an older document; else "".
func Planning(s page.Snapshot) string {
	if s.Planning {
		return "planning"
	}
	return ""
}
