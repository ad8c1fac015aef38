package projectfile

import (
	"bytes"
	"encoding/json"
	"reflect"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/model/reading"
)

// Schema is the JSON Schema (draft 2020-12) of the project file, made from the same tags that it is read by.
// An editor completes keys and values from it. What a schema cannot say, such as whether a name names
// something, only Parse finds.
func Schema() []byte {
	s := schema{defs: object{}, made: map[reflect.Type]bool{}}
	top := s.fields(reflect.TypeFor[model.Project]())
	out := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", "Roombrief project"},
		{"description", "A home as it is, what people want it to do by itself, what was decided, and what was done."},
	}
	out = append(out, top...)
	out = append(out, entryOf{"$defs", s.defs})
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(out); err != nil {
		panic("projectfile: the schema cannot be written: " + err.Error()) // it holds nothing but text and numbers
	}
	return b.Bytes()
}

// object is a JSON object that keeps its order.
type object []entryOf

type entryOf struct {
	key   string
	value any
}

// MarshalJSON writes the members in their order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := enc.Encode(m.key); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := enc.Encode(m.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

type schema struct {
	defs object
	made map[reflect.Type]bool
}

// fields describes a map with the keys of a struct, and keys of one's own.
func (s *schema) fields(t reflect.Type) object {
	var props object
	var required []string
	for _, f := range reading.Fields(t) {
		p := object{{"description", f.Doc}}
		props = append(props, entryOf{f.Name, append(p, s.of(f.Type, f)...)})
		if f.Required {
			required = append(required, f.Name)
		}
	}
	out := object{{"type", "object"}, {"properties", props}}
	if required != nil {
		out = append(out, entryOf{"required", required})
	}
	return append(out, entryOf{"patternProperties", object{{"^x-", true}}}, entryOf{"additionalProperties", false})
}

// of describes a value of a type in a field; the field's bounds and words hold for each item of a list.
func (s *schema) of(t reflect.Type, f reading.Field) object {
	if inner, word, ok := reading.Inner(t); ok {
		return object{{"anyOf", []object{s.of(inner, f), {{"const", word}}}}}
	}
	if reading.IsText(t) {
		return text(t, f)
	}
	switch t.Kind() {
	case reflect.Struct:
		if !s.made[t] {
			s.made[t] = true
			at := len(s.defs)
			s.defs = append(s.defs, entryOf{t.Name(), nil})
			s.defs[at].value = s.fields(t)
		}
		return object{{"$ref", "#/$defs/" + t.Name()}}
	case reflect.Slice:
		return object{{"type", "array"}, {"items", s.of(t.Elem(), f)}}
	case reflect.Map:
		return object{{"type", "object"}, {"additionalProperties", s.of(t.Elem(), f)}}
	case reflect.Bool:
		return object{{"enum", []any{true, false, "yes", "no"}}}
	case reflect.Int:
		return append(object{{"type", "integer"}}, bounds(f)...)
	case reflect.Float64:
		return append(object{{"type", "number"}}, bounds(f)...)
	}
	return str(f)
}

func bounds(f reading.Field) object {
	var o object
	if f.Min != nil {
		o = append(o, entryOf{"minimum", f.Min.Value})
	}
	if f.Max != nil {
		o = append(o, entryOf{"maximum", f.Max.Value})
	}
	return o
}

// str describes a text. YAML takes 14 for a number unless it is in quotes, and the reader takes either.
func str(f reading.Field) object {
	switch {
	case f.Enum != nil:
		var values []any
		for _, e := range f.Enum {
			values = append(values, e)
			var n int
			if json.Unmarshal([]byte(e), &n) == nil {
				values = append(values, n)
			}
		}
		return object{{"enum", values}}
	case f.Name == "id" && !f.Path:
		return object{{"type", "string"}, {"pattern", "^[a-z0-9]+(-[a-z0-9]+)*$"}}
	}
	return object{{"type", []string{"string", "number"}}}
}

// text describes a type that reads itself from a text.
func text(t reflect.Type, f reading.Field) object {
	switch v := reflect.Zero(t).Interface().(type) {
	case q.Degrees:
		return append(object{{"type", "number"}}, append(bounds(f), entryOf{"examples", []float64{53.96, -1.08}})...)
	case interface{ Form() q.Form }:
		form := v.Form()
		return object{{"type", "string"}, {"pattern", form.Pattern}, {"examples", form.Examples}}
	case model.Date:
		return object{{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}, {"examples", []string{"2026-03-02"}}}
	case model.Deed:
		return object{{"type", "string"}, {"examples", []string{
			"lights full", "lights off", "lights 30 %", "lights auto", "fan 20m", "fan off", "everything off", "extend iron", "acknowledge",
		}}}
	}
	return object{{"type", "string"}}
}
