package projectfile

import (
	"strings"

	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// completeRooms gives every room that says `like: other` what the other says and it doesn't. The nodes are
// those of the file, shared, so that a mistake is still told where it stands.
func completeRooms(root *yaml.Node, l *reading.List) *yaml.Node {
	rooms := reading.Child(root, "rooms")
	if rooms == nil || rooms.Kind != yaml.SequenceNode {
		return root
	}
	c := completer{rooms: map[string]*yaml.Node{}, done: map[*yaml.Node]*yaml.Node{}, active: map[*yaml.Node]int{}, problems: l}
	any := false
	for _, r := range rooms.Content {
		any = any || reading.Child(r, "like") != nil
		if id := reading.Child(r, "id"); id != nil && c.rooms[id.Value] == nil {
			c.rooms[id.Value] = r
		}
	}
	if !any {
		return root
	}
	all := *rooms
	all.Content = make([]*yaml.Node, len(rooms.Content))
	for i, r := range rooms.Content {
		all.Content[i] = c.complete(r)
	}
	out := *root
	out.Content = append([]*yaml.Node(nil), root.Content...)
	for i := 0; i+1 < len(out.Content); i += 2 {
		if out.Content[i+1] == rooms {
			out.Content[i+1] = &all
			break
		}
	}
	return &out
}

type completer struct {
	rooms    map[string]*yaml.Node
	done     map[*yaml.Node]*yaml.Node
	chain    []*yaml.Node       // rooms that are being completed
	active   map[*yaml.Node]int // their places in the chain
	total    int                // nodes that were repeated so far
	problems *reading.List
}

// mostRepeated nodes come from rooms that repeat others. A thousand large rooms need a fifth of it; a file
// made to harm would ask for billions.
const mostRepeated = 1 << 21

// count is how many nodes there are under n, or something above most.
func count(n *yaml.Node, most int) int {
	s := 1
	for _, x := range n.Content {
		if s > most {
			break
		}
		s += count(x, most-s)
	}
	return s
}

func (c *completer) complete(r *yaml.Node) *yaml.Node {
	like := reading.Child(r, "like")
	if like == nil || like.Kind != yaml.ScalarNode || like.Value == "" {
		return r
	}
	if out := c.done[r]; out != nil {
		return out
	}
	base := c.rooms[like.Value]
	if base == nil {
		return r // the reference is found broken later, with all the others
	}
	c.active[r] = len(c.chain)
	c.chain = append(c.chain, r)
	out := r
	if i, ok := c.active[base]; ok {
		c.problems.At(like, c.path(r), "rooms repeat each other in a ring: "+c.ring(i), "one of them has to be written out, without `like`")
	} else {
		out = c.repeat(like, c.complete(base), r)
	}
	c.chain = c.chain[:len(c.chain)-1]
	delete(c.active, r)
	c.done[r] = out
	return out
}

func (c *completer) repeat(like, base, own *yaml.Node) *yaml.Node {
	if c.total > mostRepeated {
		return own // one room has said so
	}
	out := overlay(base, own, true)
	c.total += count(out, mostRepeated-c.total)
	if c.total > mostRepeated {
		c.problems.At(like, c.path(own), "the rooms that repeat others come to more than can be held", "write fewer of them, or smaller ones")
		return own
	}
	return out
}

// ring tells the rooms of the circle that begins at place i of the chain.
func (c *completer) ring(i int) string {
	const most = 6
	var names []string
	for _, x := range append(append([]*yaml.Node(nil), c.chain[i:]...), c.chain[i]) {
		names = append(names, reading.Child(x, "id").Value)
	}
	if len(names) > most {
		names = append(names[:most-2:most-2], "…", names[len(names)-1])
	}
	return strings.Join(names, " like ")
}

func (c *completer) path(r *yaml.Node) string {
	if id := reading.Child(r, "id"); id != nil && id.Value != "" {
		return joinPath([]string{"rooms", id.Value, "like"})
	}
	return "rooms"
}

// overlay is what base says, changed by what own says: maps key by key, lists of things with ids by id,
// anything else as a whole. A room keeps its own id, name and like.
func overlay(base, own *yaml.Node, room bool) *yaml.Node {
	if base.Kind != own.Kind {
		return own
	}
	switch {
	case own.Kind == yaml.MappingNode:
		return overlayMap(base, own, room)
	case own.Kind == yaml.SequenceNode && named(base) && named(own):
		return overlayList(base, own)
	}
	return own
}

func overlayMap(base, own *yaml.Node, room bool) *yaml.Node {
	out := *own
	out.Content = make([]*yaml.Node, 0, len(own.Content)+len(base.Content))
	for i := 0; i+1 < len(own.Content); i += 2 {
		k, v := own.Content[i], own.Content[i+1]
		if under := reading.Child(base, k.Value); under != nil && !(room && keptByRoom(k.Value)) {
			if isNull(v) {
				v = under
			} else {
				v = overlay(under, v, false)
			}
		}
		out.Content = append(out.Content, k, v)
	}
	for i := 0; i+1 < len(base.Content); i += 2 {
		if k := base.Content[i]; !(room && keptByRoom(k.Value)) && reading.Child(own, k.Value) == nil {
			out.Content = append(out.Content, k, base.Content[i+1])
		}
	}
	return &out
}

func keptByRoom(key string) bool { return key == "id" || key == "name" || key == "like" }

func overlayList(base, own *yaml.Node) *yaml.Node {
	out := *own
	out.Content = append([]*yaml.Node(nil), base.Content...)
	at := make(map[string]int, len(base.Content))
	for i, item := range base.Content {
		at[reading.Child(item, "id").Value] = i
	}
	for _, item := range own.Content {
		id := reading.Child(item, "id").Value
		if i, ok := at[id]; ok && i < len(base.Content) && out.Content[i] == base.Content[i] {
			out.Content[i] = overlay(base.Content[i], item, false)
		} else {
			out.Content = append(out.Content, item)
		}
	}
	return &out
}

// named reports a list that has items, each with an id.
func named(list *yaml.Node) bool {
	for _, item := range list.Content {
		if id := reading.Child(item, "id"); id == nil || id.Kind != yaml.ScalarNode || id.Value == "" {
			return false
		}
	}
	return len(list.Content) > 0
}

func roomsByID(root *yaml.Node) map[string]*yaml.Node {
	rooms := reading.Child(root, "rooms")
	if rooms == nil || rooms.Kind != yaml.SequenceNode {
		return nil
	}
	out := make(map[string]*yaml.Node, len(rooms.Content))
	for _, r := range rooms.Content {
		if id := reading.Child(r, "id"); id != nil && id.Kind == yaml.ScalarNode && out[id.Value] == nil {
			out[id.Value] = r
		}
	}
	return out
}
