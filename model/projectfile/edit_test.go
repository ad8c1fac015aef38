package projectfile

import (
	"strings"
	"testing"
)

// lines joins lines, so that what a test says about spaces can be seen.
func lines(l ...string) string { return strings.Join(l, "\n") + "\n" }

type editCase struct {
	name string
	src  string
	edit Edit
	want string
}

func runEdits(t *testing.T, cases []editCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for _, eol := range []string{"\n", "\r\n"} {
				src := strings.ReplaceAll(c.src, "\n", eol)
				want := strings.ReplaceAll(c.want, "\n", eol)
				got, err := applyEdit([]byte(src), c.edit)
				if err != nil {
					t.Fatalf("line end %q: %v", eol, err)
				}
				if string(got) != want {
					t.Fatalf("line end %q\ngot:\n%s\nwant:\n%s", eol, got, want)
				}
				if eol == "\n" && strings.HasSuffix(src, "\n") {
					got, err = applyEdit([]byte(strings.TrimSuffix(src, "\n")), c.edit)
					if err != nil || string(got) != strings.TrimSuffix(want, "\n") {
						t.Fatalf("without a last newline: %v\ngot:\n%s\nwant:\n%s", err, got, want)
					}
				}
			}
		})
	}
}

func TestSetScalar(t *testing.T) {
	runEdits(t, []editCase{
		{"plain", "a: 1\nb: 2\n", Set("a", "3"), "a: 3\nb: 2\n"},
		{
			"unit as typed", "rooms:\n  - {id: x, fans: [{id: f, airflow: 21 l/s}]}\n", Set("rooms/x/fans/f/airflow", "45 cfm"),
			"rooms:\n  - {id: x, fans: [{id: f, airflow: 45 cfm}]}\n",
		},
		{"double quotes stay", `a: "22:45"` + "\n", Set("a", "23:00"), `a: "23:00"` + "\n"},
		{"single quotes stay", "a: 'it''s'\n", Set("a", "isn't"), "a: 'isn''t'\n"},
		{"quotes give way to a number", "a: 'x'\n", Set("a", "5"), "a: 5\n"},
		{"quotes brought along", "a: x\n", Set("a", `"y: z"`), `a: "y: z"` + "\n"},
		{"comment keeps its column", "a: on entry     # one\nbb: x          # two\n", Set("a", "on request"), "a: on request   # one\nbb: x          # two\n"},
		{"comment column by the neighbour", "a: long-word # one\nb: x         # two\n", Set("a", "long"), "a: long      # one\nb: x         # two\n"},
		{"lone comment", "a: x # one\n", Set("a", "longer"), "a: longer # one\n"},
		{"comment pushed", "a: x  # one\n", Set("a", "longer"), "a: longer # one\n"},
		{"same value", "a: \"x\"   # one\n", Set("a", "x"), "a: \"x\"   # one\n"},
		{"wide characters before", "\"\u00fc\u6f22\": {\u00e9: \u6f22\u6f22, b: 1} # \u00e9\n", Set("\u00fc\u6f22/b", "2"), "\"\u00fc\u6f22\": {\u00e9: \u6f22\u6f22, b: 2} # \u00e9\n"},
		{"tabs", "a:\tx\t# one\n", Set("a", "y"), "a:\ty\t# one\n"},
		{"null", "a:\nb: 1\n", Set("a", "x"), "a: x\nb: 1\n"},
		{"null with a comment", "a: # say\nb: 1\n", Set("a", "x"), "a: x # say\nb: 1\n"},
		{"null in flow", "r: {x, y: , z: 1}\n", Set("r/y", "2"), "r: {x, y: 2 , z: 1}\n"},
		{"bare key in flow", "r: {x, z: 1}\n", Set("r/x", "2"), "r: {x: 2, z: 1}\n"},
		{"folded plain", "a: one\n  two\n\n  three\nb: 1\n", Set("a", "x"), "a: x\nb: 1\n"},
		{"literal", "a: |\n  one\n\n  two\nb: 1\n", Set("a", "x"), "a: x\nb: 1\n"},
		{"literal with an indent", "r:\n  a: |2\n      one\n    two\n  b: 1\n", Set("r/a", "x"), "r:\n  a: x\n  b: 1\n"},
		{"to literal", "r:\n  a: x\n  b: 1\n", Set("r/a", "|\n one\n two"), "r:\n  a: |\n    one\n    two\n  b: 1\n"},
		{"flow needs quotes", "r: {a: x}\n", Set("r/a", "one, two"), "r: {a: \"one, two\"}\n"},
		{"index", "r:\n  - a\n  - b\n", Set("r/1", "c"), "r:\n  - a\n  - c\n"},
		{"key with a slash", "u: {hall/lamp: a}\n", Set("u/{hall/lamp}", "b"), "u: {hall/lamp: b}\n"},
		{"quoted key", "\"u\": 'a'\n", Set("u", "b"), "\"u\": 'b'\n"},
		{"after a literal", "a: |\n  # no comment\n  x\nb: 1\n", Set("b", "2"), "a: |\n  # no comment\n  x\nb: 2\n"},
	})
}

