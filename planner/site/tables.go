package site

// Target is a design illuminance. Standards for homes differ by a factor of two to six: these are where they
// overlap, and a household may want other light.
type Target struct {
	Room, Task  string
	Least, Most float64 // lx on the plane of the task
	Source      string
}

// Targets by room and task. Cited figures are of JIS Z 9110 (1979 and 2010), IES-based lists and IRC R303.7.
var Targets = []Target{
	{"living room", "general", 30, 75, "JIS Z 9110; an IES-based list has 30 lx"},
	{"living room", "reading", 300, 750, "JIS Z 9110:2010"},
	{"bedroom", "general", 10, 50, "JIS Z 9110 (10 to 30 lx); an IES-based list has 50 lx"},
	{"kitchen", "general", 50, 100, "JIS Z 9110"},
	{"kitchen", "worktop", 300, 500, "IES Handbook (300 lx)"},
	{"bathroom", "general", 75, 150, "JIS Z 9110"},
	{"bathroom", "mirror", 300, 500, "IES Handbook and JIS Z 9110 (300 lx)"},
	{"toilet", "general", 50, 100, "JIS Z 9110"},
	{"hall", "general", 30, 75, "JIS Z 9110"},
	{"stairs", "general", 30, 75, "JIS Z 9110; IES Handbook (54 lx); IRC R303.7 asks for 11 lx on the treads"},
	{"entrance", "general", 75, 150, "JIS Z 9110"},
	{"study", "general", 75, 150, "JIS Z 9110"},
	{"study", "desk", 500, 1000, "JIS Z 9110"},
	{"dining room", "table", 200, 500, "JIS Z 9110:2010; an IES-based list has 215 lx"},
	{"utility", "general", 150, 200, "an IES-based list (200 lx)"},
	{"garage", "general", 30, 75, "JIS Z 9110; an IES-based list has 200 lx"},
	{"night", "floor", 1, 3, "lighting research (1 to 3 lx at the eye); JIS Z 9110 late at night (1 to 2 lx, recalled)"},
}

// StairLeast is the least light on treads and landings of stairs while they are used: 1 fc in IRC R303.7.
const StairLeast = 10.7639 // lx

// TargetFor is the target of a room and a task, and whether there is one.
func TargetFor(room, task string) (Target, bool) {
	for _, t := range Targets {
		if t.Room == room && t.Task == task {
			return t, true
		}
	}
	return Target{}, false
}

// Bulb is the light of a plain lamp by the power of the incandescent lamp that it replaces (US DOE and FTC
// lighting facts; the row of 25 W is recalled).
type Bulb struct{ Incandescent, Lumens, LED float64 }

// Bulbs by rising light.
var Bulbs = []Bulb{{25, 250, 3}, {40, 450, 6}, {60, 800, 9}, {75, 1100, 12}, {100, 1600, 15}}

// LumensPerWatt is what LED lamps of homes give: 80 to 110, and this where only one of flux and power is known.
const LumensPerWatt = 90.0

// Escape is how fast water comes out of what breaks, in l/min: utility and trade figures, not standards.
type Escape struct {
	Name                 string
	Typical, Least, Most float64
}

// Escapes by name.
var Escapes = []Escape{
	{"washer hose", 45, 37.9, 45.4},
	{"dishwasher hose", 20, 20, 20},
	{"toilet supply", 9.5, 7.6, 11.4},
	{"ice-maker line", 2.8, 1.9, 3.8},
	{"open half-inch pipe", 189, 189, 189},
	{"open supply line", 53, 38, 57},
	{"bath tap", 15, 12, 20},
	{"basin tap", 5, 4, 10},
	{"kitchen tap", 12, 8, 12},
	{"drip", 0.0198, 0.015, 0.02},
}

// EscapeOf finds an escape by name.
func EscapeOf(name string) (Escape, bool) {
	for _, e := range Escapes {
		if e.Name == name {
			return e, true
		}
	}
	return Escape{}, false
}

// Vapour that goes into the air of a room, in kg/h while it goes on. Published figures scatter: a shower 2.5 to
// 2.8 kg/h (solar-housing handbook, table 10.1.1; moisture sources in cold-climate housing, 1988), a bath 0.7,
// cooking 0.6 to 1.5, spun laundry 0.05 to 0.2 and dripping 0.1 to 0.5, a sleeper 0.04 to 0.06.
const (
	ShowerVapour  = 2.6
	BathVapour    = 0.7
	CookingVapour = 1.0
	DryingVapour  = 0.25
	SleeperVapour = 0.04
)

// Draw is what an appliance draws and how it may be treated: engineering judgement, not a standard.
type Draw struct {
	Kind        string
	Least, Most float64 // W in use; 0 is not known
	Standby     float64 // W at most, at rest
	Never       bool    // never switched off by a rule
}

// Draws of common appliances (US DOE list of appliance energy; FSEC-PF-344-98 for standby; some recalled).
var Draws = []Draw{
	{"clothes iron", 1000, 1800, 1, false}, {"portable heater", 750, 3000, 1, false}, {"coffee maker", 900, 1200, 2, false},
	{"hair dryer", 1200, 1875, 0, false}, {"hair styling tool", 25, 200, 0, false}, {"soldering iron", 15, 80, 3, false},
	{"hobby kiln", 1500, 11000, 5, false}, {"toaster", 800, 1400, 1, false}, {"toaster oven", 1225, 1225, 2, false},
	{"electric blanket", 60, 100, 1, false}, {"dehumidifier", 785, 785, 2, false}, {"computer", 120, 270, 5, false},
	{"television", 120, 170, 5, false}, {"microwave", 750, 1100, 6, false}, {"garage door opener", 0, 0, 5.4, true},
	{"alarm", 0, 0, 22, true}, {"fridge", 100, 725, 8.2, true}, {"sump pump", 300, 1000, 0, true},
	{"medical device", 30, 400, 0, true}, {"smoke alarm", 1, 5, 0, true}, {"aquarium", 50, 1210, 0, true}, {"router", 5, 20, 0, true},
	{"boiler", 0, 0, 0, true},
}

// InUse tells of each reading whether the appliance counts as in use: the most power of the last window readings
// reaches the threshold. A thermostat cuts the power between bursts, so one reading at rest means nothing; the
// threshold stands between the standby and the least power in use.
func InUse(watts []float64, threshold float64, window int) ([]bool, error) {
	if err := first(within("threshold", threshold, 0.1, 10000, "W"), within("window", float64(window), 1, 1440, "readings")); err != nil {
		return nil, err
	}
	out := make([]bool, len(watts))
	last := -window
	for i, w := range watts {
		if w >= threshold {
			last = i
		}
		out[i] = i-last < window
	}
	return out, nil
}
