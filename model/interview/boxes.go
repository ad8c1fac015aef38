package interview

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// boxAsks are about switch boxes: what is in them decides more of the bill than anything else.
func (s *scope) boxAsks() {
	if len(s.room.Circuits)+len(s.room.Fans) == 0 && len(s.room.Switches) == 0 {
		return
	}
	s.switchesAsk()
	for _, b := range s.room.Switches {
		s.neutralAsk(b)
	}
	for _, b := range s.room.Switches {
		s.depthAsk(b)
	}
	if len(s.room.Switches) == 0 {
		return
	}
	for _, c := range s.room.Circuits {
		s.fedByAsk("circuits/"+c.ID, "the "+lampsWord(c), c.Switch)
	}
	for _, f := range s.room.Fans {
		s.fedByAsk("fans/"+f.ID, "the "+wordsOf(f.ID)+" fan", f.Switch)
	}
}

func (s *scope) switchesAsk() {
	parts := make([]string, len(s.room.Switches))
	for i, b := range s.room.Switches {
		parts[i] = boxText(b)
	}
	gangs := min(max(len(s.room.Circuits)+len(s.room.Fans), 1), 3)
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "switches", Kind: Text, Ask: "Which switch boxes work this room, and how many switches has each?",
			Why:     "A device goes into the box or replaces its switch. With one box, everything here is taken as fed from it.",
			Default: fmt.Sprintf("%d gang by door", gangs), DefaultWhy: "one switch for each circuit and fan", Example: "2 gang by door; 1 gang outside", Now: noneIf(parts, "; "),
		},
		write: s.writeSwitches,
	})
}

func boxText(b model.SwitchBox) string {
	out := strconv.Itoa(max(b.Gangs, 1)) + " gang"
	if b.By != "" {
		out += " by " + b.By
	}
	return out
}

func (s *scope) writeSwitches(text string) ([]projectfile.Edit, error) {
	var list []item
	taken := map[string]bool{}
	if !isNone(text) {
		for i, one := range items(text, ";,", " and ") {
			gangs, by, err := readBox(one)
			if err != nil {
				return nil, err
			}
			id := "box-" + strconv.Itoa(i+1)
			if i < len(s.room.Switches) {
				id = s.room.Switches[i].ID
			}
			id = slug(id, taken)
			taken[id] = true
			it := item{id: id, fields: []field{{"gangs", strconv.Itoa(gangs)}}}
			if by != "" {
				it.fields = append(it.fields, field{"by", projectfile.Quote(by)})
			}
			list = append(list, it)
		}
	}
	out := s.writeList(s.base+"/switches", list)
	if len(list) == 1 {
		for _, c := range s.room.Circuits {
			if c.Switch.State == model.Absent {
				out = append(out, projectfile.Set(s.base+"/circuits/"+c.ID+"/switch", projectfile.Quote(list[0].id)))
			}
		}
		for _, f := range s.room.Fans {
			if f.Switch.State == model.Absent {
				out = append(out, projectfile.Set(s.base+"/fans/"+f.ID+"/switch", projectfile.Quote(list[0].id)))
			}
		}
	}
	return out, nil
}

// readBox reads "2 gang by door".
func readBox(text string) (gangs int, by string, err error) {
	words := strings.Fields(strings.ReplaceAll(text, "-gang", " gang"))
	counts := map[string]int{"one": 1, "single": 1, "two": 2, "double": 2, "three": 3, "triple": 3, "four": 4}
	gangs = 1
	if len(words) > 0 {
		n, unit := splitNumber(words[0])
		if c, ok := counts[strings.ToLower(words[0])]; ok {
			gangs, words = c, words[1:]
		} else if n != "" && (unit == "" || strings.HasPrefix(unit, "gang")) {
			if gangs, err = strconv.Atoi(n); err != nil || gangs < 1 || gangs > 8 {
				return 0, "", fmt.Errorf("%q is not a count of switches in one box; accepted: 1 to 8", n)
			}
			words = words[1:]
		} else if n != "" {
			return 0, "", fmt.Errorf("%q is not a switch box; write how many switches it has and where it is, as in 2 gang by door", text)
		}
	}
	for len(words) > 0 && (strings.HasPrefix(strings.ToLower(words[0]), "gang") || strings.EqualFold(words[0], "by") || strings.EqualFold(words[0], "switch") || strings.EqualFold(words[0], "switches") || strings.EqualFold(words[0], "box")) {
		words = words[1:]
	}
	return gangs, strings.Join(words, " "), nil
}

