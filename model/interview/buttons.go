package interview

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
)

// buttonAsks are about the exceptions: what a person does by hand.
func (s *scope) buttonAsks() {
	b := s.room.Brief
	if !b.Lighting.Wanted() && !b.Ventilation.Wanted() && !b.Leak.Wanted() && !b.Shutoff.Wanted() {
		return
	}
	path := s.base + "/brief/buttons"
	now := buttonsText(b.Buttons.Want)
	if b.Buttons.State == model.Declined {
		now = "none"
	}
	s.add(ask{
		Question: Question{
			Chapter: Buttons, Path: path, Kind: Text, Ask: "Which buttons should there be for the exceptions, and what do they do?",
			Why:     "Press, double and hold may each do one thing: " + s.deeds() + ".",
			Default: s.usualButtons(), Example: "by basin: press lights full, double fan 20m, hold everything off", Now: now,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return []projectfile.Edit{projectfile.Set(path, "none")}, nil
			}
			list, err := s.readButtons(t)
			if err != nil {
				return nil, err
			}
			if b.Buttons.State != model.Wanted {
				return []projectfile.Edit{projectfile.Set(path, blockOf(list))}, nil
			}
			return append(s.dropDeeds(path, list), s.writeList(path, list)...), nil
		},
	})
}

// dropDeeds takes away what a button that stays no longer does.
func (s *scope) dropDeeds(path string, list []item) []projectfile.Edit {
	var out []projectfile.Edit
	for _, it := range list {
		has := map[string]bool{}
		for _, f := range it.fields {
			has[f.key] = true
		}
		for _, press := range []string{"press", "double", "hold"} {
			if at := path + "/" + it.id + "/" + press; !has[press] && s.d.Has(at) {
				out = append(out, projectfile.Remove(at))
			}
		}
	}
	return out
}

// deeds names what a button can do in this room.
func (s *scope) deeds() string {
	var out []string
	if len(s.room.Circuits) > 0 {
		out = append(out, "lights full", "lights off", "lights 30 %", "lights auto")
	}
	if len(s.room.Fans) > 0 {
		out = append(out, "fan 20m", "fan off")
	}
	for _, x := range s.room.Brief.Shutoff.Want {
		out = append(out, "extend "+x.Appliance)
	}
	if s.room.Brief.Leak.Wanted() {
		out = append(out, "acknowledge")
	}
	return strings.Join(append(out, "everything off"), ", ")
}

// usualButtons leaves out of the kind's buttons what this room has not got.
func (s *scope) usualButtons() string {
	var out []string
	for _, one := range items(s.kind.Buttons, ";") {
		where, rest, ok := strings.Cut(one, ":")
		if !ok {
			continue
		}
		var parts []string
		for _, p := range items(rest, ",") {
			press, phrase, _ := strings.Cut(p, " ")
			var d model.Deed
			if d.UnmarshalText([]byte(phrase)) == nil && s.can(d) == nil {
				parts = append(parts, press+" "+phrase)
			}
		}
		if len(parts) > 0 && !(len(parts) == 1 && strings.Contains(parts[0], "everything off")) {
			out = append(out, where+": "+strings.Join(parts, ", "))
		}
	}
	return noneIf(out, "; ")
}

// can says why a deed makes no sense here.
func (s *scope) can(d model.Deed) error {
	switch d.Verb {
	case model.Lights, model.LightsAuto:
		if len(s.room.Circuits) == 0 {
			return fmt.Errorf("%q needs a lamp circuit, and this room has none", d)
		}
	case model.FanRun, model.FanOff:
		if len(s.room.Fans) == 0 {
			return fmt.Errorf("%q needs a fan, and this room has none", d)
		}
	case model.Acknowledge:
		if !s.room.Brief.Leak.Wanted() && !s.room.Brief.Shutoff.Wanted() {
			return fmt.Errorf("%q has nothing to answer here: the room has no alerts", d)
		}
	case model.Extend:
		var ids []string
		for _, x := range s.room.Brief.Shutoff.Want {
			if x.Appliance == d.Appliance {
				return nil
			}
			ids = append(ids, x.Appliance)
		}
		return fmt.Errorf("%q names no appliance here that goes off by itself; accepted: %s", d, noneIf(ids, ", "))
	}
	return nil
}

