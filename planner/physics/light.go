package physics

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/site"
)

// Parts of the light that reach the plane and are left after dust, where the luminaire's own table isn't at hand.
const (
	CleanLamps = 0.8 // maintenance of rooms in general
	DustyLamps = 0.7 // kitchens, garages, workshops
	localUF    = 0.5 // of a lamp right over its task
)

// utilisation by room index for plain domestic fittings and pale rooms: small rooms send more light into walls.
// Engineering figures inside the usual 0.3 to 0.6.
var utilisation = []struct{ k, uf float64 }{{0.6, 0.30}, {0.8, 0.35}, {1, 0.40}, {1.5, 0.46}, {2, 0.50}, {3, 0.55}}

// Utilisation is the part of the flux that reaches the plane in a room of index k.
func Utilisation(k float64) float64 {
	u := utilisation
	if k <= u[0].k {
		return u[0].uf
	}
	for i := 1; i < len(u); i++ {
		if k <= u[i].k {
			return u[i-1].uf + (u[i].uf-u[i-1].uf)*(k-u[i-1].k)/(u[i].k-u[i-1].k)
		}
	}
	return u[len(u)-1].uf
}

// local is a task that has a circuit of its own, known by the circuit's name, with the area in m² that it lights.
type local struct {
	words      []string
	room, task string // of the targets
	area       float64
}

var locals = []local{
	{[]string{"mirror", "vanity", "shaver"}, "bathroom", "mirror", 0.6},
	{[]string{"worktop", "under-cabinet", "counter", "island"}, "kitchen", "worktop", 1.2},
	{[]string{"desk", "bench"}, "study", "desk", 0.72},
	{[]string{"bedside", "reading", "sofa", "corner", "alcove"}, "living room", "reading", 0.5},
	{[]string{"table"}, "dining room", "table", 1.5},
}

func localOf(c model.Circuit) (local, bool) {
	for _, l := range locals {
		for _, w := range l.words {
			if strings.Contains(c.ID, w) {
				return l, true
			}
		}
	}
	return local{}, false
}

// Task is the light on one task with all lamps full on.
type Task struct {
	Circuit     string // "" is the room as a whole
	Name        string // "general", "mirror"…
	Lux         float64
	Least, Most float64 // lx of the target
	Add         int     // lamps to add, of the sort that is there; 0 where it is enough
	Source      string  // of the target
}

// PeriodLux is what a period gives.
type PeriodLux struct {
	From  q.DayTime
	Level q.Percent
	Lux   float64 // on the plane of the room
	Floor float64 // lx on the floor
	Seen  float64 // how bright it looks, of full: 0 to 1
	Night bool    // a low light late in the evening
	Say   string  // of a night period: how it compares to a path at night
}

// Lit is the light of a room.
type Lit struct {
	Verdict
	Plane       float64 // m over the floor
	Index       float64 // room index K
	Utilisation float64
	Maintenance float64
	Tasks       []Task
	Periods     []PeriodLux
	circuits    []circuitLux
}

type circuitLux struct {
	id    string
	lamps int
	plane float64 // lx on the plane with all its lamps full on
	floor float64
}

// NightPath is the light in lx that a floor needs at night: 1 to 5.
const (
	NightLeast = 1.0
	NightMost  = 5.0
)

// Light works out the light of a room by the lumen method from the flux of its lamps as they are, full on and in
// every period. A level is taken as a part of the light that a meter would read.
func Light(p *model.Project, r model.Room) (Lit, error) {
	l := Lit{Plane: kindOf(r.Kind).plane, Maintenance: CleanLamps}
	if kindOf(r.Kind).dirty {
		l.Maintenance = DustyLamps
	}
	width, depth, ceiling := outline(r, &l.Verdict)
	if l.Plane > ceiling-0.5 {
		l.Plane = 0
	}
	k := width * depth / ((ceiling - l.Plane) * (width + depth))
	l.Index, l.Utilisation = k, Utilisation(k)
	onFloor := Utilisation(width * depth / (ceiling * (width + depth)))
	for _, c := range r.Circuits {
		flux := l.flux(r, c)
		x := circuitLux{id: c.ID, lamps: max(c.Lamps, 1)}
		if flux > 0 {
			lit, err := site.Lumen{Length: width, Width: depth, Height: ceiling, Workplane: l.Plane, Flux: flux, Lamps: 1,
				Utilisation: l.Utilisation, Maintenance: l.Maintenance}.Luminaires(1)
			if err != nil {
				return l, fmt.Errorf("%s/%s: %w", r.ID, c.ID, err)
			}
			x.plane = lit.Each * float64(x.lamps)
			x.floor = x.plane * onFloor / l.Utilisation
		}
		l.circuits = append(l.circuits, x)
	}
	l.tasks(r)
	for _, pd := range r.Brief.Lighting.Want.Periods {
		if r.Brief.Lighting.Wanted() {
			l.Periods = append(l.Periods, l.At(pd, System(p)))
		}
	}
	l.judge(r, System(p))
	return l, nil
}