func TestSetCollections(t *testing.T) {
	runEdits(t, []editCase{
		{"flow for scalar", "a: none # why\n", Set("a", "{b: 1}"), "a: {b: 1} # why\n"},
		{"flow list for flow list", "a: [x, y]   # why\n", Set("a", "[x]"), "a: [x]      # why\n"},
		{"block for scalar", "r:\n  a: none # why\n  b: 1\n", Set("r/a", "x: 1\ny:\n  - 2"), "r:\n  a: # why\n    x: 1\n    y:\n      - 2\n  b: 1\n"},
		{"block list for empty list", "r:\n  a: []\n  b: 1\n", Set("r/a", "- x\n- y"), "r:\n  a:\n    - x\n    - y\n  b: 1\n"},
		{"block in an item", "r:\n  - x # why\n  - y\n", Set("r/0", "a: 1\nb: 2"), "r:\n  - # why\n    a: 1\n    b: 2\n  - y\n"},
		{"block hangs from its dash", "r:\n  - x\n  - y\n", Set("r/0", "a: 1\nb: 2"), "r:\n  - a: 1\n    b: 2\n  - y\n"},
		{"scalar for block", "r:\n  a: # why\n    - x\n    # in\n    - y\n    # end\n  # of b\n  b: 1\n", Set("r/a", "none"), "r:\n  a: none # why\n  # of b\n  b: 1\n"},
		{"list for list", "r:\n  a:\n    - x\n    - y\n  b: 1\n", Set("r/a", "- z"), "r:\n  a:\n    - z\n  b: 1\n"},
		{
			"map for map touches what differs", lines("r:", "  # of a", "  a: 1 # one", "", "  b: 2 # two", "  # of c", "  c: 3"), Set("r", "{b: 2, a: 4, d: 5}"),
			lines("r:", "  # of a", "  a: 4 # one", "", "  b: 2 # two", "  d: 5"),
		},
		{"block into flow", "r: {a: x, b: 1}\n", Set("r/a", "p: 1\nq: [2]"), "r: {a: {p: 1, q: [2]}, b: 1}\n"},
		{"order of keys doesn't count", "r: {a: 1, b: 2}\n", Set("r", "{b: 2, a: 1}"), "r: {a: 1, b: 2}\n"},
	})
}

