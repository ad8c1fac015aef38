package interview

import (
	"strings"
	"testing"

	"example.org/roombrief/model/projectfile"
)

// room is a shower room with everything, in a metric or a US home.
func finished(t *testing.T, place, kind string) (*projectfile.Document, string) {
	t.Helper()
	d := empty()
	for _, qn := range All(d, "") {
		if qn.ID == "home/place" {
			var err error
			if d, err = Answer(d, qn, place); err != nil {
				t.Fatal(err)
			}
		}
	}
	d, _ = accept(t, d, "")
	d, id, err := AddRoom(d, kind, "Room")
	if err != nil {
		t.Fatal(err)
	}
	d, _ = accept(t, d, id)
	return d, id
}

func question(t *testing.T, d *projectfile.Document, room, id string) Question {
	t.Helper()
	for _, qn := range All(d, room) {
		if qn.ID == id {
			return qn
		}
	}
	t.Fatalf("%q is not asked", id)
	return Question{}
}

func TestWhatMayBeTyped(t *testing.T) {
	type c struct{ id, text, want string } // want is how it reads afterwards, or "!" and a part of the refusal
	cases := map[string][]c{
		"": {
			{"home/place", "53.96 N, 1.08 W Europe/London", "53.96, -1.08 Europe/London"},
			{"home/place", "52.1 5.1", "52.1, 5.1 Europe/Amsterdam"},
			{"home/place", "Rome", "41.9, 12.5 Europe/Rome"},
			{"home/place", "Atlantis", "!neither one of these towns"},
			{"home/place", "95, 10", "!neither one of these towns"},
			{"home/place/latitude", "95, 10", "!not a place on the globe"},
			{"home/place/timezone", "mars", "!not the name of a time zone"},
			{"home/mains/wired", "1962", "1962"},
			{"home/mains/wired", "b", "1960"},
			{"home/mains/wired", "19", "!not a year"},
			{"home/walls", "u", "unknown"},
			{"home/walls", "glass", "!not one of the answers here"},
			{"home/indoor", "18 50, 26 65", "18 C 50 %, 26 C 65 %"},
			{"home/indoor", "18 50", "!not the air"},
			{"home/terms", "ourselves", "0 GBP/h, 0 %, 20 %"},
			{"home/terms", "60, 10, 20", "60 GBP/h, 10 %, 20 %"},
			{"home/terms", "60 USD/h, 10, 20", "!not terms"},
			{"existing", "none", "none"},
			{"existing", "2 door-zigbee, leak-point-zigbee and 3x door-thread", "2 door-zigbee, 1 leak-point-zigbee, 3 door-thread"},
			{"existing", "2 × door-zigbee", "2 door-zigbee"},
			{"existing", "2 zigbee door contact", "!may be door-wired or door-zigbee; write which, as in 2 door-"},
			{"existing", "0 door-zigbee", "!not how many"},
			{"existing", "a banjo", "!no part of the catalogue"},
			{"people", "Rosa, Otto (slow mover; early riser), Mia (child), Dilip next door, cat 4 kg", "Rosa, Otto (slow mover; early riser), Mia (child), Dilip next door, cat 4 kg"},
			{"people", "cat 4000 kg", "!not a weight"},
			{"people", ",,", "!nobody is named"},
		},
		"room": {
			{"floor", "basement", "-1"},
			{"floor", "1.5", "!not a floor"},
			{"outline", "2,1 x 2,4 x 2,35", "2.1 m x 2.4 m, ceiling 2.35 m"},
			{"outline", "7 x 8 ft, ceiling 7 ft 10 in", "7 ft x 8 ft, ceiling 7 ft 10 in"},
			{"outline", "240 cm by 3 m", "240 cm x 3 m, ceiling 2.35 m"},
			{"outline", "2.1", "!not the size of a room"},
			{"outline", "2 x 300", "!is no depth of a room"},
			{"doors", "open to garden; opening to Room, hall shut", "open to garden; opening to room; closed to hall"},
			{"doors", "none", "none"},
			{"windows", "2", "window; window"},
			{"windows", "N", "N"},
			{"windows", "south-east 1.2; W", "SE 1.2 m2; W"},
			{"windows", "S 1.2 W", "!is not a window"},
			{"circuits", "ceiling 4x GU10 470lm, mirror 1 integrated 450 lm 5W outside", "ceiling 4 GU10 470 lm zone 2; mirror 1 integrated 450 lm 5 W zone outside"},
			{"circuits", "ceiling 400 GU10; mirror", "!not a count for one circuit"},
			{"circuits", "ceiling 3 GU10 sparkly; mirror", "!cannot be read"},
			{"circuits/mirror/dimmable", "y", "yes"},
			{"circuits/mirror/dimmable", "don't know", "unknown"},
			{"circuits/mirror/dimmable", "perhaps", "!neither yes nor no"},
			{"circuits/mirror/zone", "f", "outside"},
			{"fans", "extract 76 m3/h", "extract 76 m3/h 18 W"},
			{"fans", "extract unknown", "extract unknown 18 W"},
			{"fans", "extract 21 parsecs", "!is not a fan"},
			{"switches", "double by the door", "2 gang by the door"},
			{"switches", "9 gang", "!count of switches"},
			{"switches/box-1/depth", "35", "35 mm"},
			{"switches/box-1/depth", "2 in", "2 in"},
			{"switches/box-1/depth", "2 m", "!not the depth"},
			{"water", "cb", "!is no water point"}, // the leak goal still watches the tray
			{"water", "c, t, b, tank supply", "cistern, tray, basin, tank"},
			{"water", "cistern, tray, basin, tank", "!say what it is"},
			{"appliances", "t, glue gun 100 W, CPAP", "towel rail, glue gun, cpap"},
			{"appliances", "glue gun 100 kg", "!not the power"},
			{"brief/lighting/periods", "6:30am 90 4000; sunset + 30m 40% warm; 10:45 pm 5 amber mirror", "06:30 90 % 4000 K; sunset+00:30 40 % 2700 K; 22:45 5 % 2200 K mirror"},
			{"brief/lighting/periods", "30 min before sunset full, midnight off", "sunset-00:30 100 %; 00:00 0 %"},
			{"brief/lighting/periods", "90 %", "!before any time"},
			{"brief/lighting/periods", "06:00", "!has no level"},
			{"brief/lighting/periods", "06:00 90 %; 06:00 80 %", "!starts two stretches"},
			{"brief/lighting/periods", "06:00 120 %", "!out of range"},
			{"brief/lighting/periods", "06:00 90 % porch", "!neither a level, a colour nor a circuit"},
			{"brief/lighting/periods", "25:00 90 %", "!not a time of day"},
			{"brief/lighting/stop/after", "5", "5 min"},
			{"brief/lighting/stop/after", "90 seconds", "1m30s"},
			{"brief/lighting/stop/after", "no", "!has to end some time"},
			{"brief/lighting/stop/after", "1s", "!out of range"},
			{"brief/lighting/stop/after", "soon", "!not a time"},
			{"brief/ventilation", "60 %", "damp"},
			{"brief/ventilation", "p", "people"},
			{"brief/ventilation", "20", "!out of range|not one of"},
			{"brief/ventilation/at_most", "3", "3 h a day"},
			{"brief/ventilation/at_most", "90m per day", "90m a day"},
			{"brief/ventilation/at_most", "30h", "!out of range"},
			{"brief/ventilation/on_request", "20, 1h", "20m, 1h"},
			{"brief/ventilation/on_request", "none", "none"},
			{"brief/ventilation/quiet", "11 pm to 6 am except requests", "23:00-06:00 except request"},
			{"brief/ventilation/quiet", "sunset to sunrise-00:30", "sunset-sunrise-00:30 except nothing"},
			{"brief/ventilation/quiet", "23:00-23:00", "!not quiet hours"},
			{"brief/ventilation/quiet", "23:00-06:00 except cats", "!no exception"},
			{"brief/leak/points", "t", "tray"},
			{"brief/leak/points", "boiler", "!no water point"},
			{"brief/leak/tell", "all", "owner"},
			{"brief/leak/tell", "the queen", "!nobody who may be told"},
			{"brief/buttons", "press lights 30%, double fan 20m", "by door: press lights 30 %, double fan 20m"},
			{"brief/buttons", "by door: press extend iron", "!names no appliance"},
			{"brief/buttons", "by door: press coffee", "!not something a button can do"},
			{"brief/buttons", "by door: press lights off, press lights full", "!given twice"},
			{"brief/said", "No blinding, please.", "No blinding, please."},
		},
	}
	base, id := finished(t, "l", "shower room")
	for _, list := range []string{"", "room"} {
		for _, c := range cases[list] {
			room := ""
			if list != "" {
				room = id
			}
			t.Run(c.id+" "+c.text, func(t *testing.T) {
				d, err := Answer(base, question(t, base, room, c.id), c.text)
				if part, refused := strings.CutPrefix(c.want, "!"); refused {
					if err == nil {
						t.Fatalf("accepted; it was to be refused because %q", part)
					}
					for _, p := range strings.Split(part, "|") {
						if strings.Contains(err.Error(), p) {
							return
						}
					}
					t.Fatalf("refused with %q, which does not say %q", err, part)
				}
				if err != nil {
					t.Fatal(err)
				}
				if got := question(t, d, room, c.id).Now; !same(got, c.want) {
					t.Errorf("reads %q, wanted %q", got, c.want)
				}
			})
		}
	}
}

// same compares what is written, whatever the spelling of spans.
func same(got, want string) bool {
	tidy := strings.NewReplacer(" min", "m", " seconds", "s", "90s", "1m30s", "90m", "1h30m", "3 h", "3h").Replace
	return got == want || tidy(got) == tidy(want)
}

func TestUSHomeIsAskedInItsOwnUnits(t *testing.T) {
	d, id := finished(t, "New York", "shower room")
	p := d.Project()
	if p.Home.Units != "us" || p.Home.Currency != "USD" || p.Home.Mains.Voltage != 120 || p.Home.Mains.Outlet != 15 {
		t.Errorf("the country settles %+v", p.Home)
	}
	if got := question(t, d, id, "fans").Default; got != "extract 50 cfm 18 W" {
		t.Errorf("fan proposed: %s", got)
	}
	d, err := Answer(d, question(t, d, id, "outline"), "7 x 8, ceiling 8")
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := d.Text("rooms/room/outline/width"); got != "7 ft" {
		t.Errorf("a bare number became %s", got)
	}
	if got := question(t, d, id, "outline").Answer; got != "7 ft x 8 ft, ceiling 8 ft" {
		t.Errorf("shown as %s", got)
	}
}