// flux of one lamp of a circuit, in lm; 0 is unknown and counts as dark.
func (l *Lit) flux(r model.Room, c model.Circuit) float64 {
	switch {
	case c.Flux > 0:
		return float64(c.Flux)
	case c.Power > 0:
		l.assume("the light of %s is not noted, %g lm for each watt are taken", r.ID+"/"+c.ID, site.LumensPerWatt)
		return float64(c.Power) * site.LumensPerWatt
	}
	l.assume("neither light nor power of %s is noted, it counts as dark until somebody reads it off the lamp", r.ID+"/"+c.ID)
	return 0
}

// tasks are the room as a whole, and each circuit that has a task of its own.
func (l *Lit) tasks(r model.Room) {
	if len(l.circuits) == 0 {
		return
	}
	room := 0.0
	lamp, lamps := 0.0, 0
	for _, c := range l.circuits {
		room += c.plane
		if c.lamps > 0 && c.plane/float64(c.lamps) > lamp {
			lamp, lamps = c.plane/float64(c.lamps), c.lamps
		}
	}
	general := "general"
	if r.Kind == "dining room" {
		general = "table"
	}
	if t, ok := site.TargetFor(kindOf(r.Kind).target, general); ok {
		x := Task{Name: "general", Lux: room, Least: t.Least, Most: t.Most, Source: t.Source}
		if lamps > 0 {
			x.Add = lack(x, lamp)
		}
		l.Tasks = append(l.Tasks, x)
	}
	for i, c := range r.Circuits {
		at, ok := localOf(c)
		if !ok {
			continue
		}
		t, ok := site.TargetFor(at.room, at.task)
		flux := (&Lit{}).flux(r, c)
		if !ok || flux == 0 {
			continue
		}
		each := flux * localUF * l.Maintenance / at.area
		others := room - l.circuits[i].plane
		x := Task{Circuit: c.ID, Name: at.task, Lux: each*float64(l.circuits[i].lamps) + others, Least: t.Least, Most: t.Most, Source: t.Source}
		x.Add = lack(x, each)
		l.Tasks = append(l.Tasks, x)
	}
}

// lack is how many lamps of each lx are missing.
func lack(t Task, each float64) int {
	if t.Lux >= t.Least*0.95 || each <= 0 { // nobody sees a twentieth
		return 0
	}
	return int(math.Ceil((t.Least - t.Lux) / each))
}

