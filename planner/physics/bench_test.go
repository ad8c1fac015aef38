package physics

import (
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/catalogue"
)

// Each call on the shower room of an example home; a room's year goes through all of its air.
func BenchmarkEveryCall(b *testing.B) {
	p, r := home(b, "alder-row", "shower-room")
	shelf := fixtures.Catalogue()
	relay, _ := shelf.Part("relay-1-neutral-zigbee")
	sensor, _ := shelf.Part("hygrometer-zigbee")
	ether := NewEther(p)
	for _, c := range []struct {
		name string
		call func()
	}{
		{"Air", func() { _, _ = Air(p, r) }}, {"Light", func() { _, _ = Light(p, r) }}, {"Extract", func() { Extract(p, r) }},
		{"Leak", func() { _, _, _ = Leak(p, r, r.Water[0]) }}, {"Hold", func() { _, _ = Hold(230, relay, 18, catalogue.Motor) }},
		{"BoxFill", func() { _, _ = BoxFill(2, true, true, 0.06) }}, {"WetPlace", func() { _, _ = WetPlace(false, true, true, 2, 0, 2, "IP44") }},
		{"Link", func() { _, _ = Link(p, Spot{Room: "hall"}, Spot{Room: "study"}, "zigbee", true) }},
		{"Hear", func() { _, _ = ether.Hear(Spot{Room: "hall"}, Spot{Room: "study"}, "zigbee", true) }},
		{"Clear", func() { _ = ether.Clear(Spot{Room: "hall"}, Spot{Room: "study"}, "zigbee") }},
		{"BatteryOf", func() { _, _, _ = BatteryOf(sensor, Reports(sensor, r.Kind, 3)) }},
		{"EnergyOf, a year", func() { EnergyOf(p, r, []catalogue.Part{relay, sensor}) }}, {"Room", func() { Room(p, r) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				c.call()
			}
		})
	}
}