func TestSetMissing(t *testing.T) {
	room := lines("rooms:", "  - id: x", "    kind: study # what", "", "  - id: y", "    kind: hall")
	runEdits(t, []editCase{
		{"deep", room, Set("rooms/x/brief/lighting/stop/after", "6m"), lines("rooms:", "  - id: x", "    kind: study # what",
			"    brief:", "      lighting:", "        stop: {after: 6m}", "", "  - id: y", "    kind: hall")},
		{"last room", room, Set("rooms/y/floor", "1"), lines("rooms:", "  - id: x", "    kind: study # what", "", "  - id: y", "    kind: hall", "    floor: 1")},
		{
			"order of the format", lines("rooms:", "  - id: x", "    kind: study", "    brief: {leak: none}"), Set("rooms/x/floor", "2"),
			lines("rooms:", "  - id: x", "    kind: study", "    floor: 2", "    brief: {leak: none}"),
		},
		{
			"before all others", "rooms:\n  - id: x\n    brief:\n      lighting:\n        # the end\n        stop: {never_while: occupied}\n", Set("rooms/x/brief/lighting/start", "on entry"),
			"rooms:\n  - id: x\n    brief:\n      lighting:\n        start: on entry\n        # the end\n        stop: {never_while: occupied}\n",
		},
		{
			"before all others in flow", "rooms:\n  - {id: x, brief: {lighting: {stop: {never_while: occupied}}}}\n", Set("rooms/x/brief/lighting/stop/after", "6m"),
			"rooms:\n  - {id: x, brief: {lighting: {stop: {after: 6m, never_while: occupied}}}}\n",
		},
		{
			"into flow", "rooms:\n  - {id: x, kind: study}\n", Set("rooms/x/brief/lighting/start", "on entry"),
			"rooms:\n  - {id: x, kind: study, brief: {lighting: {start: on entry}}}\n",
		},
		{"into an empty map", "x-a: {}\nx-b: 1\n", Set("x-a/c", "1"), "x-a:\n  c: 1\nx-b: 1\n"},
		{
			"under a declined goal", "rooms:\n  - id: x\n    brief:\n      leak: none # said no\n", Set("rooms/x/brief/leak/within", "30s"),
			"rooms:\n  - id: x\n    brief:\n      leak: # said no\n        within: 30s\n",
		},
		{"under a null", "rooms:\n  - id: x\n    brief:\n", Set("rooms/x/brief/leak/within", "30s"), "rooms:\n  - id: x\n    brief:\n      leak:\n        within: 30s\n"},
		{
			"top level", "roombrief: 1\n\n# the house\nhome: {name: A}\n\nrooms: []\n\n# end\n", Set("people", "[]"),
			"roombrief: 1\n\n# the house\nhome: {name: A}\n\npeople: []\n\nrooms: []\n\n# end\n",
		},
		{"key that needs quotes", "choices:\n  use: {a: b}\n", Set("choices/use/{x: y/z}", "c"), "choices:\n  use: {a: b, \"x: y/z\": c}\n"},
		{"slash key made", "roombrief: 1\n", Set("choices/use/{hall/lamp}", "c"), "roombrief: 1\nchoices:\n  use:\n    hall/lamp: c\n"},
		{"flow over lines", lines("r: {", "    a: 1, # one", "    b: 2  # two", "  }"), Set("r/c", "3"), lines("r: {", "    a: 1, # one", "    b: 2,  # two", "    c: 3", "  }")},
		{"flow over lines, last comma", lines("r: {", "    a: 1, # one", "  }"), Set("r/c", "3"), lines("r: {", "    a: 1, # one", "    c: 3,", "  }")},
		{"flow with room inside", "r: { a: 1 }\n", Set("r/b", "2"), "r: { a: 1, b: 2 }\n"},
		{"after inner comments", lines("r:", "  a: 1", "  # a note to a", "", "# of s", "s: 1"), Set("r/b", "2"), lines("r:", "  a: 1", "  # a note to a", "  b: 2", "", "# of s", "s: 1")},
		{"after a literal", "r:\n  a: |\n    one\n\n    two\n\ns: 1\n", Set("r/b", "2"), "r:\n  a: |\n    one\n\n    two\n  b: 2\n\ns: 1\n"},
		{"file's own indent", "r:\n    a:\n        b: 1\n", Set("r/c", "d: 1"), "r:\n    a:\n        b: 1\n    c:\n        d: 1\n"},
		{"lists without indent", "r:\n- a\ns:\n  b: 1\n", Set("s/c", "- d"), "r:\n- a\ns:\n  b: 1\n  c:\n  - d\n"},
	})
	// A text that ends in a newline needs one in the file.
	for _, src := range []string{"r:\n  a: 1\n", "r:\n  a: 1"} {
		got, err := applyEdit([]byte(src), Set("r/b", "|\n  one\n  two"))
		if want := "r:\n  a: 1\n  b: |\n    one\n    two\n"; err != nil || string(got) != want {
			t.Errorf("text of many lines: %v\n%s", err, got)
		}
	}
	for _, src := range []string{"", "# only a comment\n"} {
		got, err := applyEdit([]byte(src), Set("home/name", "A"))
		if want := src + "home:\n  name: A\n"; err != nil || string(got) != want {
			t.Errorf("empty file: %v\n%s", err, got)
		}
	}
}

