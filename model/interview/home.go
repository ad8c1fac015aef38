package interview

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// homeAsks are the questions of the house as a whole.
func (s *scope) homeAsks() {
	h := s.p.Home
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/name", Kind: Text, Ask: "What do you call this home?",
			Why:     "It stands at the head of every paper.",
			Default: "Our home", Example: "14 Alder Row", Now: h.Name,
		},
		write: func(t string) ([]projectfile.Edit, error) { return setText("home/name", t) },
	})
	s.placeAsks(h, townOf(h.Place.Timezone))
	s.houseAsks(h, townOf(h.Place.Timezone))
	s.peopleAsks()
	s.indoorAsk(h)
	s.outdoorAsk(h)
	s.termsAsk(h, townOf(h.Place.Timezone))
	s.existingAsk()
}

func (s *scope) placeAsks(h model.Home, near town) {
	choices := make([]Choice, len(towns))
	for i, t := range towns {
		choices[i] = Choice{Key: t.Key, Label: t.Name, Value: t.Name, Note: fmt.Sprintf("%d V, %s", t.Volts, t.Currency)}
	}
	written := s.d.Has("home/place")
	here := ""
	if written {
		here = placeText(h.Place)
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/place", Kind: OneOf, Choices: choices,
			Ask:     "Which of these is the home nearest to, or where exactly is it?",
			Why:     "Sunrise and sunset follow from the place. Mains, units and money are taken from the country; each can be changed.",
			Default: towns[0].Name, Example: "53.96, -1.08 Europe/London", Now: here,
		},
		write: s.writePlace,
	})
	if !written {
		return
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/place/latitude", Kind: Text, Ask: "Where exactly is it, in degrees north and east?",
			Why:     "A degree of longitude is four minutes of sun time.",
			Default: coordinatesText(near.Lat, near.Lon), Example: "53.96, -1.08", Now: coordinatesText(float64(h.Place.Latitude), float64(h.Place.Longitude)),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			lat, lon, err := coordinates(t)
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set("home/place/latitude", lat.String()), projectfile.Set("home/place/longitude", lon.String())}, nil
		},
	})
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/place/timezone", Kind: Text, Ask: "Which clock does the home keep?",
			Why:     "It says when the clock jumps in spring and autumn.",
			Default: near.Zone, Example: "Europe/London", Now: h.Place.Timezone,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			z, err := zone(t)
			if err != nil {
				return nil, err
			}
			return []projectfile.Edit{projectfile.Set("home/place/timezone", projectfile.Quote(z))}, nil
		},
	})
}

func placeText(p model.Place) string {
	return strings.TrimSpace(coordinatesText(float64(p.Latitude), float64(p.Longitude)) + " " + p.Timezone)
}

func coordinatesText(lat, lon float64) string {
	return strconv.FormatFloat(lat, 'f', -1, 64) + ", " + strconv.FormatFloat(lon, 'f', -1, 64)
}

// writePlace takes a town or coordinates. What the country settles is written only where nothing is.
func (s *scope) writePlace(text string) ([]projectfile.Edit, error) {
	var near town
	lat, lon, zoneName := 0.0, 0.0, ""
	choices := make([]Choice, len(towns))
	for i, t := range towns {
		choices[i] = Choice{Key: t.Key, Label: t.Name, Value: t.Name}
	}
	if c, ok := choose(choices, text); ok {
		for _, t := range towns {
			if t.Name == c.Value {
				near = t
			}
		}
		lat, lon, zoneName = near.Lat, near.Lon, near.Zone
	} else {
		head, tail := text, ""
		if i := strings.LastIndexAny(text, " ,"); i >= 0 && (strings.Contains(text[i+1:], "/") || text[i+1:] == "UTC") {
			head, tail = text[:i], text[i+1:]
		}
		la, lo, err := coordinates(head)
		if err != nil {
			return nil, fmt.Errorf("%q is neither one of these towns nor a place in degrees; write it as in 53.96, -1.08 Europe/London", text)
		}
		lat, lon = float64(la), float64(lo)
		if tail == "" {
			tail = nearest(lat, lon).Zone
		}
		if zoneName, err = zone(tail); err != nil {
			return nil, err
		}
		near = townOf(zoneName)
	}
	out := []projectfile.Edit{
		projectfile.Set("home/place/latitude", q.Degrees(lat).String()),
		projectfile.Set("home/place/longitude", q.Degrees(lon).String()),
		projectfile.Set("home/place/timezone", projectfile.Quote(zoneName)),
	}
	for _, u := range [][2]string{
		{"home/units", near.units()},
		{"home/currency", near.Currency},
		{"home/mains/voltage", fmt.Sprintf("%d V", near.Volts)},
		{"home/mains/outlet", fmt.Sprintf("%d A", near.Outlet)},
	} {
		if !s.d.Has(u[0]) {
			out = append(out, projectfile.Set(u[0], u[1]))
		}
	}
	return out, nil
}

