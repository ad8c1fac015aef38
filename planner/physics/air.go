package physics

import (
	"fmt"
	"math"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Figures of airing that no brief gives.
const (
	leastFan     = 6.0 // l/s: the smallest extract rate of any standard, for a fan that nobody has measured
	leakage      = 0.5 // air changes an hour of a room without a fan
	overRest     = 3   // points over the house's own air: no fan gets nearer in useful time
	betweenOnOff = 5   // points between the threshold that starts a fan and the one that stops it
	usualCeil    = q.Percent(65)
	usualWithin  = 45.0
)

// Airing is how a room comes back under its ceiling of humidity after what usually goes on in it.
type Airing struct {
	Verdict
	Volume  float64 // m³
	Fan     q.Airflow
	Use     Use
	Ceiling q.Percent
	Within  q.Span
	Seasons []Season  // winter, summer
	Needed  q.Airflow // the airflow that would do it surely, rounded up; 0 where none is missing or no fan can
}

// Season is one of them with the air of the house in it.
type Season struct {
	Name    string
	Air     model.Air
	Course  site.Course // the room with its own fan: for curves
	Damp    site.Damp   // what it was reckoned from
	Rest    q.Percent   // what the room settles at when nothing is going on
	Peak    q.Percent   // when the use ends
	Soonest q.Span      // back under the ceiling when what condenses is gone
	Latest  q.Span      // back under it when all of that dries into the air first
	Never   bool        // the house's own air is as damp as the ceiling
	Needs   q.Airflow   // for Latest inside what was asked; 0 where no fan can
	On, Off q.Percent   // thresholds that a fan can keep in this season
	RunOn   q.Span      // on after the air reads dry, until the walls are as well
}

// Airs tells whether anything goes on in a room that puts vapour into its air.
func Airs(r model.Room) bool { return len(kindOf(r.Kind).uses) > 0 }

// Air works a room's airing out with its fans as they are. What the brief doesn't ask for is 65 % and 45 min.
func Air(p *model.Project, r model.Room) (Airing, error) {
	a := Airing{Ceiling: usualCeil, Within: minutes(usualWithin)}
	a.Caution = "ventilation"
	if b := r.Brief.Ventilation; b.Wanted() {
		if b.Want.Ceiling > 0 {
			a.Ceiling = b.Want.Ceiling
		}
		if b.Want.Within > 0 {
			a.Within = b.Want.Within
		}
	}
	width, depth, ceiling := outline(r, &a.Verdict)
	a.Volume = width * depth * ceiling
	a.Fan = fanOf(r, a.Volume, &a.Verdict)
	return a, a.with(p, r)
}

// fanOf is what a room's fans move together; unknown ones at their least.
func fanOf(r model.Room, volume float64, v *Verdict) q.Airflow {
	sum := q.Airflow(0)
	for _, f := range r.Fans {
		flow, ok := f.Airflow.Get()
		if !ok || flow <= 0 {
			flow = leastFan
			v.assume("nobody knows what the fan of %s moves, %s is taken", the(r), q.Airflow(leastFan).Show(q.Metric))
		}
		sum += flow
	}
	if len(r.Fans) == 0 {
		sum = q.Airflow(math.Max(0.1, leakage*volume/3.6))
		v.assume("%s has no fan: half an air change an hour by leakage is taken", the(r))
	}
	return sum
}

// with works out both seasons for the use that takes longest.
func (a *Airing) with(p *model.Project, r model.Room) error {
	uses := kindOf(r.Kind).uses
	if len(uses) == 0 {
		uses = []Use{{"somebody in it for an hour", 60, 0.1}}
	}
	indoor := []Season{
		{Name: "winter", Air: airOr(p.Home.Indoor.Winter, 20, 50, "winter", &a.Verdict)},
		{Name: "summer", Air: airOr(p.Home.Indoor.Summer, 24, 60, "summer", &a.Verdict)},
	}
	longest := -1.0
	for _, u := range uses {
		seasons := append([]Season{}, indoor...)
		for i := range seasons {
			if err := seasons[i].reckon(a, u, pressure(p)); err != nil {
				return fmt.Errorf("%s: %w", r.ID, err)
			}
		}
		if t := inMinutes(seasons[0].Latest); t > longest {
			longest, a.Use, a.Seasons = t, u, seasons
		}
	}
	a.judge(r, System(p))
	return nil
}

func airOr(air model.Air, t q.Temperature, rh q.Percent, season string, v *Verdict) model.Air {
	if air.Humidity > 0 {
		return air
	}
	v.assume("nobody noted the air of the house in %s, %s and %s are taken", season, t.Show(q.Metric), rh.Show(q.Metric))
	return model.Air{Temperature: t, Humidity: rh}
}

// reckon works one season out. The room has the house's temperature: a warmer one dries sooner.
func (s *Season) reckon(a *Airing, u Use, pa float64) error {
	rh := float64(s.Air.Humidity) / 100
	s.Damp = site.Damp{Volume: a.Volume, Temperature: float64(s.Air.Temperature), Pressure: pa, Start: rh,
		SupplyTemp: float64(s.Air.Temperature), SupplyRH: rh, Airflow: float64(a.Fan), Source: u.Vapour, Minutes: u.Minutes}
	ceiling := float64(a.Ceiling) / 100
	course, err := s.Damp.Course(ceiling)
	if err != nil {
		return err
	}
	s.Course = course
	d := course.Drying
	s.Rest, s.Peak = s.Air.Humidity, q.Percent(100*d.Clamped)
	s.Never = math.IsInf(d.ClampedM, 1)
	s.Soonest, s.Latest = minutes(d.ClampedM), minutes(d.FilmM)
	if needs, err := s.Damp.AirflowSurely(ceiling, math.Min(1440, inMinutes(a.Within))); err == nil {
		s.Needs = q.Airflow(needs) // else no fan can, which is what 0 says
	}
	s.Off = q.Percent(math.Min(95, math.Max(float64(a.Ceiling), math.Ceil(float64(s.Rest))+overRest)))
	s.On = q.Percent(math.Min(97, float64(s.Off)+betweenOnOff))
	return s.runOn()
}

// runOn is how much longer the walls take than the air, at the threshold that the season allows.
func (s *Season) runOn() error {
	d, err := s.Damp.Dry(float64(s.Off) / 100)
	if err != nil {
		return err
	}
	const grain = 5 // nobody sets a fan to the minute
	s.RunOn = minutes(grain * math.Ceil((d.FilmM-d.ClampedM)/grain))
	if s.RunOn < minutes(grain) {
		s.RunOn = minutes(grain)
	}
	return nil
}

// judge writes the sentence. Winter decides: in summer the house's own air may be too damp for any fan.
func (a *Airing) judge(r model.Room, u q.System) {
	winter, summer := a.Seasons[0], a.Seasons[1]
	have := "With " + a.Fan.Show(u)
	if len(r.Fans) == 0 {
		have = "Without a fan"
	}
	asked := fmt.Sprintf("you asked for %s", shownSpan(a.Within))
	if b := r.Brief.Ventilation; !b.Wanted() || b.Want.Within == 0 {
		asked = fmt.Sprintf("%s is usual", shownSpan(a.Within))
	}
	a.OK = !winter.Never && winter.Latest <= a.Within && (summer.Never || summer.Latest <= a.Within)
	worst := winter
	if !summer.Never && (winter.Never || summer.Latest > winter.Latest) {
		worst = summer
	}
	switch {
	case winter.Never && summer.Never:
		a.Say = fmt.Sprintf("The house's own air is as damp as %s: no fan brings %s under it; raise the ceiling to %s, or dry the house.",
			a.Ceiling.Show(u), the(r), winter.Off.Show(u))
		return
	default:
		a.Say = fmt.Sprintf("%s %s is back under %s %s after %s in %s; %s", have, the(r), a.Ceiling.Show(u), between(worst), a.Use.Name, worst.Name, asked)
	}
	if !a.OK {
		a.Needed = roundUp(worst.Needs, u)
		switch {
		case a.Needed == 0 || a.Needed > 300:
			a.Needed = 0
			a.Say += ": no fan of a home does that; ask for more time or a higher ceiling"
		default:
			a.Say += fmt.Sprintf(": %s %s fan does it", article(a.Needed.Show(u)), a.Needed.Show(u))
		}
	}
	if one := other(winter, summer); one != nil {
		a.Say += fmt.Sprintf("; on a usual %s day the house's own air has %s, so there the fan stops at %s", one.Name, one.Rest.Show(u), one.Off.Show(u))
	}
	a.Say += "."
}

// article is "an" before a number that is spoken with a vowel: 8, 11, 18, 80.
func article(number string) string {
	if number[0] == '8' || (len(number) > 2 && (number[:3] == "11 " || number[:3] == "18 ")) {
		return "an"
	}
	return "a"
}

// other is the season in which no fan gets the room under its ceiling, where there is just one.
func other(winter, summer Season) *Season {
	switch {
	case summer.Never && !winter.Never:
		return &summer
	case winter.Never && !summer.Never:
		return &winter
	}
	return nil
}

func between(s Season) string {
	if s.Latest == 0 {
		return "at once"
	}
	if s.Soonest == s.Latest {
		return shownSpan(s.Soonest)
	}
	return fmt.Sprintf("%s to %s", shownSpan(s.Soonest), shownSpan(s.Latest))
}

// roundUp to a whole litre a second, or five cubic feet a minute.
func roundUp(v q.Airflow, u q.System) q.Airflow {
	if u == q.US {
		return q.Airflow(math.Ceil(float64(v)/site.CFM/5-1e-9) * 5 * site.CFM)
	}
	return q.Airflow(math.Ceil(float64(v) - 1e-9))
}
