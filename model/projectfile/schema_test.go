package projectfile

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"gopkg.in/yaml.v3"
)

// validator knows the part of JSON Schema that Schema uses, and fails at anything else.
type validator struct {
	t    *testing.T
	root map[string]any
	bad  []string
}

func newValidator(t *testing.T) *validator {
	t.Helper()
	v := &validator{t: t}
	if err := json.Unmarshal(Schema(), &v.root); err != nil {
		t.Fatal(err)
	}
	return v
}

func (v *validator) validate(src string) []string {
	var value any
	if err := yaml.Unmarshal([]byte(src), &value); err != nil {
		v.t.Fatal(err)
	}
	// Through JSON, so that numbers are numbers and days are texts, as an editor sees them.
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(src), &n); err != nil {
		v.t.Fatal(err)
	}
	v.bad = nil
	v.check(v.root, plainValue(n.Content[0]), "")
	return v.bad
}

// plainValue reads a node by the core rules of YAML 1.2, as editors do: yes and no are texts.
func plainValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, item := range n.Content {
			list = append(list, plainValue(item))
		}
		return list
	}
	switch n.Tag {
	case "!!int", "!!float":
		var f float64
		if err := n.Decode(&f); err == nil {
			return f
		}
	case "!!bool":
		return n.Value == "true"
	case "!!null":
		return nil
	}
	return n.Value
}

func (v *validator) check(schema map[string]any, value any, path string) {
	fail := func(format string, args ...any) { v.bad = append(v.bad, path+": "+fmt.Sprintf(format, args...)) }
	for key, want := range schema {
		switch key {
		case "$schema", "$defs", "title", "description", "examples", "properties", "patternProperties":
		case "$ref":
			name := strings.TrimPrefix(want.(string), "#/$defs/")
			v.check(v.root["$defs"].(map[string]any)[name].(map[string]any), value, path)
		case "type":
			if !isOneOf(want, typeOf(value)) {
				fail("%v is no %v", value, want)
			}
		case "enum":
			found := false
			for _, e := range want.([]any) {
				found = found || reflect.DeepEqual(e, value)
			}
			if !found {
				fail("%v is none of %v", value, want)
			}
		case "const":
			if value != want {
				fail("%v is not %v", value, want)
			}
		case "anyOf":
			v.anyOf(want.([]any), value, path)
		case "pattern":
			if s, ok := value.(string); ok && !regexp.MustCompile(want.(string)).MatchString(s) {
				fail("%q does not look like %v", s, want)
			}
		case "minimum":
			if f, ok := value.(float64); ok && f < want.(float64) {
				fail("%v is less than %v", f, want)
			}
		case "maximum":
			if f, ok := value.(float64); ok && f > want.(float64) {
				fail("%v is more than %v", f, want)
			}
		case "items":
			if list, ok := value.([]any); ok {
				for i, item := range list {
					v.check(want.(map[string]any), item, fmt.Sprintf("%s/%d", path, i))
				}
			}
		case "required":
			for _, name := range want.([]any) {
				if m, ok := value.(map[string]any); ok && m[name.(string)] == nil {
					fail("%s is missing", name)
				}
			}
		case "additionalProperties":
			v.members(schema, value, path)
		default:
			v.t.Fatalf("the schema says %q, which no test knows", key)
		}
	}
}

func (v *validator) anyOf(choices []any, value any, path string) {
	var all []string
	for _, c := range choices {
		sub := validator{t: v.t, root: v.root}
		sub.check(c.(map[string]any), value, path)
		if len(sub.bad) == 0 {
			return
		}
		all = append(all, sub.bad...)
	}
	v.bad = append(v.bad, all...)
}

func (v *validator) members(schema map[string]any, value any, path string) {
	m, ok := value.(map[string]any)
	if !ok {
		return
	}
	props, _ := schema["properties"].(map[string]any)
	for key, x := range m {
		here := path + "/" + key
		if p, ok := props[key].(map[string]any); ok {
			v.check(p, x, here)
			continue
		}
		own := false
		patterns, _ := schema["patternProperties"].(map[string]any)
		for p := range patterns {
			own = own || regexp.MustCompile(p).MatchString(key)
		}
		switch more := schema["additionalProperties"].(type) {
		case map[string]any:
			v.check(more, x, here)
		case bool:
			if !more && !own {
				v.bad = append(v.bad, here+": unknown key")
			}
		}
	}
}

