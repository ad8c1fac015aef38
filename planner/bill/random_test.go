package bill_test

import (
	"fmt"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
	"pgregory.net/rapid"
)

// randomCount draws how many rules a sheet comes to: more than it has on small controllers, and any number on others.
func randomCount(t *rapid.T) bill.Count {
	small, other := rapid.IntRange(1, 9).Draw(t, "small takes"), rapid.IntRange(1, 9).Draw(t, "other takes")
	return func(l catalogue.Limits) int {
		if l.ID == "small" && l.Rules < 5 {
			return small
		}
		return other
	}
}

// randomHome draws a home small enough to try everything, and a shelf on which slots run short.
func randomHome(t *rapid.T) (*model.Project, *catalogue.Catalogue, []needs.Need, rules.Sheet) {
	price := func(name string) map[string]float64 {
		return map[string]float64{"GBP": float64(rapid.IntRange(1, 40).Draw(t, name)) / 2}
	}
	radio := func(name string) string {
		return rapid.SampledFrom([]string{"zigbee", "zigbee", "wifi", "thread"}).Draw(t, name)
	}
	c := &catalogue.Catalogue{Version: 1, Dated: "2026-03"}
	c.Limits = []catalogue.Limits{{ID: "small", Rules: rapid.IntRange(1, 5).Draw(t, "small"), Offline: rapid.Bool().Draw(t, "small works alone")},
		{ID: "big", Offline: rapid.Bool().Draw(t, "big works alone")}}
	add := func(p catalogue.Part) {
		p.ID = fmt.Sprintf("%s-%d", p.ID, len(c.Parts))
		p.Name, p.Minutes = p.ID, rapid.IntRange(0, 5).Draw(t, "minutes")
		c.Parts = append(c.Parts, p)
	}
	for i := rapid.IntRange(1, 2).Draw(t, "hosts"); i > 0; i-- {
		h := catalogue.HostSpec{Children: map[string]int{}, Limits: rapid.SampledFrom([]string{"small", "big"}).Draw(t, "limits")}
		for _, r := range []string{"zigbee", "wifi", "thread"} {
			if rapid.Bool().Draw(t, r) {
				h.Radios = append(h.Radios, r)
				h.Children[r] = rapid.IntRange(1, 4).Draw(t, "children")
			}
		}
		add(catalogue.Part{ID: "host", Kind: "controller", Does: []catalogue.Ability{catalogue.Host}, Host: h, Price: price("host")})
	}
	if rapid.Bool().Draw(t, "adapter") {
		r := radio("adapter radio")
		add(catalogue.Part{ID: "adapter", Kind: "radio adapter", Does: []catalogue.Ability{catalogue.Speak}, Price: price("adapter"),
			Host: catalogue.HostSpec{Radios: []string{r}, Children: map[string]int{r: rapid.IntRange(1, 3).Draw(t, "adapter children")}}})
	}
	randomParts(t, add, radio, price)
	c.Parts = append(c.Parts, catalogue.Part{ID: "plate", Name: "plate", Kind: bill.GuardKind, Price: price("plate")},
		catalogue.Part{ID: "spacer", Name: "spacer", Kind: bill.SpacerKind, Depth: 0.010, Price: price("spacer")},
		catalogue.Part{ID: "plain", Name: "plain", Kind: "plain lamp", Place: "lamp", Base: "GU10", Dimmable: true, Uses: 5, Price: price("plain")})
	p := &model.Project{}
	p.Home.Currency, p.Home.Mains.Voltage = "GBP", 230
	p.Home.Terms.Labour = q.HourlyRate{Amount: 60, Currency: "GBP"}
	for i := rapid.IntRange(0, 2).Draw(t, "places"); i > 0; i-- {
		place := model.Controller{ID: fmt.Sprint("place", i),
			Limits: rapid.SampledFrom([]string{"", "small", "big", "none such"}).Draw(t, "place limits")}
		if rapid.Bool().Draw(t, "place differs") {
			place.Except = map[string]string{"rules": fmt.Sprint(rapid.IntRange(0, 7).Draw(t, "place rules"))}
		}
		p.Controllers = append(p.Controllers, place)
	}
	ns := randomNeeds(t)
	sheet := rules.Sheet{Rules: make([]rules.Rule, rapid.IntRange(0, 6).Draw(t, "rules"))}
	return p, c, ns, sheet
}

