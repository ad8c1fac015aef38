// Package projectfile is the YAML file of a project: reading it with everything that is wrong, looking
// into it by path, and changing it without touching what a person wrote around the change. It does no I/O.
package projectfile

import (
	"slices"
	"strconv"

	"example.org/roombrief/model"
	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// MostBytes of a project file that are read.
const MostBytes = 4 << 20

// Problem is one thing that is wrong, or odd, in a project file.
type Problem = reading.Problem

// Document is one state of a project file. It never changes: an edit makes another.
type Document struct {
	src      []byte
	root     *yaml.Node            // the top mapping as it is written; nil when there is none
	whole    *yaml.Node            // the same with every room complete that repeats another
	rooms    map[string]*yaml.Node // of whole, by id
	project  *model.Project
	problems []Problem
	version  int
}

// Parse reads a project file. It never fails: what is wrong is in Problems, and Project holds what could be
// read. An empty file is an empty project.
func Parse(src []byte) *Document {
	src = slices.Clone(src)
	root, problems := reading.Read(src, MostBytes)
	return judge(src, root, problems)
}

// judge makes a document of a file that was read: its bytes, which it keeps, and its top mapping.
func judge(src []byte, root *yaml.Node, problems []Problem) *Document {
	d := &Document{src: src, project: &model.Project{Version: model.Version}, version: model.Version}
	d.root, d.whole, d.problems = root, root, problems
	if root == nil {
		return d
	}
	var dec reading.Decoder
	for _, p := range problems {
		dec.Add(p)
	}
	if !d.readVersion(&dec) {
		d.root, d.whole = nil, nil
		d.problems = dec.Sorted()
		return d
	}
	for _, p := range reading.Check(root) {
		dec.Add(p)
	}
	d.whole = completeRooms(root, &dec.List)
	d.rooms = roomsByID(d.whole)
	p := &model.Project{}
	dec.Into(d.whole, p)
	p.Version = model.Version
	d.project = p
	verify(d, &dec)
	d.problems = dec.Sorted()
	return d
}

// Project is what the file says, as far as it could be read, with every room complete. It belongs to the
// document: don't change it.
func (d *Document) Project() *model.Project { return d.project }

// Source is the file, byte for byte.
func (d *Document) Source() []byte { return slices.Clone(d.src) }

// Problems are all that is wrong or odd, in the order of the file.
func (d *Document) Problems() []Problem { return slices.Clone(d.problems) }

// OK reports whether the project can be used: there may be warnings.
func (d *Document) OK() bool { return !reading.Failed(d.problems) }

// Has reports whether something is written at a path, in the room itself or in one that it repeats.
func (d *Document) Has(path string) bool { return d.at(path) != nil }

// Where is the line and column of what is written at a path, counted from 1; 1 and 1 when nothing is.
func (d *Document) Where(path string) (line, column int) {
	if n := d.at(path); n != nil {
		return n.Line, n.Column
	}
	return 1, 1
}

// Text is the scalar at a path as it is written, without quotes.
func (d *Document) Text(path string) (string, bool) {
	n := d.at(path)
	if n == nil || n.Kind != yaml.ScalarNode {
		return "", false
	}
	return n.Value, true
}

// Keys are the keys of a map, or the ids of a list's items, or their indexes where they have no id.
func (d *Document) Keys(path string) []string {
	n := d.at(path)
	if n == nil {
		return nil
	}
	var keys []string
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			keys = append(keys, n.Content[i].Value)
		}
	case yaml.SequenceNode:
		for i, item := range n.Content {
			if id := reading.Child(item, "id"); id != nil && id.Kind == yaml.ScalarNode && id.Value != "" {
				keys = append(keys, id.Value)
			} else {
				keys = append(keys, strconv.Itoa(i))
			}
		}
	}
	return keys
}

// at is the node at a path, nil when nothing is written there. The empty path is the whole file.
func (d *Document) at(path string) *yaml.Node {
	if d.whole == nil {
		return nil
	}
	if path == "" {
		return d.whole
	}
	steps, err := splitPath(path)
	if err != nil {
		return nil
	}
	return d.walk(steps)
}

func (d *Document) walk(steps []string) *yaml.Node {
	from := d.whole
	if len(steps) > 1 && steps[0] == "rooms" && d.rooms[steps[1]] != nil {
		from, steps = d.rooms[steps[1]], steps[2:]
	}
	trail, end := follow(from, steps)
	if len(trail) < len(steps) || isNull(end) {
		return nil
	}
	return end
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }
