package open

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
)

// head is a home without markup, tax and price of labour, so that stakes can be worked by hand.
const head = `roombrief: 1
home:
  name: Hand
  currency: GBP
  mains: {voltage: 230 V}
  terms: {labour: 0 GBP/h, markup: 0 %, tax: 0 %}
controllers:
  - {id: shelf, room: a}
rooms:
`

func home(t testing.TB, rooms ...string) *projectfile.Document {
	t.Helper()
	return sound(t, head+strings.Join(rooms, ""))
}

func sound(t testing.TB, src string) *projectfile.Document {
	t.Helper()
	d := projectfile.Parse([]byte(src))
	if !d.OK() {
		t.Fatalf("the project is unsound: %v\n%s", d.Problems(), src)
	}
	return d
}

// room has one lamp that is switched by a box.
func room(id, neutral, depth string) string {
	return fmt.Sprintf(`  - id: %s
    kind: hall
    circuits: [{id: lamp, lamps: 1, flux: 470 lm, power: 6 W, base: GU10, switch: box}]
    switches: [{id: box, gangs: 2, neutral: %s, depth: %s, by: door}]
    brief:
      lighting: {start: on request, periods: [{from: 00:00, level: 100 %%}]}
`, id, neutral, depth)
}

// part is an in-box relay.
func relay(id, radio, neutral string, depth q.Length, price float64) catalogue.Part {
	return catalogue.Part{ID: id, Name: id, Kind: "relay", Place: "box", Does: []catalogue.Ability{catalogue.SwitchLamp}, Radio: radio,
		Neutral: neutral, Depth: depth, Ratings: map[catalogue.LoadKind]q.Power{catalogue.LED: 100}, Price: map[string]float64{"GBP": price}}
}

func shelfOf(parts ...catalogue.Part) *catalogue.Catalogue {
	host := catalogue.Part{ID: "host", Name: "host", Kind: "controller", Does: []catalogue.Ability{catalogue.Host}, Price: map[string]float64{"GBP": 50},
		Host: catalogue.HostSpec{Radios: []string{"zigbee"}, Children: map[string]int{"zigbee": 20}, Limits: "all"}}
	adapter := catalogue.Part{ID: "adapter", Name: "adapter", Kind: "radio adapter", Does: []catalogue.Ability{catalogue.Speak}, Price: map[string]float64{"GBP": 12},
		Host: catalogue.HostSpec{Radios: []string{"thread"}, Children: map[string]int{"thread": 20}}}
	all := catalogue.Limits{ID: "all", Restarts: true, Stacks: true, Keeps: true, Holds: true, OverMidnight: true, SunTimes: true, Guards: "both", SeenFor: true,
		RisesBy: true, Flags: true, Presses: []string{"press", "double", "hold"}, Ordered: true, SeesOthers: true, Offline: true, RestoresWaits: true}
	return &catalogue.Catalogue{Version: 1, Dated: "2026-03", Parts: append([]catalogue.Part{host, adapter}, parts...), Limits: []catalogue.Limits{all}}
}

