package model

import q "example.org/roombrief/model/quantity"

// Brief is the household's goals for one room. A goal is unasked (absent), declined (`none`) or wanted.
type Brief struct {
	Lighting    Goal[Lighting]    `key:"lighting" doc:"Light by time of day."`
	Ventilation Goal[Ventilation] `key:"ventilation" doc:"When the fan runs."`
	Leak        Goal[Leak]        `key:"leak" doc:"Who is told of water, and what is shut."`
	Shutoff     Goal[[]Shutoff]   `key:"shutoff" doc:"Appliances that go off by themselves."`
	Buttons     Goal[[]Button]    `key:"buttons" doc:"Buttons for the exceptions."`
	Said        []Said            `key:"said" doc:"The household's own words."`
	Declined    []string          `key:"declined" doc:"Details that were asked about and are not wanted, as in ventilation/quiet."`
}

// Lighting is light by time of day.
type Lighting struct {
	Start      string   `key:"start" enum:"on entry|on request" doc:"Who switches it on: the room, or a person."`
	Periods    []Period `key:"periods" doc:"Stretches of the day, each with its own light; they wrap past midnight."`
	Stop       Stop     `key:"stop" doc:"When it goes off."`
	KeepManual bool     `key:"keep_manual" doc:"A level set by hand stays until the room is empty."`
}

// Period runs from its start to the start of the next one.
type Period struct {
	From     q.DayTime    `key:"from,required" doc:"When it starts."`
	Level    q.Percent    `key:"level,required" min:"0" max:"100" doc:"Light level; 0 % leaves the light alone."`
	Colour   q.ColourTemp `key:"colour" doc:"Colour temperature; absent is as the lamp is."`
	Circuits []string     `key:"circuits" ref:"circuit" doc:"Which circuits; absent is all of the room."`
}

// Stop ends the light.
type Stop struct {
	After      q.Span `key:"after" min:"1s" max:"24h" doc:"How long after the room is empty."`
	NeverWhile string `key:"never_while" enum:"occupied|moving" doc:"occupied: also somebody who keeps still; moving: motion alone decides."`
}

// Ventilation says when the fan runs. Every field is one reason to run, or a bound on running.
type Ventilation struct {
	Ceiling    Ceiling     `key:"ceiling" min:"0" max:"100" doc:"Relative humidity the room should come back under; reckoned has it worked out from the room, its fan and the seasons."`
	Within     q.Span      `key:"within" min:"1s" doc:"How soon after the shower ends."`
	AtMost     q.Allowance `key:"at_most" doc:"Longest run a day before the household hears about it."`
	WithPeople WithPeople  `key:"with_people" doc:"Run while the room is used."`
	OnRequest  []Request   `key:"on_request" doc:"Runs that a person may ask for."`
	Quiet      Quiet       `key:"quiet" doc:"Hours in which only the exceptions run it."`
}

// WithPeople runs the fan for people rather than for vapour.
type WithPeople struct {
	After q.Span `key:"after" doc:"Only once somebody has been in for this long."`
	RunOn q.Span `key:"run_on" doc:"How long it runs on after they leave."`
}

// Request is a run that a person asks for.
type Request struct {
	Run q.Span `key:"run,required" min:"1s" doc:"How long."`
}

// Quiet hours hold the fan, except for what is named.
type Quiet struct {
	From   q.DayTime `key:"from,required" doc:"Start."`
	To     q.DayTime `key:"to,required" doc:"End."`
	Except string    `key:"except" enum:"humidity|request|both|nothing" doc:"What may still run it."`
}

// Leak alerting.
type Leak struct {
	Points []string `key:"points" ref:"water" doc:"Which water points are watched."`
	Tell   []string `key:"tell" ref:"person" doc:"Who is told."`
	Within q.Span   `key:"within" min:"1s" doc:"How soon."`
	Again  q.Span   `key:"again" min:"1s" doc:"Told again this often until somebody acknowledges."`
	Sound  bool     `key:"sound" doc:"A sounder in the house as well."`
	Shut   string   `key:"shut" ref:"stopcock" doc:"The stopcock to shut, as room/water-point."`
}

// Shutoff of one appliance.
type Shutoff struct {
	Appliance string   `key:"appliance,required" ref:"appliance" doc:"Which appliance."`
	After     q.Span   `key:"after" min:"1s" max:"7d" doc:"Longest time on, from when it was first on."`
	Idle      Idle     `key:"idle" doc:"Off when it has been idle."`
	Warn      q.Span   `key:"warn" doc:"Warned this long before."`
	Extend    string   `key:"extend" enum:"button|no" doc:"Whether a button gives it the full time again."`
	Tell      []string `key:"tell" ref:"person" doc:"Who is told that it was cut off."`
}

// Idle is power below a level for a time.
type Idle struct {
	Below q.Power `key:"below" doc:"Power that counts as idle."`
	For   q.Span  `key:"for" min:"1s" doc:"For how long."`
}

// Button is for the exceptions.
type Button struct {
	ID     string `key:"id,required" doc:"Short name."`
	Where  string `key:"where" doc:"Where it is, in words."`
	Press  Deed   `key:"press" doc:"What a press does."`
	Double Deed   `key:"double" doc:"What two presses do."`
	Hold   Deed   `key:"hold" doc:"What holding it does."`
}

// Said is what somebody said, word for word.
type Said struct {
	Goal  string `key:"goal" enum:"lighting|ventilation|leak|shutoff|buttons|room" doc:"What it was about."`
	Words string `key:"words,required" doc:"Word for word."`
}
