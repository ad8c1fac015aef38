package interview

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// lightAsks are about light by time of day.
func (s *scope) lightAsks() {
	if len(s.room.Circuits) == 0 {
		return
	}
	goal := s.room.Brief.Lighting
	s.startAsk(goal)
	if !goal.Wanted() {
		return
	}
	s.periodsAsk(goal.Want)
	s.stopAsk(goal.Want)
	s.stillAsk(goal.Want)
	s.keepAsk(goal.Want)
}

func (s *scope) startAsk(goal model.Goal[model.Lighting]) {
	choices := []Choice{
		{"e", "when somebody comes in", "on entry", ""},
		{"r", "only when a person asks for it", "on request", "it still goes off by itself"},
		{"n", "leave the light to people", "none", "no light goal for this room"},
	}
	now := goal.Want.Start
	if goal.State == model.Declined {
		now = "none"
	}
	answer := ""
	for _, c := range choices {
		if c.Value == now {
			answer = c.Label
		}
	}
	path := s.base + "/brief/lighting"
	s.add(ask{
		Question: Question{
			Chapter: Light, Path: path + "/start", Kind: OneOf, Choices: choices, Ask: "Should the light come on by itself?",
			Why:     "Where people pass or have full hands it helps. Where they sleep or sit for hours it annoys.",
			Default: s.kind.Start, DefaultWhy: shown(s.kind.ID != "", "usual for such a room"), Now: now, Answer: answer,
		},
		done: func() bool { return goal.State == model.Declined || s.d.Has(path+"/start") },
		write: func(t string) ([]projectfile.Edit, error) {
			c, err := pick(choices, t)
			if err != nil {
				return nil, err
			}
			if c.Value == "none" {
				return []projectfile.Edit{projectfile.Set(path, "none")}, nil
			}
			if goal.State != model.Wanted {
				return []projectfile.Edit{projectfile.Set(path, "start: "+c.Value)}, nil
			}
			return []projectfile.Edit{projectfile.Set(path+"/start", c.Value)}, nil
		},
	})
}

func (s *scope) periodsAsk(l model.Lighting) {
	path := s.base + "/brief/lighting/periods"
	s.add(ask{
		Question: Question{
			Chapter: Light, Path: path, Kind: Times, Unit: "%", Ask: "How bright should it be, and how warm, over the day?",
			Why:     "Each stretch runs to the start of the next, past midnight too. Warm and low light in the evening lets people sleep.",
			Default: s.usualDay(), DefaultWhy: shown(s.kind.ID != "", "a usual day in such a room"),
			Example: "06:30 90 % 4000 K; sunset 40 % 2700 K; 22:45 5 % " + s.room.Circuits[len(s.room.Circuits)-1].ID, Now: periodsText(l.Periods),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			periods, err := s.readPeriods(t)
			if err != nil {
				return nil, err
			}
			lines := make([]string, len(periods))
			for i, p := range periods {
				lines[i] = "- " + p.inline()
			}
			return []projectfile.Edit{projectfile.Set(path, strings.Join(lines, "\n"))}, nil
		},
	})
}

// usualDay is the kind's day; its night stretch uses just the softest lamp when the room has that one.
func (s *scope) usualDay() string {
	if s.kind.NightOn != "" && len(s.room.Circuits) > 1 {
		for _, c := range s.room.Circuits {
			if c.ID == s.kind.NightOn {
				return s.kind.Day + " " + c.ID
			}
		}
	}
	return s.kind.Day
}

func periodsText(ps []model.Period) string {
	parts := make([]string, len(ps))
	for i, p := range ps {
		parts[i] = p.From.String() + " " + p.Level.String()
		if p.Colour > 0 {
			parts[i] += " " + p.Colour.String()
		}
		if len(p.Circuits) > 0 {
			parts[i] += " " + strings.Join(p.Circuits, " ")
		}
	}
	return strings.Join(parts, "; ")
}

func (s *scope) stopAsk(l model.Lighting) {
	path := s.base + "/brief/lighting/stop/after"
	s.add(ask{
		Question: Question{
			Chapter: Light, Path: path, Kind: Amount, Unit: "min", Ask: "How long after the room is empty should it go off?",
			Why:     "Longer annoys nobody and burns a little more; shorter needs a surer way to know that the room is empty.",
			Default: s.kind.Stop, Example: "5 min", Now: shown(l.Stop.After > 0, l.Stop.After.String()), Answer: shown(l.Stop.After > 0, l.Stop.After.Show(s.sys)),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if isNone(t) {
				return nil, errors.New("what comes on for people has to end some time; say how long, up to 24 h, or leave the light to people one question back")
			}
			_, written, err := span(t, "min", q.Span(10*time.Second), q.Span(24*time.Hour))
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set(path, written)}, nil
		},
	})
}

