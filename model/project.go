// Package model is what a project is: facts found in a home, goals asked for, decisions taken, records
// kept. It holds nothing that the planner derives.
//
// The structs describe the YAML file: a field's `key` is its name there, its `doc` is what the schema
// says of it. projectfile decodes them, with places and hints for everything that is wrong.
package model

import (
	"time"

	q "example.org/roombrief/model/quantity"
)

// Version of the project file that this program reads and writes.
const Version = 1

// Project is one home.
type Project struct {
	Version     int          `key:"roombrief,required" doc:"Version of the file format."`
	Home        Home         `key:"home" doc:"The house itself."`
	People      []Person     `key:"people" doc:"Who lives here, who is told, and pets."`
	Controllers []Controller `key:"controllers" doc:"Where a controller can sit, and what it cannot do."`
	Existing    []Existing   `key:"existing" doc:"Parts of the catalogue that are there already and may be used."`
	Rooms       []Room       `key:"rooms" doc:"The rooms, in the order in which they are walked."`
	Promises    []OwnPromise `key:"promises" doc:"Promises beyond those that follow from the briefs."`
	Open        []OpenPoint  `key:"open" doc:"Parked questions."`
	Choices     Choices      `key:"choices" doc:"Decisions that overrule the planner."`
	Records     Records      `key:"records" doc:"What was agreed, installed and tested."`
}

// Home is the house as a whole.
type Home struct {
	Name     string       `key:"name" doc:"What the household calls it."`
	Place    Place        `key:"place" doc:"Where it stands; sun times need it."`
	Units    string       `key:"units" enum:"metric|us" doc:"Units to show and print."`
	Currency string       `key:"currency" doc:"Currency of prices, as three capitals: GBP. The catalogue has prices in GBP, EUR and USD; in another currency only parts with own prices (choices/supply) are priced."`
	Mains    Mains        `key:"mains" doc:"The supply."`
	Walls    Fact[string] `key:"walls" enum:"timber|plasterboard|brick|concrete" doc:"What most inner walls are made of."`
	Indoor   Indoor       `key:"indoor" doc:"What a hygrometer in the hall says."`
	Outdoor  Fact[Indoor] `key:"outdoor" doc:"What the weather service says of the air outside."`
	Terms    Terms        `key:"terms" doc:"Labour, markup and tax."`
}

// Money is the home's currency, or what its units suggest where none is given.
func (h Home) Money() string {
	switch {
	case h.Currency != "":
		return h.Currency
	case h.Units == "us":
		return "USD"
	}
	return "GBP"
}

// Place is a point on the globe with its clock.
type Place struct {
	Latitude  q.Degrees `key:"latitude" min:"-90" max:"90" doc:"Degrees north."`
	Longitude q.Degrees `key:"longitude" min:"-180" max:"180" doc:"Degrees east."`
	Elevation q.Length  `key:"elevation" min:"-450 m" max:"9000 m" doc:"Height above the sea."`
	Timezone  string    `key:"timezone" doc:"IANA time zone, as in Europe/London."`
}

// Mains is the electrical supply.
type Mains struct {
	Voltage q.Voltage `key:"voltage" min:"100 V" max:"250 V" doc:"120 V or 230 V."`
	Outlet  q.Current `key:"outlet" min:"1 A" max:"63 A" doc:"What one outlet may carry."`
	Wired   int       `key:"wired" min:"1850" max:"2199" doc:"Year of the wiring."`
}

// Indoor is the air of the house away from the wet rooms, or of outside.
type Indoor struct {
	Winter Air `key:"winter" doc:"A usual winter day."`
	Summer Air `key:"summer" doc:"A usual summer day."`
}

// Air is a temperature with a relative humidity.
type Air struct {
	Temperature q.Temperature `key:"temperature" min:"-50 C" max:"60 C" doc:"Dry-bulb temperature."`
	Humidity    q.Percent     `key:"humidity" min:"0" max:"100" doc:"Relative humidity."`
}

// Terms are the installer's.
type Terms struct {
	Labour q.HourlyRate `key:"labour" doc:"Price of an hour of work."`
	Markup q.Percent    `key:"markup" min:"0" max:"1000" doc:"Added to parts."`
	Tax    q.Percent    `key:"tax" min:"0" max:"100" doc:"Added to the total."`
}

// Person is somebody of the household, a neighbour, or a pet.
type Person struct {
	ID     string   `key:"id,required" doc:"Short name used elsewhere in the file."`
	Name   string   `key:"name" doc:"Name to print."`
	Role   string   `key:"role" enum:"owner|resident|child|guest|neighbour|carer|pet" doc:"What they are to the home."`
	Alerts bool     `key:"alerts" doc:"Whether they may be told of a leak or an appliance left on."`
	Traits []string `key:"traits" doc:"Anything that changes how a room should behave."`
	Weight q.Mass   `key:"weight" doc:"A pet's weight; small pets are missed by some motion sensors."`
}

// Controller is a place for a controller, with what it cannot do.
type Controller struct {
	ID       string      `key:"id,required" doc:"Short name used elsewhere in the file."`
	Room     string      `key:"room" ref:"room" doc:"The room it sits in."`
	Position Fact[Point] `key:"position" doc:"Where in the room."`
	Limits   string      `key:"limits" doc:"A named set of limits from the catalogue."`

	// Except are limits by their catalogue keys that are other than the set's, as written.
	Except map[string]string `key:"except" doc:"Limits that are other than the set's, by their keys in the catalogue: {longest_wait: 2h, flags: yes}."`
}

// Existing is parts that the home has already: in a drawer, or taken down from elsewhere. They cost their labour only.
type Existing struct {
	Part  string `key:"part,required" doc:"The part, by its id in the catalogue."`
	Count int    `key:"count,required" min:"1" max:"10000" doc:"How many there are."`
	Note  string `key:"note" doc:"Where they lie, and anything odd."`
}

// Point is a place in a room, from its corner.
type Point struct {
	X q.Length `key:"x" doc:"Along the width."`
	Y q.Length `key:"y" doc:"Along the depth."`
}

// Outline is a room's rectangle on its floor.
type Outline struct {
	X       q.Length `key:"x" doc:"Left edge from the plan's origin."`
	Y       q.Length `key:"y" doc:"Upper edge from the plan's origin."`
	Width   q.Length `key:"width" min:"0.3 m" max:"200 m" doc:"Inside width."`
	Depth   q.Length `key:"depth" min:"0.3 m" max:"200 m" doc:"Inside depth."`
	Ceiling q.Length `key:"ceiling" min:"1 m" max:"30 m" doc:"Floor to ceiling."`
}

// Room is what the survey found in it and what people want of it.
type Room struct {
	ID         string              `key:"id,required" doc:"Short name used elsewhere in the file."`
	Like       string              `key:"like" ref:"room" doc:"Another room that this one repeats; what is written here differs."`
	Name       string              `key:"name" doc:"Name to print."`
	Kind       string              `key:"kind" doc:"Kind of room; it chooses the defaults."`
	Floor      int                 `key:"floor" min:"-9" max:"199" doc:"0 is the entrance floor, -1 the basement."`
	Outline    Outline             `key:"outline" doc:"The room's rectangle."`
	Coldest    Fact[q.Temperature] `key:"coldest" min:"-30 C" max:"40 C" doc:"Its coldest inside surface on a usual winter day, as an infrared thermometer reads it in the corners."`
	Doors      []Door              `key:"doors" doc:"Doors, and where they lead."`
	Windows    []Window            `key:"windows" doc:"Windows."`
	Circuits   []Circuit           `key:"circuits" doc:"Lamp circuits."`
	Switches   []SwitchBox         `key:"switches" doc:"Switch boxes."`
	Fans       []Fan               `key:"fans" doc:"Extract fans."`
	Water      []Water             `key:"water" doc:"Points where water can escape."`
	Appliances []Appliance         `key:"appliances" doc:"Appliances that matter here."`
	Outlets    []Outlet            `key:"outlets" doc:"Outlets that matter here."`
	Brief      Brief               `key:"brief" doc:"What people want this room to do by itself."`
}

