package projectfile

import (
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
)

// kindNames of what a ref tag may say.
var kindNames = map[string]string{
	"room": "room", "person": "person", "switch": "switch box", "circuit": "circuit",
	"water": "water point", "appliance": "appliance", "stopcock": "stopcock",
}

// reference checks that a name names something.
func (v *verifier) reference(r reading.Ref) {
	switch r.Kind {
	case "room":
		if _, ok := v.rooms[r.Name]; !ok {
			v.broken(r, " of this home", v.roomIDs)
		}
	case "person":
		v.person(r)
	case "stopcock":
		v.stopcock(r)
	default:
		room := v.roomOf(r.Path)
		if room == nil {
			return
		}
		if ids, ok := v.thing(room, r.Kind, r.Name); !ok {
			v.broken(r, " of this room", ids)
		}
	}
}

func (v *verifier) broken(r reading.Ref, of string, names []string) {
	v.At(r.Node, r.Path, reading.Quote(r.Name)+" is no "+kindNames[r.Kind]+of, v.offer(r.Name, names))
}

// offer is the hint for a broken name: the nearest that exists, and what there is.
func (v *verifier) offer(got string, names []string) string {
	const most = 2000 // names that are compared: a hint is not worth more time
	if v.Full() || len(names) > most {
		names = names[:min(len(names), most)]
	}
	if len(names) == 0 {
		return "there is none; add it, or remove this"
	}
	shown := names
	if len(shown) > 12 {
		shown = append(shown[:12:12], "…")
	}
	there := "there are: " + strings.Join(shown, ", ")
	if len(names) == 1 {
		there = "there is only " + names[0]
	}
	if v.Full() {
		return there
	}
	if near := reading.NearestName(got, names); near != "" {
		return "did you mean " + near + "? " + there
	}
	return there
}

func (v *verifier) person(r reading.Ref) {
	i, ok := v.people[r.Name]
	if !ok {
		ids := make([]string, 0, len(v.p.People))
		for _, p := range v.p.People {
			ids = append(ids, p.ID)
		}
		v.broken(r, " of this home", ids)
		return
	}
	if p := v.p.People[i]; !p.Alerts {
		v.warn(r.Node, r.Path, reading.Quote(p.ID)+" is to be told, but may not be alerted", "write `alerts: yes` for them among the people, or tell somebody else")
	}
}

// stopcock checks a room/water-point that is where water is shut.
func (v *verifier) stopcock(r reading.Ref) {
	room, point, _ := strings.Cut(r.Name, "/")
	if i, ok := v.rooms[room]; ok {
		for _, w := range v.p.Rooms[i].Water {
			if w.ID != point {
				continue
			}
			if w.Kind != "stopcock" {
				v.At(r.Node, r.Path, reading.Quote(r.Name)+" is a water point, but not a stopcock", "name one of kind stopcock, as room/water-point")
			}
			return
		}
	}
	var all []string
	for i := range v.p.Rooms {
		for _, w := range v.p.Rooms[i].Water {
			if w.Kind == "stopcock" {
				all = append(all, v.p.Rooms[i].ID+"/"+w.ID)
			}
		}
	}
	v.broken(r, " of this home", all)
}

// roomOf is the room that a path leads through.
func (v *verifier) roomOf(path string) *model.Room {
	rest, ok := strings.CutPrefix(path, "rooms/")
	if !ok {
		return nil
	}
	id, _, _ := strings.Cut(rest, "/")
	i, ok := v.rooms[id]
	if !ok {
		var err error
		if i, err = strconv.Atoi(id); err != nil || i < 0 || i >= len(v.p.Rooms) {
			return nil
		}
	}
	return &v.p.Rooms[i]
}

// thing looks for one thing of a room; when it isn't there, ids are those that are.
func (v *verifier) thing(r *model.Room, kind, id string) (ids []string, ok bool) {
	switch kind {
	case "switch":
		return find(r.Switches, id, func(x *model.SwitchBox) string { return x.ID })
	case "circuit":
		return find(r.Circuits, id, func(x *model.Circuit) string { return x.ID })
	case "water":
		return find(r.Water, id, func(x *model.Water) string { return x.ID })
	case "appliance":
		return find(r.Appliances, id, func(x *model.Appliance) string { return x.ID })
	}
	return nil, true
}

func find[T any](list []T, id string, name func(*T) string) (ids []string, ok bool) {
	for i := range list {
		if name(&list[i]) == id {
			return nil, true
		}
	}
	for i := range list {
		if n := name(&list[i]); n != "" {
			ids = append(ids, n)
		}
	}
	return ids, false
}