// nearest town by a flat reckoning, good enough to propose a clock.
func nearest(lat, lon float64) town {
	best, least := towns[0], 1e18
	for _, t := range towns {
		dy, dx := t.Lat-lat, (t.Lon-lon)*0.65
		if d := dx*dx + dy*dy; d < least {
			best, least = t, d
		}
	}
	return best
}

func (s *scope) houseAsks(h model.Home, near town) {
	s.oneOf(Question{
		Chapter: Home, Path: "home/units", Ask: "Which units do you work in?", Why: "Only how figures are shown; either can be typed.",
		Choices: []Choice{{"m", "metric", "metric", "metres, litres a second, degrees C"}, {"u", "US", "us", "feet, cfm, degrees F"}},
		Default: near.units(), Now: h.Units,
	})
	s.currencyAsk(h, near)
	s.oneOf(Question{
		Chapter: Home, Path: "home/mains/voltage", Ask: "Which mains voltage does the house have?", Why: "A part made for the other one is never chosen.",
		Choices: []Choice{{"1", "120 V", "120 V", ""}, {"2", "230 V", "230 V", ""}},
		Default: fmt.Sprintf("%d V", near.Volts), Now: shown(h.Mains.Voltage != 0, h.Mains.Voltage.String()),
	})
	s.oneOf(Question{
		Chapter: Home, Path: "home/mains/outlet", Ask: "How much may one outlet carry?", Why: "A plug that switches an appliance has to be rated for it.",
		Choices: []Choice{{"a", "10 A", "10 A", ""}, {"b", "13 A", "13 A", "with a fused plug"}, {"c", "15 A", "15 A", ""}, {"d", "16 A", "16 A", ""}, {"e", "20 A", "20 A", ""}},
		Default: fmt.Sprintf("%d A", near.Outlet), Now: shown(h.Mains.Outlet != 0, h.Mains.Outlet.String()),
	})
	s.wiredAsk(h)
	s.oneOf(Question{
		Chapter: Home, Path: "home/walls", Ask: "What are most of the inner walls made of?", CanBeUnknown: true,
		Why: "Radio passes plasterboard easily, and brick or concrete badly.",
		Choices: []Choice{
			{"t", "timber", "timber", ""},
			{"p", "plasterboard on studs", "plasterboard", ""},
			{"b", "brick or block", "brick", ""},
			{"c", "concrete", "concrete", ""},
			{"u", "nobody knows", "unknown", "planned as the worst of them"},
		},
		Default: near.Walls, DefaultWhy: "usual there; knock on one", Now: factText(h.Walls.State, h.Walls.Value),
	})
}

// currencyAsk drops the terms that were agreed in other money: they are asked again, in the new one.
func (s *scope) currencyAsk(h model.Home, near town) {
	choices := []Choice{{"g", "pounds (GBP)", "GBP", ""}, {"e", "euros (EUR)", "EUR", ""}, {"d", "dollars (USD)", "USD", ""}}
	if h.Currency != "" && !slices.ContainsFunc(choices, func(c Choice) bool { return c.Value == h.Currency }) {
		choices = append(choices, Choice{"o", "as the file says (" + h.Currency + ")", h.Currency, "only parts with own prices are priced"})
	}
	answer := ""
	if c, err := pick(choices, h.Currency); err == nil {
		answer = c.Label
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/currency", Kind: OneOf, Choices: choices,
			Ask: "Which money are prices in?", Why: "The bill and the catalogue's indicative prices use it.",
			Default: near.Currency, Now: h.Currency, Answer: answer,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			c, err := pick(choices, t)
			if err != nil {
				return nil, err
			}
			out := []projectfile.Edit{projectfile.Set("home/currency", c.Value)}
			if paid := h.Terms.Labour.Currency; paid != "" && paid != c.Value && s.d.Has("home/terms") {
				out = append(out, projectfile.Remove("home/terms"))
			}
			return out, nil
		},
	})
}

// oneOf adds a question whose answer is the value of one choice, written as it is.
func (s *scope) oneOf(qn Question) {
	qn.Kind = OneOf
	choices := qn.Choices
	path := qn.Path
	if s.room != nil {
		path = s.base + "/" + path
	}
	for _, c := range choices {
		if c.Value == qn.Now && qn.Now != "" {
			qn.Answer = c.Label
		}
	}
	s.add(ask{Question: qn, write: func(t string) ([]projectfile.Edit, error) {
		c, err := pick(choices, t)
		if err != nil {
			return nil, err
		}
		return []projectfile.Edit{projectfile.Set(path, projectfile.Quote(c.Value))}, nil
	}})
}