// Door leads out of a room.
type Door struct {
	ID      string `key:"id,required" doc:"Short name."`
	To      string `key:"to" doc:"The room beyond, or outside."`
	Usually string `key:"usually" enum:"open|closed|none" doc:"How it is left; none is an opening without a door."`
}

// Window lets daylight in.
type Window struct {
	ID    string `key:"id,required" doc:"Short name."`
	Faces string `key:"faces" enum:"N|NE|E|SE|S|SW|W|NW" doc:"Where it looks."`
	Area  q.Area `key:"area" doc:"Glass area."`
}

// Circuit is a set of lamps switched together.
type Circuit struct {
	ID       string       `key:"id,required" doc:"Short name."`
	Lamps    int          `key:"lamps" min:"1" max:"500" doc:"How many lamps."`
	Flux     q.Flux       `key:"flux" doc:"Light of one lamp."`
	Power    q.Power      `key:"power" doc:"Power of one lamp."`
	Base     string       `key:"base" doc:"Lamp base, or integrated."`
	Dimmable Fact[bool]   `key:"dimmable" doc:"Whether the lamps can be dimmed."`
	Switch   Fact[string] `key:"switch" ref:"switch" doc:"The switch box that feeds it."`
	Position Fact[Point]  `key:"position" doc:"Where in the room, from its corner; its radio and the floor plan go by it."`
	Zone     string       `key:"zone" enum:"0|1|2|outside" doc:"Wet-room zone of the lamps."`
}

// SwitchBox is a wall box.
type SwitchBox struct {
	ID       string         `key:"id,required" doc:"Short name."`
	Gangs    int            `key:"gangs" min:"1" max:"24" doc:"How many switches side by side."`
	Neutral  Fact[bool]     `key:"neutral" doc:"Whether a neutral conductor is in the box."`
	Depth    Fact[q.Length] `key:"depth" min:"5 mm" max:"500 mm" doc:"Inside depth."`
	By       string         `key:"by" doc:"Where it is, in words."`
	Position Fact[Point]    `key:"position" doc:"Where in the room, from its corner; its radio and the floor plan go by it."`
}

// Fan moves air out.
type Fan struct {
	ID       string          `key:"id,required" doc:"Short name."`
	Airflow  Fact[q.Airflow] `key:"airflow" doc:"What it moves, installed."`
	Power    q.Power         `key:"power" doc:"Electrical power."`
	Switch   Fact[string]    `key:"switch" ref:"switch" doc:"The switch box that feeds it."`
	Position Fact[Point]     `key:"position" doc:"Where in the room, from its corner; its radio and the floor plan go by it."`
}

// Water is a place where water can escape or be shut.
type Water struct {
	ID       string         `key:"id,required" doc:"Short name."`
	Kind     string         `key:"kind" enum:"supply|waste|appliance|stopcock" doc:"What it is; a stopcock is where water is shut."`
	Pipe     Fact[q.Length] `key:"pipe" min:"4 mm" max:"200 mm" doc:"Outside diameter of the pipe at a stopcock."`
	Position Fact[Point]    `key:"position" doc:"Where in the room, from its corner; its radio and the floor plan go by it."`
}

// Appliance is something that uses power.
type Appliance struct {
	ID         string  `key:"id,required" doc:"Short name."`
	Kind       string  `key:"kind" doc:"What it is."`
	Power      q.Power `key:"power" doc:"Rated power."`
	Outlet     string  `key:"outlet" doc:"The outlet it is plugged into."`
	Fixed      bool    `key:"fixed" doc:"Wired in, without a plug."`
	MustStayOn bool    `key:"must_stay_on" doc:"Never switched off by a rule: medical, freezer, sump pump, alarm."`
}

// Outlet is a socket of interest.
type Outlet struct {
	ID       string      `key:"id,required" doc:"Short name."`
	By       string      `key:"by" doc:"Where it is, in words."`
	Position Fact[Point] `key:"position" doc:"Where in the room, from its corner; its radio and the floor plan go by it."`
}

