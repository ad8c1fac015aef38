package interview

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

var petWords = []string{"cat", "dog", "rabbit", "parrot", "bird", "ferret", "tortoise", "hamster", "guinea pig", "kitten", "puppy"}

var roleWords = []struct{ word, role string }{
	{"neighbour", "neighbour"}, {"neighbor", "neighbour"}, {"next door", "neighbour"}, {"carer", "carer"}, {"nurse", "carer"}, {"child", "child"},
	{"baby", "child"}, {"toddler", "child"}, {"guest", "guest"}, {"lodger", "guest"}, {"tenant", "resident"}, {"resident", "resident"}, {"owner", "owner"}, {"pet", "pet"},
}

func (s *scope) peopleAsks() {
	names := make([]string, len(s.p.People))
	owner := false
	for i, p := range s.p.People {
		names[i] = personText(p, owner)
		owner = owner || p.Role == "owner"
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "people", Kind: Text,
			Ask:     "Who lives here, who looks in, and which pets roam?",
			Why:     "Rooms behave for people. A pet may set off a motion sensor, and somebody has to hear of a leak.",
			Default: "Owner", Example: "Rosa, Otto (slow mover), Mia (child), Dilip next door, cat 4 kg", Now: strings.Join(names, ", "),
		},
		done:  func() bool { return len(s.p.People) > 0 },
		write: s.writePeople,
	})
	told := s.adults()
	if len(told) == 0 {
		return
	}
	choices := make([]Choice, len(told))
	var usual, now []string
	for i, p := range told {
		choices[i] = Choice{Label: nameOf(p.Name, p.ID), Value: p.ID}
		if p.Role == "owner" || p.Role == "neighbour" || p.Role == "carer" {
			usual = append(usual, p.ID)
		}
		if p.Alerts {
			now = append(now, p.ID)
		}
	}
	if len(usual) == 0 {
		usual = []string{told[0].ID}
	}
	if len(now) == 0 {
		now = []string{"none"}
	}
	choices = keyed(choices, "")
	s.add(ask{
		Question: Question{
			ID: "people/told", Chapter: Home, Path: "people/" + told[0].ID + "/alerts", Kind: Several, Choices: choices,
			Ask:     "Who may be told when water leaks or an appliance is left on?",
			Why:     "At least one of them should be able to come at any hour.",
			Default: strings.Join(usual, ", "), DefaultAs: labels(choices, usual), Now: strings.Join(now, ", "), Answer: labels(choices, now),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			picked, more := pickSeveral(choices, t)
			if len(more) > 0 {
				return nil, fmt.Errorf("%q is nobody of this home; accepted: %s, or none", more[0], offer(choices))
			}
			on := map[string]bool{}
			for _, c := range picked {
				on[c.Value] = true
			}
			var out []projectfile.Edit
			for _, p := range told {
				out = append(out, projectfile.Set("people/"+p.ID+"/alerts", trueFalse(on[p.ID])))
			}
			return out, nil
		},
	})
}

func trueFalse(b bool) string {
	if b {
		return "true"
	}
	return "false"
}

// labels turns values into the words that are shown for them.
func labels(choices []Choice, values []string) string {
	out := make([]string, 0, len(values))
	for _, v := range values {
		name := v
		for _, c := range choices {
			if c.Value == v {
				name = c.Label
			}
		}
		out = append(out, name)
	}
	return strings.Join(out, ", ")
}

// personText writes somebody so that writePeople reads the same: the first who says nothing else is the
// owner, and others are residents.
func personText(p model.Person, owner bool) string {
	out := nameOf(p.Name, p.ID)
	role := readPerson(out).role
	if role == "" {
		role = "resident"
		if !owner {
			role = "owner"
		}
	}
	var notes []string
	if p.Role != "" && p.Role != role {
		notes = append(notes, p.Role)
	}
	if p.Weight > 0 {
		out += " " + p.Weight.String()
	}
	if notes = append(notes, p.Traits...); len(notes) > 0 {
		out += " (" + strings.Join(notes, "; ") + ")"
	}
	return out
}