func weigh(t testing.TB, d *projectfile.Document, c *catalogue.Catalogue) *Points {
	t.Helper()
	p, err := All(context.Background(), d, c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Done || len(p.Left) > 0 {
		t.Fatalf("not done: %+v", p)
	}
	return p
}

// says are the sentences of a point.
func says(t testing.TB, p *Points, at string) []string {
	t.Helper()
	x, ok := p.Of(at)
	if !ok {
		t.Fatalf("nothing is known of %s", at)
	}
	out := []string{x.Says(p.Currency)}
	for _, t := range x.Together {
		out = append(out, t.Says(p.Currency))
	}
	return out
}

// Worked by hand: a relay of 10 needs a neutral and 18 mm behind a switch, which with its 15 mm makes 33 mm; one of 30 needs no neutral
// and 10 mm, 25 mm in all.
func TestStakesByHand(t *testing.T) {
	c := shelfOf(relay("plain", "zigbee", "needed", 0.018, 10), relay("dear", "zigbee", "not needed", 0.010, 30))
	for _, x := range []struct {
		name, neutral, depth, at string
		want                     []string
		total                    int64
	}{
		{"a neutral saves the difference", "unknown", "40 mm", "a/switches/box/neutral",
			[]string{"A neutral saves 20.00 GBP and breaks nothing; no neutral is as planned."}, 8000},
		{"a depth that lets the cheap relay in", "yes", "unknown", "a/switches/box/depth",
			[]string{"Under 25 mm saves 30.00 GBP and leaves the lamp with less than asked; 33 mm or more saves 20.00 GBP; from 25 mm to under 33 mm is as planned. None of them breaks a promise."}, 8000},
		{"a depth that only shuts the dear relay out", "no", "unknown", "a/switches/box/depth",
			[]string{"Under 25 mm saves 30.00 GBP, leaves the lamp with less than asked and breaks nothing; 25 mm or more is as planned."}, 8000},
		{"no more than the neutral by itself where the box is shallow", "unknown", "30 mm", "a/switches/box/neutral",
			[]string{"By itself it changes nothing."}, 8000},
		{"only together", "unknown", "unknown", "a/switches/box/neutral",
			[]string{"By itself it changes nothing.",
				"Together: a neutral and 33 mm or more saves 20.00 GBP and breaks nothing; one by one it would be nothing."}, 8000},
	} {
		t.Run(x.name, func(t *testing.T) {
			p := weigh(t, home(t, room("a", x.neutral, x.depth)), c)
			if int64(p.Total) != x.total {
				t.Errorf("the plan as it is comes to %d, want %d", p.Total, x.total)
			}
			got := says(t, p, x.at)
			if fmt.Sprint(got) != fmt.Sprint(x.want) {
				t.Errorf("got\n%q\nwant\n%q", got, x.want)
			}
		})
	}
}

// Two boxes that share nothing but the controller: a Thread relay of 10 in the stead of one of 18 saves 8, and its adapter costs 12. One
// neutral changes nothing; both save 4.
func TestPairAcrossBoxes(t *testing.T) {
	c := shelfOf(relay("thread", "thread", "needed", 0.010, 10), relay("zigbee", "zigbee", "not needed", 0.010, 18))
	p := weigh(t, home(t, room("a", "unknown", "40 mm"), room("b", "unknown", "40 mm")), c)
	if len(p.Idle) != 0 || len(p.Looks) != 2 {
		t.Fatalf("%d places to look at, %d points without a stake", len(p.Looks), len(p.Idle))
	}
	want := "Only together: a neutral (switch box by the door, A) and a neutral (switch box by the door, B) saves 4.00 GBP and breaks nothing."
	for _, at := range []string{"a/switches/box/neutral", "b/switches/box/neutral"} {
		got := says(t, p, at)
		if len(got) != 2 || strings.ReplaceAll(got[1], "the ", "") != strings.ReplaceAll(want, "the ", "") {
			t.Errorf("%s: %q, want %q", at, got, want)
		}
	}
	if p.Looks[0].Stake.Money != 400 {
		t.Errorf("at stake: %v", p.Looks[0].Stake)
	}
}

// Where a neutral by itself is worth its part already, the second one is worth more than the first.
func TestSecondIsWorthMore(t *testing.T) {
	c := shelfOf(relay("thread", "thread", "needed", 0.010, 10), relay("zigbee", "zigbee", "not needed", 0.010, 30))
	p := weigh(t, home(t, room("a", "unknown", "40 mm"), room("b", "unknown", "40 mm")), c)
	got := says(t, p, "a/switches/box/neutral")
	if len(got) != 2 || !strings.HasPrefix(got[0], "A neutral saves 8.00 GBP") || !strings.Contains(got[1], "saves 28.00 GBP and breaks nothing; one by one it would be 16.00 less.") {
		t.Errorf("got %q", got)
	}
}

// The controller has room for one Thread relay, which alone fits a box of 17 mm, and costs 2 more than what fits one of 25 mm; the second
// needs another controller, of 50. What costs so much is a box of under 25 mm, and not one that is as planned.
func TestStretchesOfPairsEndWhereTheyDo(t *testing.T) {
	c := shelfOf(relay("slim", "thread", "not needed", 0.002, 20), relay("usual", "zigbee", "not needed", 0.010, 18), relay("deep", "zigbee", "not needed", 0.018, 15))
	c.Parts[0].Host.Radios, c.Parts[0].Host.Children = []string{"zigbee", "thread"}, map[string]int{"zigbee": 20, "thread": 1}
	p := weigh(t, home(t, room("a", "yes", "unknown"), room("b", "yes", "unknown")), c)
	got := says(t, p, "a/switches/box/depth")
	want := "Together: from 17 mm to under 25 mm (switch box by the door, A) and from 17 mm to under 25 mm (switch box by the door, B) costs 54.00 GBP more and breaks nothing; one by one it would be 4.00 more"
	if len(got) != 2 || !strings.HasPrefix(strings.ReplaceAll(got[1], "the ", ""), strings.ReplaceAll(want, "the ", "")) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A relay that nobody would take begins to fit at 37 mm: what holds from 33 mm on holds from there on as well.
func TestStretchesOfPairsGoOnWhereNothingChanges(t *testing.T) {
	c := shelfOf(relay("plain", "zigbee", "needed", 0.018, 10), relay("deeper", "zigbee", "needed", 0.022, 90), relay("dear", "zigbee", "not needed", 0.010, 30))
	got := says(t, weigh(t, home(t, room("a", "unknown", "unknown")), c), "a/switches/box/neutral")
	if want := "Together: a neutral and 33 mm or more saves 20.00 GBP and breaks nothing; one by one it would be nothing."; len(got) != 2 || got[1] != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestWhatCantBePlannedSaysWhy(t *testing.T) {
	bare := strings.Replace(room("a", "yes", "40 mm"), "    switches: [{id: box, gangs: 2, neutral: yes, depth: 40 mm, by: door}]\n", "", 1)
	p := weigh(t, home(t, strings.Replace(bare, "switch: box", "switch: unknown", 1)), shelfOf(relay("plain", "zigbee", "needed", 0.018, 10)))
	text := p.Text(sound(t, head+"  - {id: a}\n").Project(), 120)
	for _, want := range []string{"A: find the box behind the lamp.", "No answer was planned: the room has no switch box yet."} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
}

// What is most at stake stands first, and a box is looked into once for all that it holds.
func TestOrder(t *testing.T) {
	c := shelfOf(relay("plain", "zigbee", "needed", 0.018, 10), relay("dear", "zigbee", "not needed", 0.010, 30))
	p := weigh(t, home(t, room("a", "yes", "40 mm"), room("b", "unknown", "40 mm"), room("c", "yes", "unknown"), room("d", "unknown", "30 mm")), c)
	var got []string
	for _, l := range p.Looks {
		got = append(got, l.At)
	}
	if want := "[c/switches/box b/switches/box]"; fmt.Sprint(got) != want { // something is not served before money is not saved
		t.Errorf("looks %v, want %s", got, want)
	}
	if len(p.Idle) != 1 || p.Idle[0].At != "d/switches/box/neutral" {
		t.Errorf("idle: %v", p.Idle)
	}
}

// A relay without a neutral gives way to a cheaper one when there is a neutral: its line says so, and no other line does.
func TestALineSaysWhatWouldChangeIt(t *testing.T) {
	doc := home(t, room("a", "unknown", "45 mm"), room("b", "no", "45 mm"))
	p, err := All(context.Background(), doc, shelfOf(relay("bare", "zigbee", "works", 0.02, 30), relay("cheap", "zigbee", "needed", 0.02, 20)), Options{NoProof: true})
	if err != nil {
		t.Fatal(err)
	}
	name := func(room string) string { return strings.ToUpper(room) }
	want := "What isn't known may change this: look in the switch box by the door. A neutral saves 10.00 GBP: 1 × cheap, without 1 × bare."
	if got := p.Flips(bill.Line{Room: "a", Part: "bare"}, name); len(got) != 1 || got[0] != want {
		t.Errorf("%q", got)
	}
	for _, l := range []bill.Line{{Room: "b", Part: "bare"}, {Room: "a", Part: "cheap"}, {Room: "", Part: "host"}} {
		if got := p.Flips(l, name); len(got) != 0 {
			t.Errorf("%+v: %q", l, got)
		}
	}
	var none *Points
	if none.Flips(bill.Line{Room: "a", Part: "bare"}, name) != nil {
		t.Error("nothing known says something")
	}
}
