package bill_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// What the physics forbids is replaced by another part of the shelf, and where none is left the bill says why and what
// to change.
func TestPhysicsReplacesOrRefuses(t *testing.T) {
	plain := fan()
	neutral := fan()
	neutral.Facts.Neutral = model.Know(true)
	with := func(n needs.Need, f func(*needs.Facts)) needs.Need { f(&n.Facts); return n }
	wet := motion("shower-room")
	for _, c := range []struct {
		name        string
		need        needs.Need
		us          bool
		use         string // part that the project says to use
		part        string // chosen; "" is none
		why, remedy string // why not, where there is none
	}{
		{"18 W are 40 VA", with(plain, func(f *needs.Facts) { f.Load = 18 }), false, "", "relay-plain", "", ""},
		{"too weak a fan for a relay", with(neutral, func(f *needs.Facts) { f.Load = 3 }), false, "", "relay-neutral", "", ""},
		{"50 W are 98 VA", with(plain, func(f *needs.Facts) { f.Load = 50 }), false, "", "relay-plain", "", ""},
		{"52 W are over 100 VA", with(neutral, func(f *needs.Facts) { f.Load = 52 }), false, "", "relay-neutral", "", ""},
		{"over all", with(plain, func(f *needs.Facts) { f.Load = 90 }), false, "relay-plain", "",
			"may switch 100 VA of motors, and here it is 90 W of motors (144 VA at a power factor of 0.62)", "Take a stronger part, or split the load."},
		{"least load", with(plain, func(f *needs.Facts) { f.Load = 3 }), false, "relay-plain", "", "works steadily only from 4 W, and here it is 3 W: it would flicker or glow",
			"Take a part that uses the neutral, or add a bypass load."},
		{"zone 2", with(wet, func(f *needs.Facts) { f.Ingress, f.Zone = "IPX4", "2" }), false, "", "motion-wifi", "", ""},
		{"zone 0", with(wet, func(f *needs.Facts) { f.Ingress, f.Zone = "IPX7", "0" }), false, "motion-wifi", "",
			"is of ingress class IP44, and zone 0 asks for IPX7", "Move it out of zone 0, or take a sealed part."},
		{"box fill", with(neutral, func(f *needs.Facts) { f.Gangs, f.Depth = 1, model.Know(q.Length(0.0635)) }), true, "relay-neutral", "",
			"would fill the box to 18.0 in³ of the code's count, and at its depth it has about 16.2 in³", "Fit a box at least 2.77 in deep, or read the volume marked in this one."},
		{"room in the box", with(neutral, func(f *needs.Facts) { f.Gangs, f.Depth = 1, model.Know(q.Length(0.0762)) }), true, "", "relay-neutral", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, shelf := smallHome(), smallShelf()
			for i := range shelf.Parts {
				shelf.Parts[i].Mains = nil
			}
			if c.us {
				p.Home.Mains.Voltage, p.Home.Units = 120, "us"
			}
			if c.use != "" {
				p.Choices.Use = map[string]string{c.need.ID: c.use}
				shelf.Parts = slices.DeleteFunc(shelf.Parts, func(p catalogue.Part) bool { return p.Kind == bill.SpacerKind })
			}
			b, err := bill.Cheapest(t.Context(), p, shelf, []needs.Need{c.need}, rules.Sheet{})
			if err != nil {
				t.Fatal(err)
			}
			if c.part != "" {
				line(t, b, c.part)
				return
			}
			if len(b.Unmet) != 1 || !strings.Contains(b.Unmet[0].Reason, c.why) || b.Unmet[0].Remedy != c.remedy {
				t.Errorf("%+v", b.Unmet)
			}
		})
	}
}

// Nothing on the mains goes into a basin or tub, however well it is sealed.
func TestMainsStaysOutOfZone0(t *testing.T) {
	shelf := smallShelf()
	shelf.Parts = append(shelf.Parts,
		catalogue.Part{ID: "deep", Name: "Deep fitting", Kind: "lamp", Place: "fitting", Supply: "mains", Radio: "zigbee", Ingress: "IP68", Flux: 500,
			Does: []catalogue.Ability{catalogue.SwitchLamp}, Price: map[string]float64{"GBP": 20}},
		catalogue.Part{ID: "low", Name: "Deep fitting, 12 V", Kind: "lamp", Place: "fitting", Supply: "low voltage", Radio: "zigbee", Ingress: "IP68", Flux: 500,
			Does: []catalogue.Ability{catalogue.SwitchLamp}, Price: map[string]float64{"GBP": 90}})
	tub := needs.Need{ID: "shower-room/tub", Room: "shower-room", Goal: "lighting", Name: "tub light", Wants: []catalogue.Ability{catalogue.SwitchLamp},
		Facts: needs.Facts{Lamps: 1, Base: "integrated", Flux: 500, Ingress: "IPX7", Zone: "0", Load: 5, LoadKind: catalogue.LED,
			Box: "shower-room/box-1", Gangs: 1, Neutral: model.Know(false), Depth: model.Know(q.Length(0.012))}}
	b, err := bill.Cheapest(t.Context(), smallHome(), shelf, []needs.Need{tub}, rules.Sheet{})
	if err != nil {
		t.Fatal(err)
	}
	line(t, b, "low")
	without(t, b, "deep")
}
