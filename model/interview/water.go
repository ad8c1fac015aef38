package interview

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// waterKinds are the usual points, by the words for them.
var waterKinds = map[string]string{
	"cistern": "supply", "basin": "supply", "sink": "supply", "boiler": "supply", "water heater": "supply", "radiator": "supply", "bath": "waste",
	"tray": "waste", "shower": "waste", "floor": "waste", "sump": "waste", "washing machine": "appliance", "dishwasher": "appliance", "fridge": "appliance",
	"stopcock": "stopcock", "stop valve": "stopcock", "main valve": "stopcock",
}

func (s *scope) waterAsks() {
	choices := s.offers(s.kind.WaterOffer)
	for _, w := range s.room.Water {
		if _, ok := choose(choices, typed(w.ID)); !ok {
			choices = append(choices, Choice{Label: wordsOf(w.ID), Value: typed(w.ID)})
		}
	}
	choices = keyed(choices, "")
	var now []string
	for _, w := range s.room.Water {
		now = append(now, typed(w.ID))
	}
	if s.kind.WaterOffer != "" || len(s.room.Water) > 0 {
		def := s.kind.Water
		if def == "" {
			def = "none"
		}
		s.add(ask{
			Question: Question{
				Chapter: Here, Path: "water", Kind: Several, Choices: choices, Ask: "Where can water escape here, and where can it be shut?",
				Why:     "These are the points that a leak sensor can watch. A stopcock is where a valve could shut the water.",
				Default: def, Example: "cistern, tray, filter supply", Now: noneIf(now, ", "),
			},
			write: func(t string) ([]projectfile.Edit, error) { return s.writeWater(choices, t) },
		})
	}
	for _, w := range s.room.Water {
		if w.Kind == "stopcock" {
			s.pipeAsk(w)
		}
	}
}

// offers makes choices of a comma-separated line.
func (s *scope) offers(line string) []Choice {
	var out []Choice
	for _, o := range items(line, ",") {
		out = append(out, Choice{Label: o, Value: o})
	}
	return out
}

func (s *scope) writeWater(choices []Choice, text string) ([]projectfile.Edit, error) {
	picked, more := pickSeveral(choices, text)
	var list []item
	taken := map[string]bool{}
	add := func(name, kind string) {
		id := slug(name, taken)
		taken[id] = true
		it := item{id: id}
		if kind != "" {
			it.fields = []field{{"kind", kind}}
		}
		list = append(list, it)
	}
	for _, c := range picked {
		kind := waterKinds[c.Value]
		for _, w := range s.room.Water {
			if typed(w.ID) == c.Value {
				kind = w.Kind
			}
		}
		add(c.Value, kind)
	}
	for _, m := range more {
		words := strings.Fields(m)
		kind := waterKinds[strings.ToLower(m)]
		switch last := strings.ToLower(words[len(words)-1]); last {
		case "supply", "waste", "appliance", "stopcock":
			kind = last
			if len(words) > 1 {
				m = strings.Join(words[:len(words)-1], " ")
			}
		}
		if kind == "" {
			return nil, fmt.Errorf("%q is new here; say what it is as well, as in %s supply (or waste, appliance, stopcock)", m, m)
		}
		add(m, kind)
	}
	return s.writeList(s.base+"/water", list), nil
}

func (s *scope) pipeAsk(w model.Water) {
	now, answer := "", ""
	if v, known := w.Pipe.Get(); known {
		now, answer = s.written("water/"+w.ID+"/pipe"), v.Show(s.sys)
	} else if w.Pipe.State == model.Unknown {
		now = "unknown"
	}
	unit := map[q.System]string{q.Metric: "mm", q.US: "in"}[s.sys]
	path := s.base + "/water/" + w.ID + "/pipe"
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: path, Kind: Amount, Unit: unit, CanBeUnknown: true,
			Ask: "How thick is the pipe at the " + wordsOf(w.ID) + "?", Why: "A motor valve has to fit it.",
			Default: "unknown", DefaultWhy: "put a caliper on it", Example: map[q.System]string{q.Metric: "15 mm", q.US: "0.75 in"}[s.sys], Now: now, Answer: answer,
			Caution: "A valve in the supply is a licensed plumber's work, and sprinkler supplies never go through it.",
		},
		write: func(t string) ([]projectfile.Edit, error) {
			v, written, err := figure[q.Length](t, unit)
			if err != nil || v < 0.006 || v > 0.12 {
				return nil, fmt.Errorf("%q is not the thickness of a pipe; accepted: 6 mm to 120 mm, as in 15 mm, or unknown", t)
			}
			return []projectfile.Edit{projectfile.Set(path, written)}, nil
		},
	})
}