// OwnPromise is a promise that the user adds.
type OwnPromise struct {
	ID      string      `key:"id,required" doc:"Short name."`
	Room    string      `key:"room" ref:"room" doc:"The room it speaks of."`
	Never   string      `key:"never" doc:"What must never be."`
	Between []q.DayTime `key:"between" doc:"From when to when."`
	Unless  string      `key:"unless" doc:"The exception: asked."`
}

// OpenPoint is a parked question.
type OpenPoint struct {
	At    string `key:"at,required" doc:"Path of the fact or goal that is open."`
	Ask   string `key:"ask" doc:"Who will know."`
	Since Date   `key:"since" doc:"When it was parked."`
	Words string `key:"words" doc:"What was said about it."`
}

// Choices overrule the planner.
type Choices struct {
	Aim    string            `key:"aim" enum:"cost|upkeep|resilience" doc:"What the bill is the best at, before money decides: cost, when absent; upkeep, the least time for cells and worn parts; resilience, the fewest things lost when the controller, the Wi-Fi network or the internet is gone."`
	Worth  Worth             `key:"worth" doc:"What less upkeep and fewer losses are worth in money."`
	Use    map[string]string `key:"use" doc:"Thing path to part: use this part there."`
	Places map[string]Point  `key:"places" doc:"Thing path to where its device goes, from the corner of its room: {hall/motion: {x: 0.2 m, y: 1 m}}. Things that the survey gives a position need none."`
	Avoid  []string          `key:"avoid" doc:"Parts, or words from their names, never to use."`
	Supply string            `key:"supply" doc:"The installer's own prices, a CSV beside this file."`
	Sense  map[string]string `key:"sense" enum:"motion|doors|still" doc:"Room to how it knows of people: motion alone; motion with a contact on each door; or a sensor that sees still people."`
	Doors  map[string]string `key:"doors" enum:"brisk|patient" doc:"Room to how long it waits once its last door has shut: brisk, its stop time; patient, as long as people there may keep still."`
	Blind  map[string]q.Span `key:"blind" min:"1s" max:"10m" doc:"Room to the longest that its motion sensor may say nothing after a report; parts that are blind for longer are out."`
	Host   map[string]string `key:"host" doc:"Room to the controller that runs its rules, and those of rooms that share things with it; absent is the one that suits them best."`
}

// Worth is by how much a bill may cost more for being better otherwise, in major units of the home's currency.
type Worth struct {
	Upkeep float64 `key:"upkeep" min:"0" max:"100000" doc:"For each hour less that somebody spends a year on cells and worn parts."`
	Loss   float64 `key:"loss" min:"0" max:"100000" doc:"For each need that is no longer lost when the controller, the Wi-Fi network or the internet is gone."`
}

// Records are what happened.
type Records struct {
	Agreed    []Agreed    `key:"agreed" doc:"Read-backs that the household agreed."`
	Installed []Installed `key:"installed" doc:"Devices in place."`
	Tests     []Test      `key:"tests" doc:"Commissioning results."`
}

// Agreed says who agreed a room's brief, when, and which brief: Brief is its fingerprint.
type Agreed struct {
	Room  string `key:"room,required" ref:"room" doc:"The room."`
	By    string `key:"by,required" doc:"Who agreed."`
	On    Date   `key:"on,required" doc:"The day."`
	Brief string `key:"brief,required" doc:"Fingerprint of the brief that was agreed."`
}

// Installed is a device in place.
type Installed struct {
	Device string `key:"device,required" doc:"Path of the device."`
	Part   string `key:"part,required" doc:"The part that was fitted."`
	On     Date   `key:"on" doc:"The day."`
	Note   string `key:"note" doc:"Where exactly, and anything odd."`
}

// Test is a commissioning result.
type Test struct {
	ID     string `key:"id,required,path" doc:"The test, as room/test."`
	Result string `key:"result,required" enum:"pass|snag" doc:"How it went."`
	On     Date   `key:"on" doc:"The day."`
	Note   string `key:"note" doc:"What was seen."`
}

// Date is a calendar day, 2026-03-02; the zero Date is absent.
type Date struct{ time.Time }
