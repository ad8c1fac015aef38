package physics

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// home is an example home, and a room of it.
func home(t testing.TB, file, room string) (*model.Project, model.Room) {
	t.Helper()
	for _, h := range fixtures.Homes() {
		if strings.HasPrefix(h.File, file) {
			p := homeOf(t, h)
			r, ok := p.Room(room)
			if !ok {
				t.Fatalf("%s has no room %s", file, room)
			}
			return p, r
		}
	}
	t.Fatalf("no home %s", file)
	return nil, model.Room{}
}

func homeOf(t testing.TB, h fixtures.Home) *model.Project {
	t.Helper()
	d := projectfile.Parse(h.Source)
	if !d.OK() {
		t.Fatal(d.Problems())
	}
	return d.Project()
}

func near(t *testing.T, what string, got, want, off float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > off {
		t.Errorf("%s: %.5g, want %.5g", what, got, want)
	}
}

func fanned(r model.Room, flow q.Airflow) model.Room {
	r.Fans = []model.Fan{{ID: "extract", Airflow: model.Know(flow), Power: 18}}
	return r
}

// 2.1 by 2.4 by 2.35 m are 11.844 m³; with 12 l/s the time constant is 11.844/0.012 s, 16.45 min. The shower saturates the
// air of both seasons, so the best case is tau ln((Wsat - Ws)/(Wstop - Ws)); in summer the fan stops at 67 %, 5 points over the house.
func TestAirByHand(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	a, err := Air(p, fanned(r, 12))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume", a.Volume, 11.844, 1e-9)
	for i, c := range []struct{ t, rh, stop float64 }{{19, 0.45, 0.65}, {24, 0.62, 0.67}} {
		sat, err := site.Saturation(c.t)
		if err != nil {
			t.Fatal(err)
		}
		pa, _ := site.Pressure(17)
		w := func(rh float64) float64 { return 0.621945 * rh * sat / (pa - rh*sat) }
		best := 11.844 / 0.012 / 60 * math.Log((w(1)-w(c.rh))/(w(c.stop)-w(c.rh)))
		s := a.Seasons[i]
		near(t, s.Name, inMinutes(s.Soonest), math.Ceil(best), 0)
		near(t, s.Name+" peak", float64(s.Peak), 100, 1e-9)
		if s.Latest <= s.Soonest || s.RunOn < q.Span(5*time.Minute) {
			t.Errorf("%s: %v to %v, run on %v", s.Name, s.Soonest, s.Latest, s.RunOn)
		}
	}
	if a.OK || a.Needed == 0 || a.Caution != "ventilation" {
		t.Fatalf("12 l/s does: %+v", a.Verdict)
	}
	for _, part := range []string{"With 12 l/s the shower room is back under 67 %", "after a shower of 8 min in summer", "you asked for 45 min: an", " l/s fan does it;"} {
		if !strings.Contains(a.Say, part) {
			t.Errorf("%q lacks %q", a.Say, part)
		}
	}
	better, err := Air(p, fanned(r, a.Needed))
	if err != nil || !better.OK || better.Needed != 0 {
		t.Errorf("%v does not do: %v %v", a.Needed, better.Say, err)
	}
	less, err := Air(p, fanned(r, a.Needed-1))
	if err != nil || less.OK {
		t.Errorf("%v does already: %v %v", a.Needed-1, less.Say, err)
	}
}

// A ceiling under the summer's own air can't be kept then: the fan gets a threshold over what the house has.
func TestThresholdsFollowTheSeason(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	r.Brief.Ventilation.Want.Ceiling = model.State(58)
	a, err := Air(p, r)
	if err != nil {
		t.Fatal(err)
	}
	winter, summer := a.Seasons[0], a.Seasons[1]
	if winter.Never || !summer.Never {
		t.Fatalf("winter %v, summer %v", winter.Never, summer.Never)
	}
	if winter.Stop != 58 || summer.Stop != 67 {
		t.Errorf("winter %v, summer %v", winter.Stop, summer.Stop)
	}
	if !strings.Contains(a.Say, "summer day the house's own air has 62 %, so there the fan starts and stops at 67 %") {
		t.Error(a.Say)
	}
	r.Brief.Ventilation.Want.Ceiling = model.State(40)
	if a, _ = Air(p, r); a.OK || !strings.Contains(a.Say, "In no season does the shower room get under 40 %") {
		t.Error(a.Say)
	}
}

