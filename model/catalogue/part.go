// Package catalogue is the shelf of generic parts and the named sets of controller limits.
package catalogue

import q "example.org/roombrief/model/quantity"

// Ability is what a part can do for a need.
type Ability string

// Abilities. A part that sees still people also does for motion when it lists both.
const (
	SenseMotion   Ability = "sense motion"
	SenseStill    Ability = "sense still people"
	SenseDoor     Ability = "sense door"
	SenseHumidity Ability = "sense humidity"
	SenseWet      Ability = "sense water"
	SwitchLamp    Ability = "switch lamps"
	DimLamp       Ability = "dim lamps"
	TuneLamp      Ability = "tune lamps" // level and colour temperature
	SwitchFan     Ability = "switch fan"
	CutPlug       Ability = "cut plug"  // meter and switch at a plug
	CutFixed      Ability = "cut fixed" // meter and switch a wired appliance
	Press         Ability = "press"
	Sound         Ability = "sound"
	ShutWater     Ability = "shut water"
	Host          Ability = "host rules"
	Repeat        Ability = "repeat radio"
	Speak         Ability = "add radio" // gives a controller a radio that it lacks
)

// Abilities are all of them, in the order of the goals.
var Abilities = []Ability{
	SenseMotion, SenseStill, SenseDoor, SenseHumidity, SenseWet, SwitchLamp, DimLamp, TuneLamp, SwitchFan,
	CutPlug, CutFixed, Press, Sound, ShutWater, Host, Repeat, Speak,
}

// LoadKind of what a part switches.
type LoadKind string

const (
	LED       LoadKind = "led"
	Motor     LoadKind = "motor"
	Resistive LoadKind = "resistive"
)

// Part is a generic article. Prices are indicative and dated by the catalogue.
type Part struct {
	ID        string               `key:"id,required" doc:"Short name."`
	Name      string               `key:"name,required" doc:"Name to print."`
	Kind      string               `key:"kind,required" doc:"Family on the shelf: relay, dimmer, lamp, motion sensor…"`
	Does      []Ability            `key:"does" enum:"sense motion|sense still people|sense door|sense humidity|sense water|switch lamps|dim lamps|tune lamps|switch fan|cut plug|cut fixed|press|sound|shut water|host rules|repeat radio|add radio" doc:"What it can do."`
	Place     string               `key:"place" enum:"box|lamp|fitting|ceiling|wall|door|floor|pipe|plug|shelf|rail" doc:"Where it goes."`
	Channels  int                  `key:"channels" min:"1" doc:"How many loads, probes or buttons it serves; 1 when absent."`
	Moving    int                  `key:"moving" min:"0" doc:"Moving parts that wear with use: relay contacts, a valve's motor."`
	Radio     string               `key:"radio" enum:"zigbee|thread|wifi|ble|wired" doc:"How it speaks."`
	Repeats   bool                 `key:"repeats" doc:"Passes on other devices' messages."`
	Supply    string               `key:"supply" enum:"mains|battery|low voltage|none" doc:"What powers it."`
	Mains     []q.Voltage          `key:"mains" doc:"Mains it is made for; absent is any."`
	Outlet    q.Current            `key:"outlet" doc:"Outlet that it plugs into, by its current; absent is any."`
	Battery   Battery              `key:"battery" doc:"Cells, where it has them."`
	Neutral   string               `key:"neutral" enum:"needed|not needed" doc:"Whether the box must have a neutral."`
	Depth     q.Length             `key:"depth" min:"0" doc:"Depth that it takes in a box."`
	Ratings   map[LoadKind]q.Power `key:"ratings" doc:"Largest load of each kind, per channel."`
	LeastLoad q.Power              `key:"least_load" min:"0" doc:"Smallest load at which it works steadily."`
	Base      string               `key:"base" doc:"Lamp base."`
	Flux      q.Flux               `key:"flux" doc:"Light of a lamp."`
	Dimmable  bool                 `key:"dimmable" doc:"A plain lamp that may be dimmed."`
	Uses      q.Power              `key:"uses" min:"0" doc:"What a lamp, or a part at rest, uses."`
	Ingress   string               `key:"ingress" doc:"Ingress class, IP44."`
	Presses   []string             `key:"presses" enum:"press|double|hold" doc:"Presses that it tells apart."`
	Pipe      q.Length             `key:"pipe" doc:"Outside diameter of the pipe that a valve fits; absent is any."`
	Behaviour Behaviour            `key:"behaviour" doc:"How it behaves in time."`
	View      View                 `key:"view" doc:"How far and how wide a sensor of people sees; absent is the usual 7 m and 110 degrees."`
	Host      HostSpec             `key:"host" doc:"What a controller brings."`
	Price     map[string]float64   `key:"price,required" doc:"Indicative price by currency, without tax."`
	Minutes   int                  `key:"minutes" min:"0" doc:"Minutes to install one."`
	Also      []Extra              `key:"also" doc:"What each one needs with it."`
	Caution   string               `key:"caution" enum:"mains|wet room|heating|ventilation|water|life safety" doc:"The caution that goes with it."`
	Note      string               `key:"note" doc:"What the trade knows of it."`

	Own Own // where the price is the installer's own
}

