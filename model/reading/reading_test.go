package reading

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"

	q "example.org/roombrief/model/quantity"
	"pgregory.net/rapid"
)

// A shelf is a small file of its own, with every kind of field.
type shelf struct {
	Name   string             `key:"name,required" doc:"What it is called."`
	Colour string             `key:"colour" enum:"red|green|blue"`
	Sides  []string           `key:"sides" enum:"left|right"`
	Deep   bool               `key:"deep"`
	Boards int                `key:"boards" min:"1" max:"12"`
	Width  q.Length           `key:"width" min:"100 mm" max:"4 m"`
	Wall   maybe[string]      `key:"wall" enum:"brick|timber"`
	Load   maybe[q.Mass]      `key:"load"`
	Books  maybe[[]book]      `key:"books"`
	Prices map[string]float64 `key:"prices" min:"0"`
	Rest   q.Span             `key:"rest" max:"1h"`
	Near   string             `key:"near" ref:"shelf"`
}

type book struct {
	ID    string `key:"id,required" doc:"Short name."`
	Pages int    `key:"pages"`
}

type maybe[T any] struct {
	state int
	value T
}

func (m *maybe[T]) Word() string   { return "nobody-knows" }
func (m *maybe[T]) TakeWord()      { *m = maybe[T]{state: 1} }
func (m *maybe[T]) TakeValue() any { m.state = 2; return &m.value }

func readShelf(src string) (shelf, []Problem) {
	var s shelf
	n, ps := Read([]byte(src), 1<<16)
	if n == nil {
		return s, ps
	}
	return s, append(ps, Decode(n, &s)...)
}

func TestReadsEveryKind(t *testing.T) {
	got, ps := readShelf(`
name: 14
colour: green
sides: [left, "right"]
deep: yes
boards: 3
width: 3 ft
wall: nobody-knows
load: 9 lb
books:
  - {id: atlas, pages: 300}
  - id: bible
prices: {GBP: 12.5, "a/b": 3}
rest: 20m
near:
x-mine: {any: [thing]}
`)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	want := shelf{
		Name: "14", Colour: "green", Sides: []string{"left", "right"}, Deep: true, Boards: 3, Width: q.Length(0.9144),
		Wall: maybe[string]{state: 1}, Load: maybe[q.Mass]{2, q.Mass(4.08233133)},
		Books:  maybe[[]book]{2, []book{{"atlas", 300}, {ID: "bible"}}},
		Prices: map[string]float64{"GBP": 12.5, "a/b": 3}, Rest: q.Span(20 * 60 * 1e9),
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("read\n%+v, want\n%+v", got, want)
	}
}

