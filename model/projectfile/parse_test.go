package projectfile

import (
	"os"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
)

func paper(t testing.TB) string {
	t.Helper()
	b, err := os.ReadFile("testdata/alder-row-paper.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func said(ps []Problem) string {
	var b strings.Builder
	for _, p := range ps {
		b.WriteString("\n" + p.Error())
		if p.Warning {
			b.WriteString(" [warning]")
		}
	}
	return b.String()
}

func parse(t testing.TB, src string) *Document {
	t.Helper()
	d := Parse([]byte(src))
	if s := said(d.Problems()); s != "" {
		t.Fatal(s)
	}
	return d
}

// The paper shows two rooms and speaks of two more.
func TestThePaperAsItIsPrinted(t *testing.T) {
	d := Parse([]byte(paper(t)))
	const want = `
20:11: controllers/under-stairs/room: "hall" is no room of this home; there are: shower-room, utility
74:30: promises/dark-bedroom/room: "bedroom" is no room of this home; there are: shower-room, utility`
	if got := said(d.Problems()); got != want {
		t.Errorf("got:%s\nwant:%s", got, want)
	}
}

func whole(t testing.TB) string {
	return strings.Replace(paper(t), "\npromises:", "\n  - {id: hall}\n  - {id: bedroom}\npromises:", 1)
}

func TestThePaperWhole(t *testing.T) {
	p := parse(t, whole(t)).Project()
	clock := func(h, m int) q.DayTime {
		return q.DayTime{Offset: time.Duration(h)*time.Hour + time.Duration(m)*time.Minute}
	}
	day := func(m, d int) model.Date {
		return model.Date{Time: time.Date(2026, time.Month(m), d, 0, 0, 0, 0, time.UTC)}
	}
	min := func(n int) q.Span { return q.Span(time.Duration(n) * time.Minute) }
	shower := p.Rooms[0]
	checks := []struct {
		name      string
		got, want any
	}{
		{"version", p.Version, 1},
		{"place", p.Home.Place, model.Place{Latitude: 53.96, Longitude: -1.08, Elevation: 17, Timezone: "Europe/London"}},
		{"walls", p.Home.Walls, model.Know("brick")},
		{"summer", p.Home.Indoor.Summer, model.Air{Temperature: 24, Humidity: 62}},
		{"terms", p.Home.Terms, model.Terms{Labour: q.HourlyRate{Amount: 48, Currency: "GBP"}, Markup: 12, Tax: 20}},
		{"people", p.People[2], model.Person{ID: "otto", Name: "Otto", Role: "resident", Traits: []string{"slow mover"}}},
		{"cat", p.People[3].Weight, q.Mass(4)},
		{"outline", shower.Outline, model.Outline{Y: 3.1, Width: 2.1, Depth: 2.4, Ceiling: 2.35}},
		{"circuit", shower.Circuits[0], model.Circuit{
			ID: "ceiling", Lamps: 3, Flux: 470, Base: "GU10",
			Dimmable: model.Fact[bool]{State: model.Unknown}, Switch: model.Know("box-1"),
		}},
		{"not dimmable", shower.Circuits[1].Dimmable, model.Know(false)},
		{"box", shower.Switches[0], model.SwitchBox{
			ID: "box-1", Gangs: 2, Neutral: model.Fact[bool]{State: model.Unknown},
			Depth: model.Know(q.Length(0.035)), By: "door",
		}},
		{"fan", shower.Fans[0], model.Fan{ID: "extract", Airflow: model.Know(q.Airflow(21)), Power: 18, Switch: model.Know("box-1")}},
		{"lighting", shower.Brief.Lighting, model.Goal[model.Lighting]{State: model.Wanted, Want: model.Lighting{
			Start: "on entry", KeepManual: true, Stop: model.Stop{After: min(6), NeverWhile: "occupied"},
			Periods: []model.Period{
				{From: clock(6, 20), Level: 90, Colour: 4000},
				{From: q.DayTime{Sun: q.Sunset}, Level: 35, Colour: 2700},
				{From: clock(22, 45), Level: 4, Colour: 2200, Circuits: []string{"mirror"}},
			},
		}}},
		{"ventilation", shower.Brief.Ventilation, model.Goal[model.Ventilation]{State: model.Wanted, Want: model.Ventilation{
			Ceiling: model.State(65), Within: min(45), AtMost: q.Allowance(2 * time.Hour), OnRequest: []model.Request{{Run: min(20)}},
			Quiet: model.Quiet{From: clock(23, 0), To: clock(6, 0), Except: "humidity"},
		}}},
		{"leak", shower.Brief.Leak.Want, model.Leak{Points: []string{"cistern", "tray"}, Tell: []string{"rosa", "dilip"}, Within: q.Span(30 * time.Second)}},
		{"unasked", shower.Brief.Shutoff.State, model.Unasked},
		{"buttons", shower.Brief.Buttons.Want[0], model.Button{
			ID: "by-basin", Where: "basin",
			Press: model.Deed{Verb: model.Lights, Level: 100}, Double: model.Deed{Verb: model.FanRun, Run: min(20)}, Hold: model.Deed{Verb: model.EverythingOff},
		}},
		{"said", shower.Brief.Said, []model.Said{{Goal: "lighting", Words: "If I get up at night I don't want to be blinded."}}},
		{"shutoff", p.Rooms[1].Brief.Shutoff.Want, []model.Shutoff{{Appliance: "iron", After: min(25), Idle: model.Idle{Below: 20, For: min(8)}, Warn: min(3), Extend: "button"}}},
		{"promise", p.Promises, []model.OwnPromise{{ID: "dark-bedroom", Room: "bedroom", Never: "lamp above 5 %", Between: []q.DayTime{clock(23, 30), clock(6, 0)}, Unless: "asked"}}},
		{"open", p.Open, []model.OpenPoint{{At: "shower-room/switches/box-1/neutral", Ask: "electrician", Since: day(3, 2)}}},
		{"choices", p.Choices, model.Choices{Use: map[string]string{"shower-room/extract": "relay-module-1"}, Avoid: []string{"battery door contact"}, Supply: "own-prices.csv"}},
		{"records", p.Records.Agreed, []model.Agreed{{Room: "shower-room", By: "rosa", On: day(3, 2), Brief: "5f1c…"}}},
	}
	for _, c := range checks {
		if !reflect.DeepEqual(c.got, c.want) {
			t.Errorf("%s:\n got %+v\nwant %+v", c.name, c.got, c.want)
		}
	}
}

func TestLookups(t *testing.T) {
	d := parse(t, whole(t)+`
x-mine: yes
`)
	texts := map[string]string{
		"roombrief":          "1",
		"home/mains/voltage": "230 V",
		"rooms/shower-room/circuits/mirror/dimmable":            "no",
		"rooms/0/circuits/1/dimmable":                           "no",
		"rooms/shower-room/brief/lighting/periods/2/from":       "22:45",
		"choices/use/{shower-room/extract}":                     "relay-module-1",
		"rooms/utility/brief/shutoff/0/idle/below":              "20 W",
		"rooms/shower-room/brief/lighting/periods/2/circuits/0": "mirror",
		"x-mine": "yes",
	}
	for path, want := range texts {
		if got, ok := d.Text(path); !ok || got != want {
			t.Errorf("%s = %q, %v; want %q", path, got, ok, want)
		}
		if !d.Has(path) {
			t.Errorf("%s isn't there", path)
		}
	}
	for _, path := range []string{"rooms/attic", "rooms/7", "home/name/first", "rooms/utility/brief/lighting", "rooms//x", "{", "rooms/shower-room/circuits/9", "home/Name"} {
		if _, ok := d.Text(path); ok || d.Has(path) || d.Keys(path) != nil {
			t.Errorf("%s is there", path)
		}
	}
	if _, ok := d.Text("rooms"); ok {
		t.Error("a list has a text")
	}
	keys := map[string]string{
		"rooms":                             "shower-room utility hall bedroom",
		"rooms/shower-room/circuits":        "ceiling mirror",
		"rooms/shower-room/brief":           "lighting ventilation leak buttons said",
		"rooms/shower-room/brief/leak/tell": "0 1",
		"choices/use":                       "shower-room/extract",
		"home/name":                         "",
	}
	for path, want := range keys {
		if got := strings.Join(d.Keys(path), " "); got != want {
			t.Errorf("keys of %s are %q, want %q", path, got, want)
		}
	}
}

func TestNothing(t *testing.T) {
	for _, src := range []string{"", "\n", "# only a comment\n", "---\n"} {
		d := parse(t, src)
		if d.Has("home") || d.Has("") || len(d.Project().Rooms) > 0 || d.Project().Version != model.Version || string(d.Source()) != src {
			t.Errorf("%q: %+v", src, d.Project())
		}
	}
}

func TestStarter(t *testing.T) {
	for _, name := range []string{"14 Alder Row", "", "no", "Cottage: the old one", `a "b" \ c`, "# not a comment", "Ö 😀", "{x}"} {
		d := parse(t, string(Starter(name)))
		if got := d.Project().Home.Name; got != name {
			t.Errorf("the home is called %q, want %q", got, name)
		}
		if !strings.HasPrefix(string(d.Source()), "# ") {
			t.Error("a new file explains itself first")
		}
	}
}

func TestSourceIsKept(t *testing.T) {
	src := []byte("roombrief:   1 # one\r\n\r\nx-a: [ 1,2 ]\r\n")
	d := Parse(src)
	want := string(src)
	src[0] = 'X'
	d.Source()[1] = 'X'
	if string(d.Source()) != want {
		t.Errorf("the source became %q", d.Source())
	}
}
