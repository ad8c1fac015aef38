// Package rules is the one semantics of Roombrief: what a rule is, and what it does.
//
// Things have values; a cause happens; the rules that name it look at their guards and carry out
// their effects in order. Waits are timers that rules start and stop; a wait's end is a cause too.
// Program.Step says exactly how.
package rules

import (
	"time"

	q "example.org/roombrief/model/quantity"
)

// ThingKind says what values a thing has.
type ThingKind int

const (
	Lamp       ThingKind = iota // level and colour
	Fan                         // on, off
	Valve                       // On means shut
	Plug                        // on, off
	Sounder                     // on, off
	Motion                      // On means seen
	Presence                    // On means somebody, also still
	Door                        // On means open
	Hygrometer                  // Level is relative humidity in whole percent
	Probe                       // On means wet
	Meter                       // Level is power in whole watts
	ButtonOf                    // momentary; it has presses and no value
	Flag                        // what a controller remembers: on, off
)

// Thing is what rules see, move or remember.
type Thing struct {
	ID   string // room/name, as in shower-room/ceiling
	Room string
	Kind ThingKind
	Name string // to print: "ceiling light", "motion in the shower room", "door to the landing"

	PowerUp PowerUp // what it does when the mains come back
	Feed    string  // plug or relay that its mains come through: while that is off it is dead; "" where they are always there

	// Takes is the longest that its part takes from an event to its report, or from an order to its effect; 0 where no part is known.
	// No step reckons with it: rules hear and act at once, and whoever promises a time adds it.
	Takes time.Duration
	At    string // controller that its part is joined to; "" on a sheet that no controller has yet
}

// PowerUp is what a thing that the mains drive does when they come back.
type PowerUp int

const (
	AsItWas PowerUp = iota
	ComesOn         // a lamp at its brightest
	ComesOff
)

// Value of a thing. Level and Colour of a lamp count only while On; Level of a reading is its whole units.
type Value struct {
	On     bool
	Level  int // percent, or a reading
	Colour int // kelvin; 0 is as the lamp is
}

// Press on a button.
type Press int

const (
	Single Press = iota
	Double
	Hold
)

// CauseKind of a rule.
type CauseKind int

const (
	Reports    CauseKind = iota // Thing reports Value.On: seen, gone, open, shut, wet, dry
	Over                        // the reading of Thing crosses above Threshold
	Under                       // the reading of Thing crosses to Threshold or below
	Rises                       // the reading is Threshold or more above what it was at some time in the last For
	StaysUnder                  // the reading crossed to Threshold or below, and has stayed there for For
	Pressed                     // Press on the button Thing
	Became                      // Thing changed to On, whoever did it (see Any, ByHand)
	Clock                       // At
	Ended                       // Wait ran out
	PowerBack                   // the mains, and with them the controller, came back
)

// Cause makes a rule look at its guard.
type Cause struct {
	Kind      CauseKind
	Thing     string
	On        bool // Reports, Became: the value
	Any       bool // Became: any change at all, of level or colour too
	ByHand    bool // Became: only when a person set it, at the device
	Plain     bool // Became, of a lamp, ByHand and On: only when the person named no level
	Threshold int
	Than      string // Over, Under: Threshold is counted from the reading of this thing, not from 0
	For       q.Span
	Press     Press
	At        q.DayTime
	Wait      string
}

// LiteralKind of a guard or a hold.
type LiteralKind int

const (
	Is        LiteralKind = iota // Thing is On (lamp lit, fan running, flag up, door open)
	ReadsOver                    // reading of Thing is above Threshold, counted from the reading of Than when there is one
	Between                      // the time of day is in [From, To); wraps past midnight; From and To alike are the whole day
	Running                      // Wait runs, or is held
)

// Literal is one statement about the moment; Not turns it round.
type Literal struct {
	Not       bool
	Kind      LiteralKind
	Thing     string
	Threshold int
	Than      string
	From, To  q.DayTime
	Wait      string
}

// EffectKind of one step of a rule.
type EffectKind int

const (
	Set   EffectKind = iota // Thing takes Value
	Start                   // Wait starts for For, as the rule's Again says
	Stop                    // Wait stops without ending
	Tell                    // People are told Text
)

// Effect is one step; effects are carried out in order.
type Effect struct {
	Kind   EffectKind
	Thing  string
	Value  Value
	Wait   string
	For    q.Span
	People []string // as printed
	Text   string
}

// Again says what starting a wait does while it already runs.
type Again int

const (
	Restart Again = iota // it runs For from now
	Longer               // it runs to the later of its end and now+For; never shortened
	Keep                 // it is left alone
	Stack                // For is added to what is left

	// A held wait is left alone by all of them: its hold decides.
)

// Rule of a sheet.
type Rule struct {
	ID      string // room/goal-number, stable under edits elsewhere
	Room    string
	Goal    string // lighting, ventilation, leak, shutoff, buttons
	Purpose string // one plain sentence
	Cause   Cause
	Guard   []Literal // all must hold
	Effects []Effect
	Again   Again
	Hold    []Literal // Ended causes only: while any of these is true the wait is held and can't end
	HoldFor q.Span    // ...and when the last one falls it starts over, for this long

	Controller string // that runs it; "" on a sheet that no controller has yet
}

// Sheet is the rules of a home with the things they speak of, in order.
type Sheet struct {
	Things []Thing
	Rules  []Rule
	Links  map[string]time.Duration // by controller: the longest that it takes to hear of another; nil on a sheet that no controller has yet
}
