package catalogue

import (
	"errors"
	"strings"
	"testing"
)

const small = `catalogue: 1
dated: 2026-03
limits:
  - {id: modest, guards: both}
parts:
  - id: cell
    name: Cell
    kind: battery cell
    battery: {cell: AAA, count: 1}
    price: {GBP: 1, EUR: 1.1, USD: 1.2}
  - id: relay
    name: Relay
    kind: relay
    does: [switch lamps, switch fan]
    place: box
    radio: zigbee
    supply: mains
    mains: [230 V]
    neutral: needed
    depth: 18 mm
    ratings: {led: 200 W, motor: 250 W}
    behaviour: {power_up: last, orders: set}
    price: {GBP: 10, EUR: 11, USD: 12}
    caution: mains
  - id: motion
    name: Motion
    kind: motion sensor
    does: [sense motion]
    place: wall
    radio: zigbee
    supply: battery
    battery: {cell: AAA, count: 2, years: 2}
    price: {GBP: 10, EUR: 11, USD: 12}
  - id: key
    name: Key
    kind: button
    does: [press]
    radio: zigbee
    supply: low voltage
    presses: [press, hold]
    price: {GBP: 10, EUR: 11, USD: 12}
  - id: box
    name: Box
    kind: controller
    does: [host rules]
    supply: mains
    host: {radios: [zigbee], children: {zigbee: 32}, limits: modest}
    also: [{part: relay}]
    price: {GBP: 10, EUR: 11, USD: 12}
  - id: lamp
    name: Lamp
    kind: lamp
    does: [switch lamps, dim lamps, tune lamps]
    place: lamp
    radio: zigbee
    repeats: yes
    supply: mains
    base: E27
    flux: 806 lm
    behaviour: {power_up: on, orders: set}
    price: {GBP: 10, EUR: 11, USD: 12}
`

func TestParse(t *testing.T) {
	c, err := Parse([]byte(small))
	if err != nil {
		t.Fatal(err)
	}
	relay, ok := c.Part("relay")
	if !ok || relay.Ratings[Motor] != 250 || relay.Depth != 0.018 || !relay.Can(SwitchFan) || relay.Can(DimLamp) {
		t.Errorf("relay: %v %+v", ok, relay)
	}
	if _, ok := c.Part("relays"); ok {
		t.Error("found a part that isn't there")
	}
	if l, ok := c.LimitSet("modest"); !ok || l.Guards != "both" {
		t.Errorf("limits: %v %+v", ok, l)
	}
	if _, ok := c.LimitSet("bold"); ok {
		t.Error("found limits that aren't there")
	}
	if cell, ok := c.Cell("AAA"); !ok || cell.ID != "cell" {
		t.Errorf("cell: %v %+v", ok, cell)
	}
	if zigbee := c.Filter(func(p Part) bool { return p.Radio == "zigbee" }); len(zigbee) != 4 || zigbee[0].ID != "relay" {
		t.Errorf("filtered %d parts", len(zigbee))
	}
}

// A catalogue made in code has no index and is searched all the same.
func TestLookupWithoutIndex(t *testing.T) {
	c := Catalogue{Parts: []Part{{ID: "a"}, {ID: "b", Channels: 2}}, Limits: []Limits{{ID: "x"}}}
	if b, ok := c.Part("b"); !ok || b.Number() != 2 {
		t.Errorf("%v %+v", ok, b)
	}
	if a, ok := c.Part("a"); !ok || a.Number() != 1 {
		t.Errorf("%v %+v", ok, a)
	}
	if _, ok := c.LimitSet("x"); !ok {
		t.Error("no limits x")
	}
	if _, ok := c.LimitSet("y"); ok {
		t.Error("limits y")
	}
	if _, ok := c.Part("c"); ok {
		t.Error("part c")
	}
}

func TestFits(t *testing.T) {
	p := Part{Outlet: 13}
	p.Mains = append(p.Mains, 230)
	if !p.FitsMains(240) || p.FitsMains(120) || !(Part{}).FitsMains(120) {
		t.Error("mains")
	}
	if !p.FitsOutlet(13) || p.FitsOutlet(16) || !p.FitsOutlet(0) || !(Part{}).FitsOutlet(16) {
		t.Error("outlet")
	}
}