func typeOf(v any) string {
	switch x := v.(type) {
	case string:
		return "string"
	case bool:
		return "boolean"
	case float64:
		if x == float64(int64(x)) {
			return "integer"
		}
		return "number"
	case []any:
		return "array"
	case map[string]any:
		return "object"
	}
	return "null"
}

func isOneOf(want any, got string) bool {
	switch w := want.(type) {
	case string:
		return w == got || w == "number" && got == "integer"
	case []any:
		for _, x := range w {
			if isOneOf(x, got) {
				return true
			}
		}
	}
	return false
}

func TestSchemaTakesGoodFiles(t *testing.T) {
	files := map[string]string{"paper": whole(t), "good": good, "guest house": strings.Replace(guestHouse, ", kind: }", "}", 1), // an editor marks a key without a value
		"starter": string(Starter("Test")), "bench": string(home(2, false))}
	homes, err := filepath.Glob("../../fixtures/homes/*.yaml")
	if err != nil || len(homes) == 0 {
		t.Fatalf("no example homes: %v", err)
	}
	for _, h := range homes {
		b, err := os.ReadFile(h)
		if err != nil {
			t.Fatal(err)
		}
		parse(t, string(b))
		files[h] = string(b)
	}
	v := newValidator(t)
	for name, src := range files {
		if bad := v.validate(src); len(bad) > 0 {
			t.Errorf("%s:\n%s", name, strings.Join(bad, "\n"))
		}
	}
}

func TestSchemaRefusesWhatTheReaderRefuses(t *testing.T) {
	v := newValidator(t)
	for _, c := range [][2]string{
		{"width: 2 m", "width: 2"},
		{"power: 400 W", "power: 400 V"},
		{"start: on entry", "start: sometimes"},
		{"lamps: 2", "lamps: two"},
		{"lamps: 2", "lamps: 0"},
		{"id: attic", "id: Attic"},
		{"{id: attic}", "{name: x}"},
		{"roombrief: 1\n", ""},
		{"from: sunset", "from: noon"},
		{"48 GBP/h", "48 pounds"},
		{"latitude: 50", "latitude: 95"},
		{"dimmable: unknown", "dimmable: maybe"},
		{"dimmable: unknown", "dimable: yes"},
		{"leak: {", "leak: nothing\n      x-leak: {"},
		{"since: 2026-03-02", "since: March"},
		{"[rosa]", "rosa"},
	} {
		src := strings.Replace(good, c[0], c[1], 1)
		if bad := v.validate(src); len(bad) == 0 {
			t.Errorf("%q: the schema takes it", c[1])
		}
		if len(Parse([]byte(src)).Problems()) == 0 {
			t.Errorf("%q: the reader takes it", c[1])
		}
	}
}

// Every key of the model is in the schema with a sentence of its own.
func TestSchemaDescribesEveryKey(t *testing.T) {
	v := newValidator(t)
	defs := v.root["$defs"].(map[string]any)
	n := 0
	for name, def := range map[string]any{"Project": v.root} {
		defs[name] = def
	}
	for name, def := range defs {
		for key, p := range def.(map[string]any)["properties"].(map[string]any) {
			n++
			if d, _ := p.(map[string]any)["description"].(string); d == "" || !strings.HasSuffix(d, ".") {
				t.Errorf("%s/%s is described as %q", name, key, d)
			}
		}
	}
	want := 0
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(tp reflect.Type) {
		tp = held(tp)
		if tp == nil || seen[tp] {
			return
		}
		seen[tp] = true
		switch tp.Kind() {
		case reflect.Slice, reflect.Map:
			walk(tp.Elem())
		case reflect.Struct:
			for i := range tp.NumField() {
				if keyName(tp.Field(i)) != "" {
					want++
					walk(tp.Field(i).Type)
				}
			}
		}
	}
	walk(reflect.TypeFor[model.Project]())
	if n != want {
		t.Errorf("%d keys are described, the model has %d", n, want)
	}
}

func TestSchemaIsTheSameEachTime(t *testing.T) {
	if a, b := string(Schema()), string(Schema()); a != b || !strings.HasPrefix(a, "{\n  \"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n") {
		t.Error(a[:80])
	}
}
