package bill_test

import (
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// A dimmer without a neutral: 30.00 and a tenth is 33.00, half an hour at 48.00 is 24.00, so 57.00. The controller:
// 55.00 and 48.00. Together 160.00; a fifth is 32.00 of tax. Instead of the dimmer, three lamps that listen would
// be 3 x (13.20 + 4.00) and a plate 5.50 + 4.00, so 61.10: 4.10 more.
func TestDimmerByHand(t *testing.T) {
	b := cheapest(t, smallHome(), ceiling(catalogue.DimLamp, catalogue.SwitchLamp))
	if b.Parts != 8800 || b.Labour != 7200 || b.Tax != 3200 || b.Total != 19200 || b.Minutes != 90 {
		t.Errorf("parts %d labour %d tax %d total %d minutes %d", b.Parts, b.Labour, b.Tax, b.Total, b.Minutes)
	}
	l := line(t, b, "dimmer-plain")
	if l.Each != 3300 || l.Amount != 5700 || l.RunnerUp != "lamp" || l.RunnerAt != 410 || l.Caution != "mains" {
		t.Errorf("%+v", l)
	}
	if want := "Cheapest that dims lamps without a neutral, fits a box 35 mm deep and carries 21 W."; l.Reason != want {
		t.Errorf("reason %q, want %q", l.Reason, want)
	}
	if l := line(t, b, "box"); l.RunnerUp != "big-box" || l.RunnerAt != 7700 {
		t.Errorf("%+v", l)
	}
	if len(b.Assumed)+len(b.Unmet) != 0 {
		t.Errorf("assumed %v, unmet %v", b.Assumed, b.Unmet)
	}
}

// 13.80 and 12 % is 15.456, so 15.46; seven minutes at 50.00 are 5.8333, so 5.83; three of them 63.87. A tax of
// 17.5 % on 63.87 is 11.17725, so 11.18.
func TestRoundsOncePerPartAndOnceForTax(t *testing.T) {
	c := &catalogue.Catalogue{Parts: []catalogue.Part{{ID: "p", Name: "Sounder", Kind: "sounder", Does: []catalogue.Ability{catalogue.Sound},
		Price: map[string]float64{"GBP": 13.80}, Minutes: 7}}}
	p := smallHome()
	p.Home.Terms = model.Terms{Labour: q.HourlyRate{Amount: 50, Currency: "GBP"}, Markup: 12, Tax: 17.5}
	var ns []needs.Need
	for _, id := range []string{"hall/a", "hall/b", "hall/c"} {
		ns = append(ns, needs.Need{ID: id, Room: "hall", Wants: []catalogue.Ability{catalogue.Sound}})
	}
	b, err := bill.Cheapest(t.Context(), p, c, ns, rules.Sheet{})
	if err != nil || line(t, b, "p").Amount != 6387 || b.Parts != 4638 || b.Labour != 1749 || b.Tax != 1118 || b.Total != 7505 {
		t.Errorf("%v %+v", err, b)
	}
}

func TestUnknownFactsAreTakenForTheWorst(t *testing.T) {
	n := ceiling(catalogue.DimLamp, catalogue.SwitchLamp)
	n.Facts.Neutral, n.Facts.Dimmable, n.Facts.Depth = model.Fact[bool]{State: model.Unknown}, model.Fact[bool]{}, model.Fact[q.Length]{}
	b := cheapest(t, smallHome(), n)
	// 20 mm and the switch's back don't go into 25 mm, and the lamps may not dim: dimmer, lamps and spacer are
	// 57.00 + 3 x 5.70 + 11.30, lamps that listen 61.10.
	line(t, b, "lamp")
	want := map[string]string{
		"rooms/shower-room/switches/box-1/neutral":    "no neutral",
		"rooms/shower-room/switches/box-1/depth":      "25 mm",
		"rooms/shower-room/circuits/ceiling/dimmable": "not dimmable",
	}
	for _, a := range b.Assumed {
		if want[a.At] != a.As {
			t.Errorf("assumed %+v", a)
		}
		delete(want, a.At)
	}
	for at := range want {
		t.Errorf("%s is taken for granted without a word", at)
	}
}

// Lamps that can't be dimmed are changed: 57.00 + 3 x (3.30 + 2.40) is 74.10. With one lamp the five watts are
// under the dimmer's least load of eight, and a lamp that listens is left.
func TestLampsAreChangedForADimmer(t *testing.T) {
	p := smallHome()
	p.Choices.Avoid = []string{"tunable"}
	n := ceiling(catalogue.DimLamp)
	n.Facts.Dimmable = model.Know(false)
	b := cheapest(t, p, n)
	if l := line(t, b, "plain"); l.Quantity != 3 || l.Amount != 1710 || !strings.Contains(l.Reason, "needs lamps that dim") {
		t.Errorf("%+v", l)
	}
	n.Facts.Lamps = 1
	b = cheapest(t, p, n)
	if len(b.Unmet) != 1 || b.Unmet[0].Got != "" || !strings.Contains(b.Unmet[0].Reason, "needs a neutral, and the box has none") {
		t.Errorf("%+v", b.Unmet)
	}
	p.Choices.Avoid = nil
	line(t, cheapest(t, p, n), "lamp")
}

// With a neutral two single relays are 2 x (11.00 + 24.00) and a double one 17.60 + 32.00.
func TestTwoChannelsServeOneBox(t *testing.T) {
	a, f := ceiling(catalogue.SwitchLamp), fan()
	a.Facts.Neutral, f.Facts.Neutral = model.Know(true), model.Know(true)
	b := cheapest(t, smallHome(), a, f)
	l := line(t, b, "relay-two")
	if l.Amount != 4960 || len(l.Covers) != 2 || l.RunnerUp != "relay-neutral" || l.RunnerAt != 2040 {
		t.Errorf("%+v", l)
	}
	f.Facts.Box = "shower-room/box-2"
	without(t, cheapest(t, smallHome(), a, f), "relay-two")
}

// A box of 25 mm takes no relay behind its switch until a spacer brings the switch forward by 10 mm; one spacer
// does for both relays.
func TestSpacerDeepensABox(t *testing.T) {
	a, f := ceiling(catalogue.SwitchLamp), fan()
	a.Facts.Depth, f.Facts.Depth = model.Know(q.Length(0.025)), model.Know(q.Length(0.025))
	p := smallHome()
	p.Choices.Avoid = []string{"lamp"}
	b := cheapest(t, p, a, f)
	if l := line(t, b, "relay-plain"); l.Quantity != 2 {
		t.Errorf("%+v", l)
	}
	if l := line(t, b, "spacer"); l.Quantity != 1 || l.Amount != 1130 {
		t.Errorf("%+v", l)
	}
	p.Choices.Avoid = []string{"lamp", "spacer"}
	for _, u := range cheapest(t, p, a, f).Unmet {
		if !strings.Contains(u.Remedy, "35 mm deep") {
			t.Errorf("%+v", u)
		}
	}
}

// Three circuits and a box of one gang: the first need gets the box, the next goes to lamps that listen.
func TestOverfullBox(t *testing.T) {
	first, second := fan(), ceiling(catalogue.SwitchLamp)
	third := fan()
	third.ID, third.Name = "shower-room/second", "second fan"
	for _, n := range []*needs.Need{&first, &second, &third} {
		n.Facts.Gangs = 1
	}
	b := cheapest(t, smallHome(), first, second, third)
	if l := line(t, b, "relay-plain"); l.Quantity != 1 || l.Covers[0] != first.ID {
		t.Errorf("%+v", l)
	}
	line(t, b, "lamp")
	if len(b.Unmet) != 1 || b.Unmet[0].Need != third.ID || !strings.Contains(b.Unmet[0].Reason, "no room in the switch box") {
		t.Errorf("%+v", b.Unmet)
	}
}

// The Wi-Fi sensor is cheaper by itself (13.20 against 16.50 and cells), but the controller would need an adapter.
func TestControllersWeighIn(t *testing.T) {
	b := cheapest(t, smallHome(), motion("hall"))
	l := line(t, b, "motion")
	if !strings.Contains(l.Reason, "by itself the motion sensor, Wi-Fi would cost less") {
		t.Errorf("%q", l.Reason)
	}
	if l := line(t, b, "cell"); l.Quantity != 2 || l.Room != "" {
		t.Errorf("%+v", l)
	}
	// Sensors for the whole street: five on Zigbee are one too many for the small controller. Five Wi-Fi sensors
	// with an adapter beat two small controllers, and a big one.
	p := smallHome()
	var ns []needs.Need
	for _, r := range []string{"a", "b", "c", "d", "e"} {
		p.Rooms = append(p.Rooms, model.Room{ID: r})
		ns = append(ns, motion(r))
	}
	b = cheapest(t, p, ns...)
	line(t, b, "stick")
	without(t, b, "big-box")
}

// A controller holds what the rules come to on it, and what its place says of it counts.
func TestRulesAreCountedAsEachControllerTakesThem(t *testing.T) {
	sheet := rules.Sheet{Rules: make([]rules.Rule, 31)}
	boxes := func(fitted int, except map[string]string) int {
		p := smallHome()
		p.Controllers = []model.Controller{{ID: "loft", Room: "hall", Limits: "modest", Except: except}, {ID: "attic", Room: "hall", Limits: "modest", Except: except}}
		b, err := bill.CheapestFor(t.Context(), p, smallShelf(), []needs.Need{motion("hall")}, sheet, func(catalogue.Limits) int { return fitted })
		if err != nil {
			t.Fatal(err)
		}
		return line(t, b, "box").Quantity
	}
	if n := boxes(31, nil); n != 1 {
		t.Errorf("31 rules as they are: %d controllers for 60", n)
	}
	if n := boxes(60, nil); n != 1 {
		t.Errorf("31 rules that come to 60: %d controllers for 60", n)
	}
	if n := boxes(61, nil); n != 2 {
		t.Errorf("31 rules that come to 61: %d controllers for 60", n)
	}
	if n := boxes(61, map[string]string{"rules": "61"}); n != 1 {
		t.Errorf("31 rules that come to 61: %d controllers for 61", n)
	}
}

func TestPlacesAndRules(t *testing.T) {
	p := smallHome()
	p.Controllers = []model.Controller{{ID: "loft", Room: "hall", Limits: "able"}, {ID: "cellar", Room: "hall", Limits: "none such"}}
	b := cheapest(t, p, motion("hall"))
	line(t, b, "big-box")
	if d := b.Devices[len(b.Devices)-1]; d.ID != "loft" || d.Room != "hall" {
		t.Errorf("%+v", d)
	}
	if len(b.Unmet) != 1 || b.Unmet[0].Need != "controllers/cellar" {
		t.Errorf("%+v", b.Unmet)
	}
	p.Controllers = nil
	b, err := bill.Cheapest(t.Context(), p, smallShelf(), []needs.Need{motion("hall")}, rules.Sheet{Rules: make([]rules.Rule, 61)})
	if err != nil {
		t.Fatal(err)
	}
	// 61 rules: the big one with a Wi-Fi sensor is 180.00 + 21.20, two small ones with the other 206.00 + 25.60.
	if l := line(t, b, "big-box"); l.Quantity != 1 || l.RunnerUp != "box" || l.RunnerAt != 3040 {
		t.Errorf("%+v", l)
	}
	host := needs.Need{ID: "controller", Wants: []catalogue.Ability{catalogue.Host}}
	if l := line(t, cheapest(t, p, host), "box"); len(l.Covers) != 1 || l.Covers[0] != "controller" {
		t.Errorf("%+v", l)
	}
}

func TestUse(t *testing.T) {
	p := smallHome()
	p.Choices.Use = map[string]string{"hall/motion": "motion-wifi"}
	if l := line(t, cheapest(t, p, motion("hall")), "motion-wifi"); !strings.HasPrefix(l.Reason, "Chosen in the project") {
		t.Errorf("%q", l.Reason)
	}
	for part, why := range map[string]string{"relay-neutral": "never sees motion", "none-such": "not on the shelf"} {
		p.Choices.Use["hall/motion"] = part
		b := cheapest(t, p, motion("hall"), motion("shower-room"))
		if len(b.Unmet) != 1 || b.Unmet[0].Need != "hall/motion" || !strings.Contains(b.Unmet[0].Reason, why) {
			t.Errorf("%s: %+v", part, b.Unmet)
		}
		line(t, b, "motion")
	}
	p.Choices.Use = map[string]string{"shower-room/ceiling": "dimmer-neutral"}
	b := cheapest(t, p, ceiling(catalogue.DimLamp))
	if len(b.Unmet) != 1 || !strings.Contains(b.Unmet[0].Reason, "needs a neutral, and the box has none") {
		t.Errorf("%+v", b.Unmet)
	}
}

func TestAvoid(t *testing.T) {
	for _, words := range []string{"motion", "battery motion", "Motion sensors"} {
		p := smallHome()
		p.Choices.Avoid = []string{words}
		b := cheapest(t, p, motion("hall"))
		if words == "battery motion" {
			line(t, b, "motion-wifi")
		}
		without(t, b, "motion")
	}
	p := smallHome()
	p.Choices.Avoid = []string{"box", "big-box"}
	b := cheapest(t, p, motion("hall"))
	if len(b.Devices) != 0 || len(b.Unmet) != 2 || b.Total != 0 {
		t.Errorf("%+v", b)
	}
}

// One small controller is forced and no other may be had: five sensors are too many, but still planned.
func TestTooFewControllers(t *testing.T) {
	p := smallHome()
	p.Controllers = []model.Controller{{ID: "loft"}}
	p.Choices.Use = map[string]string{"loft": "box"}
	p.Choices.Avoid = []string{"controller", "adapter"}
	var ns []needs.Need
	for _, r := range []string{"a", "b", "c", "d", "e"} {
		ns = append(ns, motion(r))
	}
	if b := cheapest(t, p, ns[:4]...); len(b.Unmet) != 0 || len(b.Devices) != 5 {
		t.Errorf("%+v", b)
	}
	b := cheapest(t, p, ns...)
	if len(b.Unmet) != 1 || !strings.Contains(b.Unmet[0].Reason, "too few devices") || len(b.Devices) != 5 || b.Total == 0 {
		t.Errorf("%+v", b)
	}
}

func TestUnmetAndPoorer(t *testing.T) {
	n := ceiling(catalogue.TuneLamp, catalogue.SwitchLamp)
	n.Facts.Base = "E27"
	wet := motion("shower-room")
	wet.Facts.Ingress = "IP65"
	stop := needs.Need{ID: "hall/stopcock", Room: "hall", Name: "stopcock", Wants: []catalogue.Ability{catalogue.ShutWater},
		Facts: needs.Facts{Pipe: model.Know(q.Length(0.022))}}
	b := cheapest(t, smallHome(), n, wet, stop)
	if len(b.Unmet) != 3 || b.Unmet[0].Got != "switches lamps" || b.Unmet[1].Got != "" || b.Unmet[2].Got != "" {
		t.Fatalf("%+v", b.Unmet)
	}
	for i, why := range []string{"has a GU10 base, and the fitting takes E27", "the place asks for IP65", "this one is 22 mm"} {
		if !strings.Contains(b.Unmet[i].Reason, why) {
			t.Errorf("%q lacks %q", b.Unmet[i].Reason, why)
		}
	}
	stop.Facts.Pipe = model.Fact[q.Length]{State: model.Unknown}
	b = cheapest(t, smallHome(), stop)
	line(t, b, "valve-28")
	if len(b.Assumed) != 1 || b.Assumed[0].As != "28 mm" || b.Assumed[0].At != "rooms/hall/water/stopcock/pipe" {
		t.Errorf("%+v", b.Assumed)
	}
}

func TestDefaultsAreSaid(t *testing.T) {
	p := smallHome()
	p.Home = model.Home{}
	b := cheapest(t, p, motion("hall"))
	if b.Currency != "GBP" || b.Terms.Labour != 4500 || len(b.Assumed) != 3 {
		t.Errorf("%+v %+v", b.Terms, b.Assumed)
	}
	p.Home.Terms.Labour.Currency = "GBP" // nothing an hour, and meant
	if b := cheapest(t, p, motion("hall")); b.Labour != 0 || len(b.Assumed) != 2 {
		t.Errorf("%+v", b)
	}
}

func TestMoneyIsNeverMixed(t *testing.T) {
	p := smallHome()
	p.Home.Terms.Labour.Currency = "EUR"
	_, err := bill.Cheapest(t.Context(), p, smallShelf(), nil, rules.Sheet{})
	if err == nil || !strings.Contains(err.Error(), "home/terms/labour is in EUR") {
		t.Errorf("%v", err)
	}
	p = smallHome()
	p.Home.Currency, p.Home.Terms.Labour.Currency = "USD", "USD"
	b, err := bill.Cheapest(t.Context(), p, smallShelf(), []needs.Need{motion("hall")}, rules.Sheet{})
	if err != nil || b.Total != 0 || len(b.Unmet) == 0 {
		t.Errorf("nothing has a price in USD: %v %+v", err, b)
	}
}

func TestEmptyAndNil(t *testing.T) {
	b := cheapest(t, smallHome())
	if b.Total != 0 || len(b.Lines) != 0 || !strings.Contains(bill.Text(b, 80, nil), "Nothing to buy: no brief asks for anything yet.") {
		t.Errorf("%+v", b)
	}
	if _, err := bill.Cheapest(t.Context(), nil, nil, nil, rules.Sheet{}); err == nil {
		t.Error("nil is no project")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := bill.Cheapest(ctx, smallHome(), smallShelf(), []needs.Need{motion("hall")}, rules.Sheet{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

func TestSameEveryTime(t *testing.T) {
	ns := []needs.Need{ceiling(catalogue.DimLamp), fan(), motion("hall"), motion("shower-room")}
	first, _ := json.Marshal(cheapest(t, smallHome(), ns...))
	for range 20 {
		if again, _ := json.Marshal(cheapest(t, smallHome(), ns...)); string(again) != string(first) {
			t.Fatalf("%s\n%s", first, again)
		}
	}
	for _, key := range []string{`"currency"`, `"runner_at"`, `"labour_per_hour"`, `"unmet":[]`, `"assumed":[]`, `"covers"`} {
		if !strings.Contains(string(first), key) {
			t.Errorf("no %s in %s", key, first)
		}
	}
}