// At is what a period gives in this room.
func (l Lit) At(pd model.Period, u q.System) PeriodLux {
	out := PeriodLux{From: pd.From, Level: pd.Level}
	part := float64(pd.Level) / 100
	for _, c := range l.circuits {
		if len(pd.Circuits) > 0 && !contains(pd.Circuits, c.id) {
			continue
		}
		out.Lux += c.plane * part
		out.Floor += c.floor * part
	}
	out.Seen = math.Sqrt(math.Min(1, part))
	late := pd.From.Sun == q.NoSun && (pd.From.Offset >= 20*time.Hour || pd.From.Offset < 5*time.Hour)
	out.Night = late && pd.Level > 0 && pd.Level <= 20
	if !out.Night {
		return out
	}
	floor := shownLux(out.Floor, u)
	switch {
	case out.Floor < NightLeast*0.75: // the eye can't tell a quarter less
		out.Say = fmt.Sprintf("%s gives %s on the floor: too little to see a step by; %.0f %% gives %s.", pd.Level.Show(u), floor,
			math.Ceil(float64(pd.Level)*NightLeast/math.Max(out.Floor, 1e-9)), shownLux(NightLeast, u))
		if need := float64(pd.Level) * NightLeast / math.Max(out.Floor, 1e-9); need > 100 {
			out.Say = fmt.Sprintf("%s gives %s on the floor: too little to see a step by, and so do these lamps full on: add a lamp, or take brighter ones.", pd.Level.Show(u), floor)
		}
	case out.Floor > NightMost:
		out.Say = fmt.Sprintf("%s gives %s on the floor, more than a path at night needs; %.0f %% gives %s.", pd.Level.Show(u), floor,
			math.Max(1, math.Floor(float64(pd.Level)*NightMost/out.Floor)), shownLux(out.Floor*math.Max(1, math.Floor(float64(pd.Level)*NightMost/out.Floor))/float64(pd.Level), u))
	default:
		out.Say = fmt.Sprintf("%s gives %s on the floor: enough to see by, and blinds nobody.", pd.Level.Show(u), floor)
	}
	return out
}

// shownLux keeps a figure where whole lux would be nothing.
func shownLux(lx float64, u q.System) string {
	if u == q.Metric && lx < 10 {
		return fmt.Sprintf("%.1f lx", lx)
	}
	if u == q.US && lx < 10 {
		return fmt.Sprintf("%.2f fc", lx/10.7639)
	}
	return q.Illuminance(lx).Show(u)
}

func contains(ids []string, id string) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

// within a room, as people say it: on a landing and on stairs, in all else.
func within(r model.Room) string {
	if t := kindOf(r.Kind).target; t == "stairs" || strings.EqualFold(r.Kind, "landing") {
		return "on " + the(r)
	}
	return "in " + the(r)
}

// FromTo joins two figures of one unit: "30 to 75 lx".
func FromTo(least, most string) string {
	a, unit, ok := strings.Cut(least, " ")
	if _, other, _ := strings.Cut(most, " "); ok && other == unit {
		least = a
	}
	return least + " to " + most
}

// taskPlaces say where the light of a task falls.
var taskPlaces = map[string]string{"mirror": "on a face at the mirror", "worktop": "on the worktop", "desk": "on the desk", "reading": "on the page beside the lamp", "table": "on the table"}

func (l *Lit) judge(r model.Room, u q.System) {
	l.OK = true
	if len(l.Tasks) == 0 {
		l.Say = fmt.Sprintf("No lamps are noted in %s; note its circuits.", the(r))
		return
	}
	var says []string
	for _, t := range l.Tasks {
		where := within(r)
		if t.Circuit != "" {
			where = taskPlaces[t.Name]
		}
		target := FromTo(q.Illuminance(t.Least).Show(u), q.Illuminance(t.Most).Show(u))
		if t.Add == 0 {
			says = append(says, fmt.Sprintf("about %s %s, and %s is usual", q.Illuminance(t.Lux).Show(u), where, target))
			continue
		}
		l.OK = false
		lamps := english.Count(t.Add, "more lamp like those there does it", "more lamps like those there do it")
		says = append(says, fmt.Sprintf("only about %s %s where %s is usual: %s", q.Illuminance(t.Lux).Show(u), where, target, lamps))
	}
	l.Say = "Full on, the lamps give " + strings.Join(says, "; they give ") + "."
	if kindOf(r.Kind).target == "stairs" {
		l.stairs(u)
	}
}

// stairs keep a least light on the treads whenever they are used.
func (l *Lit) stairs(u q.System) {
	for _, pd := range l.Periods {
		if pd.Level > 0 && pd.Floor < site.StairLeast {
			l.OK = false
			l.Say += fmt.Sprintf(" From %s the treads have %s, and stairs need %s while they are used: dim them no further than %.0f %%.", pd.From,
				shownLux(pd.Floor, u), shownLux(site.StairLeast, u), math.Min(100, math.Ceil(float64(pd.Level)*site.StairLeast/math.Max(pd.Floor, 1e-9))))
			l.Caution = "life safety"
		}
	}
}
