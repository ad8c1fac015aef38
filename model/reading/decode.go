package reading

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Decode checks the tree under n and reads it into the struct that into points at, as far as it goes.
// It returns every problem, in the order of the file.
func Decode(n *yaml.Node, into any) []Problem {
	var d Decoder
	for _, p := range Check(n) {
		d.Add(p)
	}
	d.Into(n, into)
	return d.Sorted()
}

// Ref is a text that names something elsewhere in the file, found by its field's ref tag.
type Ref struct {
	Kind string // what the tag says: room, switch, circuit…
	Name string
	Path string
	Node *yaml.Node
}

// Decoder reads trees that were checked, and keeps the problems and the references that it meets.
type Decoder struct {
	List
	Refs []Ref
}

// Into reads the tree under n into the struct that into points at.
func (d *Decoder) Into(n *yaml.Node, into any) {
	v := reflect.ValueOf(into).Elem()
	d.value(n, v, shapeOf(v.Type()), nil, nil)
}

// value reads n into v. It reports whether v now holds what was written. f is the field that v is in, or
// whose list v is in; nil at the top.
func (d *Decoder) value(n *yaml.Node, v reflect.Value, s *shape, f *Field, path *step) bool {
	if n.Kind == yaml.AliasNode {
		return false // Check has said so
	}
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" {
		return false // a key without a value is a key that isn't there
	}
	switch s.kind {
	case kindEither:
		return d.either(n, v, s, f, path)
	case kindStruct:
		return d.fields(n, v, s, path, f)
	case kindSlice:
		return d.items(n, v, s, f, path)
	case kindMap:
		return d.entries(n, v, s, f, path)
	}
	if n.Kind != yaml.ScalarNode {
		d.At(n, path.String(), found(n)+" where one value belongs", hintFor(v, s, f))
		return false
	}
	switch s.kind {
	case kindText:
		return d.text(n, v, f, path)
	case kindString:
		return d.str(n, v, f, path)
	case kindBool:
		return d.boolean(n, v, path)
	}
	return d.number(n, v, s, f, path)
}

func (d *Decoder) either(n *yaml.Node, v reflect.Value, s *shape, f *Field, path *step) bool {
	e := v.Addr().Interface().(Either)
	if n.Kind == yaml.ScalarNode && n.Value == e.Word() {
		e.TakeWord()
		return true
	}
	inner := reflect.ValueOf(e.TakeValue()).Elem()
	if k := s.elem.kind; n.Kind == yaml.ScalarNode && (k == kindStruct || k == kindSlice) {
		d.At(n, path.String(), found(n)+" where "+plural(k)+" belong", "write them below, or `"+e.Word()+"`"+didYouMean(n.Value, []string{e.Word()}))
		v.SetZero()
		return false
	}
	if !d.value(n, inner, s.elem, f, path) {
		if k := s.elem.kind; k != kindStruct && k != kindSlice {
			v.SetZero()
			return false
		}
	}
	return true
}

func plural(k kind) string {
	if k == kindSlice {
		return "list items"
	}
	return "keys"
}

func (d *Decoder) fields(n *yaml.Node, v reflect.Value, s *shape, path *step, f *Field) bool {
	if n.Kind != yaml.MappingNode {
		d.At(n, path.String(), found(n)+" where the keys of "+article(s.noun)+" belong", "keys: "+listed(s.names))
		return false
	}
	var seen, given uint64 // one bit for each field; no struct of a file has more than 64
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, val := n.Content[i], n.Content[i+1]
		if k.Kind != yaml.ScalarNode || k.Tag == "!!merge" {
			continue // Check has said so
		}
		at, ok := s.byName[k.Value]
		if !ok {
			d.unknown(k, s, path)
			continue
		}
		if seen&(1<<at) != 0 {
			continue // Check has said so; the first one counts
		}
		seen |= 1 << at
		fd := &s.fields[at]
		if val.Tag != "!!null" || val.Kind != yaml.ScalarNode {
			given |= 1 << at
		}
		if d.value(val, v.Field(fd.Index), s.shapes[at], fd, path.key(k.Value)) && at == s.id && !fd.Path {
			d.kebab(val, path.key(k.Value))
		}
	}
	for i := range s.fields {
		if fd := &s.fields[i]; fd.Required && given&(1<<i) == 0 {
			d.At(n, path.String(), "this "+s.noun+" has no `"+fd.Name+"`", fd.Name+": "+lower(fd.Doc))
		}
	}
	return true
}

