package projectfile

import (
	"encoding"
	"reflect"
	"strings"

	"example.org/roombrief/model"
)

// typeAt is the model's type at a path, nil where the model knows nothing. Goals and facts count as
// what they hold.
func typeAt(steps []string) reflect.Type {
	t := reflect.TypeFor[model.Project]()
	for _, step := range steps {
		if t = held(t); t == nil {
			return nil
		}
		switch t.Kind() {
		case reflect.Slice, reflect.Map:
			t = t.Elem()
		case reflect.Struct:
			t = fieldType(t, step)
		default:
			return nil
		}
	}
	return held(t)
}

// held sees through a goal to what is wanted, and through a fact to what is known.
func held(t reflect.Type) reflect.Type {
	if t == nil || t.Kind() != reflect.Struct {
		return t
	}
	for _, name := range []string{"Want", "Value"} {
		if f, ok := t.FieldByName(name); ok && f.Tag.Get("key") == "" {
			if _, ok := t.FieldByName("State"); ok {
				return f.Type
			}
		}
	}
	return t
}

func keyName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("key"), ",")
	return name
}

func fieldType(t reflect.Type, key string) reflect.Type {
	for i := 0; i < t.NumField(); i++ {
		if keyName(t.Field(i)) == key {
			return t.Field(i).Type
		}
	}
	return nil
}

// keyOrder are the keys of the map at a path in the order of the file format.
func keyOrder(steps []string) []string {
	t := typeAt(steps)
	if t == nil || t.Kind() != reflect.Struct {
		return nil
	}
	var keys []string
	for i := 0; i < t.NumField(); i++ {
		if k := keyName(t.Field(i)); k != "" {
			keys = append(keys, k)
		}
	}
	return keys
}

// isList reports a path at which the format has a list.
func isList(steps []string) bool {
	t := typeAt(steps)
	return t != nil && t.Kind() == reflect.Slice
}

// isSmall reports a map of a few plain values, which is written on one line when it is made.
func isSmall(steps []string) bool {
	t := typeAt(steps)
	if t == nil || t.Kind() != reflect.Struct {
		return false
	}
	for i := 0; i < t.NumField(); i++ {
		f := t.Field(i)
		if keyName(f) == "" {
			continue
		}
		ft := held(f.Type)
		if reflect.PointerTo(ft).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
			continue
		}
		switch ft.Kind() {
		case reflect.Struct, reflect.Slice, reflect.Map:
			return false
		}
	}
	return true
}
