package physics

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Standard is the extract standard that is usual where a home stands, by its time zone, mains and currency; "" where
// none is known here.
func Standard(h model.Home) string {
	zone := h.Place.Timezone
	switch {
	case zone == "Europe/London" || zone == "Europe/Belfast":
		return "UK Approved Document F 2021"
	case zone == "Europe/Berlin" || zone == "Europe/Busingen":
		return "DIN 18017-3"
	case strings.HasPrefix(zone, "Australia/"):
		return "Australia NCC 2022"
	case strings.HasPrefix(zone, "America/") || strings.HasPrefix(zone, "US/"):
		if h.Mains.Voltage == 0 || h.Mains.Voltage <= 130 {
			return "ASHRAE 62.2"
		}
		return ""
	case zone != "" && zone != "UTC":
		return ""
	case h.Currency == "GBP":
		return "UK Approved Document F 2021"
	case h.Currency == "USD" && h.Mains.Voltage <= 130:
		return "ASHRAE 62.2"
	}
	return ""
}

// Extracted is a room's fan held against the local extract rate of a standard.
type Extracted struct {
	Verdict
	Rate site.Extract
	Fan  q.Airflow
}

// Extract holds the fans of a room against the standard of the home's country. The second result is false where no
// rate is known for the room.
func Extract(p *model.Project, r model.Room) (Extracted, bool) {
	e := Extracted{}
	e.Caution = "ventilation"
	standard, room := Standard(p.Home), kindOf(r.Kind).extract
	best := -1
	for i, x := range site.Extracts {
		if x.Standard != standard || x.Room != room || !strings.HasPrefix(x.Mode, "on demand") || strings.Contains(x.Mode, "hood") != hood(r) && hasHoodRow(standard, room) {
			continue
		}
		best = i
	}
	if best < 0 || len(r.Fans) == 0 && r.Brief.Ventilation.State != model.Wanted {
		return e, false
	}
	e.Rate = site.Extracts[best]
	volume, _ := Volume(r)
	if len(r.Fans) > 0 {
		e.Fan = fanOf(r, volume, &e.Verdict)
	}
	u := System(p)
	rate := q.Airflow(e.Rate.Rate)
	e.OK = float64(e.Fan) >= e.Rate.Rate*0.995 // a catalogue rounds its airflows
	what := fmt.Sprintf("the %s that %s asks of %s %s", rate.Show(u), e.Rate.Standard, article(e.Rate.Room+" "), e.Rate.Room)
	if e.Rate.Room == "utility" {
		what += " room"
	}
	switch {
	case e.OK:
		e.Say = fmt.Sprintf("%s meets %s; local code decides.", e.Fan.Show(u), what)
	case e.Fan == 0:
		e.Say = fmt.Sprintf("%s has no fan, and lacks %s; fit one of that size at least, by what local code says.", english.Upper(the(r)), what)
	default:
		e.Say = fmt.Sprintf("%s is less than %s; fit a fan of that size at least, by what local code says.", e.Fan.Show(u), what)
	}
	return e, true
}

// hood tells whether a kitchen's fan is a hood over the cooker.
func hood(r model.Room) bool {
	for _, f := range r.Fans {
		if strings.Contains(f.ID, "hood") {
			return true
		}
	}
	return false
}

func hasHoodRow(standard, room string) bool {
	for _, x := range site.Extracts {
		if x.Standard == standard && x.Room == room && strings.Contains(x.Mode, "hood") {
			return true
		}
	}
	return false
}
