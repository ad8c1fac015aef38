package physics

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Carried is a load held against what a part may switch.
type Carried struct {
	Verdict
	Current float64 // A that it draws
	Inrush  float64 // A as it is switched on, where the part's rating is for resistive loads only
	VA      float64 // that it draws: W for all but motors
	Most    q.Power // what the part may switch of this kind; VA of motors
	Why     string  // where it isn't well: what stands in the way, to go on with after the part's name
	Do      string  // where it isn't well: what to change
}

// factors are power factors of motors by their power, W, where their plate isn't at hand (engineering figures): shaded poles
// of small extract fans, capacitor motors of hoods and large fans; on the plates of large appliances stand volts times amperes.
var factors = []struct{ watts, factor float64 }{{30, 0.45}, {150, 0.80}, {1000, 1}}

// Apparent is what a motor of so many watts draws, in VA, with the power factor that is usual at its size.
func Apparent(watts q.Power) (va, factor float64) {
	factor = factors[0].factor
	for i := 1; i < len(factors); i++ {
		a, b := factors[i-1], factors[i]
		t := math.Max(0, math.Min(1, (float64(watts)-a.watts)/(b.watts-a.watts)))
		factor += (b.factor - a.factor) * t
	}
	return float64(watts) / factor, factor
}

// Carries holds a load against a part of the home; see Hold.
func Carries(p *model.Project, part catalogue.Part, load q.Power, kind catalogue.LoadKind) (Carried, error) {
	var assumed Verdict
	c, err := Hold(volts(p, &assumed), part, load, kind)
	c.Assumed = append(assumed.Assumed, c.Assumed...)
	return c, err
}

// Hold holds a load against a part at the mains' volts: its rating for that kind of load, or a resistive rating derated for
// the inrush (motors 6, lamps 10 times), and its least load where it dims. Motors count in VA.
func Hold(volts float64, part catalogue.Part, load q.Power, kind catalogue.LoadKind) (Carried, error) {
	c := Carried{VA: float64(load)}
	c.Caution = "mains"
	if load <= 0 {
		return c, fmt.Errorf("the load on %s is not known", part.ID)
	}
	what := fmt.Sprintf("%s of %s", load.Show(q.Metric), kindWord(kind))
	if kind == catalogue.Motor {
		var factor float64
		c.VA, factor = Apparent(load)
		c.assume("a power factor of %.2f, as usual for motors of that size", factor)
		what += fmt.Sprintf(" (%s at a power factor of %.2f)", shownVA(c.VA), factor)
	}
	c.Current = c.VA / volts
	most, rated := part.Ratings[kind]
	derated := ""
	if !rated {
		resistive, ok := part.Ratings[catalogue.Resistive]
		if !ok {
			c.Why, c.Do = "has no rating for "+kindWord(kind), "take a part that is rated for "+kindWord(kind)
			c.Say = fmt.Sprintf("%s has no rating for such a load: take a part that has.", english.Upper(part.Name))
			return c, nil
		}
		as := map[catalogue.LoadKind]string{catalogue.LED: "incandescent", catalogue.Motor: "motor", catalogue.Resistive: "resistive"}[kind]
		_, inrush, _, err := site.Relay(math.Max(0.1, float64(resistive)/volts), as, volts, c.VA, 1)
		if err != nil {
			return c, fmt.Errorf("%s: %w", part.ID, err)
		}
		c.Inrush = inrush
		most = resistive / q.Power(site.Inrush[as])
		c.assume("%s is rated for resistive loads only: %s count %g-fold", part.Name, kindWord(kind), site.Inrush[as])
		derated = fmt.Sprintf(", a %gth of its resistive rating for the rush as they are switched on", site.Inrush[as])
	}
	c.Most = most
	c.judge(part, load, kind, what, derated)
	return c, nil
}

// judge writes the sentences.
func (c *Carried) judge(part catalogue.Part, load q.Power, kind catalogue.LoadKind, what, derated string) {
	limit := c.Most.Show(q.Metric)
	if kind == catalogue.Motor {
		limit = shownVA(float64(c.Most))
	}
	c.OK = c.VA <= float64(c.Most)*(1+1e-12)
	switch {
	case !c.OK:
		c.Why = fmt.Sprintf("may switch %s of %s%s, and here it is %s", limit, kindWord(kind), derated, what)
		c.Do = "take a stronger part, or split the load"
		c.Say = fmt.Sprintf("%s is more than this %s may switch (%s): take a stronger part, or split the load.", what, part.Kind, limit)
	case part.LeastLoad > 0 && load < part.LeastLoad:
		c.OK = false
		c.Why = fmt.Sprintf("works steadily only from %s, and here it is %s: it would flicker or glow", part.LeastLoad.Show(q.Metric), load.Show(q.Metric))
		c.Do = "take a part that uses the neutral, or add a bypass load"
		c.Say = fmt.Sprintf("%s is less than the %s that this %s needs to work steadily: it may flicker or glow; take a part that uses the neutral, or add a bypass load.",
			load.Show(q.Metric), part.LeastLoad.Show(q.Metric), part.Kind)
	default:
		c.Say = fmt.Sprintf("%s is inside the %s that this %s may switch.", what, limit, part.Kind)
	}
}

