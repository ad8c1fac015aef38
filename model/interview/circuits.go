package interview

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

var bases = map[string]string{
	"gu10": "GU10", "e27": "E27", "e26": "E26", "e14": "E14", "e12": "E12", "b22": "B22", "b15": "B15", "g9": "G9", "g4": "G4", "gu5.3": "GU5.3",
	"mr16": "GU5.3", "integrated": "integrated", "built-in": "integrated", "fixed": "integrated", "led": "integrated", "strip": "integrated",
}

func (s *scope) circuitsAsk() {
	parts := make([]string, len(s.room.Circuits))
	for i, c := range s.room.Circuits {
		parts[i] = circuitText(c)
	}
	qn := Question{
		Chapter: Here, Path: "circuits", Kind: Text, Ask: "Which lamp circuits does it have, and which lamps are on them?",
		Why:     "A circuit is what one switch turns on. Count the lamps and read the base: they decide which dimmer or lamp will do.",
		Default: s.local(s.kind.Circuits), DefaultWhy: "typical; lift one lamp out and read it",
		Example: s.local("ceiling 4 GU10; mirror 1 integrated 450 lm"), Now: noneIf(parts, "; "),
	}
	if s.kind.Wet {
		qn.Why += " Zone 1 is over the bath or shower, zone 2 is 60 cm around it, anything farther is outside."
		qn.Caution = WetCaution
	}
	s.add(ask{Question: qn, write: s.writeCircuits})
}

// WetCaution goes with every question about mains in a wet room.
const WetCaution = "Wet room: zones and ingress codes are for the local wiring code and a licensed electrician to settle."

// local writes lamp bases as they are sold there: E27 and E14 are E26 and E12 on a 120 V mains.
func (s *scope) local(text string) string {
	if v := s.p.Home.Mains.Voltage; v > 0 && v < 150 {
		return strings.NewReplacer("E27", "E26", "E14", "E12").Replace(text)
	}
	return text
}

var baseForm = regexp.MustCompile(`^(gu|gx|gy|gr|e|b|ba|g|r|mr|s)[0-9]+(\.[0-9])?[a-z]?$`)

// baseOf reads the marking of a lamp base, also one that is not listed: GU24, R7s.
func baseOf(w string) (string, bool) {
	if b, ok := bases[w]; ok {
		return b, true
	}
	if !baseForm.MatchString(w) {
		return "", false
	}
	last := len(w) - 1
	return strings.ToUpper(w[:last]) + w[last:], true
}

// circuitText writes a circuit so that readCircuit reads the same.
func circuitText(c model.Circuit) string {
	out := typed(c.ID)
	if c.Lamps > 0 {
		out += " " + strconv.Itoa(c.Lamps)
	}
	if c.Base != "" {
		out += " " + c.Base
	}
	if c.Flux > 0 {
		out += " " + c.Flux.String()
	}
	if c.Power > 0 {
		out += " " + c.Power.String()
	}
	if c.Zone != "" {
		out += " zone " + c.Zone
	}
	return out
}

func (s *scope) writeCircuits(text string) ([]projectfile.Edit, error) {
	var list []item
	taken := map[string]bool{}
	if !isNone(text) {
		for _, one := range items(text, ";,", " and ") {
			it, err := readCircuit(one)
			if err != nil {
				return nil, err
			}
			it.id = slug(it.id, taken)
			taken[it.id] = true
			list = append(list, it)
		}
	}
	return append(s.writeList(s.base+"/circuits", list), s.feed(s.base+"/circuits", list)...), nil
}

