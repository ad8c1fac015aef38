package reading

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// Either is a value that one word may stand for: a fact for `unknown`, a goal for `none`.
// The methods are those of the pointer.
type Either interface {
	Word() string   // the word
	TakeWord()      // the word was written
	TakeValue() any // something else was written: decode it into this pointer
}

// Field is what the tags say of one field of a struct.
type Field struct {
	Name     string // its key in the file
	Index    int    // in the struct
	Type     reflect.Type
	Required bool
	Path     bool // an id that points elsewhere: it may have slashes and come twice
	Enum     []string
	Min, Max *Bound
	Ref      string
	Doc      string
}

// Bound of a number or quantity, in its base unit.
type Bound struct {
	Value float64
	Text  string // for people
}

type kind int

const (
	kindStruct kind = iota
	kindEither
	kindText
	kindString
	kindBool
	kindInt
	kindFloat
	kindSlice
	kindMap
)

// shape is a type as the reader sees it. It is made once for each type.
type shape struct {
	kind   kind
	noun   string // "switch box"
	fields []Field
	shapes []*shape // of the fields
	byName map[string]int
	names  []string
	id     int    // index in fields of the one named id, or -1
	elem   *shape // of a list, a map, or what Either holds
}

var shapes sync.Map // reflect.Type to *shape; a cache of what the types say, nothing else

var (
	eitherType = reflect.TypeFor[Either]()
	textType   = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// Fields lists the keys of a struct type, in the order of the struct.
func Fields(t reflect.Type) []Field { return shapeOf(t).fields }

// Inner is the type of the value that a fact or goal holds, and the word that may stand for it.
func Inner(t reflect.Type) (inner reflect.Type, word string, ok bool) {
	if !reflect.PointerTo(t).Implements(eitherType) {
		return nil, "", false
	}
	e := reflect.New(t).Interface().(Either)
	return reflect.TypeOf(e.TakeValue()).Elem(), e.Word(), true
}

// IsText reports whether the type reads itself from a text.
func IsText(t reflect.Type) bool { return reflect.PointerTo(t).Implements(textType) }

func shapeOf(t reflect.Type) *shape {
	if s, ok := shapes.Load(t); ok {
		return s.(*shape)
	}
	s := makeShape(t)
	shapes.Store(t, s)
	return s
}

// makeShape panics at a type that cannot be in a file: a mistake in the program, met by the first test.
func makeShape(t reflect.Type) *shape {
	s := &shape{noun: noun(t.Name()), id: -1}
	if inner, _, ok := Inner(t); ok {
		s.kind, s.elem = kindEither, shapeOf(inner)
		return s
	}
	if IsText(t) {
		s.kind = kindText
		return s
	}
	switch t.Kind() {
	case reflect.String:
		s.kind = kindString
	case reflect.Bool:
		s.kind = kindBool
	case reflect.Int, reflect.Int64:
		s.kind = kindInt
	case reflect.Float64:
		s.kind = kindFloat
	case reflect.Slice:
		s.kind, s.elem = kindSlice, shapeOf(t.Elem())
	case reflect.Map:
		if t.Key().Kind() != reflect.String {
			panic("reading: the keys of a map are text, not " + t.Key().String())
		}
		s.kind, s.elem = kindMap, shapeOf(t.Elem())
	case reflect.Struct:
		s.kind = kindStruct
		s.takeFields(t)
	default:
		panic("reading: " + t.String() + " cannot be in a file")
	}
	return s
}

func (s *shape) takeFields(t reflect.Type) {
	s.byName = map[string]int{}
	for i := range t.NumField() {
		sf := t.Field(i)
		tag := sf.Tag.Get("key")
		if tag == "" {
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		f := Field{Name: name, Index: i, Type: sf.Type, Required: hasOption(options, "required"), Path: hasOption(options, "path"), Ref: sf.Tag.Get("ref"), Doc: sf.Tag.Get("doc")}
		if e := sf.Tag.Get("enum"); e != "" {
			f.Enum = strings.Split(e, "|")
		}
		f.Min = bound(sf.Type, sf.Tag.Get("min"))
		f.Max = bound(sf.Type, sf.Tag.Get("max"))
		if name == "id" {
			s.id = len(s.fields)
		}
		s.byName[name] = len(s.fields)
		s.names = append(s.names, name)
		s.fields = append(s.fields, f)
		s.shapes = append(s.shapes, shapeOf(sf.Type))
	}
	if len(s.fields) > 64 {
		panic("reading: " + t.String() + " has more than 64 keys")
	}
}

func hasOption(options, name string) bool { return contains(strings.Split(options, ","), name) }

// bound reads a min or max tag: a plain number, or a quantity as it would be in the file.
func bound(t reflect.Type, tag string) *Bound {
	if tag == "" {
		return nil
	}
	for {
		if inner, _, ok := Inner(t); ok {
			t = inner
		} else if t.Kind() == reflect.Slice || t.Kind() == reflect.Map {
			t = t.Elem()
		} else {
			break
		}
	}
	v := reflect.New(t)
	if n, err := strconv.ParseFloat(tag, 64); err == nil {
		switch t.Kind() {
		case reflect.Float64:
			v.Elem().SetFloat(n)
		case reflect.Int, reflect.Int64:
			v.Elem().SetInt(int64(n))
		}
	} else if err := v.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(tag)); err != nil {
		panic("reading: " + t.String() + ": " + err.Error())
	}
	return &Bound{Value: number(v.Elem()), Text: fmt.Sprint(v.Elem().Interface())}
}

// number is the value in its base unit.
func number(v reflect.Value) float64 {
	switch v.Kind() {
	case reflect.Float64:
		return v.Float()
	case reflect.Int, reflect.Int64:
		return float64(v.Int())
	}
	return 0
}

// noun makes words of a type's name: SwitchBox is a switch box.
func noun(name string) string {
	name, _, _ = strings.Cut(name, "[")
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// article puts a or an before a noun.
func article(noun string) string {
	if noun != "" && strings.IndexByte("aeiou", noun[0]) >= 0 {
		return "an " + noun
	}
	return "a " + noun
}
