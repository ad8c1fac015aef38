package readback

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
)

const whole = `    brief:
      lighting: {start: on entry, periods: [{from: 06:20, level: 90 %}, {from: sunset, level: 35 %}], stop: {after: 6m, never_while: occupied}}
      ventilation: {ceiling: 65 %, within: 45m, quiet: {from: "23:00", to: 06:00, except: humidity}}
      leak: {points: [cistern, tray], tell: [rosa, dilip], within: 30s}
      shutoff: [{appliance: iron, after: 25m}, {appliance: dryer, after: 20m, extend: "no"}]
      buttons: [{id: a, where: by basin, press: lights full}, {id: b, where: by door, press: fan 20m}]
      said: [{goal: room, words: Keep it simple}]
`

var monday = time.Date(2026, 3, 2, 9, 30, 0, 0, time.UTC)

func room(d *projectfile.Document) model.Room { return d.Project().Rooms[1] }

func TestFingerprintFollowsTheMeaning(t *testing.T) {
	now := Fingerprint(room(home(t, "metric", whole)))
	cases := []struct {
		name, old, new string
		changed        string // goal; "" when it must stay the same
	}{
		{"words", "Keep it simple", "Keep it very simple", ""},
		{"a unit", "after: 6m,", "after: 360 s,", ""},
		{"order of people", "tell: [rosa, dilip]", "tell: [dilip, rosa]", ""},
		{"order of points", "points: [cistern, tray]", "points: [tray, cistern]", ""},
		{"order of appliances", `[{appliance: iron, after: 25m}, {appliance: dryer, after: 20m, extend: "no"}]`, "[{appliance: dryer, after: 20m}, {appliance: iron, after: 25m}]", ""},
		{"a level", "level: 35 %", "level: 36 %", "lighting"},
		{"the end", "after: 6m", "after: 7m", "lighting"},
		{"a goal declined", "ventilation: {ceiling: 65 %, within: 45m, quiet: {from: \"23:00\", to: 06:00, except: humidity}}", "ventilation: none", "ventilation"},
		{"quiet hours", "to: 06:00", "to: 06:15", "ventilation"},
		{"who is told", "tell: [rosa, dilip]", "tell: [rosa]", "leak"},
		{"an appliance", "after: 25m", "after: 30m", "shutoff"},
		{"a press", "press: lights full", "press: lights off", "buttons"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(whole, c.old) {
				t.Fatal("the case changes nothing")
			}
			d := home(t, "metric", strings.Replace(whole, c.old, c.new, 1))
			if got := Fingerprint(room(d)); (got != now) != (c.changed != "") {
				t.Errorf("fingerprint %s, before %s", got, now)
			}
			agreed, err := projectfile.Parse(d.Source()).Apply(projectfile.Append("records/agreed", "{room: shower-room, by: rosa, on: 2026-03-02, brief: "+now+"}"))
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Join(Changed(agreed.Project(), "shower-room"), " "); got != c.changed {
				t.Errorf("changed: %q, wanted %q", got, c.changed)
			}
		})
	}
}

func TestFingerprintIsAsItWas(t *testing.T) {
	// An agreement in a file must still hold after an update of the program.
	if got, want := Fingerprint(room(home(t, "metric", whole))), "2e6e7af5.980.a6d.43c.d79.bbb"; got != want {
		t.Errorf("got %s, wanted %s", got, want)
	}
}

func TestAgree(t *testing.T) {
	d := home(t, "metric", whole)
	if _, s := Agreement(d.Project(), "shower-room"); s != Never {
		t.Errorf("before: %v", s)
	}
	d, err := Agree(d, "shower-room", "rosa", monday)
	if err != nil {
		t.Fatal(err)
	}
	a, s := Agreement(d.Project(), "shower-room")
	if s != Agreed || a.By != "rosa" || a.On.Format("2006-01-02") != "2026-03-02" {
		t.Errorf("after: %v %+v", s, a)
	}
	d, err = d.Apply(projectfile.Set("rooms/shower-room/brief/lighting/stop/after", "7m"))
	if err != nil {
		t.Fatal(err)
	}
	if _, s := Agreement(d.Project(), "shower-room"); s != Lapsed {
		t.Errorf("after a change: %v", s)
	}
	if got := Changed(d.Project(), "shower-room"); !reflect.DeepEqual(got, []string{"lighting"}) {
		t.Errorf("changed: %v", got)
	}
	d, err = Agree(d, "shower-room", "Dilip next door", monday.AddDate(0, 0, 1))
	if err != nil {
		t.Fatal(err)
	}
	if got := d.Project().Records.Agreed; len(got) != 1 || got[0].By != "dilip" {
		t.Errorf("the earlier agreement was not replaced: %+v", got)
	}
	back, err := d.Apply(projectfile.Set("rooms/shower-room/brief/lighting/stop/after", "6m"))
	if err != nil {
		t.Fatal(err)
	}
	if _, s := Agreement(back.Project(), "shower-room"); s != Lapsed {
		t.Errorf("what was agreed first is no longer what was agreed: %v", s)
	}
}

func TestAgreeRefuses(t *testing.T) {
	d := home(t, "metric", whole)
	for _, c := range []struct {
		room, by string
		on       time.Time
		want     string
	}{
		{"attic", "rosa", monday, `no room "attic"`}, {"shower-room", " ", monday, "needs a name"}, {"shower-room", "rosa", time.Time{}, "needs its day"},
	} {
		out, err := Agree(d, c.room, c.by, c.on)
		if err == nil || !strings.Contains(err.Error(), c.want) || out != d {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func TestBareRoomFingerprintHolds(t *testing.T) {
	d := home(t, "metric", whole)
	bare := Fingerprint(room(d))[:8]
	d, err := d.Apply(projectfile.Append("records/agreed", `{room: shower-room, by: rosa, on: 2026-03-02, brief: "`+bare+`"}`))
	if err != nil {
		t.Fatal(err)
	}
	if _, s := Agreement(d.Project(), "shower-room"); s != Agreed {
		t.Errorf("got %v", s)
	}
}