func TestAppend(t *testing.T) {
	runEdits(t, []editCase{
		{"block", lines("r:", "  - {id: a}  # one", "", "s: 1"), Append("r", "{id: b}"), lines("r:", "  - {id: a}  # one", "  - {id: b}", "", "s: 1")},
		{"block item", "r:\n  - id: a\n", Append("r", "id: b\nx: 1"), "r:\n  - id: a\n  - id: b\n    x: 1\n"},
		{"airy list", "r:\n  - id: a\n\n  - id: b\n", Append("r", "id: c"), "r:\n  - id: a\n\n  - id: b\n\n  - id: c\n"},
		{"flow", "r: [a, b] # why\n", Append("r", "c"), "r: [a, b, c] # why\n"},
		{"empty list of maps", "r: [] # why\n", Append("r", "{id: a}"), "r: # why\n  - {id: a}\n"},
		{"empty list of words", "r: []\n", Append("r", "a"), "r: [a]\n"},
		{"empty list in flow", "r: {s: [ ]}\n", Append("r/s", "{id: a}"), "r: {s: [{id: a}]}\n"},
		{"declined", "r: none\n", Append("r", "{id: a}"), "r:\n  - {id: a}\n"},
		{"missing", "rooms:\n  - id: x\n", Append("rooms/x/circuits", "{id: c}"), "rooms:\n  - id: x\n    circuits:\n      - {id: c}\n"},
		{"missing with parents", "rooms:\n  - id: x\n", Append("rooms/x/brief/leak/tell", "rosa"), "rooms:\n  - id: x\n    brief:\n      leak:\n        tell: [rosa]\n"},
		{"several", "r: [a]\n", Append("r", "- b\n- c"), "r: [a, b, c]\n"},
		{"lists without indent", "r:\n- a\n# of s\ns: 1\n", Append("r", "b"), "r:\n- a\n- b\n# of s\ns: 1\n"},
		{"after a deep end", "r:\n  - id: a\n    x:\n      y: 1\n      # deep\ns: 1\n", Append("r", "{id: b}"), "r:\n  - id: a\n    x:\n      y: 1\n      # deep\n  - {id: b}\ns: 1\n"},
		{"list in a list", "r:\n  - - a\n    - b\n", Append("r/0", "c"), "r:\n  - - a\n    - b\n    - c\n"},
		{"flow with a last comma", "r: [a, ]\n", Append("r", "b"), "r: [a, b, ]\n"},
	})
}

func TestRemove(t *testing.T) {
	runEdits(t, []editCase{
		{"key with its comment", lines("a: 1", "# of b", "b: 2 # two", "c: 3"), Remove("b"), lines("a: 1", "c: 3")},
		{"others' comments stay", lines("a: 1", "# apart", "", "b:", "  x: 1", "  # in b", "# of c", "c: 3"), Remove("b"), lines("a: 1", "# apart", "", "# of c", "c: 3")},
		{"item", lines("r:", "  - id: a", "    x: 1", "  # of b", "  - id: b", "  - id: c"), Remove("r/b"), lines("r:", "  - id: a", "    x: 1", "  - id: c")},
		{"last item", "r:\n  - a # one\ns: 1\n", Remove("r/0"), "r: []\ns: 1\n"},
		{"last key", "r:\n  a: 1\ns: 1\n", Remove("r/a"), "r: {}\ns: 1\n"},
		{"first key of an item", "r:\n  - id: a # one\n\n    # of x\n    x: 1\n", Remove("r/0/id"), "r:\n  - # of x\n    x: 1\n"},
		{"first in flow", "r: {a: 1, b: 2}\n", Remove("r/a"), "r: {b: 2}\n"},
		{"middle in flow", "r: [a, b, c]\n", Remove("r/1"), "r: [a, c]\n"},
		{"end of flow", "r: { a: 1, b: 2 }\n", Remove("r/b"), "r: { a: 1 }\n"},
		{"only in flow", "r: {s: {a: 1}, t: 2}\n", Remove("r/s/a"), "r: {s: {}, t: 2}\n"},
		{"flow over lines", lines("r: {", "    a: 1, # one", "    b: 2, # two", "    c: 3 # three", "  }"), Remove("r/b"), lines("r: {", "    a: 1, # one", "    c: 3 # three", "  }")},
		{"end of flow over lines", lines("r: {", "    a: 1, # one", "    b: 2 # two", "  }"), Remove("r/b"), lines("r: {", "    a: 1 # one", "  }")},
		{"blank lines don't pile up", "a: 1\n\nb: 2\n\nc: 3\n", Remove("b"), "a: 1\n\nc: 3\n"},
		{"blank lines at the end", "a: 1\n\nb: 2\n", Remove("b"), "a: 1\n"},
		{"absent", "a: 1 # x\n", Remove("b/c"), "a: 1 # x\n"},
		{"the file's heading stays", "# My house\na: 1\nb: 2\n", Remove("a"), "# My house\nb: 2\n"},
	})
}

