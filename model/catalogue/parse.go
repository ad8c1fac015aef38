package catalogue

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"example.org/roombrief/model/reading"
)

// Version of the catalogue that this program reads.
const Version = 1

// mostBytes of a catalogue; a shelf of ten thousand parts needs less.
const mostBytes = 8 << 20

// Error is everything that is wrong with a catalogue.
type Error struct{ Problems []reading.Problem }

// Error has one problem on each line.
func (e *Error) Error() string {
	lines := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Parse reads a catalogue. The error, when there is one, is an *Error with all that is wrong.
func Parse(src []byte) (*Catalogue, error) {
	c, problems := Read(src)
	if reading.Failed(problems) {
		return nil, &Error{problems}
	}
	return c, nil
}

// Read reads a catalogue as far as it goes, with every problem and warning in the order of the source.
func Read(src []byte) (*Catalogue, []reading.Problem) {
	c := &Catalogue{}
	root, problems := reading.Read(src, mostBytes)
	if root == nil {
		if len(problems) == 0 {
			problems = []reading.Problem{{Line: 1, Column: 1, Message: "the catalogue is empty", Hint: "it begins with `catalogue: 1`"}}
		}
		return c, problems
	}
	var d reading.Decoder
	for _, p := range append(problems, reading.Check(root)...) {
		d.Add(p)
	}
	d.Into(root, c)
	c.index()
	k := checker{Catalogue: c, list: &d.List, spoilt: spoilt(d.Sorted())}
	k.version(root)
	k.references(d.Refs)
	k.each(root)
	return c, d.Sorted()
}

// checker looks for what is well-formed and still can't be.
type checker struct {
	*Catalogue
	list   *reading.List
	spoilt map[string]bool
}

// spoilt names the parts that were not read whole. More about them would only repeat what was said.
func spoilt(problems []reading.Problem) map[string]bool {
	out := map[string]bool{}
	for _, p := range problems {
		if step := strings.SplitN(p.Path, "/", 3); !p.Warning && len(step) > 1 {
			out[step[0]+"/"+step[1]] = true
		}
	}
	return out
}

func (k *checker) version(root *yaml.Node) {
	if n := reading.Child(root, "catalogue"); n != nil && k.Version != Version && k.Version != 0 {
		k.list.At(n, "catalogue", fmt.Sprintf("the catalogue is of version %d", k.Version), fmt.Sprintf("this program reads version %d", Version))
	}
}

func (k *checker) references(refs []reading.Ref) {
	for _, r := range refs {
		names, what := make([]string, 0, len(k.Parts)), "part"
		if r.Kind == "limits" {
			what = "set of limits"
			for _, l := range k.Limits {
				names = append(names, l.ID)
			}
		} else {
			for _, p := range k.Parts {
				names = append(names, p.ID)
			}
		}
		if slices.Contains(names, r.Name) {
			continue
		}
		hint := "name one that the catalogue has"
		if near := reading.NearestName(r.Name, names); near != "" {
			hint = "did you mean " + near + "?"
		}
		k.list.At(r.Node, r.Path, "there is no "+what+" "+reading.Quote(r.Name), hint)
	}
}

func (k *checker) each(root *yaml.Node) {
	kinds := map[string]bool{}
	for _, p := range k.Parts {
		kinds[p.Kind] = true
	}
	if parts := reading.Child(root, "parts"); parts != nil && parts.Kind == yaml.SequenceNode {
		for i, n := range parts.Content {
			if i >= len(k.Parts) || n.Kind != yaml.MappingNode {
				continue
			}
			s := spot{k.list, n, fmt.Sprintf("parts/%d", i)}
			if p := k.Parts[i]; reading.IsID(p.ID) {
				s.path = "parts/" + p.ID
			}
			if !k.spoilt[s.path] && !k.spoilt[fmt.Sprintf("parts/%d", i)] {
				k.part(&k.Parts[i], s)
			}
		}
	}
	if limits := reading.Child(root, "limits"); limits != nil && limits.Kind == yaml.SequenceNode {
		for i, n := range limits.Content {
			if i < len(k.Limits) && !k.spoilt["limits/"+k.Limits[i].ID] {
				k.limitSet(&k.Limits[i], kinds, spot{k.list, n, "limits/" + k.Limits[i].ID})
			}
		}
	}
}

func (k *checker) limitSet(l *Limits, kinds map[string]bool, s spot) {
	if l.Guards == "" {
		s.fail("guards", "these limits don't say what a guard may look at", "guards: none, time, state or both")
	}
	for _, kind := range l.ToggleOnly {
		if !kinds[kind] {
			s.fail("toggle_only", "no part is of the kind "+reading.Quote(kind), "name kinds as the parts do")
		}
	}
}

// spot is the place of one part or set in the source.
type spot struct {
	list *reading.List
	node *yaml.Node
	path string
}

// fail places a problem at a key, or at the whole when the key isn't written.
func (s spot) fail(key, message, hint string) {
	at, path := s.node, s.path
	if n := reading.Child(s.node, key); n != nil {
		at, path = n, path+"/"+key
	}
	s.list.At(at, path, message, hint)
}
