package physics

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
)

// A toilet supply gives 9.5 l/min: 30 s of it are 4.75 l, and 2 s for the order with 10 s of closing at half flow make 5.86 l.
// By hand it is a quarter of an hour and 5 s: 9.5/60 × (30 + 900 + 2.5) = 147.6 l.
func TestLeakByHand(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	l, ok, err := Leak(p, r, r.Water[0])
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	near(t, "until told", l.LToTold, 4.75, 1e-9)
	near(t, "by hand", l.LToShut, 147.646, 1e-3)
	if !l.ByHand || !strings.Contains(l.Say, "a motor valve would make that 6 l") {
		t.Error(l.Say)
	}
	r.Brief.Leak.Want.Shut = "utility/stopcock"
	l, _, _ = Leak(p, r, r.Water[0])
	near(t, "by motor", l.LToShut, 9.5/60*37, 1e-9)
	if l.ByHand || !l.OK {
		t.Error(l.Say)
	}
	r.Brief.Leak.Want.Points = nil
	if l, _, _ = Leak(p, r, r.Water[0]); l.OK || !l.Unwarned || !strings.Contains(l.Say, "nobody is told, and 570 l an hour run out: put a probe there") {
		t.Error(l.Say)
	}
	if _, ok, _ := Leak(p, r, model.Water{ID: "main", Kind: "stopcock"}); ok {
		t.Error("a stopcock leaks")
	}
}

// The catalogue's life is for usual use: at that it comes out, and more reports shorten it.
func TestBatteriesKeepTheCataloguesWord(t *testing.T) {
	seen := 0
	for _, part := range fixtures.Catalogue().Parts {
		usual := usualOthers
		for _, a := range part.Does {
			usual = math.Max(usual, usualReports[a])
		}
		b, ok, err := BatteryOf(part, usual)
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			continue
		}
		seen++
		if part.Battery.Years > 0 && math.Abs(b.Years/part.Battery.Years-1) > 0.35 {
			t.Errorf("%s: %.2f years, the catalogue says %g", part.ID, b.Years, part.Battery.Years)
		}
		if b.Least > b.Years || b.Years > b.Most || math.Abs(b.CellsAYear*b.Years-float64(part.Battery.Count)) > 1e-9 {
			t.Errorf("%s: %+v", part.ID, b)
		}
	}
	if seen < 20 {
		t.Errorf("only %d parts with cells", seen)
	}
}

func TestMoreReportsNeverLastLonger(t *testing.T) {
	part, ok := fixtures.Catalogue().Part("hygrometer-zigbee")
	if !ok {
		t.Fatal("no hygrometer")
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(0, 20000).Draw(t, "reports")
		a, _, err1 := BatteryOf(part, n)
		b, _, err2 := BatteryOf(part, n*1.5+1)
		if err1 != nil || err2 != nil || b.Years > a.Years {
			t.Fatal(a.Years, b.Years, err1, err2)
		}
	})
	few, many := Reports(part, "hall", 1), Reports(part, "shower room", 4)
	if few >= many {
		t.Errorf("%v reports in a hall, %v in a shower room", few, many)
	}
}

// A cell of 225 mAh of which 0.85 is usable lasts 2 years at 10.9 µA; 400 µC 10000 times a day are 46.3 µA more.
func TestBatteryByHand(t *testing.T) {
	part := catalogue.Part{ID: "x", Name: "button", Radio: "zigbee", Supply: "battery", Does: []catalogue.Ability{catalogue.Press},
		Battery: catalogue.Battery{Cell: "CR2032", Count: 1, Years: 2}}
	b, ok, err := BatteryOf(part, 10000)
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	all := 225000 * 0.85 / (2 * 8760)
	near(t, "years", b.Years, 225000*0.85/(all-400*50/86400.0+400*10000/86400.0)/8760, 1e-6)
	if b.OK || !strings.Contains(b.Say, "months") || !strings.Contains(b.Say, "take a part that runs on the mains there") {
		t.Error(b.Say)
	}
}

