package projectfile

import (
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
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
			v.broken(r, " of this home", v.others(r.Path))
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
		if there := v.things(room, r.Kind); !there.has(r.Name) {
			v.broken(r, " of this room", there)
		}
	}
}

// others are the rooms that the room of a path may name: no room is like itself.
func (v *verifier) others(path string) *names {
	own := v.roomOf(path)
	if own == nil || v.Full() {
		return v.roomIDs
	}
	return &names{ids: slices.DeleteFunc(slices.Clone(v.roomIDs.ids), func(id string) bool { return id == own.ID })}
}

func (v *verifier) broken(r reading.Ref, of string, there *names) {
	v.lost(r.Node, r.Path, reading.Quote(r.Name)+" is no "+kindNames[r.Kind]+of, r.Name, there)
}

// lost says that a name names nothing, once for each place, and offers what there is.
func (v *verifier) lost(n *yaml.Node, path, message, got string, there *names) {
	if !v.Has(n, message) {
		v.At(n, path, message, v.offer(got, there))
	}
}

// offer is the hint for a broken name: the nearest that exists, and what there is.
func (v *verifier) offer(got string, there *names) string {
	const most, shown = 2000, 12 // names that are compared: a hint is not worth more time; and listed
	if v.Full() || there == nil || len(there.ids) == 0 {
		return "there is none; add it, or remove this"
	}
	ids := there.ids[:min(len(there.ids), most)]
	say := "there are: " + strings.Join(ids[:min(len(ids), shown)], ", ")
	if len(ids) > shown {
		say += ", …"
	}
	if len(ids) == 1 {
		say = "there is only " + ids[0]
	}
	if near := reading.NearestName(got, ids); near != "" {
		return "did you mean " + near + "? " + say
	}
	return say
}

func (v *verifier) person(r reading.Ref) {
	i, ok := v.people[r.Name]
	if !ok {
		v.broken(r, " of this home", v.persons)
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
		if !v.stopcocks().has(r.Name) && v.things(&v.p.Rooms[i], "water").has(point) {
			v.At(r.Node, r.Path, reading.Quote(r.Name)+" is a water point, but not a stopcock", "name one of kind stopcock, as room/water-point")
			return
		}
	}
	if !v.stopcocks().has(r.Name) {
		v.broken(r, " of this home", v.stopcocks())
	}
}

func (v *verifier) stopcocks() *names {
	if v.cocks != nil {
		return v.cocks
	}
	v.cocks = &names{}
	for i := range v.p.Rooms {
		for _, w := range v.p.Rooms[i].Water {
			if w.Kind == "stopcock" {
				v.cocks.ids = append(v.cocks.ids, v.p.Rooms[i].ID+"/"+w.ID)
			}
		}
	}
	return v.cocks
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
