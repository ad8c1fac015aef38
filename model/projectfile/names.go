package projectfile

import (
	"slices"
	"strconv"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// names are the ids of one list, in its order. Large files look names up often, so a long list gets an index.
type names struct {
	ids []string
	set map[string]bool
}

func namesOf[T any](list []T, id func(*T) string) *names {
	n := &names{}
	for i := range list {
		if s := id(&list[i]); s != "" {
			n.ids = append(n.ids, s)
		}
	}
	return n
}

func (n *names) has(id string) bool {
	const few = 16
	if len(n.ids) <= few {
		return slices.Contains(n.ids, id)
	}
	if n.set == nil {
		n.set = make(map[string]bool, len(n.ids))
		for _, s := range n.ids {
			n.set[s] = true
		}
	}
	return n.set[id]
}

// place of a list of names: a room's things of one kind.
type listKey struct {
	room *model.Room
	kind string
}

// things are the names of one kind in a room; kind "" are all that choices/use may name.
func (v *verifier) things(r *model.Room, kind string) *names {
	key := listKey{r, kind}
	if n := v.lists[key]; n != nil {
		return n
	}
	var n *names
	switch kind {
	case "switch":
		n = namesOf(r.Switches, func(x *model.SwitchBox) string { return x.ID })
	case "circuit":
		n = namesOf(r.Circuits, func(x *model.Circuit) string { return x.ID })
	case "fan":
		n = namesOf(r.Fans, func(x *model.Fan) string { return x.ID })
	case "water":
		n = namesOf(r.Water, func(x *model.Water) string { return x.ID })
	case "appliance":
		n = namesOf(r.Appliances, func(x *model.Appliance) string { return x.ID })
	case "door":
		n = namesOf(r.Doors, func(x *model.Door) string { return x.ID })
	case "button":
		n = namesOf(r.Brief.Buttons.Want, func(x *model.Button) string { return x.ID })
	default:
		n = &names{}
		for _, kind := range []string{"circuit", "fan", "water", "appliance", "door", "switch", "button"} {
			n.ids = append(n.ids, v.things(r, kind).ids...)
		}
	}
	v.lists[key] = n
	return n
}

// item finds a list's item by its id or else by its index; nil when there is none.
func (v *verifier) item(list *yaml.Node, step string) *yaml.Node {
	if list == nil || list.Kind != yaml.SequenceNode {
		return nil
	}
	at := v.items[list]
	if at == nil {
		at = make(map[string]*yaml.Node, len(list.Content))
		for _, item := range list.Content {
			if id := reading.Child(item, "id"); id != nil && id.Kind == yaml.ScalarNode && at[id.Value] == nil {
				at[id.Value] = item
			}
		}
		v.items[list] = at
	}
	if item := at[step]; item != nil {
		return item
	}
	if i, err := strconv.Atoi(step); err == nil && i >= 0 && i < len(list.Content) {
		return list.Content[i]
	}
	return nil
}
