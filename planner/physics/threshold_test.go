package physics

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// outdoorsIn notes the air outside of a home.
func outdoorsIn(p *model.Project, winter, summer model.Air) *model.Project {
	c := *p
	c.Home.Outdoor = model.Know(model.Indoor{Winter: winter, Summer: summer})
	return &c
}

// In winter the coldest corner is at 0.75: 4 + 0.75 (19 - 4) = 15.25 °C, where the air may have 0.8 psat(15.25)/psat(19) in the
// room; in summer the fan stops 5 points over the house, whatever the winter asks.
func TestReckonedThresholdByHand(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	p = outdoorsIn(p, model.Air{Temperature: 4, Humidity: 87}, model.Air{Temperature: 17, Humidity: 75})
	r.Brief.Ventilation.Want.Ceiling, r.Coldest = model.Ceiling{Reckoned: true}, model.Fact[q.Temperature]{}
	a, err := Air(p, r)
	if err != nil {
		t.Fatal(err)
	}
	at := func(c float64) float64 { s, _ := site.Saturation(c); return s }
	winter, summer := a.Seasons[0], a.Seasons[1]
	near(t, "surface", float64(winter.Surface), 15.25, 1e-9)
	near(t, "winter bears", float64(winter.Bears), math.Floor(80*at(15.25)/at(19)), 0)
	near(t, "summer bears", float64(summer.Bears), math.Floor(80*at(22.25)/at(24)), 0)
	near(t, "carried", float64(summer.Carried), math.Ceil(75*at(17)/at(24)), 0)
	if a.Ceiling != winter.Bears || winter.Stop != a.Ceiling || summer.Stop != 67 || !a.Threshold.OK {
		t.Errorf("ceiling %v, winter %+v, summer %+v", a.Ceiling, winter.Bounds, summer.Bounds)
	}
	if CeilingOf(p, r) != a.Ceiling {
		t.Error(CeilingOf(p, r))
	}
	for _, part := range []string{"63 % suits the shower room: its coldest surface, at 15.2 °C in winter, bears 63 %", "in summer the house's own air has 62 %, so there the fan starts and stops at 67 %"} {
		if !strings.Contains(a.Threshold.Say, part) {
			t.Errorf("%q lacks %q", a.Threshold.Say, part)
		}
	}
}

func TestThresholdsSayWhatToDo(t *testing.T) {
	mild, cool := model.Air{Temperature: 4, Humidity: 87}, model.Air{Temperature: 17, Humidity: 75}
	for _, c := range []struct {
		name    string
		ceiling model.Ceiling
		coldest model.Fact[q.Temperature]
		winter  model.Air // of the house
		fan     q.Airflow
		ok      bool
		says    string
	}{
		{"well", model.State(60), model.Fact[q.Temperature]{}, model.Air{Temperature: 19, Humidity: 45}, 21, true, "60 % suits the shower room"},
		{"too high", model.State(70), model.Fact[q.Temperature]{}, model.Air{Temperature: 19, Humidity: 45}, 21, false, "lower it to 63 %, or write `reckoned` for it"},
		{"a cold corner", model.State(60), model.Know(q.Temperature(12)), model.Air{Temperature: 19, Humidity: 40}, 21, false, "at 12 °C in winter, bears no more than 51 % before mould can grow; lower it to 51 %"},
		{"a damp house", model.State(60), model.Know(q.Temperature(11)), model.Air{Temperature: 19, Humidity: 55}, 21, false, "the house's own air has 55 % then, to which no fan gets nearer than 60 %: air and warm the house"},
		{"a weak fan", model.Ceiling{Reckoned: true}, model.Fact[q.Temperature]{}, model.Air{Temperature: 19, Humidity: 45}, 8, false, "fit a fan of"},
	} {
		p, r := home(t, "alder-row", "shower-room")
		p = outdoorsIn(p, mild, cool)
		p.Home.Indoor.Winter = c.winter
		r = fanned(r, c.fan)
		r.Coldest, r.Brief.Ventilation.Want.Ceiling = c.coldest, c.ceiling
		a, err := Air(p, r)
		if err != nil {
			t.Fatal(err)
		}
		if a.Threshold.OK != c.ok || !strings.Contains(a.Threshold.Say, c.says) {
			t.Errorf("%s: %v %s", c.name, a.Threshold.OK, a.Threshold.Say)
		}
	}
}

