package projectfile

import (
	"strings"

	"gopkg.in/yaml.v3"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/model/reading"
)

// placed checks that the things of a room lie inside its outline, where both are noted.
func (v *verifier) placed(r *model.Room, n *yaml.Node, path string) {
	at := func(list, id string, i int, p model.Fact[model.Point]) {
		items := reading.Child(n, list)
		if p.State != model.Known || items == nil || items.Kind != yaml.SequenceNode || i >= len(items.Content) {
			return // what comes from the room that this one is like was checked there
		}
		v.inside(r, reading.Child(items.Content[i], "position"), path+"/"+list+"/"+id+"/position", p.Value)
	}
	for i, x := range r.Circuits {
		at("circuits", x.ID, i, x.Position)
	}
	for i, x := range r.Switches {
		at("switches", x.ID, i, x.Position)
	}
	for i, x := range r.Fans {
		at("fans", x.ID, i, x.Position)
	}
	for i, x := range r.Water {
		at("water", x.ID, i, x.Position)
	}
	for i, x := range r.Outlets {
		at("outlets", x.ID, i, x.Position)
	}
}

// inside warns of a place of which half is missing, and of one that lies outside of its room by more than a wall.
func (v *verifier) inside(r *model.Room, n *yaml.Node, path string, p model.Point) {
	const wall = q.Length(0.5)
	for _, k := range []string{"x", "y"} {
		if n != nil && reading.Child(n, k) == nil {
			v.warn(n, path, "this place has no "+k+", and 0 m is taken", "write x along the room's width and y along its depth: {x: 0.3 m, y: 0 m}")
		}
	}
	o := r.Outline
	if n == nil || o.Width <= 0 || o.Depth <= 0 || p.X >= -wall && p.Y >= -wall && p.X <= o.Width+wall && p.Y <= o.Depth+wall {
		return
	}
	u := q.Metric
	if v.p.Home.Units == "us" {
		u = q.US
	}
	v.warn(n, path, "this place lies outside the room, which is "+o.Width.Show(u)+" by "+o.Depth.Show(u),
		"measure from the room's upper left corner on the plan: x along its width, y along its depth")
}

// places checks the places of controllers, and those of devices in choices/places.
func (v *verifier) places() {
	hosts := v.d.walk([]string{"controllers"})
	for i, c := range v.p.Controllers {
		if at, ok := v.rooms[c.Room]; ok && c.Position.State == model.Known {
			v.inside(&v.p.Rooms[at], reading.Child(hosts.Content[i], "position"), joinPath([]string{"controllers", c.ID, "position"}), c.Position.Value)
		}
	}
	list := v.d.walk([]string{"choices", "places"})
	v.thingKeys("places", list)
	if list == nil || list.Kind != yaml.MappingNode {
		return
	}
	for i := 0; i+1 < len(list.Content); i += 2 {
		k := list.Content[i].Value
		head, _, _ := strings.Cut(k, "/")
		if at, ok := v.rooms[head]; ok {
			v.inside(&v.p.Rooms[at], list.Content[i+1], joinPath([]string{"choices", "places", k}), v.p.Choices.Places[k])
		}
	}
}
