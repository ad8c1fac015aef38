package projectfile

import (
	"fmt"
	"slices"

	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// A room that says `like: other` repeats that room. Keys override one by one, and so do the items of a list
// in which every item has an id. Any other list is taken whole: to change one of its items, the room
// first gets the list written out.

// view is the complete room that a path leads into; nil when the room repeats no other.
func (s *source) view(steps []string) *yaml.Node {
	if len(steps) < 3 || steps[0] != "rooms" {
		return nil
	}
	rooms := member(s.root, "rooms")
	if rooms == nil || rooms.Kind != yaml.SequenceNode {
		return nil
	}
	at := entry(rooms, steps[1])
	if at < 0 || member(rooms.Content[at], "like") == nil {
		return nil
	}
	return member(completeRooms(s.root, &reading.List{}), "rooms").Content[at]
}

// seen is the value at a path of a room as it is completed; nil when it has none or repeats no room.
func (s *source) seen(steps []string) *yaml.Node {
	view := s.view(steps)
	if view == nil {
		return nil
	}
	trail, end := follow(view, steps[2:])
	if len(trail) < len(steps)-2 {
		return nil
	}
	return end
}

// byID puts ids for indexes into a path through a room that repeats another: an index counts the items of
// the complete room, of which the file holds only those that differ.
func (s *source) byID(steps []string) []string {
	n := s.view(steps)
	if n == nil {
		return steps
	}
	out := slices.Clone(steps)
	for i := 2; i < len(steps); i++ {
		at := entry(n, steps[i])
		if at < 0 {
			break
		}
		named := n.Kind == yaml.SequenceNode && named(n)
		n = (spot{n, at}).value()
		if named {
			out[i] = member(n, "id").Value
		}
	}
	return out
}

// ownItem writes what an edit needs of a repeated list into the room itself: the id of the item, or the
// whole list. The trail is what the room has of its own.
func (s *source) ownItem(steps []string, trail []spot, end *yaml.Node) (*source, bool, error) {
	if len(trail) < 2 || s.view(steps) == nil {
		return s, false, nil
	}
	first := len(trail) + 1
	if end.Kind == yaml.SequenceNode {
		first = len(trail)
	}
	for k := max(first, 3); k < len(steps); k++ {
		list := s.seen(steps[:k])
		if list == nil || list.Kind != yaml.SequenceNode {
			continue
		}
		if !named(list) {
			if k == len(trail) {
				return s, false, nil
			}
			return s.copyList(steps[:k], list)
		}
		at := entry(list, steps[k])
		if at < 0 {
			return nil, false, noItem(steps[:k], steps[k], list)
		}
		item, err := readSnippet("{id: " + Quote(member(list.Content[at], "id").Value) + "}")
		if err != nil {
			return nil, false, err
		}
		out, err := s.add(slices.Clone(steps[:k]), item)
		return out, err == nil, err
	}
	return s, false, nil
}

// copyList writes a repeated list out, as it is written where it is repeated from.
func (s *source) copyList(steps []string, list *yaml.Node) (*source, bool, error) {
	text, err := snippet{text: string(s.src), src: s}.valueText(list)
	if err != nil {
		return nil, false, err
	}
	sn, err := readSnippet(text)
	if err != nil {
		return nil, false, err
	}
	out, err := s.set(slices.Clone(steps), sn)
	return out, err == nil, err
}

// ownWhole writes a repeated list out when the room has none of its own and its items have no ids.
func (s *source) ownWhole(list []string) (*source, bool, error) {
	n := s.seen(list)
	if n == nil || n.Kind != yaml.SequenceNode || named(n) {
		return s, false, nil
	}
	if trail, _ := follow(s.root, list); len(trail) == len(list) {
		return s, false, nil
	}
	return s.copyList(list, n)
}

// repeats names the room that a path's room repeats.
func (s *source) repeats(steps []string) string {
	trail, _ := follow(s.root, steps[:2])
	return member(trail[1].value(), "like").Value
}

// notHere explains that a value can't be taken away, or moved, where it is only repeated.
func (s *source) notHere(steps []string, what string) error {
	from := s.repeats(steps)
	return fmt.Errorf("it is repeated from %s; %s it there, or write this room out without `like`", from, what)
}

// provedSet makes sure that a list, once set, is the list of the complete room: items of a repeated list
// can't be left out.
func (s *source) provedSet(steps []string, sn snippet) error {
	if sn.node.Kind != yaml.SequenceNode {
		return nil
	}
	if n := s.seen(steps); n != nil && len(n.Content) != len(sn.node.Content) {
		return s.notHere(steps, "leave items out of")
	}
	return nil
}
