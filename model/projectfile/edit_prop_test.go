package projectfile

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"
)

// places lists every path of a tree.
func places(n *yaml.Node, at []string, all *[][]string) {
	for i := 0; n.Kind != yaml.ScalarNode && i < entries(n); i++ {
		step := fmt.Sprint(i)
		if n.Kind == yaml.MappingNode {
			step = n.Content[2*i].Value
		}
		here := append(slices.Clone(at), step)
		*all = append(*all, here)
		places((spot{n, i}).value(), here, all)
	}
}

// plain is a tree as Go values: an oracle that knows nothing of nodes or bytes.
func plain(t *rapid.T, src []byte) any {
	var v any
	if err := yaml.Unmarshal(src, &v); err != nil {
		t.Fatalf("not YAML: %v\n%s", err, src)
	}
	return v
}

// changed is the oracle: v with one edit made.
func changed(v any, steps []string, f func(parent any, step string) any) any {
	if len(steps) == 1 {
		return f(v, steps[0])
	}
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[k] = x
		}
		out[steps[0]] = changed(v[steps[0]], steps[1:], f)
		return out
	case []any:
		out := slices.Clone(v)
		i := atoi(steps[0])
		out[i] = changed(v[i], steps[1:], f)
		return out
	}
	panic("no such place")
}

func atoi(s string) int {
	var i int
	fmt.Sscan(s, &i)
	return i
}

var commentMark = regexp.MustCompile(`# c\d+\.`)

// same compares with nil and empty collections kept apart.
func same(a, b any) bool { return fmt.Sprintf("%#v", sorted(a)) == fmt.Sprintf("%#v", sorted(b)) }

func sorted(v any) any {
	switch v := v.(type) {
	case map[string]any:
		var out []any
		keys := make([]string, 0, len(v))
		for k := range v {
			keys = append(keys, k)
		}
		slices.Sort(keys)
		for _, k := range keys {
			out = append(out, []any{k, sorted(v[k])})
		}
		return append(out, "map")
	case []any:
		out := []any{}
		for _, x := range v {
			out = append(out, sorted(x))
		}
		return append(out, "list")
	}
	return v
}

// samePlaces compares trees with all their lines and columns.
func samePlaces(a, b *yaml.Node) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a.Kind != b.Kind || a.Value != b.Value || a.Tag != b.Tag || a.Line != b.Line || a.Column != b.Column || a.Style != b.Style {
		return false
	}
	return slices.EqualFunc(a.Content, b.Content, samePlaces)
}

// edited makes an edit and holds its tree against that of a fresh parse.
func edited(t *rapid.T, src []byte, e Edit) ([]byte, error) {
	s, err := readSource(src)
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	out, err := s.apply(e)
	if err != nil {
		return nil, err
	}
	fresh, err := readSource(out.src)
	if err != nil || !samePlaces(out.root, fresh.root) || !slices.Equal(out.lines, fresh.lines) {
		t.Fatalf("%+v: the tree isn't that of the file (%v)\nfrom:\n%s\nto:\n%s", e, err, src, out.src)
	}
	if again, _ := readSource(src); !samePlaces(s.root, again.root) {
		t.Fatalf("%+v changed the tree that it began with\n%s", e, src)
	}
	return out.src, nil
}

func checkEdit(t *rapid.T, src []byte, e Edit, want any, mayLose bool) []byte {
	got, err := edited(t, src, e)
	if err != nil {
		if strings.Contains(string(src), "|+") && errors.Is(err, errPlace) {
			t.Skip("lines after a text that keeps all its newlines")
		}
		t.Fatalf("%+v: %v\n%s", e, err, src)
	}
	if !same(plain(t, got), want) {
		t.Fatalf("%+v changed something else\nfrom:\n%s\nto:\n%s\nis   %#v\nwant %#v", e, src, got, sorted(plain(t, got)), sorted(want))
	}
	if !mayLose {
		before := commentMark.FindAllString(string(src), -1)
		after := commentMark.FindAllString(string(got), -1)
		if e.verb == moveVerb {
			slices.Sort(before)
			slices.Sort(after)
		}
		if !slices.Equal(before, after) {
			t.Fatalf("%+v: comments were %v, are %v\nfrom:\n%s\nto:\n%s", e, before, after, src, got)
		}
	}
	if strings.Contains(string(src), "\r\n") && strings.Count(string(got), "\r\n") != strings.Count(string(got), "\n") {
		t.Fatalf("%+v mixes line ends\n%q", e, got)
	}
	if e.verb != removeVerb && strings.HasSuffix(string(src), "\n") != strings.HasSuffix(string(got), "\n") && !strings.Contains(e.yaml, "\n") && !strings.Contains(string(src), "|") && !strings.Contains(string(src), ">") {
		t.Fatalf("%+v changed the last newline\n%q\n%q", e, src, got)
	}
	return got
}