func TestMove(t *testing.T) {
	block := lines("r:", "  # of a", "  - id: a", "    x: 1", "", "  - id: b # two", "  - id: c", "s: 1")
	runEdits(t, []editCase{
		{"down", block, Move("r/a", 2), lines("r:", "  - id: b # two", "", "  - id: c", "  # of a", "  - id: a", "    x: 1", "s: 1")},
		{"up", block, Move("r/c", 0), lines("r:", "  - id: c", "", "  # of a", "  - id: a", "    x: 1", "  - id: b # two", "s: 1")},
		{"nowhere", block, Move("r/b", 1), block},
		{"flow", "r: [a, b,  c] # x\n", Move("r/2", 0), "r: [c, a,  b] # x\n"},
		{"flow over lines", lines("r: [", "    a, # one", "    b, # two", "    c", "  ]"), Move("r/0", 1), lines("r: [", "    b, # two", "    a, # one", "    c", "  ]")},
		{"to the end of the file", "r:\n  - a\n  - b\n", Move("r/0", 1), "r:\n  - b\n  - a\n"},
	})
}

func TestRepeatedRoom(t *testing.T) {
	src := lines("rooms:",
		"  - id: one",
		"    circuits:",
		"      - {id: c, lamps: 1} # first",
		"      # the second",
		"      - {id: d, lamps: 2}",
		"    brief:",
		"      lighting:",
		"        start: on entry",
		"        periods: [{from: sunset, level: 5 %}]",
		"      leak:",
		"        tell:",
		"          - rosa # owner",
		"          # may be away",
		"          - dilip",
		"  - id: two",
		"    like: one")
	own := func(l ...string) string { return src + lines(l...) }
	runEdits(t, []editCase{
		{"a key of a map", src, Set("rooms/two/brief/lighting/start", "on request"), own("    brief:", "      lighting:", "        start: on request")},
		{"an item with an id", src, Set("rooms/two/circuits/d/lamps", "3"), own("    circuits:", "      - {id: d, lamps: 3}")},
		{"the same by its index", src, Set("rooms/two/circuits/1/lamps", "3"), own("    circuits:", "      - {id: d, lamps: 3}")},
		{
			"another item", own("    circuits:", "      - {id: d, lamps: 3}"), Set("rooms/two/circuits/0/lamps", "4"),
			own("    circuits:", "      - {id: d, lamps: 3}", "      - {id: c, lamps: 4}"),
		},
		{"a new item", src, Append("rooms/two/circuits", "{id: e, lamps: 1}"), own("    circuits:", "      - {id: e, lamps: 1}")},
		{
			"an item without an id", src, Set("rooms/two/brief/lighting/periods/0/level", "7 %"),
			own("    brief:", "      lighting:", "        periods: [{from: sunset, level: 7 %}]"),
		},
		{
			"appending", src, Append("rooms/two/brief/lighting/periods", "{from: 23:00, level: 1 %}"),
			own("    brief:", "      lighting:", "        periods: [{from: sunset, level: 5 %}, {from: 23:00, level: 1 %}]"),
		},
		{"removing", src, Remove("rooms/two/brief/leak/tell/0"), own("    brief:", "      leak:", "        tell:", "          # may be away", "          - dilip")},
		{"moving", src, Move("rooms/two/brief/leak/tell/1", 0), own("    brief:", "      leak:", "        tell:", "          # may be away", "          - dilip", "          - rosa # owner")},
		{"an override taken back", own("    circuits:", "      - {id: d, lamps: 3}"), Remove("rooms/two/circuits/d"), own("    circuits: []")},
	})
	for _, e := range []Edit{Remove("rooms/two/brief/lighting/start"), Remove("rooms/two/circuits/c"), Move("rooms/two/circuits/d", 0), Set("rooms/two/circuits", "[{id: c}]")} {
		if got, err := applyEdit([]byte(src), e); err == nil || !strings.Contains(err.Error(), "repeated from one") {
			t.Errorf("%+v: %v\n%s", e, err, got)
		}
	}
	if _, err := applyEdit([]byte(src), Set("rooms/two/circuits/x/lamps", "1")); err == nil || !strings.Contains(err.Error(), "it has c, d") {
		t.Errorf("an item that isn't there: %v", err)
	}
}

