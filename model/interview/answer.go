package interview

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/model/projectfile"
)

// All lists the questions that matter now, in the order in which they are asked. Room "" is the home's; a
// room that does not exist has none.
func All(d *projectfile.Document, room string) []Question {
	s, ok := newScope(d, room)
	if !ok {
		return nil
	}
	asks := s.build()
	out := make([]Question, len(asks))
	for i, a := range asks {
		out[i] = a.Question
	}
	return out
}

// Next is the first question that is neither answered nor parked.
func Next(d *projectfile.Document, room string) (Question, bool) {
	for _, qn := range All(d, room) {
		if !qn.Answered && !qn.Parked {
			return qn, true
		}
	}
	return Question{}, false
}

// Before is the question that is asked before q, answered or not.
func Before(d *projectfile.Document, qn Question) (Question, bool) {
	all := All(d, qn.Room)
	for i, x := range all {
		if x.ID == qn.ID {
			if i == 0 {
				return Question{}, false
			}
			return all[i-1], true
		}
	}
	if len(all) > 0 {
		return all[len(all)-1], true
	}
	return Question{}, false
}

// Progress counts the questions that are answered, and those that matter.
func Progress(d *projectfile.Document, room string) (done, of int) {
	all := All(d, room)
	for _, qn := range all {
		if qn.Answered {
			done++
		}
	}
	return done, len(all)
}

// find is the question as it stands now, with what writes it.
func find(d *projectfile.Document, qn Question) (*scope, ask, error) {
	s, ok := newScope(d, qn.Room)
	if !ok {
		return nil, ask{}, fmt.Errorf("there is no room %q in this home any more", qn.Room)
	}
	for _, a := range s.build() {
		if a.ID == qn.ID {
			return s, a, nil
		}
	}
	return nil, ask{}, fmt.Errorf("this question no longer matters: what it asks about has gone or was declined")
}

// Answer writes what a text says. An empty text takes the default. The error is a sentence that says what
// is accepted; the document is then as it was.
func Answer(d *projectfile.Document, qn Question, text string) (*projectfile.Document, error) {
	s, a, err := find(d, qn)
	if err != nil {
		return d, err
	}
	text = strings.TrimSpace(strings.ToValidUTF8(text, ""))
	if text == "" {
		text = a.Default
	}
	edits, err := s.edits(a, text)
	if err != nil {
		return d, err
	}
	if !(a.CanBeUnknown && isUnknown(text)) { // what nobody knows stays an open point
		edits = append(edits, s.unpark(a.Path)...)
	}
	if len(edits) == 0 {
		return d, nil
	}
	out, err := d.Apply(edits...)
	if err != nil {
		return d, fmt.Errorf("that cannot be written: %w", plainError(err))
	}
	return out, nil
}

func (s *scope) edits(a ask, text string) ([]projectfile.Edit, error) {
	if isUnknown(text) && a.CanBeUnknown {
		return []projectfile.Edit{projectfile.Set(a.Path, "unknown")}, nil
	}
	if fold(text) == "unknown" && (a.Kind == YesNo || a.Kind == Amount || a.Kind == OneOf || a.Kind == Count || a.Kind == Times) {
		return nil, errors.New("this one cannot be left unknown; park it instead, and it becomes an open point")
	}
	return a.write(text)
}

// plainError drops places in the file from an error: whoever answers a question sees no file.
func plainError(err error) error {
	var r *projectfile.Rejected
	if !errors.As(err, &r) || len(r.Problems) == 0 {
		return err
	}
	text := r.Problems[0].Message
	if hint := r.Problems[0].Hint; hint != "" {
		text += "; " + hint
	}
	return errors.New(text)
}

// Park makes an open point of a question: somebody else will know, or nobody does yet.
func Park(d *projectfile.Document, qn Question, who string, on time.Time) (*projectfile.Document, error) {
	s, a, err := find(d, qn)
	if err != nil {
		return d, err
	}
	entry := "{at: " + projectfile.Quote(openPath(a.Path))
	if who = strings.TrimSpace(strings.ToValidUTF8(who, "")); who != "" {
		entry += ", ask: " + projectfile.Quote(who)
	}
	if !on.IsZero() {
		entry += ", since: " + on.Format("2006-01-02")
	}
	edits := append(s.unpark(a.Path), projectfile.Append("open", entry+"}"))
	out, err := d.Apply(edits...)
	if err != nil {
		return d, fmt.Errorf("that cannot be parked: %w", plainError(err))
	}
	return out, nil
}