// Own says where an own price of a part comes from; the zero Own is the catalogue's indicative price.
type Own struct {
	Supplier  string
	Article   string // the supplier's number for it
	Dated     string // the day of the price, 2026-11-02
	Converted string // price and rate that it was converted from, "" where it was not
}

// Battery cells of a part.
type Battery struct {
	Cell  string  `key:"cell" doc:"Size of the cell."`
	Count int     `key:"count" min:"1" doc:"How many."`
	Years float64 `key:"years" min:"0" doc:"Usual life in years."`
}

// View of a sensor of people.
type View struct {
	Reach q.Length `key:"reach,required" min:"1 m" max:"30 m" doc:"How far it sees somebody move."`
	Angle float64  `key:"angle,required" min:"10" max:"160" doc:"How wide, in degrees."`
}

// Behaviour in time: what the rules must reckon with.
type Behaviour struct {
	Blind   q.Span `key:"blind" doc:"After a report, how long it says nothing more."`
	Step    int    `key:"step" min:"0" doc:"Smallest change of reading that it reports: points of humidity, or watts."`
	Every   q.Span `key:"every" doc:"Longest time between reports of a reading."`
	PowerUp string `key:"power_up" enum:"off|on|last" doc:"What it does when the mains come back."`
	Orders  string `key:"orders" enum:"set|toggle" doc:"Whether it can be told a value, or only to change."`
	Latency q.Span `key:"latency" doc:"Longest time from event to report, or from order to effect."`
}

// HostSpec of a controller.
type HostSpec struct {
	Radios   []string       `key:"radios" enum:"zigbee|thread|wifi|ble|wired" doc:"Radios that it speaks."`
	Children map[string]int `key:"children" doc:"Most devices on each radio."`
	Limits   string         `key:"limits" ref:"limits" doc:"Its named set of limits."`
}

// Extra is a part that comes with another.
type Extra struct {
	Part string `key:"part,required" ref:"part" doc:"The other part."`
	Each int    `key:"each" min:"1" doc:"How many for each; 1 when absent."`
}

// Limits of a controller: what it cannot do. Zero numbers mean no limit.
type Limits struct {
	ID            string   `key:"id,required" doc:"Name of the set."`
	Name          string   `key:"name" doc:"Name to print."`
	Rules         int      `key:"rules" min:"0" doc:"Rules at most."`
	LongestWait   q.Span   `key:"longest_wait" doc:"Longest wait."`
	Restarts      bool     `key:"restarts" doc:"A running wait can be restarted."`
	Stacks        bool     `key:"stacks" doc:"A second wait adds to the first."`
	Keeps         bool     `key:"keeps" doc:"A second start can leave a running wait alone, or never make it shorter."`
	Holds         bool     `key:"holds" doc:"A wait can be held while something stands, and start over when it falls."`
	OverMidnight  bool     `key:"over_midnight" doc:"A window may run past midnight."`
	EndInclusive  bool     `key:"end_inclusive" doc:"The last minute of a window belongs to it; the last step of the clock where clock_step is longer."`
	SunTimes      bool     `key:"sun_times" doc:"Knows sunrise and sunset."`
	ClockStep     q.Span   `key:"clock_step" doc:"Finest clock time."`
	Guards        string   `key:"guards" enum:"none|time|state|both" doc:"What a guard may look at."`
	MostGuards    int      `key:"most_guards" min:"0" doc:"How many statements a guard may have."`
	SeenFor       bool     `key:"seen_for" doc:"Knows 'no motion for a time' as a cause."`
	RisesBy       bool     `key:"rises_by" doc:"Knows a rise of a reading as a cause."`
	Flags         bool     `key:"flags" doc:"Can remember on and off of its own."`
	Presses       []string `key:"presses" enum:"press|double|hold" doc:"Presses that it knows."`
	ToggleOnly    []string `key:"toggle_only" doc:"Kinds of part that it can only toggle."`
	Ordered       bool     `key:"ordered" doc:"Rules with one cause run in sheet order."`
	SeesOthers    bool     `key:"sees_others" doc:"Sees and commands devices of other controllers."`
	Latency       q.Span   `key:"latency" doc:"Longest delay of a report from another controller."`
	Offline       bool     `key:"offline" doc:"Works without the internet."`
	RestoresWaits bool     `key:"restores_waits" doc:"Running waits survive its restart."`
}

// Catalogue is the shelf.
type Catalogue struct {
	Version int      `key:"catalogue,required" doc:"Version of the format."`
	Dated   string   `key:"dated,required" doc:"When the prices were indicative."`
	Parts   []Part   `key:"parts" doc:"The parts."`
	Limits  []Limits `key:"limits" doc:"Named sets of controller limits."`

	parts  map[string]int // index in Parts by id; nil in a catalogue that was not parsed
	limits map[string]int
}
