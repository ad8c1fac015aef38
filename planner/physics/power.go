package physics

import (
	"fmt"
	"math"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Cell is a size of cell: what it holds and how much of that it loses lying there.
type Cell struct {
	Capacity float64 // mAh at the small currents of sensors
	SelfLoss float64 // part lost a year
}

// Cells by size (cell datasheets; CR2450, CR2477 and AAA, and the loss of alkaline cells, are recalled).
var Cells = map[string]Cell{
	"CR2032": {225, 0.01}, "CR2450": {620, 0.01}, "CR2477": {1000, 0.01}, "CR123A": {1500, 0.01},
	"AA": {2500, 0.03}, "AAA": {1100, 0.03},
}

// Charge of one report in µC by radio: 20 mA for 20 ms, and 100 mA for 2.5 s where a network is joined each time.
var Charge = map[string]float64{"zigbee": 400, "thread": 400, "ble": 400, "wifi": 250000}

// Usable parts of a cell's charge: cold, age and pulses take the rest.
const (
	UsableLeast = 0.7
	Usable      = 0.85
	UsableMost  = 0.9
)

// usualReports a day at which the catalogue states a life, by what a part senses.
var usualReports = map[catalogue.Ability]float64{
	catalogue.SenseMotion: 100, catalogue.SenseStill: 100, catalogue.SenseDoor: 40, catalogue.SenseHumidity: 150,
	catalogue.SenseWet: 26, catalogue.Press: 20, catalogue.ShutWater: 26, catalogue.Sound: 26,
}

const (
	heartbeats  = 24.0 // reports a day that a device sends only to show that it is there
	usualOthers = 50.0
)

// Reports is how many reports a day to expect of a part in a kind of room with so many people.
func Reports(part catalogue.Part, roomKind string, people int) float64 {
	k, n := kindOf(roomKind), float64(max(people, 1))
	sum := heartbeats
	for _, a := range part.Does {
		switch a {
		case catalogue.SenseMotion, catalogue.SenseStill:
			sum += k.moves * n
		case catalogue.SenseDoor:
			sum += k.moves * n / 2
		case catalogue.SenseHumidity:
			step := float64(max(part.Behaviour.Step, 1))
			sum += 48/step + float64(len(k.uses))*n*100/step
			if every := part.Behaviour.Every.Duration(); every > 0 {
				sum = math.Max(sum, float64(24*time.Hour/every))
			}
		case catalogue.Press:
			sum += 4 * n
		}
	}
	return sum
}

// Battery is how long a part's cells last.
type Battery struct {
	Verdict
	Years       float64
	Least, Most float64 // years, with cold and age, and without
	CellsAYear  float64 // of all cells of the part
	Reports     float64 // a day
}

// BatteryOf works out the life of a part's cells at so many reports a day. What the part draws by itself follows from the
// life that the catalogue states at usual use; its reports come on top. The second result is false where it has none.
func BatteryOf(part catalogue.Part, reports float64) (Battery, bool, error) {
	cell, ok := Cells[part.Battery.Cell]
	if !ok || part.Supply != "battery" {
		return Battery{}, false, nil
	}
	b := Battery{Reports: reports}
	b.OK = true
	charge, known := Charge[part.Radio]
	if !known {
		charge = Charge["wifi"]
		b.assume("the radio of %s is not known: each report is taken to cost as much as joining a network", part.Name)
	}
	usual := usualOthers
	for _, a := range part.Does {
		if n := usualReports[a]; n > 0 {
			usual = math.Max(usual, n)
		}
	}
	sleep := 5.0
	if part.Battery.Years > 0 {
		all := cell.Capacity * 1000 * Usable / (part.Battery.Years * site.HoursAYear)
		sleep = math.Max(0.5, all-charge*usual/86400-cell.Capacity*1000*cell.SelfLoss/site.HoursAYear)
	} else {
		b.assume("the catalogue states no life for %s: 5 µA at rest are taken", part.Name)
	}
	for _, x := range []struct {
		usable float64
		into   *float64
	}{{UsableLeast, &b.Least}, {Usable, &b.Years}, {UsableMost, &b.Most}} {
		l, err := site.Drain{Capacity: cell.Capacity, Usable: x.usable, SelfLoss: cell.SelfLoss, Sleep: sleep, Events: []site.Event{{Charge: charge, Daily: reports}}}.Life()
		if err != nil {
			return b, true, fmt.Errorf("%s: %w", part.ID, err)
		}
		*x.into = l.Claim
	}
	b.CellsAYear = float64(max(part.Battery.Count, 1)) / b.Years
	b.OK = b.Least >= 0.5
	b.Say = fmt.Sprintf("%s with %.0f reports a day lasts %s on %s", english.Upper(part.Name), reports, yearsBetween(b.Least, b.Most), cellsOf(part))
	if b.OK {
		b.Say += "."
	} else {
		b.Say += ": take a part that runs on the mains there."
	}
	return b, true, nil
}

func cellsOf(p catalogue.Part) string {
	return fmt.Sprintf("%d × %s", max(p.Battery.Count, 1), p.Battery.Cell)
}

func yearsBetween(a, b float64) string {
	if a < 0.95 {
		return fmt.Sprintf("%.0f to %.0f months", math.Max(1, math.Floor(12*a)), math.Max(1, math.Round(12*b)))
	}
	return fmt.Sprintf("%.1f to %.1f years", a, b)
}

// Energy is what a room uses in a year, in kWh.
type Energy struct {
	Verdict
	Lamps, Fans, Devices float64
}

// lampListens is what a lamp that listens uses while it is dark, in W (engineering figure).
const lampListens = 0.3

// AtRest is what devices use by being there, in kWh a year.
func AtRest(devices []catalogue.Part) (kWh float64) {
	for _, d := range devices {
		switch lamp := d.Place == "lamp" || d.Place == "fitting"; {
		case lamp && d.Radio != "":
			kWh += lampListens * site.HoursAYear / 1000 // its own figure is that of its light
		case !lamp && (d.Supply == "mains" || d.Supply == "low voltage"):
			kWh += float64(d.Uses) * site.HoursAYear / 1000
		}
	}
	return kWh
}

// Total of all.
func (e Energy) Total() float64 { return e.Lamps + e.Fans + e.Devices }

// EnergyOf works out a room's year: its lamps by the usual hours of its kind at the mean level of the waking day, its
// fans by what they have to dry, and devices by what they use at rest.
func EnergyOf(p *model.Project, r model.Room, devices []catalogue.Part) Energy {
	e := Energy{}
	e.OK = true
	hours := kindOf(r.Kind).lit
	e.assume("the light is on for %g h a day", hours)
	for _, c := range r.Circuits {
		watts := float64(c.Power)
		if watts == 0 && c.Flux > 0 {
			watts = float64(c.Flux) / site.LumensPerWatt
			e.assume("the power of %s/%s is not noted, a watt for %g lm is taken", r.ID, c.ID, site.LumensPerWatt)
		}
		e.Lamps += watts * float64(max(c.Lamps, 1)) * meanLevel(r, c.ID) * hours * 365 / 1000
	}
	fan := fanHours(p, r)
	for _, f := range r.Fans {
		e.Fans += float64(f.Power) * fan * 365 / 1000
	}
	e.Devices = AtRest(devices)
	e.Say = fmt.Sprintf("About %s a year go into %s: lamps %.0f, fans %.0f, devices at rest %.0f.", kWh(e.Total()), the(r), e.Lamps, e.Fans, e.Devices)
	return e
}

func kWh(v float64) string { return fmt.Sprintf("%.0f kWh", v) }

// meanLevel of a circuit over the waking day, 06:00 to 23:00, with the sun of an equinox; 0 to 1.
func meanLevel(r model.Room, circuit string) float64 {
	if !r.Brief.Lighting.Wanted() || len(r.Brief.Lighting.Want.Periods) == 0 {
		return 1
	}
	sum, n := 0.0, 0
	for h := 6; h < 23; h++ {
		pd := periodAt(r.Brief.Lighting.Want.Periods, time.Duration(h)*time.Hour)
		if len(pd.Circuits) == 0 || contains(pd.Circuits, circuit) {
			sum += float64(pd.Level) / 100
		}
		n++
	}
	return sum / float64(n)
}

// periodAt is the period that holds at a time of day.
func periodAt(ps []model.Period, at time.Duration) model.Period {
	best, latest := -1, -1
	when := time.Duration(-1)
	last := time.Duration(-1)
	for i, pd := range ps {
		t := equinox(pd.From)
		if t <= at && t > when {
			best, when = i, t
		}
		if t > last {
			latest, last = i, t
		}
	}
	if best < 0 {
		best = latest // yesterday's last one goes on past midnight
	}
	return ps[best]
}

func equinox(t q.DayTime) time.Duration {
	switch t.Sun {
	case q.Dawn:
		return 5*time.Hour + 30*time.Minute + t.Offset
	case q.Sunrise:
		return 6*time.Hour + t.Offset
	case q.Sunset:
		return 18*time.Hour + t.Offset
	case q.Dusk:
		return 18*time.Hour + 30*time.Minute + t.Offset
	}
	return t.Offset
}

// fanHours a day: what each person's use takes to dry, or a run-on after each visit.
func fanHours(p *model.Project, r model.Room) float64 {
	people := 0
	for _, x := range p.People {
		if x.Role != "pet" && x.Role != "neighbour" && x.Role != "guest" {
			people++
		}
	}
	hours := 0.0
	if Airs(r) {
		if a, err := Air(p, r); err == nil {
			// A winter's run; one that never ends stops at the usual limit of a run.
			run := math.Min(a.Use.Minutes+inMinutes(a.Seasons[0].Latest), 180)
			hours += run / 60 * float64(uses(r, max(people, 1)))
		}
	}
	if b := r.Brief.Ventilation; b.Wanted() {
		hours += b.Want.WithPeople.RunOn.Duration().Hours() * 4 * float64(max(people, 1))
		if most := b.Want.AtMost.Duration().Hours(); most > 0 {
			hours = math.Min(hours, most)
		}
	}
	return math.Min(hours, 24)
}

// uses a day: everybody showers, a meal is cooked for all, and laundry hangs every other day.
func uses(r model.Room, people int) int {
	if kindOf(r.Kind).extract == "bathroom" {
		return people
	}
	return 1
}