// readCircuit reads "ceiling 3 GU10 470 lm zone 2": words are the name, then what can be told by its look.
func readCircuit(text string) (item, error) {
	var it item
	var name []string
	words := strings.Fields(text)
	seen := map[string]bool{}
	set := func(key, yaml string) { it.fields = append(it.fields, field{key, yaml}); seen[key] = true }
	for i := 0; i < len(words); i++ {
		w, next := strings.ToLower(strings.TrimSuffix(words[i], ":")), ""
		if i+1 < len(words) {
			next = strings.ToLower(words[i+1])
		}
		base, isBase := baseOf(w)
		n, unit := splitNumber(w)
		if n != "" && unit == "" && (next == "lm" || next == "w" || next == "lumens" || next == "watts" || next == "lumen" || next == "watt") {
			unit = next
			i++
		}
		switch {
		case isBase && !seen["base"] && (seen["lamps"] || len(name) > 0):
			set("base", base)
		case w == "zone" && (next == "0" || next == "1" || next == "2" || next == "outside"):
			set("zone", projectfile.Quote(next))
			i++
		case w == "outside" && len(name) > 0:
			set("zone", "outside")
		case n != "" && strings.HasPrefix(unit, "l") && !seen["flux"]:
			set("flux", n+" lm")
		case n != "" && strings.HasPrefix(unit, "w") && !seen["power"]:
			set("power", n+" W")
		case n != "" && (unit == "" || unit == "x" || unit == "×") && !seen["lamps"] && !strings.Contains(n, "."):
			lamps, err := strconv.Atoi(n)
			if err != nil || lamps < 1 || lamps > 200 {
				return it, fmt.Errorf("%s lamps are not a count for one circuit; accepted: 1 to 200", n)
			}
			set("lamps", n)
		case w == "x" || w == "×" || w == "lamp" || w == "lamps" || w == "of" || w == "with":
		case n == "" && len(it.fields) == 0:
			name = append(name, words[i])
		default:
			return it, fmt.Errorf("%q in %q cannot be read; write a name, how many lamps, their base and light, as in ceiling 3 GU10 470 lm", words[i], text)
		}
	}
	if it.id = strings.TrimSuffix(strings.Join(name, " "), ":"); it.id == "" {
		it.id = "ceiling"
	}
	return it, checkLamp(it)
}

func checkLamp(it item) error {
	for _, f := range it.fields {
		switch f.key {
		case "flux":
			var v q.Flux
			if err := v.UnmarshalText([]byte(f.yaml)); err != nil || v <= 0 || v > 100000 {
				return accepted(f.yaml, "the light of a lamp; write it as in 470 lm")
			}
		case "power":
			var v q.Power
			if err := v.UnmarshalText([]byte(f.yaml)); err != nil || v <= 0 || v > 5000 {
				return accepted(f.yaml, "the power of a lamp; write it as in 5 W")
			}
		}
	}
	return nil
}

// splitNumber parts "470lm" into "470" and "lm"; no number gives "".
func splitNumber(w string) (number, unit string) {
	i := 0
	for i < len(w) && (w[i] >= '0' && w[i] <= '9' || w[i] == '.' && i > 0) {
		i++
	}
	number = strings.TrimSuffix(w[:i], ".")
	return number, w[len(number):]
}

func (s *scope) dimmableAsk(c model.Circuit) {
	now := ""
	switch v, known := c.Dimmable.Get(); {
	case known && v:
		now = "yes"
	case known:
		now = "no"
	case c.Dimmable.State == model.Unknown:
		now = "unknown"
	}
	path := s.base + "/circuits/" + c.ID + "/dimmable"
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: path, Kind: YesNo, Choices: yesNoUnknown("the label says dimmable", "", "both are planned and priced"), CanBeUnknown: true,
			Ask:     fmt.Sprintf("Can the %s be dimmed?", lampsWord(c)),
			Why:     "Soft light at night needs lamps that dim; it is printed on the lamp or its box.",
			Default: "unknown", DefaultWhy: "nobody has looked yet", Now: now,
		},
		write: s.writeYesNo(path),
	})
}

// zoneAsk comes when a circuit of a wet room was named without its zone.
func (s *scope) zoneAsk(c model.Circuit) {
	s.oneOf(Question{
		Chapter: Here, Path: "circuits/" + c.ID + "/zone", Ask: "How near the bath or shower " + areThe(c) + "?",
		Why: "Close to water only low voltage or sealed lamps and devices are allowed.",
		Choices: []Choice{{"0", "in the bath or tray", "0", "12 V and IPX7 at least"}, {"1", "over it, up to 2.25 m", "1", "IPX4 at least"},
			{"2", "within 60 cm of it", "2", "IPX4 at least"}, {"f", "farther off, or higher", "outside", ""}},
		Default: "2", DefaultWhy: "the safe guess in a small room", Now: c.Zone, Caution: WetCaution,
	})
}

// areThe begins with the verb: are the ceiling lamps, is the mirror lamp.
func areThe(c model.Circuit) string {
	if c.Lamps == 1 {
		return "is the " + lampsWord(c)
	}
	return "are the " + lampsWord(c)
}

func lampsWord(c model.Circuit) string {
	if c.Lamps == 1 {
		return wordsOf(c.ID) + " lamp"
	}
	return wordsOf(c.ID) + " lamps"
}

