package open

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

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
	walk(reflect.ValueOf(p).Elem(), nil, func(way *step, w ways, x reflect.Value, state model.FactState) {
		one := fact{path: way.path(), field: w.Field, inner: w.inner, state: state}
		if state == model.Known {
			one.value = x.FieldByName("Value").Interface()
		}
		out = append(out, one)
	})
	return out
}

// unknowns are the paths of the facts that nobody knows.
func unknowns(p *model.Project) (out [][]string) {
	walk(reflect.ValueOf(p).Elem(), nil, func(way *step, _ ways, _ reflect.Value, state model.FactState) {
		if state == model.Unknown {
			out = append(out, way.path())
		}
	})
	return out
}

// step is a way into a project, from its end.
type step struct {
	name string
	up   *step
}

func (s *step) path() (out []string) {
	for ; s != nil; s = s.up {
		out = append(out, s.name)
	}
	slices.Reverse(out)
	return out
}

// ways is a field that is a fact, or that leads to facts.
type ways struct {
	reading.Field
	inner reflect.Type // of the fact; nil where it only leads there
	goal  bool         // what leads there is wanted or not
}

var leading sync.Map // reflect.Type to []ways; a cache of what the types say, nothing else

// leadingOf are the fields of a struct by which facts are reached.
func leadingOf(t reflect.Type) []ways {
	if known, ok := leading.Load(t); ok {
		return known.([]ways)
	}
	var out []ways
	for _, f := range reading.Fields(t) {
		inner, word, either := reading.Inner(f.Type)
		switch {
		case either && word == "unknown":
			out = append(out, ways{Field: f, inner: inner})
		case either:
			if leads(inner) {
				out = append(out, ways{Field: f, goal: true})
			}
		case leads(f.Type):
			out = append(out, ways{Field: f})
		}
	}
	leading.Store(t, out)
	return out
}

func leads(t reflect.Type) bool {
	for t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	return t.Kind() == reflect.Struct && !reading.IsText(t) && len(leadingOf(t)) > 0
}

// walk visits the facts under a struct.
func walk(v reflect.Value, up *step, visit func(*step, ways, reflect.Value, model.FactState)) {
	for _, w := range leadingOf(v.Type()) {
		x, way := v.Field(w.Index), &step{w.Name, up}
		if w.inner != nil {
			visit(way, w, x, model.FactState(x.Field(0).Int()))
			continue
		}
		if w.goal {
			x = x.FieldByName("Want")
		}
		if x.Kind() != reflect.Slice {
			walk(x, way, visit)
			continue
		}
		for i := range x.Len() {
			walk(x.Index(i), &step{nameOf(x.Index(i), i), way}, visit)
		}
	}
}

// nameOf is the id of an item of a list, else its number.
func nameOf(v reflect.Value, at int) string {
	for _, f := range reading.Fields(v.Type()) {
		if id := v.Field(f.Index); f.Name == "id" && id.Kind() == reflect.String && id.String() != "" {
			return id.String()
		}
	}
	return strconv.Itoa(at)
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
				if nameOf(x.Index(i), i) == path[1] {
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
