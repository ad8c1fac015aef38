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
	leastFan    = 6.0   // l/s: the smallest extract rate of any standard, for a fan that nobody has measured
	mostFan     = 300.0 // l/s: no fan of a room moves more
	leakage     = 0.5   // air changes an hour of a room without a fan
	usualWithin = 45.0  // min
)

// Airing is how a room comes back under its ceiling of humidity after what usually goes on in it.
type Airing struct {
	Verdict
	Threshold Verdict // whether the ceiling suits the room in every season
	Volume    float64 // m³
	Fan       q.Airflow
	Use       Use
	Ceiling   q.Percent
	Reckoned  bool // the ceiling follows from the room; the household states none
	Within    q.Span
	Seasons   []Season  // winter, summer
	Needed    q.Airflow // the airflow that would do it surely, rounded up; 0 where none is missing or no fan can
}

// Season is one of them with the air of the house in it.
type Season struct {
	Bounds
	Name    string
	Air     model.Air
	Course  site.Course // the room with its own fan: for curves
	Damp    site.Damp   // what it was reckoned from
	Rest    q.Percent   // what the room settles at when nothing is going on
	Peak    q.Percent   // when the use ends
	Soonest q.Span      // back under Stop when what condenses is gone
	Latest  q.Span      // back under it when all of that dries into the air first
	Never   bool        // the house's own air is too damp for the ceiling: the fan stops over it
	RunOn   q.Span      // on after the air reads dry, until the walls are as well
}

// Airs tells whether anything goes on in a room that puts vapour into its air.
func Airs(r model.Room) bool { return len(kindOf(r.Kind).uses) > 0 }

// Air works a room's airing out with its fans as they are. Where the brief states no ceiling, it is reckoned; where it states no
// time, 45 min are taken.
func Air(p *model.Project, r model.Room) (Airing, error) {
	a := begin(r)
	return a, a.with(p, r)
}

// begin is the room with its fans and the time that was asked.
func begin(r model.Room) Airing {
	a := Airing{Within: minutes(usualWithin)}
	a.Caution = "ventilation"
	if b := r.Brief.Ventilation; b.Wanted() && b.Want.Within > 0 {
		a.Within = b.Want.Within
	}
	width, depth, ceiling := outline(r, &a.Verdict)
	a.Volume = width * depth * ceiling
	a.Fan = fanOf(r, a.Volume, &a.Verdict)
	return a
}