// What can't be spliced is written anew, and no more than that: the space in `s :  1` tells.
func TestSmallestPartIsRewritten(t *testing.T) {
	for _, c := range []editCase{
		{"key after a question mark", "s :  1\nr:\n  ? a\n  : 1 # one\n\n  b:   2 # two\n", Remove("r/a"), "s :  1\nr:\n  b: 2 # two\n"},
		{"another of its keys", "s :  1\nr:\n  # of a\n  ? a\n  : 1\n  b:   2 # two\n", Remove("r/b"), "s :  1\nr:\n  # of a\n  ? a\n  : 1\n"},
		{"pair without braces", "s :  1\nr: [a: b,  c] # x\nt:   1\n", Set("r/0/d", "1"), "s :  1\nr: [{a: b, d: 1},  c] # x\nt:   1\n"},
	} {
		got, err := applyEdit([]byte(c.src), c.edit)
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %v\ngot:\n%s\nwant:\n%s", c.name, err, got, c.want)
		}
	}
	// A text that ends the file without a newline keeps being without one.
	got, err := applyEdit([]byte("r:\n  a: |\n    text"), Set("r/b", "1"))
	if want := "r:\n  a: |-\n    text\n  b: 1"; err != nil || string(got) != want {
		t.Errorf("%v\n%s", err, got)
	}
}

func TestEditsRefused(t *testing.T) {
	src := "a: &x {k: 1}\nb: *x\nrooms:\n  - {id: one, floor: 1}\n? k\n: v\n"
	for _, c := range []struct {
		edit Edit
		says string
	}{
		{Set("a/k", "2"), "&x"},
		{Set("b/k", "2"), "*x"},
		{Set("a", "2"), "in place"},
		{Set("rooms/two/floor", "2"), `has no item "two"; it has one`},
		{Set("rooms/one/circuits/c/lamps", "2"), `has no item "c"`},
		{Set("rooms/one/floor/x", "2"), "single value"},
		{Set("rooms/one/floor", "a: b: c"), "not YAML"},
		{Set("rooms/one/floor", " "), "nothing to write"},
		{Set("rooms/one/floor", "# x"), "holds no value"},
		{Set("rooms//floor", "1"), "empty step"},
		{Set("", "1"), "empty step"},
		{Set("{a", "1"), "open brace"},
		{Append("rooms/one/floor", "1"), "not a list"},
		{Move("rooms/one", 1), "outside the list"},
		{Move("rooms", 0), "items of a list"},
		{Move("rooms/two", 0), "nothing here"},
		{Remove("k"), "in place"},
	} {
		if _, err := applyEdit([]byte(src), c.edit); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v, want %q", c.edit, err, c.says)
		}
	}
}

func TestQuote(t *testing.T) {
	for text, want := range map[string]string{
		"plain words": "plain words", "21 l/s": "21 l/s", "": `""`, "5": `"5"`, "true": `"true"`, "a: b": `"a: b"`, "a, b": `"a, b"`, "- a": `"- a"`,
		"it's": "it's", `say "so"`: `say "so"`, `"so"`: `"\"so\""`, " x": `" x"`, "a #b": `"a #b"`, "one\ntwo": `"one\ntwo"`, "null": `"null"`, "\u00e9t\u00e9": "\u00e9t\u00e9",
		"---": `"---"`, "? x": `"? x"`, "2026-03-02": `"2026-03-02"`,
	} {
		if got := Quote(text); got != want {
			t.Errorf("Quote(%q) = %s, want %s", text, got, want)
		}
		for _, around := range []string{"k: %", "- %", "[%]", "{k: %}"} {
			s, err := readSource([]byte(strings.Replace(around, "%", Quote(text), 1)))
			if err != nil {
				t.Fatalf("%q in %s: %v", text, around, err)
			}
			n := s.root.Content[len(s.root.Content)-1]
			if n.Value != text || n.ShortTag() != "!!str" {
				t.Errorf("%q in %s reads as %s %q", text, around, n.ShortTag(), n.Value)
			}
		}
	}
}