// yesNoUnknown are three choices with what follows from each.
func yesNoUnknown(yes, no, unknown string) []Choice {
	return []Choice{{"y", "yes", "yes", yes}, {"n", "no", "no", no}, {"u", "nobody knows yet", "unknown", unknown}}
}

func yesOrNo(yes, no string) []Choice {
	return []Choice{{"y", "yes", "yes", yes}, {"n", "no", "no", no}}
}

// writeYesNo writes the answer at a path as true or false.
func (s *scope) writeYesNo(path string) func(string) ([]projectfile.Edit, error) {
	return func(t string) ([]projectfile.Edit, error) {
		v, err := yesNo(t)
		if err != nil {
			return nil, err
		}
		return []projectfile.Edit{projectfile.Set(path, trueFalse(v))}, nil
	}
}

func (s *scope) fansAsk() {
	def, example := s.kind.Fan, "extract 21 l/s 18 W"
	if s.sys == q.US {
		def, example = s.kind.FanUS, "extract 50 cfm 18 W"
	}
	if def == "" {
		def = "none"
	}
	parts := make([]string, len(s.room.Fans))
	for i, f := range s.room.Fans {
		parts[i] = s.fanText(f)
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "fans", Kind: Text, Ask: "Which extract fans does it have, and what do they move?",
			Why:     "How fast the room dries follows from the airflow. The label gives it; installed, it is often less.",
			Default: def, DefaultWhy: shown(def != "none", "the least that a room like this should have"), Example: example + ", or: extract unknown", Now: noneIf(parts, "; "),
		},
		write: s.writeFans,
	})
}

func (s *scope) fanText(f model.Fan) string {
	out := typed(f.ID)
	switch _, known := f.Airflow.Get(); {
	case known:
		out += " " + s.written("fans/"+f.ID+"/airflow")
	case f.Airflow.State == model.Unknown:
		out += " unknown"
	}
	if f.Power > 0 {
		out += " " + f.Power.String()
	}
	return out
}

func (s *scope) writeFans(text string) ([]projectfile.Edit, error) {
	var list []item
	taken := map[string]bool{}
	if !isNone(text) {
		for _, one := range items(text, ";,", " and ") {
			it, err := s.readFan(one)
			if err != nil {
				return nil, err
			}
			it.id = slug(it.id, taken)
			taken[it.id] = true
			list = append(list, it)
		}
	}
	return append(s.writeList(s.base+"/fans", list), s.feed(s.base+"/fans", list)...), nil
}

// readFan reads "extract 21 l/s 18 W": a name, then figures.
func (s *scope) readFan(text string) (item, error) {
	it := item{id: "extract"}
	bad := fmt.Errorf("%q is not a fan; write a name, its airflow and its power, as in extract 21 l/s 18 W, or extract unknown", text)
	words := strings.Fields(text)
	i := 0
	for i < len(words) && (words[i][0] < '0' || words[i][0] > '9') && !isUnknown(words[i]) {
		i++
	}
	if name := strings.Join(words[:i], " "); name != "" && !strings.EqualFold(name, "yes") {
		it.id = name
	}
	airUnit := map[q.System]string{q.Metric: "l/s", q.US: "cfm"}[s.sys]
	for i < len(words) {
		if isUnknown(words[i]) && len(it.fields) == 0 {
			it.fields = append(it.fields, field{"airflow", "unknown"})
			i++
			continue
		}
		end := i + 1
		for end < len(words) && (words[end][0] < '0' || words[end][0] > '9') {
			end++
		}
		one := strings.Join(words[i:end], " ")
		if air, written, err := figure[q.Airflow](one, airUnit); err == nil && len(it.fields) == 0 {
			if air <= 0 || air > 2000 {
				return it, fmt.Errorf("%s is no airflow of a room's fan; accepted: up to 2000 l/s", written)
			}
			it.fields = append(it.fields, field{"airflow", written})
		} else if power, written, err := figure[q.Power](one, "W"); err == nil && power > 0 && power < 5000 {
			it.fields = append(it.fields, field{"power", written})
		} else {
			return it, bad
		}
		i = end
	}
	if len(it.fields) == 0 {
		it.fields = append(it.fields, field{"airflow", "unknown"})
	}
	if len(it.fields) > 2 {
		return it, bad
	}
	return it, nil
}