func TestSaysEverythingThatIsWrong(t *testing.T) {
	cases := []struct{ name, src, want string }{
		{"wrong kinds", "name: [a]\ndeep: maybe\nboards: 2.5\nwidth: {m: 2}\nbooks: 3\nprices: [1]\n", `
1:7: name: a list stands where one value belongs; accepted: a text
2:7: deep: "maybe" is neither yes nor no; accepted: yes or no
3:9: boards: "2.5" is not a whole number that can be used; accepted: a whole number such as 3
4:8: width: keys stand where one value belongs; accepted: a length such as 2.4 m, 35 mm or 7 ft 10 in
5:8: books: "3" stands where list items belong; write them below, or ` + "`nobody-knows`" + `
6:9: prices: a list stands where keys belong; write each as ` + "`key: value`" + ``},
		{"bounds", "name: a\nboards: 13\nwidth: 9 cm\nrest: 61m\nprices: {GBP: -1}\n", `
2:9: boards: "13" is too much here; accepted: from 1 to 12
3:8: width: "9 cm" is too little here; accepted: from 0.1 m to 4 m
4:7: rest: "61m" is too much here; accepted: 1h or less
5:15: prices/GBP: "-1" is too little here; accepted: 0 or more`},
		{"words", "name: a\ncolour: gren\nsides: [left, rihgt]\nwall: brik\n", `
2:9: colour: "gren" is none of the values that can stand here; accepted: red, green, blue (did you mean green?)
3:15: sides/1: "rihgt" is none of the values that can stand here; accepted: left, right (did you mean right?)
4:7: wall: "brik" is none of the values that can stand here; accepted: brick, timber (did you mean brick?)`},
		{"keys", "nane: a\nname: b\nname: c\nbooks: [{pages: 2}, {id: a, zzz: 2}]\n", `
1:1: nane: "nane" is not a key of a shelf, and is left alone; did you mean ` + "`name`" + `? a key of your own begins with x-
3:1: name: the key "name" is here for the second time; it already stands in line 2; keep one of them
4:9: books/0: this book has no ` + "`id`" + `; id: short name
4:29: books/a/zzz: "zzz" is not a key of a book, and is left alone; keys: id, pages; a key of your own begins with x-`},
		{"ids", "name: a\nbooks:\n- id: Atlas One\n- id: b\n- id: b\n-\n", `
3:7: books/0/id: "Atlas One" is not an id; an id has small letters, digits and single dashes, 64 at most: atlas-one
5:7: books/2/id: the id "b" is taken by another book of this list; it stands in line 4; give this one another
6:2: books/3: an item of the list is empty; write it, or remove the dash`},
		{"missing", "colour: red\n", "\n1:1: this shelf has no `name`; name: what it is called"},
		{"empty value", "name:\n", "\n1:1: this shelf has no `name`; name: what it is called"},
		{"alias", "name: &n a\nnear: *n\n", `
1:7: name: an anchor (&n) stands here; remove it: anchors and aliases are not used in this file
2:7: near: an alias (*n) stands here; write the value out: aliases are not followed`},
		{"itself", "name: a\nx-a: &x [*x]\n", `
2:6: x-a: an anchor (&x) stands here; remove it: anchors and aliases are not used in this file
2:10: x-a/0: an alias (*x) stands here; write the value out: aliases are not followed`},
		{"merge", "name: a\n<<: {deep: yes}\n", "\n2:1: a merge key (<<) stands here; write the keys out; a room that repeats another says `like: room`"},
		{"tag", "name: !!str a\ndeep: !x y\n", `
1:7: name: a tag (!!str) stands here; remove it: write the value plainly
2:7: deep: a tag (!x) stands here; remove it: write the value plainly
2:7: deep: "y" is neither yes nor no; accepted: yes or no`},
		{"odd key", "name: a\n? [a, b]\n: 3\n", "\n2:3: a key is not plain text; write `key: value`"},
		{"list on top", "- a\n", "\n1:1: a list stands at the top of the file; the file begins with keys, each on its own line, as in `name: value`"},
		{"text on top", "hello\n", "\n1:1: \"hello\" stands at the top of the file; the file begins with keys, each on its own line, as in `name: value`"},
		{"second document", "name: a\n---\nname: b\n", "\n2:1: a second document begins here; one file holds one document: remove the line --- and what follows it"},
		{"hidden text", "name: \"a\\e[2J\"\n", "\n1:7: name: the text holds a character that cannot be seen ('\\x1b'); remove it"},
		{"turned text", "name: \"a\u202eb\"\n", "\n1:7: name: the text holds a character that cannot be seen ('\\u202e'); remove it"},
		{"deep", "name: a\nx-a: " + strings.Repeat("[", 50) + strings.Repeat("]", 50), "\n2:45: x-a/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0: lists and keys are nested deeper than 40 levels here; a project needs a dozen"},
		{"nothing", "# only a comment\n", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, ps := readShelf(c.src)
			var got strings.Builder
			for _, p := range ps {
				got.WriteString("\n" + p.Error())
			}
			if got.String() != c.want {
				t.Errorf("got:%s\nwant:%s", got.String(), c.want)
			}
		})
	}
}

func TestBrokenYAML(t *testing.T) {
	cases := []struct{ name, src, want string }{
		{"colon in text", "name: a\nnear: it says: no\n", "2:14: a colon stands where no key can be"},
		{"bad indentation", "name: a\nbooks:\n  - id: a\n    pages: 2\n   pages: 3\ndeep: yes\n", "5:4: this line does not fit the list around it"},
		{"stray text", "name: a\nthis is lost\ndeep: yes\n", "2:1: this line is neither a key with a colon nor part of the line above"},
		{"open quote", "name: a\nnear: \"never closed\ndeep: yes\n", "2:7: a quote is opened here and never closed"},
		{"open list", "name: a\nsides: [left, right\ndeep: yes\nboards: 1\n", "2:8: a list in [ ] is not closed, or has no comma between two items"},
		{"open keys", "name: a\nprices: {GBP: 2\n", "2:9: keys in { } are not closed, or have no comma between two of them"},
		{"tab", "name: a\nbooks:\n\t- id: a\n", "3:1: a tab stands in the indentation"},
		{"at sign", "name: a\nnear: @home\n", "2:7: a text begins with '@' here"},
		{"percent", "name: a\nnear: [a, %b]\n", "2:11: a text begins with '%' here"},
		{"lost alias", "name: a\nnear: *b\n", "2:7: an alias (*name) stands here"},
		{"list after key", "name: a\nbooks: - id: a\n", "2:1: a list item stands where none can be"},
		{"backslash", "name: a\nnear: \"C:\\doors\"\n", "2:10: a backslash in double quotes is followed by a letter that means nothing"},
		{"far too deep", strings.Repeat("[", 20000), "1:1: lists and keys are nested far too deep here"},
		{"byte-order mark", "\xef\xbb\xbfname: a\n", "1:1: the file begins with a byte-order mark"},
		{"UTF-16", "\xff\xfen\x00", "1:1: the file is UTF-16"},
		{"Latin-1", "name: a\nnear: caf\xe9\n", "2:10: the byte 0xe9 is not UTF-8"},
		{"a zero byte", "name: a\nnear: b\x00\n", "2:8: a control character (0x00) stands here"},
		{"too large", strings.Repeat("#", 1<<16+1), "1:1: the file has 65537 bytes, and 65536 bytes are the most that is read"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, ps := readShelf(c.src)
			if len(ps) != 1 || !strings.HasPrefix(ps[0].Error(), c.want+"; ") {
				t.Errorf("got %v, want %s; and a hint", ps, c.want)
			}
		})
	}
}

