package physics

import (
	"fmt"
	"math"
	"strings"

	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Times of a leak that no brief gives, in s.
const (
	orderValve = 2.0   // until an order reaches the valve
	motorValve = 10.0  // a motor ball valve closes; makers give 2 to 15 s
	handValve  = 900.0 // a quarter of an hour until somebody who was told stands at the stopcock
	probeReach = 0.3   // m from the leak to the probe
)

// Leaked is the water that comes out at one point.
type Leaked struct {
	Verdict
	Escape   site.Escape
	Told     q.Span  // until somebody is told; 0 where nobody is
	LToTold  float64 // litres until then
	LToShut  float64 // litres until the valve has shut
	ByHand   bool    // the valve is shut by hand
	Unwarned bool    // nobody is told at all
	LHour    float64 // litres in an hour
}

// escapes that a water point may well be, by words of its id, the worst likely.
var escapes = []struct{ word, name string }{
	{"dishwasher", "dishwasher hose"}, {"wash", "washer hose"}, {"ice", "ice-maker line"}, {"fridge", "ice-maker line"},
	{"cistern", "toilet supply"}, {"toilet", "toilet supply"}, {"basin", "basin tap"}, {"sink", "kitchen tap"},
	{"tray", "bath tap"}, {"bath", "bath tap"}, {"tub", "bath tap"}, {"heater", "open supply line"}, {"boiler", "open supply line"},
}

// EscapeAt is what may well break at a water point; false for a stopcock.
func EscapeAt(w model.Water) (site.Escape, bool) {
	name := map[string]string{"supply": "open supply line", "waste": "bath tap", "appliance": "washer hose", "": "open supply line"}[w.Kind]
	for _, e := range escapes {
		if strings.Contains(w.ID, e.word) && w.Kind != "stopcock" {
			name = e.name
			break
		}
	}
	return site.EscapeOf(name)
}

// Leak works out the water at one point of a room until somebody is told and until the supply is shut.
func Leak(p *model.Project, r model.Room, w model.Water) (Leaked, bool, error) {
	e, ok := EscapeAt(w)
	if !ok {
		return Leaked{}, false, nil
	}
	l := Leaked{Escape: e, LHour: e.Typical * 60}
	l.Caution = "water"
	want := r.Brief.Leak.Want
	watched := r.Brief.Leak.Wanted() && contains(want.Points, w.ID)
	_, _, wet, err := site.Puddle(60, e.Typical, probeReach)
	if err != nil {
		return l, true, fmt.Errorf("%s/%s: %w", r.ID, w.ID, err)
	}
	told := math.Max(want.Within.Duration().Seconds(), wet)
	l.Unwarned = !watched || len(want.Tell) == 0 && !want.Sound
	l.ByHand = want.Shut == ""
	command, closing := orderValve, motorValve
	if l.ByHand {
		command, closing = handValve, 5
	}
	if !l.Unwarned {
		l.Told = q.Span(math.Ceil(told) * 1e9)
	}
	if l.LToTold, err = site.LeakVolume(e.Typical, told, 0, 0, 0); err != nil {
		return l, true, fmt.Errorf("%s/%s: %w", r.ID, w.ID, err)
	}
	if l.LToShut, err = site.LeakVolume(e.Typical, told, 0, command, closing); err != nil {
		return l, true, fmt.Errorf("%s/%s: %w", r.ID, w.ID, err)
	}
	l.judge(r, w, System(p))
	return l, true, nil
}

func (l *Leaked) judge(r model.Room, w model.Water, u q.System) {
	what := fmt.Sprintf("If the %s of %s lets go as %s (%s)", strings.ReplaceAll(w.ID, "-", " "), the(r), withArticle(l.Escape.Name), flow(l.Escape.Typical, u))
	if l.Unwarned {
		l.Say = fmt.Sprintf("%s, nobody is told, and %s an hour run out: put a probe there.", what, litres(l.LHour, u))
		return
	}
	l.OK = true
	if !l.ByHand {
		l.Say = fmt.Sprintf("%s, %s are out when somebody is told and %s when the valve has shut.", what, litres(l.LToTold, u), litres(l.LToShut, u))
		return
	}
	valve, _ := site.LeakVolume(l.Escape.Typical, l.Told.Duration().Seconds(), 0, orderValve, motorValve)
	l.assume("whoever is told stands at the stopcock after a quarter of an hour")
	l.Say = fmt.Sprintf("%s, %s are out when somebody is told and %s when it is shut by hand", what, litres(l.LToTold, u), litres(l.LToShut, u))
	if l.LToShut > 50 {
		l.Say += fmt.Sprintf("; a motor valve would make that %s", litres(valve, u))
	}
	l.Say += "."
}

func withArticle(s string) string {
	if strings.ContainsRune("aeio", rune(s[0])) {
		return "an " + s
	}
	return "a " + s
}

const gallon = 3.785412 // litres

func litres(l float64, u q.System) string {
	unit := "l"
	if u == q.US {
		l, unit = l/gallon, "gal"
	}
	switch {
	case l < 1 || u == q.US && l < 10:
		return fmt.Sprintf("%.1f %s", l, unit)
	case l < 100:
		return fmt.Sprintf("%.0f %s", l, unit)
	}
	return fmt.Sprintf("%.0f %s", math.Round(l/10)*10, unit)
}

func flow(lpm float64, u q.System) string {
	if u == q.US {
		return fmt.Sprintf("%.2g gal/min", lpm/gallon)
	}
	return fmt.Sprintf("%.2g l/min", lpm)
}
