package site

import (
	"testing"
	"time"
)

func BenchmarkEveryCall(b *testing.B) {
	d := Damp{Volume: 12, Temperature: 22, Pressure: SeaLevel, Start: 0.5, SupplyTemp: 20, SupplyRH: 0.5, Source: 2.6, Minutes: 8, Airflow: 15}
	room := Lumen{4, 3, 2.4, 0.85, 0, 800, 1, 0.4, 0.8}
	link := Link{MHz: 2450, Metres: 10, Floors: 1, FloorLoss: 5, Walls: 8, Transmit: 4, Sensitivity: -97}
	drain := Drain{Capacity: 225, Usable: 0.85, SelfLoss: 0.01, Sleep: 2, Events: []Event{{400, 40}, {150, 24}}}
	box := BoxFill{Conductors: map[int]int{14: 4, 12: 2}, Devices: []Yoke{{14, 1}}, Clamps: true, Grounds: []int{14, 14, 12}, Edition: 2020}
	state := must2(MoistAir(20, 0.5, SeaLevel))
	at := time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)
	loc := zone(b, "Europe/London")
	watts := make([]float64, 120)
	for _, c := range []struct {
		name string
		call func()
	}{
		{"Pressure", func() { _, _ = Pressure(640) }}, {"Saturation", func() { _, _ = Saturation(21) }},
		{"MoistAir", func() { _, _ = MoistAir(22, 0.55, SeaLevel) }}, {"AtSurface", func() { _, _ = AtSurface(state, 0, 0.7) }},
		{"Dry", func() { _, _ = d.Dry(0.65) }}, {"At", func() { _, _, _ = d.At(12) }}, {"AirflowFor", func() { _, _ = d.AirflowFor(0.65, 45) }},
		{"CeilingAtSurface", func() { _, _, _ = CeilingAtSurface(20, 0, 0.75, MouldAt) }}, {"Lowest", func() { _, _ = d.Lowest(45) }},
		{"AirflowSurely", func() { _, _ = d.AirflowSurely(0.65, 45) }}, {"Course", func() { c, _ := d.Course(0.65); _, _ = c.At(12) }},
		{"BathFan", func() { _, _ = BathFan(80, 1, 1, 1, 0) }}, {"WholeDwelling", func() { _, _ = WholeDwelling(120, 3) }},
		{"Luminaires", func() { _, _ = room.Luminaires(150) }}, {"Point", func() { _, _, _ = Point(450, 2, 0.5) }},
		{"PathLoss", func() { _, _ = PathLoss(2450, 28, 10, 5) }}, {"Link", func() { _, _ = link.Reckon() }}, {"Airtime", func() { _, _, _, _ = Airtime(40) }},
		{"Load", func() { _, _ = Load(230, 1, 1500, 13, Intermittent) }}, {"Relay", func() { _, _, _, _ = Relay(10, "motor", 230, 100, 0.8) }},
		{"BoxFill", func() { _, _ = box.CubicInches() }}, {"ZoneOf", func() { _, _ = ZoneOf(false, true, true, 2, 0, 2) }},
		{"Life", func() { _, _ = drain.Life() }}, {"LeakVolume", func() { _, _ = LeakVolume(10, 30, 1, 1, 10) }},
		{"Orifice", func() { _, _ = Orifice(0.003, 4e5) }}, {"Puddle", func() { _, _, _, _ = Puddle(60, 5, 0.3) }},
		{"Hammer", func() { _, _, _ = Hammer(1.5, 20, 1300, 0.05) }}, {"InUse", func() { _, _ = InUse(watts, 15, 4) }},
		{"SunDay", func() { _, _ = SunDay(53.96, -1.08, Date{2026, 3, 2}, loc) }}, {"SunPosition", func() { _, _ = SunPosition(53.96, -1.08, at) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				c.call()
			}
		})
	}
}

func must2[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