func shownVA(v float64) string { return fmt.Sprintf("%.0f VA", v) }

func kindWord(k catalogue.LoadKind) string {
	switch k {
	case catalogue.LED:
		return "LED lamps"
	case catalogue.Motor:
		return "motors"
	}
	return "heating"
}

// continuousHours is how long a load must run at a stretch for NEC to count it as continuous.
const continuousHours = 3

// Plugged holds an appliance that runs so many hours at a stretch against the outlet of the home. Where NEC holds, what
// runs for three hours may take 80 % of the circuit; what runs for less should, as long as it isn't alone on it.
func Plugged(p *model.Project, a model.Appliance, hours float64) (Carried, error) {
	c := Carried{}
	c.Caution = "mains"
	v := volts(p, &c.Verdict)
	outlet := float64(p.Home.Mains.Outlet)
	if outlet == 0 {
		outlet = map[bool]float64{true: 15, false: 13}[v < 150]
		c.assume("no outlet current is noted, %g A are taken", outlet)
	}
	rule, nec := site.PlugFuse, v < 150
	if nec && hours >= continuousHours {
		rule = site.Continuous
	}
	l, err := site.Load(v, 1, float64(a.Power), outlet, rule)
	if err != nil {
		return c, fmt.Errorf("%s: %w", a.ID, err)
	}
	c.Current, c.Most, c.OK = l.Current, q.Power(l.LimitW), l.OK
	what := fmt.Sprintf("%s of the %s", a.Power.Show(q.Metric), strings.ReplaceAll(a.ID, "-", " "))
	switch {
	case !c.OK:
		c.Say = fmt.Sprintf("%s is more than an outlet here may give (%s): it needs a circuit of its own, by a licensed electrician.", what, c.Most.Show(q.Metric))
	case nec && a.Power > c.Most*8/10:
		c.Say = fmt.Sprintf("%s is over four fifths of what an outlet here gives (%s): plug in nothing else on its circuit.", what, c.Most.Show(q.Metric))
	default:
		c.Say = fmt.Sprintf("%s is inside the %s of an outlet here.", what, c.Most.Show(q.Metric))
	}
	return c, nil
}

// Wet is a place near a bath or shower.
type Wet struct {
	Verdict
	site.WetZone
}

// WetPlace finds the zone of a place and holds a part's ingress class against it, "" where the part states none.
// Heights and distances are in m; see site.ZoneOf.
func WetPlace(inside, over, basin bool, height, aside, outlet float64, ingress string) (Wet, error) {
	z, err := site.ZoneOf(inside, over, basin, height, aside, outlet)
	w := Wet{WetZone: z}
	w.Caution = "wet room"
	if err != nil {
		return w, err
	}
	where := "outside the zones"
	if z.Zone != "outside" {
		where = "in zone " + z.Zone
	}
	switch {
	case z.Ingress == "":
		w.OK, w.Say = true, fmt.Sprintf("The place is %s: the general rules hold.", where)
	case Sealed(ingress, z.Ingress) && z.Zone != "0":
		w.OK, w.Say = true, fmt.Sprintf("The place is %s, which asks for %s: %s does.", where, z.Ingress, ingress)
	case z.Zone == "0":
		w.Say = fmt.Sprintf("The place is %s: nothing but %s at 12 V or less may be there; move it.", where, z.Ingress)
	default:
		have := "a part that states no class"
		if ingress != "" {
			have = ingress
		}
		w.Say = fmt.Sprintf("The place is %s, which asks for %s, and %s is not enough: move it out of the zone or take a sealed part.", where, z.Ingress, have)
	}
	return w, nil
}

// Sealed tells whether an ingress class such as IP44 is at least as tight against water as another, such as IPX4.
func Sealed(have, want string) bool { return water(have) >= water(want) }

func water(class string) int {
	if len(class) < 4 || !strings.HasPrefix(class, "IP") {
		return -1
	}
	n, err := strconv.Atoi(class[3:4])
	if err != nil {
		return -1
	}
	return n
}

// ZoneIngress is the least ingress class in a zone as the project names it; "" where the general rules hold.
func ZoneIngress(zone string) string {
	return map[string]string{"0": "IPX7", "1": "IPX4", "2": "IPX4"}[zone]
}