func TestUnknownFansAreTheWorst(t *testing.T) {
	p, r := home(t, "alder-row", "utility")
	a, err := Air(p, r)
	if err != nil {
		t.Fatal(err)
	}
	if a.Fan != leastFan || !strings.Contains(a.Because(), "nobody knows what the fan of the utility room moves, 6 l/s is taken") {
		t.Error(a.Fan, a.Because())
	}
	r.Fans = nil
	a, err = Air(p, r)
	if err != nil || !strings.HasPrefix(a.Say, "Without a fan") || a.OK {
		t.Error(a.Say, err)
	}
	p.Home.Indoor = model.Indoor{}
	r.Outline = model.Outline{}
	a, err = Air(p, r)
	if err != nil || len(a.Assumed) != 5 {
		t.Errorf("%d taken for granted: %v %v", len(a.Assumed), a.Assumed, err)
	}
}

// More air never makes a room slower, and what is called for does it.
func TestMoreAirIsNeverSlower(t *testing.T) {
	p, r := home(t, "alder-row", "shower-room")
	rapid.Check(t, func(t *rapid.T) {
		flow := q.Airflow(rapid.Float64Range(3, 80).Draw(t, "flow"))
		r := fanned(r, flow)
		r.Brief.Ventilation.Want.Ceiling = model.State(q.Percent(rapid.IntRange(50, 80).Draw(t, "ceiling")))
		r.Brief.Ventilation.Want.Within = q.Span(time.Duration(rapid.IntRange(10, 120).Draw(t, "within")) * time.Minute)
		a, err := Air(p, r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Air(p, fanned(r, flow*1.3))
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Seasons {
			if b.Seasons[i].Latest > a.Seasons[i].Latest || b.Seasons[i].Soonest > a.Seasons[i].Soonest {
				t.Fatalf("%v: %v, more: %v", a.Seasons[i].Name, a.Seasons[i].Latest, b.Seasons[i].Latest)
			}
			if a.Seasons[i].Stop < a.Ceiling || a.Seasons[i].Stop <= a.Seasons[i].Rest {
				t.Fatalf("%+v", a.Seasons[i])
			}
		}
		if a.Needed > 0 {
			if c, err := Air(p, fanned(r, a.Needed)); err != nil || !c.OK {
				t.Fatalf("%v is called for and does not do: %s %v", a.Needed, c.Say, err)
			}
		}
	})
}

func TestExtract(t *testing.T) {
	for _, c := range []struct {
		file, room string
		flow       q.Airflow
		ok         bool
		says       string
	}{
		{"alder-row", "shower-room", 21, true, "21 l/s meets the 15 l/s that UK Approved Document F 2021 asks of a bathroom; local code decides."},
		{"alder-row", "shower-room", 12, false, "12 l/s is less than the 15 l/s"},
		{"larkspur-lane", "bathroom", 50 * site.CFM, true, "50 cfm meets the 50 cfm that ASHRAE 62.2 asks"},
		{"larkspur-lane", "bathroom", 40 * site.CFM, false, "40 cfm is less than the 50 cfm"},
		{"larkspur-lane", "kitchen", 120 * site.CFM, false, "300 cfm"}, // a fan in the wall, which is no hood
	} {
		p, r := home(t, c.file, c.room)
		e, ok := Extract(p, fanned(r, c.flow))
		if !ok || e.OK != c.ok || !strings.Contains(e.Say, c.says) {
			t.Errorf("%s %s: %v %v %q", c.file, c.room, ok, e.OK, e.Say)
		}
	}
	p, r := home(t, "alder-row", "kitchen")
	if e, ok := Extract(p, r); !ok || e.Rate.Rate != 30 {
		t.Errorf("a hood: %+v", e.Rate)
	}
	p, r = home(t, "alder-row", "bedroom")
	if _, ok := Extract(p, r); ok {
		t.Error("a bedroom has a rate")
	}
}

func TestStandard(t *testing.T) {
	for _, c := range []struct {
		zone, currency string
		volts          q.Voltage
		want           string
	}{
		{"Europe/London", "GBP", 230, "UK Approved Document F 2021"}, {"Europe/Berlin", "EUR", 230, "DIN 18017-3"},
		{"Australia/Perth", "USD", 230, "Australia NCC 2022"}, {"America/Detroit", "USD", 120, "ASHRAE 62.2"},
		{"America/Santiago", "USD", 220, ""}, {"Europe/Paris", "EUR", 230, ""}, {"", "GBP", 0, "UK Approved Document F 2021"}, {"", "EUR", 230, ""},
	} {
		h := model.Home{Place: model.Place{Timezone: c.zone}, Currency: c.currency, Mains: model.Mains{Voltage: c.volts}}
		if got := Standard(h); got != c.want {
			t.Errorf("%s %s: %q, want %q", c.zone, c.currency, got, c.want)
		}
	}
}
