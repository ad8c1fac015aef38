package model

import (
	"encoding/json"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"pgregory.net/rapid"
)

func TestDate(t *testing.T) {
	for text, want := range map[string]string{
		"2026-03-02": "2026-03-02", " 1999-12-31 ": "1999-12-31",
		"2026-02-30": "", "2026-3-2": "", "02.03.2026": "", "": "", "1812-01-01": "", "tomorrow": "",
	} {
		var d Date
		err := d.UnmarshalText([]byte(text))
		if got := d.String(); got != want || (err == nil) != (want != "") {
			t.Errorf("%q is read as %q, %v; want %q", text, got, err, want)
		}
	}
	b, err := json.Marshal(struct{ On, Never Date }{On: Date{time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)}})
	if err != nil || string(b) != `{"On":"2026-03-02","Never":""}` {
		t.Errorf("%s, %v", b, err)
	}
}

func TestKindStaysOn(t *testing.T) {
	for kind, want := range map[string]bool{
		"freezer": true, "Chest Freezer": true, "fridge-freezer": true, "refrigerator": true, "sump pump": true, "smoke alarm": true,
		"alarm panel": true, "aquarium heater": true, "network switch": true, "wi-fi router": true, "medical bed": true, "oxygen concentrator": true,
		"clothes iron": false, "kettle": false, "electric blanket": false, "towel heater": false, "television": false, "": false,
	} {
		if KindStaysOn(kind) != want {
			t.Errorf("%q stays on: %v", kind, !want)
		}
	}
	if !(Appliance{Kind: "lamp", MustStayOn: true}).StaysOn() || (Appliance{Kind: "lamp"}).StaysOn() {
		t.Error("the mark counts")
	}
}

func TestFactsAndGoals(t *testing.T) {
	var f Fact[q.Length]
	f.TakeWord()
	if _, ok := f.Get(); ok || f.State != Unknown || f.Or(3) != 3 {
		t.Errorf("%+v", f)
	}
	*f.TakeValue().(*q.Length) = 2
	if v, ok := f.Get(); !ok || v != 2 || f != Know(q.Length(2)) {
		t.Errorf("%+v", f)
	}
	var g Goal[[]Shutoff]
	g.TakeWord()
	if g.Wanted() || g.State != Declined {
		t.Errorf("%+v", g)
	}
	*g.TakeValue().(*[]Shutoff) = []Shutoff{{Appliance: "iron"}}
	if !g.Wanted() || len(g.Want) != 1 {
		t.Errorf("%+v", g)
	}
}

func TestDeedReadsBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Deed{Verb: Verb(rapid.IntRange(int(Lights), int(Acknowledge)).Draw(t, "verb"))}
		switch d.Verb {
		case Lights:
			d.Level = q.Percent(rapid.IntRange(0, 100).Draw(t, "level"))
		case FanRun:
			d.Run = q.Span(time.Duration(rapid.IntRange(1, 86400).Draw(t, "run")) * time.Second)
		case Extend:
			d.Appliance = rapid.StringMatching(`[a-z]{1,8}(-[a-z0-9]{1,4})?`).Draw(t, "appliance")
		}
		var got Deed
		if err := got.UnmarshalText([]byte(d.String())); err != nil || got != d {
			t.Fatalf("%+v is written %q, which reads as %+v, %v", d, d.String(), got, err)
		}
	})
}