func TestProblemsAreBounded(t *testing.T) {
	_, ps := readShelf("name: &a b\nsides: [" + strings.Repeat("*a, ", 10000) + "]\n")
	if len(ps) != mostProblems+1 || !strings.HasSuffix(ps[len(ps)-1].Message, "more problems are not listed") {
		t.Errorf("%d problems, the last is %v", len(ps), ps[len(ps)-1])
	}
}

func TestReferencesAreKept(t *testing.T) {
	n, _ := Read([]byte("name: a\nnear: b\n"), 100)
	var d Decoder
	var s shelf
	d.Into(n, &s)
	if len(d.Refs) != 1 || d.Refs[0].Kind != "shelf" || d.Refs[0].Name != "b" || d.Refs[0].Path != "near" || d.Refs[0].Node.Line != 2 {
		t.Errorf("%+v", d.Refs)
	}
}

func TestNearestName(t *testing.T) {
	names := []string{"shower-room", "utility", "living-room", "bedroom-1", "bedroom-2", "wc"}
	cases := map[string]string{
		"shower-rom": "shower-room", "showerroom": "shower-room", "shower": "shower-room", "Utility": "utility",
		"utiltiy": "utility", "bedroom-3": "bedroom-1", "cw": "wc", "garage": "", "": "", "living": "living-room",
	}
	for got, want := range cases {
		if near := NearestName(got, names); near != want {
			t.Errorf("%q is near %q, want %q", got, near, want)
		}
	}
}

func TestDistanceIsADistance(t *testing.T) {
	word := rapid.StringMatching(`[a-d]{0,7}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := distance(a, b)
		if d != distance(b, a) {
			t.Fatal("not the same both ways")
		}
		if (d == 0) != (a == b) || d > max(len(a), len(b)) || d < abs(len(a)-len(b)) {
			t.Fatalf("distance of %q and %q is %d", a, b, d)
		}
	})
}

func TestIDs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.String().Draw(t, "name")
		if id := ToID(name); id != "" && !IsID(id) {
			t.Fatalf("%q makes the id %q, which is none", name, id)
		}
	})
	for s, want := range map[string]bool{"a": true, "shower-room-2": true, "": false, "-a": false, "a-": false, "a--b": false, "A": false, "a_b": false} {
		if IsID(s) != want {
			t.Errorf("IsID(%q) = %v", s, !want)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"name: a\nwidth: 2 m\n", "books: [{id: a}]", "a: &a [*a]", "- x", "\t", "? {a: b}\n: c", "name: |\n  x\n", "%YAML 1.2\n---\na: b\n...\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		var s shelf
		n, ps := Read(src, 1<<16)
		if n != nil {
			ps = append(ps, Decode(n, &s)...)
		}
		lines := bytes.Count(src, []byte("\n")) + 1
		for _, p := range ps {
			if p.Line < 1 || p.Line > lines || p.Column < 1 || p.Message == "" {
				t.Fatalf("%d lines: %+v", lines, p)
			}
			if strings.Contains(p.Error(), "yaml:") {
				t.Fatalf("words of the parser: %v", p)
			}
		}
	})
}

func BenchmarkDecode(b *testing.B) {
	var src strings.Builder
	src.WriteString("name: big\nbooks:\n")
	for i := range 2000 {
		fmt.Fprintf(&src, "  - {id: book-%d, pages: %d}\n", i, i)
	}
	b.SetBytes(int64(src.Len()))
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			Read([]byte(src.String()), 1<<20)
		}
	})
	n, _ := Read([]byte(src.String()), 1<<20)
	b.Run("decode", func(b *testing.B) {
		for b.Loop() {
			var s shelf
			if ps := Decode(n, &s); len(ps) > 0 {
				b.Fatal(ps)
			}
		}
	})
}
