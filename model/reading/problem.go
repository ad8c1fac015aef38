// Package reading turns YAML into structs by the tags of their fields, strictly, and says of everything
// that is wrong where it stands, what was found and what is accepted. It knows no project: the same
// reader serves the project file and the catalogue.
//
// Tags of a field:
//
//	key:"name,required"  its key in the file; one named id is kebab-case and unique in its list,
//	                     unless it is key:"id,path" and points elsewhere
//	doc:"What it is."    for people, in hints and the schema
//	enum:"a|b"           the only values of a text, or of each text of a list
//	min:"0" max:"2 m"    bounds of a number or quantity, or of each of a list
//	ref:"room"           the text names something elsewhere; see Ref
package reading

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Problem is one thing that is wrong, or odd, in a file.
type Problem struct {
	Line    int    // from 1
	Column  int    // from 1, in characters
	Path    string // rooms/shower-room/fans/extract/airflow; "" for the file as a whole
	Message string // what was found
	Hint    string // what is accepted, or what to do
	Warning bool   // the file can be used all the same
}

// Error is the problem in one line: line:column: path: message; hint.
func (p Problem) Error() string {
	s := fmt.Sprintf("%d:%d: ", p.Line, p.Column)
	if p.Path != "" {
		s += p.Path + ": "
	}
	s += p.Message
	if p.Hint != "" {
		s += "; " + p.Hint
	}
	return s
}

// mostProblems are kept of one file. More help nobody, and a hostile file could make millions.
const mostProblems = 500

// List gathers problems, the same thing once only.
type List struct {
	all  []Problem
	seen map[Problem]bool
	lost int
	last Problem
}

// Add takes one more.
func (l *List) Add(p Problem) {
	// An inherited mistake is found once for each room that repeats it; the place is one.
	key := Problem{Line: p.Line, Column: p.Column, Message: p.Message}
	if l.seen[key] {
		return
	}
	if len(l.all) >= mostProblems {
		l.lost++
		l.last = p
		return
	}
	if l.seen == nil {
		l.seen = map[Problem]bool{}
	}
	l.seen[key] = true
	l.all = append(l.all, p)
}

// At takes one more, placed at a node.
func (l *List) At(n *yaml.Node, path, message, hint string) {
	l.Add(Problem{Line: n.Line, Column: n.Column, Path: path, Message: message, Hint: hint})
}

// Has reports that the same was said of the same place, so that no work need go into a hint.
func (l *List) Has(n *yaml.Node, message string) bool {
	return l.seen[Problem{Line: n.Line, Column: n.Column, Message: message}]
}

// Full reports that no more are kept, so that no work need go into their words.
func (l *List) Full() bool { return len(l.all) >= mostProblems }

// Sorted gives them in the order of the file.
func (l *List) Sorted() []Problem {
	out := slices.Clone(l.all)
	slices.SortStableFunc(out, func(a, b Problem) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	if l.lost > 0 {
		out = append(out, Problem{
			Line: l.last.Line, Column: l.last.Column,
			Message: fmt.Sprintf("%d more problems are not listed", l.lost), Hint: "put the first ones right and look again",
		})
	}
	return out
}

// Failed reports whether one of them is more than a warning.
func Failed(ps []Problem) bool {
	return slices.ContainsFunc(ps, func(p Problem) bool { return !p.Warning })
}

// listed joins names for a sentence, cut short when there are too many to read.
func listed(names []string) string {
	const most = 20
	if len(names) > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
	}
	return strings.Join(names, ", ")
}