// One lamp of 10 W at full for 1.5 h a day is 5.475 kWh a year.
func TestEnergyByHand(t *testing.T) {
	r := model.Room{ID: "b", Name: "Bedroom", Kind: "bedroom", Circuits: []model.Circuit{{ID: "a", Lamps: 1, Power: 10}}}
	relay := catalogue.Part{Supply: "mains", Uses: 0.5}
	e := EnergyOf(&model.Project{}, r, []catalogue.Part{relay, {Supply: "battery", Uses: 9}})
	near(t, "lamps", e.Lamps, 5.475, 1e-9)
	near(t, "devices", e.Devices, 4.38, 1e-9)
	near(t, "fans", e.Fans, 0, 0)
	if !strings.HasPrefix(e.Say, "About 10 kWh a year go into the bedroom: lamps 5, fans 0, devices at rest 4") {
		t.Error(e.Say)
	}
}

func house(walls model.Fact[string]) *model.Project {
	out := func(x float64) model.Outline { return model.Outline{X: q.Length(x), Width: 3, Depth: 3, Ceiling: 2.4} }
	return &model.Project{Home: model.Home{Walls: walls}, Rooms: []model.Room{
		{ID: "a", Name: "A", Outline: out(0)}, {ID: "b", Name: "B", Outline: out(3.1)}, {ID: "c", Name: "C", Outline: out(6.2)},
		{ID: "up", Name: "Up", Floor: 1, Outline: out(6.2)},
	}}
}

// From the middle of one room to that of the next but one: 6.2 m through 2 walls, L = 20 log 2450 + 28 log 6.2 - 28 = 61.97 dB;
// 4 dBm less that and 2 × 4 dB of brick beyond ordinary is -65.97 dBm, 31.03 dB over -97.
func TestRadioByHand(t *testing.T) {
	p := house(model.Know("brick"))
	h, err := Link(p, Spot{Room: "a"}, Spot{Room: "c"}, "zigbee", true)
	if err != nil {
		t.Fatal(err)
	}
	if h.Walls != 2 || h.Floors != 0 {
		t.Errorf("%d walls, %d floors", h.Walls, h.Floors)
	}
	near(t, "way", h.Metres, 6.2, 1e-9)
	near(t, "margin", h.Margin.Spare, 4-(20*math.Log10(2450)+28*math.Log10(6.2)-28)-8+97, 1e-9)
	if !h.OK || h.Least != 20 || !strings.HasPrefix(h.Say, "6.2 m from the a to the c, through 2 walls: 31 dB to spare, 20 are wanted") {
		t.Error(h.Say)
	}
	same, err := Link(p, Spot{Room: "c"}, Spot{Room: "a"}, "zigbee", true)
	if err != nil || same.Walls != h.Walls || same.Margin != h.Margin {
		t.Errorf("there and back differ: %+v %+v", h, same)
	}
	up, err := Link(p, Spot{Room: "a"}, Spot{Room: "up"}, "zigbee", false)
	if err != nil || up.Floors != 1 || up.Margin.Spare >= h.Margin.Spare {
		t.Errorf("%+v %v", up, err)
	}
}

