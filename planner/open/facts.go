package open

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
)

// fact is a fact of a project that a survey may fail to find out.
type fact struct {
	path  []string // in the project; items of lists by their ids
	field reading.Field
	inner reflect.Type // of what it holds
	state model.FactState
	value any // what it holds, when it is known
}

func (f fact) at() string { return strings.TrimPrefix(strings.Join(f.path, "/"), "rooms/") }

// key is the name of the fact: neutral.
func (f fact) key() string { return f.path[len(f.path)-1] }

// thing is the path of what the fact belongs to.
func (f fact) thing() string {
	return strings.TrimPrefix(strings.Join(f.path[:len(f.path)-1], "/"), "rooms/")
}

// facts are all that a project has, in its order.
func facts(p *model.Project) []fact {
	var out []fact
	collect(reflect.ValueOf(*p), nil, &out)
	return out
}

func collect(v reflect.Value, path []string, out *[]fact) {
	switch {
	case reading.IsText(v.Type()):
		return
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			if id, ok := nameOf(v.Index(i), i); ok {
				collect(v.Index(i), append(slices.Clip(path), id), out)
			}
		}
	case v.Kind() == reflect.Struct:
		for _, f := range reading.Fields(v.Type()) {
			x, way := v.Field(f.Index), append(slices.Clip(path), f.Name)
			inner, word, either := reading.Inner(x.Type())
			switch {
			case either && word == "unknown":
				one := fact{path: way, field: f, inner: inner, state: x.FieldByName("State").Interface().(model.FactState)}
				if one.state == model.Known {
					one.value = x.FieldByName("Value").Interface()
				}
				*out = append(*out, one)
			case either:
				collect(x.FieldByName("Want"), way, out)
			default:
				collect(x, way, out)
			}
		}
	}
}

// nameOf is the id of an item of a list, else its number. Lists of anything but structs hold no facts.
func nameOf(v reflect.Value, at int) (string, bool) {
	if v.Kind() != reflect.Struct || reading.IsText(v.Type()) {
		return "", false
	}
	for _, f := range reading.Fields(v.Type()) {
		if id := v.Field(f.Index); f.Name == "id" && id.Kind() == reflect.String && id.String() != "" {
			return id.String(), true
		}
	}
	return strconv.Itoa(at), true
}

func factAt(p *model.Project, at string) (fact, bool) {
	for _, f := range facts(p) {
		if f.at() == at {
			return f, true
		}
	}
	return fact{}, false
}

// with is the project with a fact known to be something. All but the way to the fact is shared.
func with(p *model.Project, f fact, value any) *model.Project {
	out := *p
	put(reflect.ValueOf(&out).Elem(), f.path, reflect.ValueOf(value))
	return &out
}

// put sets a fact under a struct that is a copy already.
func put(v reflect.Value, path []string, value reflect.Value) {
	for _, f := range reading.Fields(v.Type()) {
		if f.Name != path[0] {
			continue
		}
		x := v.Field(f.Index)
		if _, word, either := reading.Inner(x.Type()); either && word == "unknown" {
			x.FieldByName("State").Set(reflect.ValueOf(model.Known))
			x.FieldByName("Value").Set(value)
			return
		} else if either {
			x = x.FieldByName("Want")
		}
		if x.Kind() == reflect.Slice {
			x.Set(reflect.AppendSlice(reflect.MakeSlice(x.Type(), 0, x.Len()), x))
			for i := range x.Len() {
				if id, _ := nameOf(x.Index(i), i); id == path[1] {
					put(x.Index(i), path[2:], value)
					return
				}
			}
			return
		}
		put(x, path[1:], value)
		return
	}
}