func (s *scope) stillAsk(l model.Lighting) {
	path := s.base + "/brief/lighting/stop/never_while"
	choices := yesOrNo("a still person counts as being there", "movement alone decides")
	def := "no"
	if s.kind.Still {
		def = "yes"
	}
	now := map[string]string{"occupied": "yes", "moving": "no"}[l.Stop.NeverWhile]
	s.add(ask{
		Question: Question{
			Chapter: Light, Path: path, Kind: YesNo, Choices: choices, Ask: "Does anybody keep still here, and must not be left in the dark?",
			Why:     "A motion sensor doesn't see somebody under the shower, in the bath, at a desk or asleep. Seeing them costs a door contact or a better sensor.",
			Default: def, DefaultWhy: "in such a room somebody may well keep still for " + model.LongestStill(s.kind.ID).Show(q.Metric), Now: now,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			still, err := yesNo(t)
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set(path, map[bool]string{true: "occupied", false: "moving"}[still])}, nil
		},
	})
}

func (s *scope) keepAsk(l model.Lighting) {
	path := s.base + "/brief/lighting/keep_manual"
	s.add(ask{
		Question: Question{
			Chapter: Light, Path: path, Kind: YesNo, Choices: yesOrNo("until the room is empty", "the next movement or period changes it"),
			Ask:     "When somebody sets the light by hand, should it stay as they set it?",
			Why:     "Nothing annoys more than a room that knows better.",
			Default: "yes", Now: map[bool]string{true: "yes", false: "no"}[l.KeepManual],
		},
		write: s.writeYesNo(path),
	})
}

// periodRead is one stretch of the day as typed.
type periodRead struct {
	from, level, colour string
	circuits            []string
}

func (p periodRead) inline() string {
	out := "{from: " + clockYAML(p.from) + ", level: " + p.level
	if p.colour != "" {
		out += ", colour: " + p.colour
	}
	if len(p.circuits) > 0 {
		out += ", circuits: " + inlineList(p.circuits)
	}
	return out + "}"
}

// clockYAML quotes times that other readers of YAML take for a number to the base of sixty.
func clockYAML(t string) string {
	if t[0] >= '1' && t[0] <= '9' {
		return `"` + t + `"`
	}
	return t
}

var lightWords = map[string]string{
	"full": "100 %", "bright": "100 %", "half": "50 %", "dim": "20 %", "off": "0 %", "candle": "1800 K", "amber": "2200 K", "warm": "2700 K", "neutral": "3500 K", "cool": "4000 K", "daylight": "5000 K",
}