func (s *scope) applianceAsks() {
	choices := s.offers(s.kind.Offer)
	var now []string
	for _, a := range s.room.Appliances {
		name := applianceName(a)
		now = append(now, name)
		if _, ok := choose(choices, name); !ok {
			choices = append(choices, Choice{Label: name, Value: name})
		}
	}
	for i := range choices {
		if MustStayOn(choices[i].Value) {
			choices[i].Note = "must stay on: never gets a shut-off"
		}
	}
	choices = keyed(choices, "")
	def := s.kind.Appliances
	if def == "" {
		def = "none"
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "appliances", Kind: Several, Choices: choices,
			Ask:     "Which appliances here matter: left on by mistake, or never to be off?",
			Why:     "What gets hot and is forgotten may go off by itself. What must stay on is marked, so that no rule ever cuts it.",
			Default: def, Example: "clothes iron, glue gun 100 W", Now: noneIf(now, ", "),
		},
		write: func(t string) ([]projectfile.Edit, error) { return s.writeAppliances(choices, t) },
	})
	for _, a := range s.room.Appliances {
		if _, known := applianceOf(a.Kind); !known && !MustStayOn(a.Kind) {
			s.mustAsk(a)
		}
	}
}

// applianceName is its kind, or the words of its short name when a room has two of a kind.
func applianceName(a model.Appliance) string {
	if a.Kind == "" || (a.ID != slug(a.Kind, nil) && strings.HasPrefix(a.ID, slug(a.Kind, nil)+"-")) {
		return wordsOf(a.ID)
	}
	return a.Kind
}

func (s *scope) writeAppliances(choices []Choice, text string) ([]projectfile.Edit, error) {
	picked, more := pickSeveral(choices, text)
	var list []item
	taken := map[string]bool{}
	for _, c := range picked {
		it := s.applianceItem(c.Value, 0, taken)
		for _, a := range s.room.Appliances {
			if applianceName(a) == c.Value && !taken[a.ID] {
				it = item{id: a.ID}
			}
		}
		taken[it.id] = true
		list = append(list, it)
	}
	for _, m := range more {
		name, watts, err := readAppliance(m)
		if err != nil {
			return nil, err
		}
		it := s.applianceItem(name, watts, taken)
		taken[it.id] = true
		list = append(list, it)
	}
	return s.writeList(s.base+"/appliances", list), nil
}

// readAppliance reads "glue gun 100 W".
func readAppliance(text string) (name string, watts q.Power, err error) {
	words := strings.Fields(text)
	for i, w := range words {
		if n, _ := splitNumber(w); i > 0 && n != "" {
			v, _, err := figure[q.Power](strings.Join(words[i:], " "), "W")
			if err != nil || v <= 0 || v > 50000 {
				return "", 0, fmt.Errorf("%q is not the power of an appliance; write it as in glue gun 100 W", strings.Join(words[i:], " "))
			}
			return strings.Join(words[:i], " "), v, nil
		}
	}
	return text, 0, nil
}

// applianceItem is a new appliance with what is known of its kind.
func (s *scope) applianceItem(name string, watts q.Power, taken map[string]bool) item {
	a, _ := applianceOf(name)
	it := item{id: slug(shortName(name), taken), fields: []field{{"kind", projectfile.Quote(a.Name)}}}
	if watts == 0 && a.Watts > 0 {
		watts = q.Power(a.Watts)
		if v := s.p.Home.Mains.Voltage; v > 0 && v < 150 && !a.Fixed {
			watts = min(watts, 1500)
		}
	}
	if watts > 0 {
		it.fields = append(it.fields, field{"power", watts.String()})
	}
	if a.Fixed {
		it.fields = append(it.fields, field{"fixed", "true"})
	}
	if a.Must {
		it.fields = append(it.fields, field{"must_stay_on", "true"})
	}
	return it
}

// shortName drops the word that a household leaves out.
func shortName(name string) string {
	switch fold(name) {
	case "clothes iron":
		return "iron"
	case "electric heater":
		return "heater"
	}
	return name
}

func (s *scope) mustAsk(a model.Appliance) {
	path := s.base + "/appliances/" + a.ID + "/must_stay_on"
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: path, Kind: YesNo, Choices: yesOrNo("never gets a shut-off", "may be given one"),
			Ask:     "Must the " + applianceName(a) + " stay on, whatever happens?",
			Why:     "Medical devices, freezers, pumps, alarms and networks are never switched off by a rule.",
			Default: "no", Now: map[bool]string{true: "yes", false: "no"}[a.MustStayOn],
		},
		write: s.writeYesNo(path),
	})
}