func TestRadioTakesTheWorst(t *testing.T) {
	known, err := Link(house(model.Know("plasterboard")), Spot{Room: "a"}, Spot{Room: "up"}, "zigbee", true)
	if err != nil {
		t.Fatal(err)
	}
	unknown, err := Link(house(model.Fact[string]{State: model.Unknown}), Spot{Room: "a"}, Spot{Room: "up"}, "zigbee", true)
	if err != nil {
		t.Fatal(err)
	}
	if unknown.Margin.Spare >= known.Margin.Spare || unknown.OK || !strings.Contains(unknown.Because(), "concrete is taken") ||
		!strings.Contains(unknown.Say, "put a part that repeats Zigbee between them") {
		t.Errorf("%v %s", unknown.Margin.Spare, unknown.Because())
	}
	for radio, want := range map[string]string{"thread": "repeats Thread between", "ble": "repeats Bluetooth LE between", "wifi": "put an access point nearer"} {
		h, err := Link(house(model.Know("concrete")), Spot{Room: "a"}, Spot{Room: "up"}, radio, true)
		if err != nil || h.OK || !strings.Contains(h.Say, want) || strings.Contains(h.Say, "repeats") != Passes(radio) {
			t.Errorf("%s: %v %v %s", radio, err, h.OK, h.Say)
		}
	}
	if _, _, _, ok := Between(house(model.Know("concrete")), Spot{Room: "a"}, Spot{Room: "up"}, "wifi", true); ok {
		t.Error("something repeats Wi-Fi")
	}
	if _, err := Link(house(model.Know("brick")), Spot{Room: "a"}, Spot{Room: "b"}, "carrier pigeon", false); err == nil {
		t.Error("a pigeon is a radio")
	}
	if _, err := Link(house(model.Know("brick")), Spot{Room: "a"}, Spot{Room: "attic"}, "ble", false); err == nil {
		t.Error("a room that isn't there hears")
	}
	if h, err := Link(&model.Project{}, Spot{}, Spot{}, "wired", true); err != nil || !h.OK {
		t.Error(h, err)
	}
}

func TestCarries(t *testing.T) {
	p := &model.Project{Home: model.Home{Mains: model.Mains{Voltage: 230}}}
	relay := catalogue.Part{ID: "r", Name: "Relay", Kind: "relay", Ratings: map[catalogue.LoadKind]q.Power{catalogue.Resistive: 2300}}
	small := catalogue.Part{ID: "s", Name: "Small", Kind: "relay", Ratings: map[catalogue.LoadKind]q.Power{catalogue.Motor: 60}}
	dimmer := catalogue.Part{ID: "d", Name: "Dimmer", Kind: "dimmer", LeastLoad: 5, Ratings: map[catalogue.LoadKind]q.Power{catalogue.LED: 150}}
	for _, c := range []struct {
		part catalogue.Part
		load q.Power
		kind catalogue.LoadKind
		ok   bool
		says string
	}{
		{relay, 2300, catalogue.Resistive, true, "inside the 2300 W"},
		{relay, 321, catalogue.Motor, true, "inside the 383 VA"}, // a sixth, at 0.84
		{relay, 323, catalogue.Motor, false, "take a stronger part"},
		{small, 18, catalogue.Motor, true, "18 W of motors (40 VA at a power factor of 0.45) is inside the 60 VA"},
		{small, 28, catalogue.Motor, false, "28 W of motors (62 VA at a power factor of 0.45) is more than this relay may switch (60 VA): take a stronger part"},
		{relay, 231, catalogue.LED, false, "(230 W)"}, // a tenth
		{dimmer, 60, catalogue.LED, true, "inside the 150 W that this dimmer"},
		{dimmer, 4, catalogue.LED, false, "less than the 5 W that this dimmer needs"},
		{dimmer, 200, catalogue.LED, false, "split the load"},
		{dimmer, 20, catalogue.Motor, false, "no rating for such a load"},
	} {
		got, err := Carries(p, c.part, c.load, c.kind)
		if err != nil || got.OK != c.ok || !strings.Contains(got.Say, c.says) || got.Caution != "mains" {
			t.Errorf("%s, %v %s: %v %q %v", c.part.ID, c.load, c.kind, got.OK, got.Say, err)
		}
	}
	if _, err := Carries(p, relay, 0, catalogue.LED); err == nil {
		t.Error("no load is a load")
	}
}

