package bill_test

import (
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// A small shelf with round prices, so that sums can be checked by hand.
func smallShelf() *catalogue.Catalogue {
	pounds := func(x float64) map[string]float64 { return map[string]float64{"GBP": x} }
	box := catalogue.Part{Place: "box", Radio: "zigbee", Supply: "mains", Mains: []q.Voltage{230}}
	in := func(id, name string, price float64, minutes int, f func(*catalogue.Part)) catalogue.Part {
		p := box
		p.ID, p.Name, p.Kind, p.Price, p.Minutes = id, name, "relay", pounds(price), minutes
		f(&p)
		return p
	}
	led := func(w float64) map[catalogue.LoadKind]q.Power {
		return map[catalogue.LoadKind]q.Power{catalogue.LED: q.Power(w), catalogue.Motor: q.Power(w)}
	}
	return &catalogue.Catalogue{Version: 1, Dated: "2026-03",
		Limits: []catalogue.Limits{{ID: "modest", Rules: 60}, {ID: "able"}},
		Parts: []catalogue.Part{
			in("relay-neutral", "In-box relay, neutral needed", 10, 30, func(p *catalogue.Part) {
				p.Does = []catalogue.Ability{catalogue.SwitchLamp, catalogue.SwitchFan}
				p.Neutral, p.Depth, p.Ratings = "needed", 0.018, led(200)
			}),
			in("relay-plain", "In-box relay, no neutral needed", 20, 30, func(p *catalogue.Part) {
				p.Does = []catalogue.Ability{catalogue.SwitchLamp, catalogue.SwitchFan}
				p.Neutral, p.Depth, p.Ratings, p.LeastLoad = "not needed", 0.020, led(100), 4
			}),
			in("relay-two", "In-box relay, two channels", 16, 40, func(p *catalogue.Part) {
				p.Does = []catalogue.Ability{catalogue.SwitchLamp, catalogue.SwitchFan}
				p.Neutral, p.Depth, p.Channels, p.Ratings = "needed", 0.020, 2, led(150)
			}),
			in("dimmer-neutral", "In-box dimmer, neutral needed", 25, 30, func(p *catalogue.Part) {
				p.Kind, p.Does = "dimmer", []catalogue.Ability{catalogue.SwitchLamp, catalogue.DimLamp}
				p.Neutral, p.Depth, p.Ratings = "needed", 0.020, led(150)
			}),
			in("dimmer-plain", "In-box dimmer, no neutral needed", 30, 30, func(p *catalogue.Part) {
				p.Kind, p.Does, p.Caution = "dimmer", []catalogue.Ability{catalogue.SwitchLamp, catalogue.DimLamp}, "mains"
				p.Neutral, p.Depth, p.Ratings, p.LeastLoad = "not needed", 0.020, led(100), 8
			}),
			{ID: "lamp", Name: "GU10 lamp, tunable white", Kind: "lamp", Place: "lamp", Radio: "zigbee", Base: "GU10", Flux: 470,
				Does: []catalogue.Ability{catalogue.SwitchLamp, catalogue.DimLamp, catalogue.TuneLamp}, Price: pounds(12), Minutes: 5},
			{ID: "plain", Name: "GU10 lamp, plain", Kind: "plain lamp", Place: "lamp", Base: "GU10", Flux: 470, Dimmable: true, Uses: 5,
				Price: pounds(3), Minutes: 3},
			{ID: "plate", Name: "Guard plate", Kind: bill.GuardKind, Price: pounds(5), Minutes: 5},
			{ID: "spacer", Name: "Spacer frame", Kind: bill.SpacerKind, Depth: 0.010, Price: pounds(3), Minutes: 10},
			{ID: "motion", Name: "Motion sensor", Kind: "motion sensor", Does: []catalogue.Ability{catalogue.SenseMotion}, Radio: "zigbee",
				Supply: "battery", Battery: catalogue.Battery{Cell: "AAA", Count: 2}, Price: pounds(15), Minutes: 10},
			{ID: "motion-wifi", Name: "Motion sensor, Wi-Fi", Kind: "motion sensor", Does: []catalogue.Ability{catalogue.SenseMotion}, Radio: "wifi",
				Ingress: "IP44", Price: pounds(12), Minutes: 10},
			{ID: "cell", Name: "AAA cell", Kind: bill.CellKind, Battery: catalogue.Battery{Cell: "AAA", Count: 1}, Price: pounds(0.5)},
			{ID: "valve-15", Name: "Valve, 15 mm", Kind: "valve", Does: []catalogue.Ability{catalogue.ShutWater}, Radio: "zigbee", Pipe: 0.015, Price: pounds(60)},
			{ID: "valve-28", Name: "Valve, 28 mm", Kind: "valve", Does: []catalogue.Ability{catalogue.ShutWater}, Radio: "zigbee", Pipe: 0.028, Price: pounds(100)},
			{ID: "box", Name: "Controller", Kind: "controller", Does: []catalogue.Ability{catalogue.Host}, Price: pounds(50), Minutes: 60,
				Host: catalogue.HostSpec{Radios: []string{"zigbee"}, Children: map[string]int{"zigbee": 4}, Limits: "modest"}},
			{ID: "big-box", Name: "Controller, able", Kind: "controller", Does: []catalogue.Ability{catalogue.Host}, Price: pounds(120), Minutes: 60,
				Host: catalogue.HostSpec{Radios: []string{"zigbee", "wifi"}, Children: map[string]int{"zigbee": 60}, Limits: "able"}},
			{ID: "stick", Name: "Wi-Fi adapter", Kind: "radio adapter", Does: []catalogue.Ability{catalogue.Speak}, Price: pounds(20),
				Host: catalogue.HostSpec{Radios: []string{"wifi"}, Children: map[string]int{"wifi": 10}}},
		}}
}

// smallHome is priced at 48 an hour, a markup of 10 % and a tax of 20 %.
func smallHome() *model.Project {
	p := &model.Project{}
	p.Home.Currency, p.Home.Mains.Voltage = "GBP", 230
	p.Home.Terms = model.Terms{Labour: q.HourlyRate{Amount: 48, Currency: "GBP"}, Markup: 10, Tax: 20}
	p.Rooms = []model.Room{{ID: "shower-room", Name: "Shower room"}, {ID: "hall", Name: "Hall"}}
	return p
}

// ceiling is a circuit of three lamps behind a two-gang box 35 mm deep without a neutral.
func ceiling(want ...catalogue.Ability) needs.Need {
	return needs.Need{ID: "shower-room/ceiling", Room: "shower-room", Goal: "lighting", Name: "ceiling light", Wants: want,
		Facts: needs.Facts{Box: "shower-room/box-1", Gangs: 2, Neutral: model.Know(false), Depth: model.Know(q.Length(0.035)),
			Lamps: 3, Base: "GU10", Flux: 470, Dimmable: model.Know(true), Load: 21, LoadKind: catalogue.LED}}
}

func fan() needs.Need {
	return needs.Need{ID: "shower-room/extract", Room: "shower-room", Goal: "ventilation", Name: "extract fan",
		Wants: []catalogue.Ability{catalogue.SwitchFan}, Facts: needs.Facts{Box: "shower-room/box-1", Gangs: 2, Neutral: model.Know(false),
			Depth: model.Know(q.Length(0.035)), Load: 18, LoadKind: catalogue.Motor}}
}

func motion(room string) needs.Need {
	return needs.Need{ID: room + "/motion", Room: room, Goal: "lighting", Name: "motion", Wants: []catalogue.Ability{catalogue.SenseMotion}}
}

func cheapest(t *testing.T, p *model.Project, ns ...needs.Need) bill.Bill {
	t.Helper()
	b, err := bill.Cheapest(t.Context(), p, smallShelf(), ns, rules.Sheet{})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func line(t *testing.T, b bill.Bill, part string) bill.Line {
	t.Helper()
	for _, l := range b.Lines {
		if l.Part == part {
			return l
		}
	}
	t.Fatalf("no line for %s:\n%s", part, bill.Text(b, 100, nil))
	return bill.Line{}
}

func without(t *testing.T, b bill.Bill, part string) {
	t.Helper()
	for _, l := range b.Lines {
		if l.Part == part {
			t.Errorf("%s is on the bill:\n%s", part, bill.Text(b, 100, nil))
		}
	}
}
