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

// draft builds a random project-like file. Every comment in it is unlike any other, so that a lost one is noticed.
type draft struct {
	t        *rapid.T
	out      strings.Builder
	comments int
	keys     int
}

func (d *draft) pick(of ...string) string { return rapid.SampledFrom(of).Draw(d.t, "pick") }
func (d *draft) chance(percent int) bool  { return rapid.IntRange(0, 99).Draw(d.t, "chance") < percent }
func (d *draft) comment() string          { d.comments++; return fmt.Sprintf("# c%d.", d.comments) }
func (d *draft) key() string {
	d.keys++
	return d.pick("k", "name", "\u00e9", "\u6f22", "x-y") + fmt.Sprint(d.keys)
}

func (d *draft) above(col int) {
	if d.chance(10) {
		d.out.WriteString("\n")
	}
	if d.chance(20) {
		d.out.WriteString(strings.Repeat(" ", col) + d.comment() + "\n")
	}
	if d.chance(5) {
		d.out.WriteString("\n")
	}
}

func (d *draft) endLine() {
	if d.chance(20) {
		d.out.WriteString(d.pick(" ", "    ", "\t") + d.comment())
	}
	d.out.WriteString("\n")
}

// noteLine ends a line that has no value on it, where a tab is not allowed.
func (d *draft) noteLine() {
	if d.chance(20) {
		d.out.WriteString(d.pick(" ", "    ") + d.comment())
	}
	d.out.WriteString("\n")
}

func (d *draft) scalar() string {
	return d.pick("21 l/s", "on entry", "unknown", "5", "true", "no", `"22:45"`, "'it''s'", "06:20", "it's", "\u00e9t\u00e9 \u6f22", "65 %", "a#b", `"a # b"`, "x:y", `"\"q\\ \u00e9"`, "''")
}

func (d *draft) flow(depth int) string {
	if depth == 0 || d.chance(50) {
		return d.scalar()
	}
	pad := d.pick("", " ")
	var parts []string
	n := rapid.IntRange(0, 3).Draw(d.t, "n")
	isMap := d.chance(50)
	for i := 0; i < n; i++ {
		v := d.flow(depth - 1)
		if isMap {
			v = d.key() + ": " + v
		}
		parts = append(parts, v)
	}
	tail := ""
	if n > 0 {
		tail = d.pick("", "", "", ",", " ,")
	}
	in := pad + strings.Join(parts, d.pick(", ", ",  ")) + tail + pad
	if isMap {
		return "{" + in + "}"
	}
	return "[" + in + "]"
}

// value writes what follows a key or a dash at a column.
func (d *draft) value(col, depth int, dash bool) {
	kind := rapid.IntRange(0, 9).Draw(d.t, "kind")
	switch {
	case depth > 0 && kind < 3:
		d.blockMap(col, depth, dash)
	case depth > 0 && kind < 6:
		if dash {
			d.out.WriteString(" ")
			d.blockList(col+2, depth-1, true)
			return
		}
		d.noteLine()
		d.blockList(col+d.pickInt(0, 2, 2), depth-1, false)
	case kind == 6:
		d.out.WriteString(" " + d.pick("|", ">", "|-", ">-", "|+"))
		d.out.WriteString("\n")
		d.out.WriteString(strings.Repeat(" ", col+2) + "first\n")
		for i := 0; i < 2; i++ {
			d.out.WriteString(strings.Repeat(" ", col+2) + d.pick("text", "# not a comment", "  more", "k: v") + "\n")
		}
	case kind == 7:
		d.manyLines(col)
	case kind == 8 && d.chance(30):
		d.out.WriteString("\n") // null
	default:
		d.out.WriteString(" " + d.flow(2))
		d.endLine()
	}
}

func (d *draft) pickInt(of ...int) int { return rapid.SampledFrom(of).Draw(d.t, "int") }

// manyLines writes a flow map over several lines.
func (d *draft) manyLines(col int) {
	pad := strings.Repeat(" ", col+4)
	d.out.WriteString(" {")
	d.endLine()
	n := rapid.IntRange(1, 3).Draw(d.t, "n")
	for i := 0; i < n; i++ {
		if d.chance(20) {
			d.out.WriteString(pad + d.comment() + "\n")
		}
		d.out.WriteString(pad + d.key() + ": " + d.flow(1))
		if i < n-1 || d.chance(30) {
			d.out.WriteString(",")
		}
		d.endLine()
	}
	d.out.WriteString(strings.Repeat(" ", col+2) + "}")
	d.endLine()
}

func (d *draft) blockMap(col, depth int, dash bool) {
	inner := col + 2
	if dash {
		d.out.WriteString(" ")
	} else {
		d.noteLine()
	}
	for i, n := 0, rapid.IntRange(1, 4).Draw(d.t, "n"); i < n; i++ {
		if !dash || i > 0 {
			d.above(inner)
			d.out.WriteString(strings.Repeat(" ", inner))
		}
		d.out.WriteString(d.key() + ":")
		d.value(inner, depth-1, false)
	}
}

func (d *draft) blockList(col, depth int, dash bool) {
	for i, n := 0, rapid.IntRange(1, 4).Draw(d.t, "n"); i < n; i++ {
		if !dash || i > 0 {
			d.above(col)
			d.out.WriteString(strings.Repeat(" ", col))
		}
		d.out.WriteString("-")
		d.value(col, depth-1, true)
	}
}

func drawFile(t *rapid.T) []byte {
	d := &draft{t: t}
	for i, n := 0, rapid.IntRange(1, 4).Draw(t, "top"); i < n; i++ {
		d.above(0)
		d.out.WriteString(d.key() + ":")
		d.value(0, 4, false)
	}
	text := d.out.String()
	if d.chance(20) {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if d.chance(20) {
		text = strings.TrimRight(text, "\r\n")
	}
	return []byte(text)
}

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