func buttonsText(bs []model.Button) string {
	parts := make([]string, len(bs))
	for i, b := range bs {
		var does []string
		for _, d := range []struct {
			press string
			deed  model.Deed
		}{{"press", b.Press}, {"double", b.Double}, {"hold", b.Hold}} {
			if d.deed.Verb != model.Nothing {
				does = append(does, d.press+" "+d.deed.String())
			}
		}
		parts[i] = nameOf(b.Where, b.ID) + ": " + strings.Join(does, ", ")
	}
	return strings.Join(parts, "; ")
}

// readButtons reads "by basin: press lights full, hold everything off; by door: press fan 20m".
func (s *scope) readButtons(text string) ([]item, error) {
	var list []item
	taken := map[string]bool{}
	for i, one := range items(text, ";") {
		where, rest, ok := strings.Cut(one, ":")
		if !ok {
			where, rest = "by door", one
		}
		where = strings.TrimSpace(where)
		id := s.buttonID(i, where, taken)
		taken[id] = true
		it := item{id: id, fields: []field{{"where", projectfile.Quote(where)}}}
		seen := map[string]bool{}
		for _, p := range items(rest, ",") {
			f, err := s.readPress(p)
			if err != nil {
				return nil, err
			}
			if seen[f.key] {
				return nil, fmt.Errorf("%s is given twice for the button %s; each of press, double and hold does one thing", f.key, where)
			}
			seen[f.key] = true
			it.fields = append(it.fields, f)
		}
		if len(it.fields) < 2 {
			return nil, fmt.Errorf("the button %s does nothing yet; write it as in by basin: press lights full, double fan 20m, hold everything off", where)
		}
		list = append(list, it)
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("%q names no button; write it as in by basin: press lights full, hold everything off, or none", text)
	}
	return list, nil
}

// buttonID keeps the short name of a button that stays where it was.
func (s *scope) buttonID(i int, where string, taken map[string]bool) string {
	for _, b := range s.room.Brief.Buttons.Want {
		if strings.EqualFold(nameOf(b.Where, b.ID), where) && !taken[b.ID] {
			return b.ID
		}
	}
	return slug(where, taken)
}

func (s *scope) readPress(text string) (field, error) {
	press, phrase, _ := strings.Cut(strings.ToLower(text), " ")
	switch press {
	case "press", "double", "hold":
	case "long":
		press, phrase = "hold", strings.TrimPrefix(strings.TrimPrefix(phrase, "press "), "press")
	default:
		press, phrase = "press", strings.ToLower(text)
	}
	var d model.Deed
	if err := d.UnmarshalText([]byte(phrase)); err != nil {
		return field{}, fmt.Errorf("%q is not something a button can do here; accepted: %s", phrase, s.deeds())
	}
	if d.Verb == model.Nothing {
		return field{}, fmt.Errorf("%s does nothing yet; accepted after it: %s", press, s.deeds())
	}
	if err := s.can(d); err != nil {
		return field{}, err
	}
	return field{press, projectfile.Quote(d.String())}, nil
}

// wordsAsk keeps what the grammar of goals has no place for.
func (s *scope) wordsAsk() {
	path := s.base + "/brief/said"
	said := make([]string, len(s.room.Brief.Said))
	for i, w := range s.room.Brief.Said {
		said[i] = w.Words
	}
	s.add(ask{
		Question: Question{
			Chapter: OwnWords, Path: path, Kind: Text, Ask: "What else should this room do, or never do, in your own words?",
			Why:     "It is kept word for word beside the brief, for whoever works here later.",
			Default: "nothing", Example: "If I get up at night I don't want to be blinded.", Now: noneIf(said, " / "),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) || len(said) > 0 && t == strings.Join(said, " / ") {
				if s.d.Has(path) {
					return nil, nil
				}
				return []projectfile.Edit{projectfile.Set(path, "[]")}, nil
			}
			return s.sayEdits("room", t)
		},
	})
}

// sayEdits adds words to the room, word for word.
func (s *scope) sayEdits(goal, words string) ([]projectfile.Edit, error) {
	if len(words) > 4000 {
		return nil, fmt.Errorf("that is %d letters long; accepted: 4000 at most in one go", len(words))
	}
	entry := "{goal: " + goal + ", words: " + projectfile.Quote(words) + "}"
	if len(s.room.Brief.Said) == 0 {
		return []projectfile.Edit{projectfile.Set(s.base+"/brief/said", "- "+entry)}, nil
	}
	return []projectfile.Edit{projectfile.Append(s.base+"/brief/said", entry)}, nil
}