// What nobody noted is said: the air outside for each season, the coldest surface, and one that can't be.
func TestThresholdsSayWhatTheyTake(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	p.Home.Outdoor, r.Coldest = model.Fact[model.Indoor]{}, model.Fact[q.Temperature]{}
	a, err := Air(p, r)
	if err != nil || len(a.Threshold.Assumed) != 3 {
		t.Fatalf("%d taken: %q %v", len(a.Threshold.Assumed), a.Threshold.Assumed, err)
	}
	p = outdoorsIn(p, model.Air{Temperature: 4, Humidity: 87}, model.Air{Temperature: 17, Humidity: 75})
	r.Coldest = model.Know(q.Temperature(25))
	if a, err = Air(p, r); err != nil || len(a.Threshold.Assumed) != 1 || !strings.Contains(a.Threshold.Assumed[0], "measure it again") {
		t.Errorf("%q %v", a.Threshold.Assumed, err)
	}
	r.Coldest = model.Know(q.Temperature(15))
	if a, err = Air(p, r); err != nil || len(a.Threshold.Assumed) != 0 || a.Seasons[0].Surface != 15 {
		t.Errorf("%q %v %v", a.Threshold.Assumed, a.Seasons[0].Surface, err)
	}
}

// A reckoned ceiling that is said to suit is under what the surface bears in every season, is reached in time by the very model that
// plays it, and a stated one is kept as it is, whatever the room.
func TestReckonedThresholdsHold(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	r.Coldest = model.Fact[q.Temperature]{}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, least, most int) float64 { return float64(rapid.IntRange(least, most).Draw(t, name)) }
		p := outdoorsIn(p, model.Air{Temperature: q.Temperature(draw("cold", -25, 15)), Humidity: 85}, model.Air{Temperature: q.Temperature(draw("warm", 10, 35)), Humidity: q.Percent(draw("damp", 30, 95))})
		p.Home.Indoor.Winter.Humidity, p.Home.Indoor.Summer.Humidity = q.Percent(draw("winter", 20, 70)), q.Percent(draw("summer", 30, 90))
		r := fanned(r, q.Airflow(draw("fan", 4, 60)))
		r.Brief.Ventilation.Want.Within = q.Span(time.Duration(draw("within", 10, 120)) * time.Minute)
		r.Brief.Ventilation.Want.Ceiling = model.Ceiling{Reckoned: true}
		a, err := Air(p, r)
		if err != nil {
			t.Fatal(err)
		}
		if a.Ceiling <= 0 || a.Ceiling > 97 || a.Ceiling != q.Percent(math.Round(float64(a.Ceiling))) {
			t.Fatalf("ceiling %v", a.Ceiling)
		}
		for _, s := range a.Seasons {
			if a.Threshold.OK && s.Stop > s.Bears {
				t.Fatalf("%s: stops at %v where the surface bears %v", s.Name, s.Stop, s.Bears)
			}
			if s.Reach < 100 && s.Stop >= s.Reach && s.Latest > a.Within {
				t.Fatalf("%s: under %v in time, but takes %v to %v", s.Name, s.Reach, s.Latest, s.Stop)
			}
		}
		if !a.Threshold.OK && !strings.ContainsAny(a.Threshold.Say, ":") {
			t.Fatalf("no remedy: %s", a.Threshold.Say)
		}
		r.Brief.Ventilation.Want.Ceiling = model.State(58)
		if b, err := Air(p, r); err != nil || b.Ceiling != 58 {
			t.Fatalf("58 %% became %v: %v", b.Ceiling, err)
		}
	})
}