var newValues = []string{"9", "new words", "\"q: z\"", "{p: 1, q: [r, s]}", "[p, {q: 1}]", "p: 1\nq:\n  - r\n  - s: 2", "- p\n- q: 1", "|\n  one\n  two", "[]", "{}"}

func TestAnySet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := drawFile(t)
		steps, value := drawPlace(t, src), rapid.SampledFrom(newValues).Draw(t, "value")
		old := plain(t, src)
		var was any
		changed(old, steps, func(p any, s string) any { was = child(p, s); return nil })
		want := changed(old, steps, func(p any, s string) any { return put(p, s, plain(t, []byte(value+"\n"))) })
		_, isScalar := was.(string)
		got := checkEdit(t, src, Set(joinPath(steps), value), want, !isScalar)
		again, err := applyEdit(got, Set(joinPath(steps), value))
		if err != nil || string(again) != string(got) {
			t.Fatalf("setting it again is no rest: %v\n%s\n%s", err, got, again)
		}
	})
}

func drawPlace(t *rapid.T, src []byte) []string {
	s, err := readSource(src)
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	var all [][]string
	places(s.root, nil, &all)
	return rapid.SampledFrom(all).Draw(t, "place")
}

func child(p any, s string) any {
	if m, ok := p.(map[string]any); ok {
		return m[s]
	}
	return p.([]any)[atoi(s)]
}

func put(p any, s string, v any) any {
	if m, ok := p.(map[string]any); ok {
		out := map[string]any{s: v}
		for k, x := range m {
			if k != s {
				out[k] = x
			}
		}
		return out
	}
	out := slices.Clone(p.([]any))
	out[atoi(s)] = v
	return out
}

func TestAnyInsert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := drawFile(t)
		steps, value := drawPlace(t, src), rapid.SampledFrom(newValues).Draw(t, "value")
		old := plain(t, src)
		var was any
		changed(old, steps, func(p any, s string) any { was = child(p, s); return nil })
		v := plain(t, []byte(value+"\n"))
		path := joinPath(steps)
		switch c := was.(type) {
		case map[string]any:
			want := changed(old, steps, func(p any, s string) any {
				return put(p, s, put(c, "fresh", map[string]any{"deep": v}))
			})
			checkEdit(t, src, Set(path+"/fresh/deep", value), want, false)
		case []any:
			more := []any{v}
			if l, ok := v.([]any); ok && !strings.HasPrefix(value, "[") {
				more = l
			}
			want := changed(old, steps, func(p any, s string) any { return put(p, s, slices.Concat(c, more)) })
			checkEdit(t, src, Append(path, value), want, false)
		}
	})
}

func TestAnyRemove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := drawFile(t)
		steps := drawPlace(t, src)
		old := plain(t, src)
		if m, ok := old.(map[string]any); ok && len(steps) == 1 && len(m) == 1 {
			return
		}
		want := changed(old, steps, func(p any, s string) any {
			if l, ok := p.([]any); ok {
				i := atoi(s)
				return slices.Concat(l[:i:i], l[i+1:])
			}
			out := map[string]any{}
			for k, x := range p.(map[string]any) {
				if k != s {
					out[k] = x
				}
			}
			return out
		})
		got := checkEdit(t, src, Remove(joinPath(steps)), want, true)
		if lost := len(commentMark.FindAll(src, -1)) - len(commentMark.FindAll(got, -1)); lost > ownComments(t, src, steps) {
			t.Fatalf("removing %s lost %d comments\nfrom:\n%s\nto:\n%s", joinPath(steps), lost, src, got)
		}
	})
}

// ownComments counts generously: those between the end of what stands before an entry and its own end.
func ownComments(t *rapid.T, src []byte, steps []string) int {
	s, _ := readSource(src)
	trail, _ := follow(s.root, steps)
	p := trail[len(trail)-1]
	from := 0
	if start, err := s.entryStart(p.node, p.at); err == nil {
		from = s.ownLines(start)
	}
	to, err := s.entryEnd(p.node, p.at)
	if err != nil {
		t.Fatalf("no end: %v", err)
	}
	if k, err := s.chunk(p.node, p.at); err == nil && !inFlow(trail) {
		to = k.end
	}
	return len(commentMark.FindAll(src[from:s.lineEnd(to)], -1))
}

func TestAnyMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := drawFile(t)
		steps := drawPlace(t, src)
		old := plain(t, src)
		var list []any
		changed(old, steps, func(p any, s string) any { list, _ = child(p, s).([]any); return nil })
		if len(list) < 2 {
			return
		}
		from := rapid.IntRange(0, len(list)-1).Draw(t, "from")
		to := rapid.IntRange(0, len(list)-1).Draw(t, "to")
		moved := slices.Insert(slices.Delete(slices.Clone(list), from, from+1), to, list[from])
		want := changed(old, steps, func(p any, s string) any { return put(p, s, moved) })
		checkEdit(t, src, Move(joinPath(steps)+"/"+fmt.Sprint(from), to), want, false)
	})
}