// feed says that new circuits or fans hang on the room's only box.
func (s *scope) feed(path string, list []item) []projectfile.Edit {
	if len(s.room.Switches) != 1 {
		return nil
	}
	var out []projectfile.Edit
	for _, it := range list {
		if !s.d.Has(path + "/" + it.id + "/switch") {
			out = append(out, projectfile.Set(path+"/"+it.id+"/switch", projectfile.Quote(s.room.Switches[0].ID)))
		}
	}
	return out
}

func (s *scope) boxWord(b model.SwitchBox) string {
	if b.By != "" {
		return "the switch box " + b.Place()
	}
	if len(s.room.Switches) == 1 {
		return "the switch box"
	}
	return "switch box " + b.ID
}

func (s *scope) neutralAsk(b model.SwitchBox) {
	now := ""
	switch v, known := b.Neutral.Get(); {
	case known && v:
		now = "yes"
	case known:
		now = "no"
	case b.Neutral.State == model.Unknown:
		now = "unknown"
	}
	path := s.base + "/switches/" + b.ID + "/neutral"
	why := "nobody has looked yet"
	if w := s.p.Home.Mains.Wired; w > 0 && w < 1990 {
		why = fmt.Sprintf("nobody has looked yet; wiring of %d seldom has one", w)
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: path, Kind: YesNo, CanBeUnknown: true,
			Choices: yesNoUnknown("most relays and dimmers will do", "only parts that work without one", "both are planned and priced"),
			Ask:     "Is there a neutral in " + s.boxWord(b) + "?",
			Why:     "Most switching devices need a neutral. It is the costliest thing not to know.",
			Default: "unknown", DefaultWhy: why, Now: now,
			Caution: "Only a licensed electrician opens a switch box, with the circuit off and proved dead.",
		},
		write: s.writeYesNo(path),
	})
}

func (s *scope) depthAsk(b model.SwitchBox) {
	now, answer := "", ""
	if v, known := b.Depth.Get(); known {
		now, answer = s.written("switches/"+b.ID+"/depth"), v.Show(s.sys)
	} else if b.Depth.State == model.Unknown {
		now = "unknown"
	}
	unit := map[q.System]string{q.Metric: "mm", q.US: "in"}[s.sys]
	path := s.base + "/switches/" + b.ID + "/depth"
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: path, Kind: Amount, Unit: unit, CanBeUnknown: true,
			Ask:     "How deep is " + s.boxWord(b) + " inside?",
			Why:     "A module behind the switch needs room; 25 mm boxes are common and most modules don't fit them.",
			Default: "unknown", DefaultWhy: "it shows only with the switch off the wall", Example: map[q.System]string{q.Metric: "35 mm", q.US: "2.5 in"}[s.sys], Now: now, Answer: answer,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			v, written, err := figure[q.Length](t, unit)
			if err != nil || v < 0.01 || v > 0.2 {
				return nil, fmt.Errorf("%q is not the depth of a switch box; accepted: 10 mm to 200 mm, as in 35 mm, or unknown", t)
			}
			return []projectfile.Edit{projectfile.Set(path, written)}, nil
		},
	})
}

// fedByAsk asks which box works a thing, unless the only one does.
func (s *scope) fedByAsk(thing, words string, now model.Fact[string]) {
	boxes := s.room.Switches
	if len(boxes) == 1 && now.State != model.Absent {
		return
	}
	choices := make([]Choice, 0, len(boxes)+1)
	for i, b := range boxes {
		label := b.ID
		if b.By != "" {
			label = b.Place()
		}
		if i < 9 {
			choices = append(choices, Choice{Key: strconv.Itoa(i + 1), Label: label, Value: b.ID})
		}
	}
	choices = append(choices, Choice{"u", "nobody knows yet", "unknown", ""})
	s.oneOf(Question{
		Chapter: Here, Path: thing + "/switch", Choices: choices, CanBeUnknown: true,
		Ask: "Which switch box works " + words + "?", Why: "What is in that box decides which device fits.",
		Default: boxes[0].ID, Now: factText(now.State, now.Value),
	})
}