func randomParts(t *rapid.T, add func(catalogue.Part), radio func(string) string, price func(string) map[string]float64) {
	type does = []catalogue.Ability
	kinds := []does{{catalogue.SenseMotion}, {catalogue.SenseHumidity}, {catalogue.SenseMotion, catalogue.SenseHumidity},
		{catalogue.SenseWet}, {catalogue.SenseWet}, {catalogue.SwitchLamp, catalogue.SwitchFan}, {catalogue.SwitchLamp, catalogue.SwitchFan},
		{catalogue.SwitchLamp, catalogue.DimLamp}}
	for _, k := range kinds {
		for i := rapid.IntRange(0, 2).Draw(t, "of a kind"); i > 0; i-- {
			p := catalogue.Part{ID: "part", Kind: "x", Does: k, Radio: radio("radio"), Channels: rapid.IntRange(1, 2).Draw(t, "channels"), Price: price("price")}
			if years := rapid.SampledFrom([]float64{0, 0, 1, 2, 3}).Draw(t, "years"); years > 0 {
				p.Battery = catalogue.Battery{Cell: "none on the shelf", Count: 1, Years: years}
			}
			switch k[0] {
			case catalogue.SwitchLamp:
				p.Moving = rapid.IntRange(0, 2).Draw(t, "moving")
				p.Place = rapid.SampledFrom([]string{"box", "box", "lamp"}).Draw(t, "place")
				p.Base = "GU10"
				p.Neutral = rapid.SampledFrom([]string{"needed", "not needed"}).Draw(t, "neutral")
				p.Ratings = map[catalogue.LoadKind]q.Power{catalogue.LED: q.Power(rapid.IntRange(10, 60).Draw(t, "led")), catalogue.Motor: 30}
				p.Depth = q.Length(rapid.SampledFrom([]float64{0.010, 0.018, 0.022}).Draw(t, "depth"))
				p.LeastLoad = q.Power(rapid.IntRange(0, 12).Draw(t, "least"))
				if p.Place == "lamp" {
					p.Does = does{catalogue.SwitchLamp, catalogue.DimLamp}
				}
			}
			add(p)
		}
	}
}

func randomNeeds(t *rapid.T) (ns []needs.Need) {
	for i := rapid.IntRange(1, 6).Draw(t, "needs"); i > 0; i-- {
		ns = append(ns, randomNeed(t, i, rapid.SampledFrom([]string{"a", "b"}).Draw(t, "room")))
	}
	return ns
}

func randomNeed(t *rapid.T, i int, room string) needs.Need {
	unsure := rapid.SampledFrom([]model.Fact[bool]{{}, {State: model.Unknown}, model.Know(true), model.Know(true), model.Know(false)})
	n := needs.Need{ID: fmt.Sprintf("%s/n%d", room, i), Room: room, Name: "thing"}
	want := rapid.SampledFrom([]catalogue.Ability{catalogue.SenseMotion, catalogue.SenseHumidity, catalogue.SenseWet,
		catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan}).Draw(t, "want")
	n.Wants = []catalogue.Ability{want}
	if want == catalogue.DimLamp {
		n.Wants = append(n.Wants, catalogue.SwitchLamp)
	}
	switch want {
	case catalogue.SwitchLamp, catalogue.DimLamp, catalogue.SwitchFan:
		n.Facts = needs.Facts{Box: room + "/box", Gangs: 6, Neutral: unsure.Draw(t, "neutral"), Dimmable: unsure.Draw(t, "dimmable"),
			Lamps: rapid.IntRange(1, 3).Draw(t, "lamps"), Base: rapid.SampledFrom([]string{"GU10", "E27"}).Draw(t, "base"),
			Load: q.Power(rapid.IntRange(3, 40).Draw(t, "load"))}
		if d := rapid.SampledFrom([]float64{0, 0.025, 0.035}).Draw(t, "box depth"); d > 0 {
			n.Facts.Depth = model.Know(q.Length(d))
		}
		if rapid.Bool().Draw(t, "no box") {
			n.Facts.Box = ""
		}
	}
	return n
}
