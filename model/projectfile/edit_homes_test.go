package projectfile

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

func exampleHomes(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../../fixtures/homes/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no example homes: %v", err)
	}
	homes := map[string][]byte{}
	for _, f := range files {
		if homes[filepath.Base(f)], err = os.ReadFile(f); err != nil {
			t.Fatal(err)
		}
	}
	return homes
}

// everyPlace calls f with the path of each value that is written in a file.
func everyPlace(s *source, f func(path string, n *yaml.Node)) {
	var walk func(n *yaml.Node, at []string)
	walk = func(n *yaml.Node, at []string) {
		for i := 0; n.Kind != yaml.ScalarNode && i < entries(n); i++ {
			v := (spot{n, i}).value()
			step := strconv.Itoa(i)
			if n.Kind == yaml.MappingNode {
				step = n.Content[2*i].Value
			} else if id := member(v, "id"); id != nil {
				step = id.Value
			}
			here := append(slices.Clone(at), step)
			f(joinPath(here), v)
			walk(v, here)
		}
	}
	walk(s.root, nil)
}

// Every value of the example homes is changed and changed back: the file must be what it was.
func TestThereAndBack(t *testing.T) {
	for name, src := range exampleHomes(t) {
		s, err := readSource(src)
		if err != nil {
			t.Fatal(err)
		}
		everyPlace(s, func(path string, n *yaml.Node) {
			if n.Kind != yaml.ScalarNode || strings.HasSuffix(path, "/id") || strings.HasSuffix(path, "/like") {
				return
			}
			start, end, err := s.span(n, n.Column-1)
			if err != nil || start == end {
				t.Errorf("%s: %s: %v", name, path, err)
				return
			}
			old := string(src[start:end])
			there, err := s.apply(Set(path, "x"))
			if err != nil {
				t.Errorf("%s: %s: %v", name, path, err)
				return
			}
			back, err := there.apply(Set(path, old))
			if err != nil || string(back.src) != string(src) {
				t.Errorf("%s: %s: back to %s: %v", name, path, old, err)
			}
		})
		all, err := s.comments()
		if err != nil || len(all) == 0 {
			t.Fatalf("%s: no comments: %v", name, err)
		}
		everyPlace(s, func(path string, _ *yaml.Node) {
			out, err := s.apply(Remove(path))
			if err != nil {
				t.Errorf("%s: removing %s: %v", name, path, err)
				return
			}
			left, err := out.comments()
			if err != nil {
				t.Errorf("%s: removing %s: %v", name, path, err)
			}
			for _, c := range all {
				if len(left) > 0 && left[0] == c {
					left = left[1:]
				}
			}
			if len(left) > 0 {
				t.Errorf("%s: removing %s made comments, or moved them: %q", name, path, left)
			}
		})
	}
}

// Every list of the example homes grows and is put in another order.
func TestListsOfHomes(t *testing.T) {
	for name, src := range exampleHomes(t) {
		s, err := readSource(src)
		if err != nil {
			t.Fatal(err)
		}
		everyPlace(s, func(path string, n *yaml.Node) {
			if n.Kind != yaml.SequenceNode {
				return
			}
			more, err := s.apply(Append(path, "{id: fresh-one, x-a: 1}"))
			if err != nil {
				t.Errorf("%s: %s: %v", name, path, err)
				return
			}
			if _, got := follow(more.root, strings.Split(path, "/")); got.Kind == yaml.SequenceNode && len(got.Content) != len(n.Content)+1 {
				t.Errorf("%s: %s has %d items, had %d", name, path, len(got.Content), len(n.Content))
			}
			less, err := more.apply(Remove(path + "/fresh-one"))
			if err != nil || len(n.Content) > 0 && string(less.src) != string(src) {
				t.Errorf("%s: %s: taking it away again: %v", name, path, err)
			}
			for to := range n.Content {
				moved, err := s.apply(Move(path+"/0", to))
				if err != nil {
					if !strings.Contains(err.Error(), "repeated from") {
						t.Errorf("%s: %s: to %d: %v", name, path, to, err)
					}
					continue
				}
				if to > 0 && len(moved.src) != len(src) {
					t.Errorf("%s: %s: moving changed the length by %d", name, path, len(moved.src)-len(src))
				}
			}
		})
	}
}