func (d *Decoder) unknown(k *yaml.Node, s *shape, path *step) {
	if strings.HasPrefix(k.Value, "x-") {
		return
	}
	hint := "keys: " + listed(s.names) + "; a key of your own begins with x-"
	near := ""
	if !d.Full() {
		near = NearestName(k.Value, s.names)
	}
	if near != "" {
		hint = "did you mean `" + near + "`? a key of your own begins with x-"
	}
	d.Add(Problem{
		Line: k.Line, Column: k.Column, Path: path.key(k.Value).String(), Warning: true,
		Message: Quote(k.Value) + " is not a key of " + article(s.noun) + ", and is left alone", Hint: hint,
	})
}

func (d *Decoder) kebab(n *yaml.Node, path *step) {
	if IsID(n.Value) {
		return
	}
	hint := "an id has small letters, digits and single dashes, 64 at most"
	if id := ToID(n.Value); id != "" {
		hint += ": " + id
	}
	d.At(n, path.String(), Quote(n.Value)+" is not an id", hint)
}

func (d *Decoder) items(n *yaml.Node, v reflect.Value, s *shape, f *Field, path *step) bool {
	if n.Kind != yaml.SequenceNode {
		d.At(n, path.String(), found(n)+" where a list belongs", "write [a, b], or each item on its own line after a dash")
		return false
	}
	list := reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content))
	for i, item := range n.Content {
		here := path.item(item, i)
		if item.Kind == yaml.ScalarNode && item.Tag == "!!null" {
			d.At(item, here.String(), "an item of the list is empty", "write it, or remove the dash")
			continue
		}
		d.value(item, list.Index(i), s.elem, f, here)
	}
	if e := s.elem; e.kind == kindStruct && e.id >= 0 && !e.fields[e.id].Path {
		d.unique(n, s.elem, path)
	}
	v.Set(list)
	return true
}

// unique says which ids of a list were taken before.
func (d *Decoder) unique(n *yaml.Node, s *shape, path *step) {
	lines := make(map[string]int, len(n.Content))
	for i, item := range n.Content {
		id := Child(item, "id")
		if id == nil || id.Kind != yaml.ScalarNode || id.Value == "" {
			continue
		}
		if line, taken := lines[id.Value]; taken {
			at := &step{up: path, index: i}
			d.At(id, at.key("id").String(), "the id "+Quote(id.Value)+" is taken by another "+s.noun+" of this list", "it stands in line "+strconv.Itoa(line)+"; give this one another")
			continue
		}
		lines[id.Value] = id.Line
	}
}

// Child is the value of a key of a mapping, or nil.
func Child(n *yaml.Node, key string) *yaml.Node {
	if n == nil || n.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

func (d *Decoder) entries(n *yaml.Node, v reflect.Value, s *shape, f *Field, path *step) bool {
	if n.Kind != yaml.MappingNode {
		d.At(n, path.String(), found(n)+" where keys belong", "write each as `key: value`")
		return false
	}
	m := reflect.MakeMapWithSize(v.Type(), len(n.Content)/2)
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, val := n.Content[i], n.Content[i+1]
		if k.Kind != yaml.ScalarNode || k.Tag == "!!merge" || strings.HasPrefix(k.Value, "x-") {
			continue
		}
		here := path.key(k.Value)
		if val.Kind == yaml.ScalarNode && val.Tag == "!!null" {
			d.At(val, here.String(), "the key "+Quote(k.Value)+" has no value", "write one, or remove the key")
			continue
		}
		item := reflect.New(v.Type().Elem()).Elem()
		if d.value(val, item, s.elem, f, here) {
			m.SetMapIndex(reflect.ValueOf(k.Value).Convert(v.Type().Key()), item)
		}
	}
	v.Set(m)
	return true
}

// hintFor says what belongs at a place for one value.
func hintFor(v reflect.Value, s *shape, f *Field) string {
	if f != nil && len(f.Enum) > 0 {
		return "accepted: " + listed(f.Enum)
	}
	if a, ok := v.Interface().(interface{ Accepts() string }); ok {
		return "accepted: " + a.Accepts()
	}
	switch s.kind {
	case kindBool:
		return "accepted: yes or no"
	case kindInt:
		return "accepted: a whole number"
	case kindFloat:
		return "accepted: a number such as 2.5"
	}
	return "accepted: a text"
}

func (d *Decoder) text(n *yaml.Node, v reflect.Value, f *Field, path *step) bool {
	if err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(n.Value)); err != nil {
		message, hint, cut := strings.Cut(err.Error(), "; accepted: ")
		if cut {
			hint = "accepted: " + hint
		}
		d.At(n, path.String(), message, hint)
		return false
	}
	return d.within(n, v, f, path)
}