func TestRoomsWithoutANameAreStillRooms(t *testing.T) {
	for _, c := range []struct{ room, want string }{
		{"", "the room"}, {"Shower room", "the shower room"}, {"Rosa's study", "Rosa's study"}, {"WC", "the WC"}, {"The den", "the den"},
		{"Übungsraum", "the übungsraum"}, {"Room 1", "Room 1"},
	} {
		if got := the(model.Room{Name: c.room}); got != c.want {
			t.Errorf("%q: %q", c.room, got)
		}
	}
	for _, n := range Room(&model.Project{}, model.Room{Circuits: []model.Circuit{{ID: "a", Lamps: 1, Flux: 500}}}) {
		if !strings.Contains(n.Say, "in the room") {
			t.Error(n.Say)
		}
	}
}

// A larger motor never draws less, and none draws less than it turns into work and heat.
func TestApparentPowerRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(0.1, 3000).Draw(t, "watts")
		a, factor := Apparent(q.Power(w))
		b, _ := Apparent(q.Power(w + rapid.Float64Range(0.01, 500).Draw(t, "more")))
		if b <= a || a < w || factor < 0.45 || factor > 1 {
			t.Fatal(w, a, b, factor)
		}
	})
}

func TestBoxFill(t *testing.T) {
	for _, c := range []struct {
		gangs           int
		neutral, behind bool
		depth           float64 // in
		needs           float64 // in³
		ok              bool
	}{
		{1, true, false, 2.5, 14, true}, {1, true, true, 2.5, 18, false}, {1, true, true, 2.8, 18, true},
		{1, false, true, 2.5, 14, true}, {2, true, true, 2.5, 30, true}, {2, true, true, 2.25, 30, false}, {1, true, false, 2, 14, false},
	} {
		f, err := BoxFill(c.gangs, c.neutral, c.behind, c.depth*0.0254)
		if err != nil || f.Needs != c.needs || f.OK != c.ok || !f.OK && !strings.Contains(f.Say, "read the volume that is marked") {
			t.Errorf("%+v: %+v %v", c, f, err)
		}
	}
}

func TestPlugged(t *testing.T) {
	us := &model.Project{Home: model.Home{Mains: model.Mains{Voltage: 120, Outlet: 15}}}
	uk := &model.Project{Home: model.Home{Mains: model.Mains{Voltage: 230, Outlet: 13}}}
	for _, c := range []struct {
		p     *model.Project
		watts q.Power
		hours float64
		ok    bool
		says  string
	}{
		{us, 1500, 0, true, "plug in nothing else on its circuit"}, {us, 1500, 4, false, "circuit of its own"}, {us, 1440, 4, true, ""},
		{us, 1900, 0, false, "licensed electrician"}, {uk, 2990, 4, true, "inside the 2990 W"}, {uk, 3100, 0, false, "2990 W"},
	} {
		got, err := Plugged(c.p, model.Appliance{ID: "iron", Power: c.watts}, c.hours)
		if err != nil || got.OK != c.ok || !strings.Contains(got.Say, c.says) {
			t.Errorf("%v for %v h: %v %q %v", c.watts, c.hours, got.OK, got.Say, err)
		}
	}
}

func TestWetPlaces(t *testing.T) {
	for _, c := range []struct {
		inside, over          bool
		height, aside, outlet float64
		ingress               string
		ok                    bool
		says                  string
	}{
		{true, false, 0.2, 0, 2, "IPX7", false, "12 V"},
		{false, true, 2, 0, 2, "IP44", true, "zone 1, which asks for IPX4: IP44 does"},
		{false, true, 2, 0, 2, "IP20", false, "take a sealed part"},
		{false, false, 1, 0.5, 2, "", false, "in zone 2"},
		{false, false, 1, 1, 2, "", true, "the general rules hold"},
	} {
		w, err := WetPlace(c.inside, c.over, true, c.height, c.aside, c.outlet, c.ingress)
		if err != nil || w.OK != c.ok || !strings.Contains(w.Say, c.says) || w.Caution != "wet room" {
			t.Errorf("%+v: %v %q %v", c, w.OK, w.Say, err)
		}
	}
	if _, err := WetPlace(false, false, true, 9, 0, 2, ""); err == nil || !strings.Contains(err.Error(), "outside 0 to 5 m") {
		t.Error(err)
	}
	if Sealed("", "IPX4") || !Sealed("IP65", "IPX4") || Sealed("IP4", "IPX4") || ZoneIngress("2") != "IPX4" || ZoneIngress("outside") != "" {
		t.Error("ingress classes are not compared by their water digit")
	}
}