// Each change breaks the small catalogue in one way; the problem must be the only one and stand in its place.
func TestWhatIsRefused(t *testing.T) {
	for _, c := range []struct{ name, old, new, says string }{
		{"an id twice", "id: key", "id: relay", `"relay"`},
		{"an ability that isn't", "[sense motion]", "[sense motoin]", "did you mean sense motion?"},
		{"no price in one currency", "price: {GBP: 1, EUR: 1.1, USD: 1.2}", "price: {GBP: 1, EUR: 1.1}", "10:12: parts/cell/price: the part has no price in USD"},
		{"a price of nothing", "price: {GBP: 1,", "price: {GBP: 0,", "parts/cell/price: the price in GBP is not above zero"},
		{"a foreign currency", "price: {GBP: 1,", "price: {GBP: 1, CHF: 1,", `"CHF" is not a currency`},
		{"also nothing", "also: [{part: relay}]", "also: [{part: realy}]", "did you mean relay?"},
		{"also itself", "also: [{part: relay}]", "also: [{part: box}]", "comes with itself"},
		{"limits that aren't", "limits: modest}", "limits: modets}", "did you mean modest?"},
		{"a controller without limits", ", limits: modest}", "}", "doesn't say what it can't do"},
		{"a controller without children", "children: {zigbee: 32}", "children: {}", "how many devices it takes on zigbee"},
		{"children of another radio", "children: {zigbee: 32}", "children: {zigbee: 32, ble: 2}", `"ble", which is not among its radios`},
		{"a controller without radios", "{radios: [zigbee], children: {zigbee: 32}, ", "{", "which radios it brings"},
		{"battery without cells", "    battery: {cell: AAA, count: 2, years: 2}\n    price", "    price", "which cells it takes"},
		{"an unknown cell", "cell: AAA, count: 1", "cell: AA, count: 1", `no battery cell "AAA"`},
		{"a key of one's own", "dated: 2026-03\n", "dated: 2026-03\nx-seen: yes\n", ""},
		{"wired on a battery", "    radio: zigbee\n    supply: battery", "    radio: wired\n    supply: battery", "a wired part runs on a battery"},
		{"repeating on a battery", "    place: wall\n", "    place: wall\n    repeats: yes\n", "repeats and runs on a battery"},
		{"repeating over Wi-Fi", "    radio: zigbee\n    repeats: yes", "    radio: wifi\n    repeats: yes", "has no repeaters"},
		{"mains with cells", "    base: E27", "    battery: {cell: AAA, count: 1, years: 1}\n    base: E27", "its supply is not battery"},
		{"without a radio", "    radio: zigbee\n    supply: low", "    supply: low", "has no radio"},
		{"without power", "    supply: mains\n    host", "    host", "nothing powers it"},
		{"no neutral said", "    neutral: needed\n", "", "whether it needs a neutral"},
		{"no depth said", "    depth: 18 mm\n", "", "how deep it is"},
		{"no caution", "    caution: mains\n", "", "without a caution"},
		{"no rating", "ratings: {led: 200 W, motor: 250 W}", "ratings: {led: 200 W}", "can switch fan but has no rating for motor loads"},
		{"a load that isn't", "motor: 250 W}", "motor: 250 W, lead: 3 W}", `"lead" is not a kind of load`},
		{"a rating below the least load", "    depth: 18 mm\n", "    depth: 18 mm\n    least_load: 220 W\n", "rating for led loads is not above the least load"},
		{"no order", "behaviour: {power_up: last, orders: set}", "behaviour: {power_up: last}", "how it takes orders"},
		{"no power-up", "behaviour: {power_up: on, orders: set}", "behaviour: {orders: set}", "when the mains come back"},
		{"a lamp without a base", "    base: E27\n", "", "its base and its light"},
		{"tunes but can't dim", "[switch lamps, dim lamps, tune lamps]", "[switch lamps, tune lamps]", "lists less than it can"},
		{"sees still people only", "[sense motion]", "[sense still people]", "doesn't list that it sees moving ones"},
		{"a button without presses", "    presses: [press, hold]\n", "", "presses go with the ability"},
		{"a button without a press", "[press, hold]", "[double, hold]", "doesn't know a plain press"},
		{"an ingress that isn't", "    place: wall\n", "    place: wall\n    ingress: P44\n", "not an ingress class"},
		{"host of nothing", "    place: wall\n", "    place: wall\n    host: {limits: modest}\n", "neither hosts rules nor adds a radio"},
		{"limits without guards", ", guards: both}", "}", "what a guard may look at"},
		{"toggles nothing", ", guards: both}", ", guards: both, toggle_only: [kettle]}", `kind "kettle"`},
		{"a version ahead", "catalogue: 1", "catalogue: 2", "1:12: catalogue: the catalogue is of version 2"},
		{"nothing", small, "# nothing\n", "the catalogue is empty"},
		{"a list", small, "- a\n", "at the top of the file"},
		{"no YAML", small, "parts: [", "YAML"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(small, c.old) {
				t.Fatalf("%q is not in the catalogue", c.old)
			}
			_, problems := Read([]byte(strings.Replace(small, c.old, c.new, 1)))
			if c.says == "" {
				if len(problems) != 0 {
					t.Errorf("problems: %v", problems)
				}
				return
			}
			if len(problems) != 1 && c.name != "no YAML" {
				t.Errorf("%d problems: %v", len(problems), problems)
			}
			if len(problems) == 0 || c.name != "no YAML" && !strings.Contains(problems[0].Error(), c.says) {
				t.Errorf("want %q, got %v", c.says, problems)
			}
		})
	}
}

func TestParseGivesEveryProblem(t *testing.T) {
	src := strings.Replace(small, "USD: 1.2", "USD: 0", 1)
	src = strings.Replace(src, "limits: modest}", "limits: other}", 1)
	c, err := Parse([]byte(src))
	var e *Error
	if c != nil || !errors.As(err, &e) || len(e.Problems) != 2 || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("%v %v", c, err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte("parts: [{}]"))
	f.Add([]byte("limits: [3]\nparts:\n- also: [{part: {}}]\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		c, problems := Read(src)
		if c == nil {
			t.Fatal("no catalogue")
		}
		for _, p := range problems {
			if p.Line < 1 || p.Column < 1 || p.Message == "" {
				t.Errorf("a problem without a place or words: %+v", p)
			}
		}
	})
}