// readPeriods reads "06:30 90 % 4000 K; sunset 40 %; 22:45 5 % mirror". Each time starts a stretch; marks
// between them are welcome and not needed.
func (s *scope) readPeriods(text string) ([]periodRead, error) {
	tokens := dayTokens(text)
	var out []periodRead
	for i := 0; i < len(tokens); i++ {
		w := tokens[i]
		var at q.DayTime
		if time, used := readTime(tokens[i:]); used > 0 {
			if at.UnmarshalText([]byte(time)) != nil {
				return nil, fmt.Errorf("%q is not a time of day; write it as in 06:30, sunset or sunrise-00:30", w)
			}
			out = append(out, periodRead{from: at.String()})
			i += used - 1
			continue
		}
		if len(out) == 0 {
			return nil, fmt.Errorf("%q comes before any time; start with a time of day, as in %s", w, s.kind.Day)
		}
		if err := s.readLight(&out[len(out)-1], w); err != nil {
			return nil, err
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no time of day is in %q; write stretches as in %s", text, s.kind.Day)
	}
	if len(out) > 24 {
		return nil, fmt.Errorf("%d stretches are too many; accepted: 24 at most", len(out))
	}
	seen := map[string]bool{}
	for _, p := range out {
		if p.level == "" {
			return nil, fmt.Errorf("%s has no level; write how bright it should be, as in %s 40 %%", p.from, p.from)
		}
		if seen[p.from] {
			return nil, fmt.Errorf("%s starts two stretches; give each a time of its own", p.from)
		}
		seen[p.from] = true
	}
	return out, nil
}

// readLight takes one word of a stretch: a level, a colour or a circuit.
func (s *scope) readLight(p *periodRead, w string) error {
	if known, ok := lightWords[w]; ok {
		w = strings.ReplaceAll(known, " ", "")
	}
	n, unit := splitNumber(w)
	switch {
	case n != "" && (unit == "%" || unit == "") && p.level == "" && len(n) < 4:
		_, written, err := percent(n, 0, 100)
		p.level = written
		return err
	case n != "" && (strings.EqualFold(unit, "k") || unit == "" && len(n) == 4) && p.colour == "":
		var v q.ColourTemp
		if err := v.UnmarshalText([]byte(n + " K")); err != nil || v < 1000 || v > 10000 {
			return fmt.Errorf("%s K is no colour of lamps; accepted: 1000 K to 10000 K, as in 2700 K", n)
		}
		p.colour = n + " K"
		return nil
	case w == "only" || w == "on" || w == "from" || w == "at" || w == "white" || w == "the" || w == "and" || w == "light" || w == "lights" || w == "all":
		return nil
	}
	names := make([]string, len(s.room.Circuits))
	for i, c := range s.room.Circuits {
		names[i] = c.ID
		if strings.EqualFold(c.ID, w) {
			for _, have := range p.circuits {
				if have == c.ID {
					return nil
				}
			}
			p.circuits = append(p.circuits, c.ID)
			return nil
		}
	}
	return fmt.Errorf("%q is neither a level, a colour nor a circuit; write it as in 40 %% 2700 K, or name a circuit: %s", w, strings.Join(names, ", "))
}

// dayTokens splits a day into words; a unit joins its number, and a sun time its offset.
func dayTokens(text string) []string {
	text = strings.ToLower(decimal(text))
	text = strings.NewReplacer(";", " ", "·", " ", ",", " ", "\n", " ", "−", "-", "–", "-", " + ", "+", " - ", "-", "percent", "%", "per cent", "%").Replace(text)
	var out []string
	for _, w := range strings.Fields(text) {
		last := len(out) - 1
		joins := w == "%" || w == "k" || w == "am" || w == "pm" || w[0] == '+' || w[0] == '-' && len(w) > 1
		if last >= 0 && joins && out[last] != "" {
			out[last] += w
			continue
		}
		out = append(out, w)
	}
	return out
}

// readTime reads a time of day at the head of the words and says how many it took.
func readTime(words []string) (text string, used int) {
	w := strings.TrimSuffix(words[0], ".")
	for _, sun := range []string{"sunset", "sunrise", "dawn", "dusk"} {
		if rest, ok := strings.CutPrefix(w, sun); ok {
			return sun + sunOffset(rest), 1
		}
	}
	if w == "midnight" {
		return "00:00", 1
	}
	if w == "noon" || w == "midday" {
		return "12:00", 1
	}
	// "30 min after sunset"
	if len(words) > 2 && len(words) > 3 && (words[2] == "before" || words[2] == "after") {
		if sun := words[3]; sun == "sunset" || sun == "sunrise" || sun == "dawn" || sun == "dusk" {
			sign := map[string]string{"before": "-", "after": "+"}[words[2]]
			var v q.Span
			if v.UnmarshalText([]byte(words[0]+" "+words[1])) == nil {
				return sun + sunOffset(sign+v.String()), 4
			}
		}
	}
	if head, half, ok := cutHalf(w); ok {
		if !strings.Contains(head, ":") {
			head += ":00"
		}
		return head + half, 1
	}
	if strings.Contains(w, ":") && w[0] >= '0' && w[0] <= '9' {
		return w, 1
	}
	return "", 0
}

func cutHalf(w string) (head, half string, ok bool) {
	for _, half := range []string{"am", "pm"} {
		if head, cut := strings.CutSuffix(w, half); cut && head != "" && head[0] >= '0' && head[0] <= '9' {
			return head, half, true
		}
	}
	return "", "", false
}

// sunOffset writes "-30m", "+1h", "-30" or "-00:30" as the file does.
func sunOffset(rest string) string {
	if rest == "" || strings.Contains(rest, ":") {
		return rest
	}
	sign, amount := rest[:1], rest[1:]
	v, _, err := figure[q.Span](amount, "min")
	if err != nil || (sign != "+" && sign != "-") {
		return rest
	}
	m := int(v / q.Span(time.Minute))
	return fmt.Sprintf("%s%02d:%02d", sign, m/60, m%60)
}
