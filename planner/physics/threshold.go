package physics

import (
	"fmt"
	"math"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// HouseMargin is how many points of relative humidity a room must be above the house before its air counts as damp: less than
// two reports of a usual sensor is noise, and no fan gets nearer in useful time.
const HouseMargin = 5

// mostCeiling is the highest ceiling that is ever reckoned: what a surface as warm as the room bears.
const mostCeiling = q.Percent(100 * site.MouldAt)

// Bounds are the levels between which the threshold of a fan can lie in one season, and where it does.
type Bounds struct {
	Outside model.Air
	Carried q.Percent     // what outdoor air has once it is as warm as the room: no airing gets a house under it
	Surface q.Temperature // of the room's coldest inside surface
	Bears   q.Percent     // the room's highest humidity at which that surface stays free of mould, in whole points
	Reach   q.Percent     // what the fan surely brings the room under in the time that was asked; 100 is nothing
	Least   q.Percent     // the lowest threshold that the room ever gets under: Reach, and HouseMargin over the house
	Best    q.Percent     // the season's own threshold: what the surface bears, as a lower one only runs the fan for longer
	Stop    q.Percent     // where the fan starts and stops: at the ceiling, or HouseMargin over the house
}

// outside is the air out of doors, as noted or as it is usual at such a latitude; v is told of the latter.
func outside(p *model.Project, v *Verdict) (winter, summer model.Air) {
	noted, usual := p.Home.Outdoor.Or(model.Indoor{}), model.UsualOutdoor(p.Home.Place)
	u := System(p)
	take := func(air, other model.Air, season string) model.Air {
		if air.Humidity > 0 {
			return air
		}
		v.assume("nobody noted the air outside in %s, %s and %s are taken from the latitude", season, other.Temperature.Show(u), other.Humidity.Show(u))
		return other
	}
	return take(noted.Winter, usual.Winter, "winter"), take(noted.Summer, usual.Summer, "summer")
}

// factorOf is the temperature factor of a room's coldest surface: measured on a winter day, or the least that guidance asks.
func factorOf(p *model.Project, r model.Room, house, outside model.Air, v *Verdict) float64 {
	cold, ok := r.Coldest.Get()
	if !ok {
		v.assume("nobody measured the coldest surface of %s, a temperature factor of %g is taken (old outside walls are colder: hold a thermometer to the corners)", the(r), site.LeastFactor)
		return site.LeastFactor
	}
	f, err := site.FactorOf(float64(house.Temperature), float64(outside.Temperature), float64(cold))
	if err != nil {
		u := System(p)
		v.assume("the coldest surface of %s can't be %s on a winter day with %s inside and %s outside, so a temperature factor of %g is taken: measure it again on a cold day",
			the(r), cold.Show(u), house.Temperature.Show(u), outside.Temperature.Show(u), site.LeastFactor)
		return site.LeastFactor
	}
	return f
}

// bound works out between what levels a season's threshold can lie for what goes on in the room; factor is of its coldest surface.
func (s *Season) bound(a *Airing, uses []Use, factor, pa float64) error {
	in := float64(s.Air.Temperature)
	bears, surface, err := site.CeilingAtSurface(in, float64(s.Outside.Temperature), factor, site.MouldAt)
	if err != nil {
		return err
	}
	carried, err := site.Warmed(float64(s.Outside.Temperature), float64(s.Outside.Humidity)/100, in)
	if err != nil {
		return err
	}
	reach := 0.0
	for _, u := range uses {
		low, err := s.damp(a, u, pa).Lowest(math.Min(1440, inMinutes(a.Within)))
		if err != nil {
			return err
		}
		reach = math.Max(reach, low)
	}
	s.Surface, s.Carried = q.Temperature(surface), q.Percent(math.Ceil(100*carried-1e-9))
	s.Bears, s.Reach = q.Percent(math.Floor(100*bears+1e-9)), q.Percent(math.Ceil(100*reach-1e-9))
	s.Least = max(s.Reach, s.near())
	s.Best = min(max(s.Bears, s.Least), max(mostCeiling, s.near()))
	return nil
}

// near is as near as a fan gets a room to the house's own air.
func (s *Season) near() q.Percent {
	const most = 97 // nothing reads finer near saturation
	return min(most, q.Percent(math.Ceil(float64(s.Air.Humidity)-1e-9))+HouseMargin)
}

// reckonCeiling is the one threshold for all seasons, as rules know none: the lowest of them. Where the house's own air is damper,
// the fan stops HouseMargin over that instead, so a threshold that suits the winter does no harm in summer.
func (a *Airing) reckonCeiling() {
	a.Ceiling = a.Seasons[0].Best
	for _, s := range a.Seasons {
		a.Ceiling = min(a.Ceiling, s.Best)
	}
	a.Reckoned = true
}

// judgeThreshold says whether the ceiling suits the room in every season, and what to do where it doesn't.
func (a *Airing) judgeThreshold(r model.Room, u q.System) {
	t := &a.Threshold
	t.Caution, t.OK = "ventilation", true
	for _, s := range a.Seasons {
		if s.Stop <= s.Bears {
			continue
		}
		t.OK = false
		surface := fmt.Sprintf("the coldest surface of %s, at %s in %s, bears no more than %s before mould can grow", the(r), s.Surface.Show(u), s.Name, s.Bears.Show(u))
		switch {
		case s.near() > s.Bears:
			t.Say = fmt.Sprintf("%s, and the house's own air has %s then, to which no fan gets nearer than %s: air and warm the house, dry no laundry in it, or have that surface insulated.",
				english.Upper(surface), s.Rest.Show(u), s.near().Show(u))
		case a.Reckoned:
			t.Say = fmt.Sprintf("%s, and with %s it is surely under %s only after %s: %s.", english.Upper(surface), a.Fan.Show(u), s.Reach.Show(u), shownSpan(a.Within), s.stronger(a, u))
		default:
			t.Say = fmt.Sprintf("A ceiling of %s is too damp: %s; lower it to %s, or write `reckoned` for it.", a.Ceiling.Show(u), surface, a.healthy().Show(u))
		}
		return
	}
	t.Say = a.suits(r, u)
}

// stronger is what brings the room under what its surface bears in the time that was asked.
func (s *Season) stronger(a *Airing, u q.System) string {
	if f, err := s.Damp.AirflowSurely(float64(s.Bears)/100, math.Min(1440, inMinutes(a.Within))); err == nil && f <= mostFan {
		return fmt.Sprintf("fit a fan of %s, or give it more time", roundUp(q.Airflow(f), u).Show(u))
	}
	return "give it more time, or air the room by a window as well"
}

// healthy is the highest ceiling that the surface bears in every season.
func (a *Airing) healthy() q.Percent {
	low := mostCeiling
	for _, s := range a.Seasons {
		if s.near() <= s.Bears {
			low = min(low, s.Bears)
		}
	}
	return low
}

// suits says why a ceiling is well, and where the fan starts and stops in the seasons in which that isn't at the ceiling.
func (a *Airing) suits(r model.Room, u q.System) string {
	tight := a.Seasons[0]
	for _, s := range a.Seasons {
		if s.Bears < tight.Bears {
			tight = s
		}
	}
	say := fmt.Sprintf("%s suits %s: its coldest surface, at %s in %s, bears %s before mould can grow", a.Ceiling.Show(u), the(r), tight.Surface.Show(u), tight.Name, tight.Bears.Show(u))
	for _, s := range a.Seasons {
		if s.Stop > a.Ceiling {
			say += fmt.Sprintf("; in %s the house's own air has %s, so there the fan starts and stops at %s", s.Name, s.Rest.Show(u), s.Stop.Show(u))
		}
		if s.Carried > a.Ceiling {
			say += fmt.Sprintf(" (air from outside alone has %s in the room: only a dryer gets under that)", s.Carried.Show(u))
		}
	}
	return say + "."
}

// WinterWalls is between what a room's inside surfaces can be on a winter day: the air outside, and that of the house. Planned is what
// its coldest is taken for, as measured or as guidance asks at least.
func WinterWalls(p *model.Project, r model.Room) (outdoors, planned, indoors q.Temperature) {
	var v Verdict
	winter, _ := outside(p, &v)
	house := airOr(p.Home.Indoor.Winter, 20, 50, "winter", &v)
	factor := factorOf(p, r, house, winter, &v)
	return winter.Temperature, winter.Temperature + q.Temperature(factor)*(house.Temperature-winter.Temperature), house.Temperature
}