// uses are what goes on in a room, and the seasons with the air of the house in them.
func (a *Airing) uses(p *model.Project, r model.Room) ([]Use, []Season) {
	uses := kindOf(r.Kind).uses
	if len(uses) == 0 {
		uses = []Use{{"somebody in it for an hour", 60, 0.1}}
	}
	return uses, []Season{
		{Name: "winter", Air: airOr(p.Home.Indoor.Winter, 20, 50, "winter", &a.Verdict)},
		{Name: "summer", Air: airOr(p.Home.Indoor.Summer, 24, 60, "summer", &a.Verdict)},
	}
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
	uses, indoor := a.uses(p, r)
	if err := a.bounds(p, r, uses, indoor); err != nil {
		return fmt.Errorf("%s: %w", r.ID, err)
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
	a.judgeThreshold(r, System(p))
	return nil
}

// bounds works out what the threshold can be in each season, and the ceiling where it is to be reckoned.
func (a *Airing) bounds(p *model.Project, r model.Room, uses []Use, seasons []Season) error {
	winter, summer := outside(p, &a.Threshold)
	factor := factorOf(p, r, seasons[0].Air, winter, &a.Threshold)
	seasons[0].Outside, seasons[1].Outside = winter, summer
	for i := range seasons {
		s := &seasons[i]
		s.Rest = s.Air.Humidity
		if err := s.bound(a, uses, factor, pressure(p)); err != nil {
			return err
		}
	}
	a.Seasons = seasons
	if want := r.Brief.Ventilation.Want.Ceiling; r.Brief.Ventilation.Wanted() && want.Stated > 0 {
		a.Ceiling = want.Stated
	} else {
		a.reckonCeiling()
		a.Assumed = append(a.Assumed, a.Threshold.Assumed...)
	}
	for i := range seasons {
		seasons[i].Stop = max(a.Ceiling, seasons[i].near())
	}
	return nil
}

// CeilingOf is the humidity over which a room's air is damp, in whole points: what the brief states, or what is reckoned from
// the room. It is 0 where none is asked for, and what a room of usual measures bears where the room's own can't be.
func CeilingOf(p *model.Project, r model.Room) q.Percent {
	want := r.Brief.Ventilation.Want.Ceiling
	switch {
	case !r.Brief.Ventilation.Wanted() || !want.Wanted():
		return 0
	case !want.Reckoned:
		return q.Percent(math.Floor(float64(want.Stated) + 0.5))
	}
	a := begin(r)
	uses, seasons := a.uses(p, r)
	if a.bounds(p, r, uses, seasons) != nil {
		return fallback
	}
	return a.Ceiling
}

// fallback is the ceiling of a room whose figures are out of every range: the note of the room says so.
const fallback = q.Percent(60)

func airOr(air model.Air, t q.Temperature, rh q.Percent, season string, v *Verdict) model.Air {
	if air.Humidity > 0 {
		return air
	}
	v.assume("nobody noted the air of the house in %s, %s and %s are taken", season, t.Show(q.Metric), rh.Show(q.Metric))
	return model.Air{Temperature: t, Humidity: rh}
}

// damp is the room of a season with what goes on in it. It has the house's temperature: a warmer one dries sooner.
func (s *Season) damp(a *Airing, u Use, pa float64) site.Damp {
	rh := float64(s.Air.Humidity) / 100
	return site.Damp{Volume: a.Volume, Temperature: float64(s.Air.Temperature), Pressure: pa, Start: rh,
		SupplyTemp: float64(s.Air.Temperature), SupplyRH: rh, Airflow: float64(a.Fan), Source: u.Vapour, Minutes: u.Minutes}
}

// reckon works one season out, to where the fan stops in it.
func (s *Season) reckon(a *Airing, u Use, pa float64) error {
	s.Damp = s.damp(a, u, pa)
	ceiling := math.Min(1, float64(s.Stop)/100)
	course, err := s.Damp.Course(ceiling)
	if err != nil {
		return err
	}
	s.Course = course
	d := course.Drying
	s.Peak = q.Percent(100 * d.Clamped)
	s.Never = s.Stop > a.Ceiling
	s.Soonest, s.Latest = minutes(d.ClampedM), minutes(d.FilmM)
	s.runOn()
	return nil
}

// runOn is how much longer the walls take than the air, at the threshold that the season allows.
func (s *Season) runOn() {
	const grain = 5 // nobody sets a fan to the minute
	d := s.Course.Drying
	s.RunOn = minutes(grain)
	if longer := d.FilmM - d.ClampedM; longer > grain { // NaN where the air of the house is saturated
		s.RunOn = minutes(grain * math.Ceil(longer/grain))
	}
}

// Worst is the season that takes longest.
func (a *Airing) Worst() Season {
	worst := a.Seasons[0]
	for _, s := range a.Seasons {
		if s.Latest > worst.Latest {
			worst = s
		}
	}
	return worst
}

// needs is the airflow that surely brings the room back in the time that was asked in every season; 0 where no fan can.
func (a *Airing) needs() q.Airflow {
	most := 0.0
	for _, s := range a.Seasons {
		flow, err := s.Damp.AirflowSurely(math.Min(1, float64(s.Stop)/100), math.Min(1440, inMinutes(a.Within)))
		if err != nil {
			return 0
		}
		most = math.Max(most, flow)
	}
	return q.Airflow(most)
}

// judge writes the sentence, about the season that takes longest.
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
	if winter.Never && summer.Never {
		a.Say = fmt.Sprintf("In no season does %s get under %s: the house's own air has %s in winter and %s in summer, and no fan gets nearer to it than %d points; raise the ceiling to %s, or dry the house.",
			the(r), a.Ceiling.Show(u), winter.Rest.Show(u), summer.Rest.Show(u), HouseMargin, min(winter.Stop, summer.Stop).Show(u))
		return
	}
	worst := a.Worst()
	a.OK = worst.Latest <= a.Within
	a.Say = fmt.Sprintf("%s %s is back under %s %s after %s in %s; %s", have, the(r), worst.Stop.Show(u), between(worst), a.Use.Name, worst.Name, asked)
	if !a.OK {
		a.Needed = roundUp(a.needs(), u)
		switch {
		case a.Needed == 0 || a.Needed > mostFan:
			a.Needed = 0
			a.Say += ": no fan of a home does that; ask for more time or a higher ceiling"
		default:
			a.Say += fmt.Sprintf(": %s %s fan does it", article(a.Needed.Show(u)), a.Needed.Show(u))
		}
	}
	if one := other(winter, summer); one != nil {
		a.Say += fmt.Sprintf("; on a usual %s day the house's own air has %s, so there the fan starts and stops at %s", one.Name, one.Rest.Show(u), one.Stop.Show(u))
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
