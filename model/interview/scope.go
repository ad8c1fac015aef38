package interview

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// ask is a question with what its answer writes.
type ask struct {
	Question
	// write turns a text that is neither empty nor "unknown" into edits. Its errors are sentences.
	write func(text string) ([]projectfile.Edit, error)
	// declined names the detail in the brief's list of what was declined; "" when it cannot be.
	declined string
	// done overrides whether the question is answered; nil asks the file for the path.
	done func() bool
}

// scope is what the questions of one room, or of the home, are made from.
type scope struct {
	d    *projectfile.Document
	p    *model.Project
	room *model.Room // nil for the home
	base string      // "rooms/shower-room"
	kind *roomKind
	sys  q.System
	asks []ask
}

func newScope(d *projectfile.Document, room string) (*scope, bool) {
	s := &scope{d: d, p: d.Project(), kind: &otherKind}
	if s.p == nil {
		s.p = &model.Project{}
	}
	if s.p.Home.Units == "us" {
		s.sys = q.US
	}
	if room == "" {
		return s, true
	}
	for i := range s.p.Rooms {
		if s.p.Rooms[i].ID == room {
			s.room = &s.p.Rooms[i]
			s.base = "rooms/" + room
			s.kind = kindOf(s.room.Kind)
			return s, true
		}
	}
	return s, false
}

// build makes the questions that matter now, in order.
func (s *scope) build() []ask {
	s.asks = make([]ask, 0, 48)
	if s.room == nil {
		s.homeAsks()
		s.controllerAsk()
	} else {
		s.roomAsks()
		s.boxAsks()
		s.waterAsks()
		s.applianceAsks()
		s.lightAsks()
		s.airAsks()
		s.leakAsks()
		s.shutoffAsks()
		s.buttonAsks()
		s.wordsAsk()
	}
	for i := range s.asks {
		s.settle(&s.asks[i])
	}
	return s.asks
}

// add takes a question in; the id is its path within the room or the home.
func (s *scope) add(a ask) {
	if s.room != nil {
		a.Room = s.room.ID
		if !strings.HasPrefix(a.Path, "rooms/") {
			a.Path = s.base + "/" + a.Path
		}
	}
	if a.ID == "" {
		a.ID = strings.TrimPrefix(a.Path, s.base+"/")
	}
	s.asks = append(s.asks, a)
}

// settle says whether a question is answered or parked.
func (s *scope) settle(a *ask) {
	if a.DefaultAs == "" {
		a.DefaultAs = inWords(a.Question)
	}
	switch {
	case a.declined != "" && s.isDeclined(a.declined):
		a.Answered = true
		if a.Now == "" {
			a.Now, a.Answer = "no", "no"
		}
	case a.done != nil:
		a.Answered = a.done()
	default:
		a.Answered = s.d.Has(a.Path)
	}
	if a.Answered && a.Answer == "" {
		a.Answer = a.Now
	}
	at := openPath(a.Path)
	for _, o := range s.p.Open {
		if o.At == at || o.At == a.Path {
			a.Parked, a.AskWho = true, o.Ask
		}
	}
	if !a.Answered {
		a.Now, a.Answer = "", ""
	}
}

// inWords tells a default by the label of its choice.
func inWords(qn Question) string {
	for _, c := range qn.Choices {
		if c.Value == qn.Default && qn.Kind != Several {
			return c.Label
		}
	}
	if qn.Kind == Amount {
		var v q.Span
		var a q.Allowance
		if v.UnmarshalText([]byte(qn.Default)) == nil {
			return v.Show(q.Metric)
		}
		if a.UnmarshalText([]byte(qn.Default)) == nil {
			return a.Show(q.Metric)
		}
	}
	return qn.Default
}

// openPath is a path as an open point writes it: a room stands at its head by its own name.
func openPath(path string) string { return strings.TrimPrefix(path, "rooms/") }

func (s *scope) isDeclined(what string) bool {
	if s.room == nil {
		return false
	}
	for _, d := range s.room.Brief.Declined {
		if d == what {
			return true
		}
	}
	return false
}

// decline writes that a detail is not wanted, and takes it out of the file where it was.
func (s *scope) decline(what, path string) []projectfile.Edit {
	var out []projectfile.Edit
	if s.d.Has(path) {
		out = append(out, projectfile.Remove(path))
	}
	if !s.isDeclined(what) {
		out = append(out, projectfile.Append(s.base+"/brief/declined", projectfile.Quote(what)))
	}
	return out
}

// want writes a detail that may have been declined before.
func (s *scope) want(what, path, yaml string) []projectfile.Edit {
	out := []projectfile.Edit{projectfile.Set(path, yaml)}
	if s.room == nil {
		return out
	}
	var left []string
	for _, d := range s.room.Brief.Declined {
		if d != what {
			left = append(left, projectfile.Quote(d))
		}
	}
	if len(left) < len(s.room.Brief.Declined) {
		if len(left) == 0 {
			return append(out, projectfile.Remove(s.base+"/brief/declined"))
		}
		out = append(out, projectfile.Set(s.base+"/brief/declined", "["+strings.Join(left, ", ")+"]"))
	}
	return out
}

// written is a scalar of the room as it stands in the file, "" when there is none.
func (s *scope) written(rel string) string {
	text, _ := s.d.Text(s.base + "/" + rel)
	return text
}

// people who can be told something: no pets, and no children.
func (s *scope) adults() []model.Person {
	var out []model.Person
	for _, p := range s.p.People {
		if p.Role != "pet" && p.Role != "child" {
			out = append(out, p)
		}
	}
	return out
}

func nameOf(name, id string) string {
	if name != "" {
		return name
	}
	return wordsOf(id)
}

// wordsOf makes words of a short name.
func wordsOf(id string) string { return strings.ReplaceAll(id, "-", " ") }

// typed writes a short name so that the line grammars read it as a name: as words, unless one of them
// would be taken for a figure or for a word of the grammar.
func typed(id string) string {
	for _, w := range strings.Split(id, "-") {
		_, isBase := baseOf(w)
		if w == "" || w[0] >= '0' && w[0] <= '9' || isBase || isUnknown(w) || isNone(w) || grammarWords[w] {
			return id
		}
	}
	return wordsOf(id)
}

var grammarWords = map[string]bool{"zone": true, "outside": true, "x": true, "lamp": true, "lamps": true, "of": true, "with": true, "and": true, "yes": true,
	"supply": true, "waste": true, "appliance": true, "stopcock": true}

func accepted(found, what string) error { return fmt.Errorf("%q is not %s", found, what) }