// Everything that is said of the example homes is a plain sentence with figures in it.
func TestWhatIsSaidOfTheHomes(t *testing.T) {
	for _, h := range fixtures.Homes() {
		p := homeOf(t, h)
		for _, r := range p.Rooms {
			for _, n := range Room(p, r) {
				if n.Say == "" || !strings.HasSuffix(n.Say, ".") || strings.Contains(n.Say, "can't be reckoned") || !strings.HasPrefix(n.Path, "rooms/"+r.ID) {
					t.Errorf("%s %s: %q", h.File, n.Path, n.Say)
				}
				for _, bad := range []string{"NaN", "Inf", "%!", "  ", "1 are ", ".."} {
					if strings.Contains(n.Because(), bad) {
						t.Errorf("%s %s: %q has %q", h.File, n.Path, n.Because(), bad)
					}
				}
			}
			if e := EnergyOf(p, r, nil); e.Total() < 0 || e.Total() > 2000 || math.IsNaN(e.Total()) {
				t.Errorf("%s %s: %v kWh", h.File, r.ID, e.Total())
			}
		}
	}
}

func BenchmarkRoom(b *testing.B) {
	p, r := home(b, "alder-row", "shower-room")
	for b.Loop() {
		Room(p, r)
	}
}

// Between two rooms the one in the middle repeats best, and each half has more to spare than the whole.
func TestRepeaterGoesBetween(t *testing.T) {
	p := house(model.Know("concrete"))
	whole, err := Link(p, Spot{Room: "a"}, Spot{Room: "c"}, "zigbee", true)
	if err != nil {
		t.Fatal(err)
	}
	r, first, second, ok := Between(p, Spot{Room: "a"}, Spot{Room: "c"}, "zigbee", true)
	if !ok || r.ID != "b" || first.Margin.Spare <= whole.Margin.Spare || second.Margin.Spare <= whole.Margin.Spare {
		t.Errorf("%v %q: %v and %v, not %v", ok, r.ID, first.Margin.Spare, second.Margin.Spare, whole.Margin.Spare)
	}
	if r, _, _, ok := Between(p, Spot{Room: "a"}, Spot{Room: "a"}, "zigbee", true); ok {
		t.Errorf("%s repeats between two places in one room", r.ID)
	}
}

// However many floors lie between, each more takes something or nothing, and never gives it back: the formula's end is no way through.
func TestManyFloorsCarryNoRadio(t *testing.T) {
	for _, walls := range []string{"timber", "brick", "concrete"} {
		p := house(model.Know(walls))
		last := math.Inf(1)
		for floor := 1; floor <= 40; floor++ {
			p.Rooms[3].Floor = floor
			h, err := Link(p, Spot{Room: "c"}, Spot{Room: "up"}, "zigbee", false)
			if err != nil || h.Margin.Spare > last {
				t.Fatalf("%s, floor %d: %v dB after %v, %v", walls, floor, h.Margin.Spare, last, err)
			}
			clear := NewEther(p).Clear(Spot{Room: "c"}, Spot{Room: "up"}, "zigbee")
			if last = h.Margin.Spare; clear < last-1e-9 || math.IsInf(clear, 1) {
				t.Fatalf("%s, floor %d: %v dB at most, %v found", walls, floor, clear, last)
			}
		}
		if walls == "concrete" && last >= 0 {
			t.Errorf("%v dB to spare through 40 slabs", last)
		}
	}
}
