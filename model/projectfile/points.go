package projectfile

import (
	"reflect"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// openPoints checks that each parked question stands at a fact or goal that a project can have. The fact
// itself need not be written: that is why it is open.
func (v *verifier) openPoints() {
	list := v.d.walk([]string{"open"})
	for i, o := range v.p.Open {
		n := reading.Child(list.Content[i], "at")
		if n == nil || o.At == "" {
			continue
		}
		path := "open/" + strconv.Itoa(i) + "/at"
		steps, err := splitPath(o.At)
		if err != nil {
			v.At(n, path, reading.Quote(o.At)+" is not a path", "write names with slashes between them: shower-room/switches/box-1/neutral")
			continue
		}
		if failed, there := v.leads(steps); failed != "" {
			v.lost(n, path, reading.Quote(o.At)+" leads nowhere: there is no "+reading.Quote(failed), failed, there)
		}
	}
}

// leads follows a path by what a project can hold, and lists by what this one holds. When it leads nowhere
// it gives the step that failed and the names that would not have.
func (v *verifier) leads(steps []string) (failed string, there *names) {
	t := reflect.TypeFor[model.Project]()
	n := v.d.whole
	if !isKey(t, steps[0]) {
		if _, ok := v.rooms[steps[0]]; !ok {
			return steps[0], v.roomIDs
		}
		steps = append([]string{"rooms"}, steps...)
	}
	for _, step := range steps {
		if inner, _, ok := reading.Inner(t); ok {
			t = inner
		}
		if reading.IsText(t) {
			return step, nil
		}
		switch t.Kind() {
		case reflect.Struct:
			f, ok := keyOf(t, step)
			if !ok {
				return step, &names{ids: keysOf(t)}
			}
			t, n = f.Type, reading.Child(n, step)
		case reflect.Slice:
			list := n
			if n = v.item(list, step); n == nil {
				return step, v.idsOf(list)
			}
			t = t.Elem()
		case reflect.Map:
			t, n = t.Elem(), reading.Child(n, step)
		default:
			return step, nil
		}
	}
	return "", nil
}

func isKey(t reflect.Type, name string) bool {
	_, ok := keyOf(t, name)
	return ok
}

func keyOf(t reflect.Type, name string) (reading.Field, bool) {
	for _, f := range reading.Fields(t) {
		if f.Name == name {
			return f, true
		}
	}
	return reading.Field{}, false
}

func keysOf(t reflect.Type) []string {
	var names []string
	for _, f := range reading.Fields(t) {
		names = append(names, f.Name)
	}
	return names
}

func (v *verifier) idsOf(list *yaml.Node) *names {
	there := &names{}
	if list == nil || list.Kind != yaml.SequenceNode || v.Full() {
		return there
	}
	for i, item := range list.Content {
		if id := reading.Child(item, "id"); id != nil && id.Value != "" {
			there.ids = append(there.ids, id.Value)
		} else {
			there.ids = append(there.ids, strconv.Itoa(i))
		}
	}
	return there
}

// roomChoices checks the rooms of the choices that are made for a whole room.
func (v *verifier) roomChoices() {
	for _, key := range []string{"sense", "doors", "blind", "host"} {
		list := v.d.walk([]string{"choices", key})
		if list == nil || list.Kind != yaml.MappingNode {
			continue
		}
		for i := 0; i+1 < len(list.Content); i += 2 {
			k := list.Content[i]
			if _, ok := v.rooms[k.Value]; ok || strings.HasPrefix(k.Value, "x-") {
				continue
			}
			v.lost(k, joinPath([]string{"choices", key, k.Value}), "there is no room "+reading.Quote(k.Value), k.Value, v.roomIDs)
		}
	}
}

// choices checks the rooms of choices/use. The thing may be one that only the plan makes, as a motion sensor
// is; so a name that the survey doesn't know is only doubted when it is close to one that it does.
func (v *verifier) choices() { v.thingKeys("use", v.d.walk([]string{"choices", "use"})) }

// thingKeys checks the keys of a choice that are paths of things.
func (v *verifier) thingKeys(choice string, use *yaml.Node) {
	if use == nil || use.Kind != yaml.MappingNode {
		return
	}
	for i := 0; i+1 < len(use.Content); i += 2 {
		k := use.Content[i]
		if strings.HasPrefix(k.Value, "x-") {
			continue
		}
		path := joinPath([]string{"choices", choice, k.Value})
		head, thing, _ := strings.Cut(k.Value, "/")
		if v.isController(head, thing) {
			continue
		}
		at, ok := v.rooms[head]
		switch {
		case !ok:
			v.lost(k, path, reading.Quote(k.Value)+" leads nowhere: there is no room "+reading.Quote(head), head, v.roomIDs)
		case thing == "":
			v.At(k, path, reading.Quote(k.Value)+" names a room, but nothing in it", "write room/thing, as in shower-room/extract")
		default:
			v.doubt(k, path, thing, v.things(&v.p.Rooms[at], ""))
		}
	}
}

func (v *verifier) isController(head, thing string) bool {
	return thing == "" && v.hosts.has(head) || head == "controllers" && v.hosts.has(thing)
}

func (v *verifier) doubt(k *yaml.Node, path, thing string, there *names) {
	const most = 100 // a room with more is none that a slip is looked for in
	if there.has(thing) || len(there.ids) > most || v.Full() {
		return
	}
	near := reading.NearestName(thing, there.ids)
	if near != "" && !strings.Contains(thing, near) && !strings.Contains(near, thing) {
		v.warn(k, path, "nothing in this room is called "+reading.Quote(thing)+", unless the plan makes it", "did you mean "+near+"?")
	}
}