// personRead is somebody as typed.
type personRead struct {
	name, role, weight string
	traits             []string
	err                error
}

// readPerson reads "Rosa", "Otto (slow mover)", "Dilip next door", "cat 4 kg".
func readPerson(text string) personRead {
	var r personRead
	head, notes, _ := strings.Cut(text, "(")
	for _, n := range items(strings.TrimSuffix(strings.TrimSpace(notes), ")"), ";") {
		if role := roleIn(n); role != "" && len(strings.Fields(n)) == 1 {
			r.role = role
			continue
		}
		r.traits = append(r.traits, n)
	}
	words := strings.Fields(head)
	for i, w := range words {
		if i == 0 || w[0] < '0' || w[0] > '9' {
			continue
		}
		v, written, err := figure[q.Mass](strings.Join(words[i:], " "), "kg")
		if err != nil || v <= 0 || v > 500 {
			r.err = fmt.Errorf("%q is not a weight; write it as in cat 4 kg", strings.Join(words[i:], " "))
			return r
		}
		r.weight, words = written, words[:i]
		break
	}
	r.name = strings.Join(words, " ")
	if r.role == "" {
		r.role = roleIn(r.name)
	}
	if r.role == "" && hasAny(strings.ToLower(r.name), petWords) {
		r.role = "pet"
	}
	return r
}

func roleIn(text string) string {
	for _, w := range roleWords {
		if hasAny(strings.ToLower(text), []string{w.word}) {
			return w.role
		}
	}
	return ""
}

func (s *scope) writePeople(text string) ([]projectfile.Edit, error) {
	var list []item
	taken, owner := map[string]bool{}, false
	for _, one := range splitOutside(text, ",\n") {
		r := readPerson(one)
		if r.err != nil {
			return nil, r.err
		}
		if r.name == "" {
			return nil, fmt.Errorf("%q has no name in it; write names with commas between, as in Rosa, Otto, cat 4 kg", one)
		}
		if r.role == "" {
			r.role = "resident"
			if !owner {
				r.role = "owner"
			}
		}
		owner = owner || r.role == "owner"
		id := s.personID(r.name, taken)
		taken[id] = true
		it := item{id: id, fields: []field{{"name", projectfile.Quote(r.name)}, {"role", r.role}}}
		if r.weight != "" {
			it.fields = append(it.fields, field{"weight", r.weight})
		}
		if len(r.traits) > 0 {
			it.fields = append(it.fields, field{"traits", inlineList(r.traits)})
		}
		list = append(list, it)
	}
	if len(list) == 0 || isNone(text) {
		return nil, fmt.Errorf("nobody is named in %q; write names with commas between, as in Rosa, Otto, cat 4 kg", text)
	}
	return s.writeList("people", list), nil
}

// personID keeps the short name of somebody who is in the file already, and that of the stand-in for the
// owner when the owner gets a name.
func (s *scope) personID(name string, taken map[string]bool) string {
	for _, p := range s.p.People {
		if strings.EqualFold(nameOf(p.Name, p.ID), name) && !taken[p.ID] {
			return p.ID
		}
	}
	for _, p := range s.p.People {
		if p.ID == "owner" && p.Name == "Owner" && len(taken) == 0 {
			return p.ID
		}
	}
	return slug(name, taken)
}

// splitOutside cuts at the marks that stand outside brackets.
func splitOutside(text, marks string) []string {
	var out []string
	depth, from := 0, 0
	keep := func(to int) {
		if p := strings.Join(strings.Fields(text[from:to]), " "); p != "" {
			out = append(out, p)
		}
	}
	for i, r := range text {
		switch {
		case r == '(':
			depth++
		case r == ')' && depth > 0:
			depth--
		case depth == 0 && strings.ContainsRune(marks, r):
			keep(i)
			from = i + len(string(r))
		}
	}
	keep(len(text))
	return out
}