func shown(there bool, text string) string {
	if there {
		return text
	}
	return ""
}

func factText(state model.FactState, value string) string {
	switch state {
	case model.Known:
		return value
	case model.Unknown:
		return "unknown"
	}
	return ""
}

var wiredChoices = []Choice{
	{"a", "before 1950", "1940", ""},
	{"b", "1950 to 1969", "1960", ""},
	{"c", "1970 to 1989", "1980", ""},
	{"d", "1990 to 2009", "2000", ""},
	{"e", "2010 or later", "2015", ""},
}

func (s *scope) wiredAsk(h model.Home) {
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/mains/wired", Kind: OneOf, Choices: wiredChoices,
			Ask:     "When was the house last rewired?",
			Why:     "Old wiring seldom has a neutral in the switch boxes, and its boxes are shallow.",
			Default: "1980", DefaultWhy: "the consumer unit usually shows its age; park it when nobody knows", Example: "1962",
			Now: shown(h.Mains.Wired != 0, strconv.Itoa(h.Mains.Wired)),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if c, ok := choose(wiredChoices, t); ok {
				t = c.Value
			}
			year, err := strconv.Atoi(fold(t))
			if err != nil || year < 1880 || year > 2100 {
				return nil, fmt.Errorf("%q is not a year that a house was wired in; press a letter or write it as in 1962", t)
			}
			return []projectfile.Edit{projectfile.Set("home/mains/wired", strconv.Itoa(year))}, nil
		},
	})
}

var (
	usualRate = map[string]string{"GBP": "48 GBP/h", "EUR": "55 EUR/h", "USD": "85 USD/h"}
	usualTax  = map[string]string{"GBP": "20 %", "EUR": "21 %", "USD": "8 %"}
)

// usualTerms are for the three currencies of the catalogue; elsewhere the household works for itself until somebody says more.
func usualTerms(currency string) string {
	if rate, ok := usualRate[currency]; ok {
		return rate + ", 12 %, " + usualTax[currency]
	}
	return "ourselves"
}

func (s *scope) termsAsk(h model.Home, near town) {
	currency := h.Currency
	if currency == "" {
		currency = near.Currency
	}
	now := ""
	if t := h.Terms; t.Labour.Currency != "" {
		now = fmt.Sprintf("%s, %s, %s", t.Labour, t.Markup, t.Tax)
	}
	s.add(ask{
		Question: Question{
			Chapter: Home, Path: "home/terms", Kind: Text,
			Ask:     "Who does the work, and on which terms: an hour of labour, markup on parts, tax?",
			Why:     "The bill adds them up. Say ourselves when nobody is paid.",
			Default: usualTerms(currency), Example: "ourselves", Now: now,
		},
		write: func(t string) ([]projectfile.Edit, error) { return writeTerms(t, currency) },
	})
}

func writeTerms(text, currency string) ([]projectfile.Edit, error) {
	parts := items(text, ";,")
	switch fold(text) {
	case "ourselves", "ourself", "we", "us", "me", "myself", "we do", "none", "no":
		parts = []string{"0 " + currency + "/h", "0 %", cmp.Or(usualTax[currency], "0 %")}
	}
	bad := fmt.Errorf("%q are not terms; write labour, markup and tax, as in 48 %s/h, 12 %%, 20 %%, or: ourselves", text, currency)
	if len(parts) != 3 {
		return nil, bad
	}
	rate := parts[0]
	if _, err := strconv.ParseFloat(rate, 64); err == nil {
		rate += " " + currency + "/h"
	}
	var v q.HourlyRate
	if v.UnmarshalText([]byte(rate)) != nil || v.Currency != currency {
		return nil, bad
	}
	_, markup, err := percent(parts[1], 0, 200)
	if err != nil {
		return nil, bad
	}
	_, tax, err := percent(parts[2], 0, 100)
	if err != nil {
		return nil, bad
	}
	return []projectfile.Edit{
		projectfile.Set("home/terms/labour", rate), projectfile.Set("home/terms/markup", markup), projectfile.Set("home/terms/tax", tax),
	}, nil
}

// setText writes words as they are.
func setText(path, text string) ([]projectfile.Edit, error) {
	text = strings.TrimSpace(text)
	if len(text) > 2000 {
		return nil, fmt.Errorf("that is %d letters long; accepted: 2000 at most", len(text))
	}
	return []projectfile.Edit{projectfile.Set(path, projectfile.Quote(text))}, nil
}
