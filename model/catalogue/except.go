package catalogue

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
)

// Except is a set of limits with some of them changed: key by key, each value as a project file writes it. A list is words with
// commas between them. The error names the key and says what belongs there; the limits are then as they were.
func (l Limits) Except(changes map[string]string) (Limits, error) {
	out := l
	keys := make([]string, 0, len(changes))
	for k := range changes {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		if err := out.change(k, strings.TrimSpace(changes[k])); err != nil {
			return l, fmt.Errorf("except/%s: %w", k, err)
		}
	}
	return out, nil
}

// LimitKeys are the keys that Except takes, in the order of the catalogue.
func LimitKeys() []string {
	var out []string
	t := reflect.TypeFor[Limits]()
	for i := range t.NumField() {
		if k := keyOf(t.Field(i)); k != "id" && k != "name" {
			out = append(out, k)
		}
	}
	return out
}

// DocOf a key of the limits: what it says, in a sentence.
func DocOf(key string) string {
	t := reflect.TypeFor[Limits]()
	for i := range t.NumField() {
		if keyOf(t.Field(i)) == key {
			return t.Field(i).Tag.Get("doc")
		}
	}
	return ""
}

func keyOf(f reflect.StructField) string {
	k, _, _ := strings.Cut(f.Tag.Get("key"), ",")
	return k
}

func (l *Limits) change(key, value string) error {
	v := reflect.ValueOf(l).Elem()
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if keyOf(f) == key && key != "id" && key != "name" {
			return changeField(v.Field(i), f.Tag.Get("enum"), value)
		}
	}
	return fmt.Errorf("there is no such limit; accepted: %s", strings.Join(LimitKeys(), ", "))
}

func changeField(v reflect.Value, enum, value string) error {
	words := func(list string) error {
		for _, w := range strings.Split(list, ",") {
			if w = strings.TrimSpace(w); enum != "" && !slices.Contains(strings.Split(enum, "|"), w) {
				return fmt.Errorf("%q can't stand here; accepted: %s", w, strings.ReplaceAll(enum, "|", ", "))
			}
		}
		return nil
	}
	switch {
	case v.Type() == reflect.TypeFor[q.Span]():
		if err := v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(value)); err != nil {
			return err
		}
		if d := time.Duration(v.Int()); d < 0 || d%time.Second != 0 {
			return fmt.Errorf("%q is no time in whole seconds", value)
		}
	case v.Kind() == reflect.Bool:
		switch strings.ToLower(value) {
		case "yes", "true", "on":
			v.SetBool(true)
		case "no", "false", "off":
			v.SetBool(false)
		default:
			return fmt.Errorf("%q is neither yes nor no", value)
		}
	case v.Kind() == reflect.Int:
		n, err := strconv.Atoi(value)
		if err != nil || n < 0 {
			return fmt.Errorf("%q is no whole number from 0 on", value)
		}
		v.SetInt(int64(n))
	case v.Kind() == reflect.Slice:
		var list []string
		if value != "" {
			if err := words(value); err != nil {
				return err
			}
			for _, w := range strings.Split(value, ",") {
				list = append(list, strings.TrimSpace(w))
			}
		}
		v.Set(reflect.ValueOf(list))
	default:
		if err := words(value); err != nil {
			return err
		}
		v.SetString(value)
	}
	return nil
}