// Unpark takes a question out of the open points, so that it is asked again.
func Unpark(d *projectfile.Document, qn Question) (*projectfile.Document, error) {
	s, a, err := find(d, qn)
	if err != nil {
		return d, err
	}
	edits := s.unpark(a.Path)
	if len(edits) == 0 {
		return d, nil
	}
	out, err := d.Apply(edits...)
	if err != nil {
		return d, fmt.Errorf("that cannot be taken up again: %w", plainError(err))
	}
	return out, nil
}

// unpark removes the open points at a path, the last first so that the others keep their places.
func (s *scope) unpark(path string) []projectfile.Edit {
	var out []projectfile.Edit
	at := openPath(path)
	for i := len(s.p.Open) - 1; i >= 0; i-- {
		if s.p.Open[i].At == at || s.p.Open[i].At == path {
			out = append(out, projectfile.Remove(fmt.Sprintf("open/%d", i)))
		}
	}
	return out
}

// Say keeps words as they were said. The goal is lighting, ventilation, leak, shutoff, buttons or room.
func Say(d *projectfile.Document, room, goal, words string) (*projectfile.Document, error) {
	s, ok := newScope(d, room)
	if !ok || s.room == nil {
		return d, fmt.Errorf("there is no room %q to keep words for", room)
	}
	switch goal {
	case "":
		goal = "room"
	case "lighting", "ventilation", "leak", "shutoff", "buttons", "room":
	default:
		return d, fmt.Errorf("%q is no goal; accepted: lighting, ventilation, leak, shutoff, buttons, room", goal)
	}
	if words = strings.TrimSpace(strings.ToValidUTF8(words, "")); words == "" {
		return d, errors.New("nothing was said yet; type the words as they were spoken")
	}
	edits, err := s.sayEdits(goal, words)
	if err != nil {
		return d, err
	}
	out, err := d.Apply(edits...)
	if err != nil {
		return d, fmt.Errorf("that cannot be written: %w", plainError(err))
	}
	return out, nil
}

// GoalOf is the goal that a chapter is about, for Say.
func GoalOf(ch Chapter) string {
	switch ch {
	case Light:
		return "lighting"
	case Air:
		return "ventilation"
	case WaterGoal:
		return "leak"
	case Appliances:
		return "shutoff"
	case Buttons:
		return "buttons"
	}
	return "room"
}

// AddRoom puts a room of a kind at the end of the list and says its id. An empty name takes the kind's.
func AddRoom(d *projectfile.Document, kind, name string) (*projectfile.Document, string, error) {
	s, _ := newScope(d, "")
	kind, name = strings.TrimSpace(strings.ToValidUTF8(kind, "")), strings.TrimSpace(strings.ToValidUTF8(name, ""))
	if kind == "" || len(kind) > 60 || len(name) > 200 {
		return d, "", errors.New("a room needs a kind of a word or two, as in shower room")
	}
	k := kindOf(kind)
	if k.ID != "" {
		kind = k.ID
	}
	if name == "" {
		name = k.Name
		if k.ID == "" {
			name = begin(kind)
		}
		name = s.freeName(name)
	}
	taken := map[string]bool{}
	for _, r := range s.p.Rooms {
		taken[r.ID] = true
	}
	id := slug(name, taken)
	yaml := "id: " + projectfile.Quote(id) + "\nname: " + projectfile.Quote(name) + "\nkind: " + projectfile.Quote(kind)
	out, err := d.Apply(projectfile.Append("rooms", yaml))
	if err != nil {
		return d, "", fmt.Errorf("the room cannot be added: %w", plainError(err))
	}
	return out, id, nil
}

// AcceptChapter answers every open question of a chapter with its default.
func AcceptChapter(d *projectfile.Document, room string, ch Chapter) (*projectfile.Document, error) {
	for range 500 {
		found := false
		for _, qn := range All(d, room) {
			if qn.Chapter != ch || qn.Answered || qn.Parked {
				continue
			}
			next, err := Answer(d, qn, "")
			if err != nil {
				return d, fmt.Errorf("%s %w", qn.Ask, err)
			}
			d, found = next, true
			break
		}
		if !found {
			return d, nil
		}
	}
	return d, nil
}
