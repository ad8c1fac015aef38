// Package promises says what a brief promises: in a plain sentence, and exactly, as a watcher of what rules,
// people and the house do. A promise is closed into a timed system by the part of the house that it speaks of
// and by assumptions about people, each of which is printed with its verdict.
package promises

import (
	"strings"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/rules"
)

// Kind of a promise.
type Kind string

// The kinds.
const (
	LightOnEntry   Kind = "light on entry"
	LightOnRequest Kind = "light on request"
	NeverDark      Kind = "never dark on someone"
	NotLeftBurning Kind = "not left burning"
	AsAsked        Kind = "as asked"
	NotBlinding    Kind = "not blinding"
	EveryMinute    Kind = "every minute"
	Aired          Kind = "aired"
	WishKept       Kind = "wish kept"
	FanForPeople   Kind = "fan for people"
	NotForNothing  Kind = "not for nothing"
	NotForEver     Kind = "not for ever"
	Quiet          Kind = "quiet"
	Told           Kind = "told"
	ToldAgain      Kind = "told again"
	ToldOfWater    Kind = "told of water only"
	WaterShut      Kind = "water shut"
	CutOff         Kind = "cut off"
	OffWhenIdle    Kind = "off when idle"
	Warned         Kind = "warned before"
	NeverOn        Kind = "never on"
	StaysOn        Kind = "stays on"
	NoSeeSaw       Kind = "no see-saw"
	OneVoice       Kind = "one voice"
	EarnsItsPlace  Kind = "each earns its place"
	Own            Kind = "own"
)

// Promise is one checkable sentence.
type Promise struct {
	ID       string // room/kind, as in shower-room/never-dark
	Room     string
	Goal     string
	Kind     Kind
	Sentence string
	Assumes  []Assumption
	World    World
	Fault    Fault // that it has to survive; the zero Fault is none

	year   []rules.Day // the sun of each day, where it is known
	facets []facet
	fixed  *Computed // decided by reckoning alone
	breach *breach   // of a broken one
	sounds bool      // of told: a sounder is heard in the house as well
}

// Computed is a promise that is decided by reckoning and not by looking at stories.
type Computed struct {
	Kept bool
	Why  string // of one that isn't kept: where it breaks
}

// Computed is the outcome of a promise that needs no search, or nil.
func (p Promise) Computed() *Computed { return p.fixed }

// facet is a part of a promise that can be looked at alone: one lamp, one water point, one rule. A promise is
// kept when all its facets are.
type facet struct {
	want
	watch   func(*rules.Program) watcher
	moments []q.DayTime     // of the day that matter to the promise itself
	can     bool            // the facet is kept when some story meets it, and can't be broken otherwise
	name    string          // in words: the thing or run that it is about; of a can the rule that is looked for
	fault   Fault           // of a can: what may fail in its story
	whole   bool            // nothing of it may be free
	less    map[string]bool // what may be free where that of want is too much
	meet    []q.DayTime     // two times: only days on which they are one matter
}

// Assumption is something that the verdict leans on.
type Assumption struct {
	ID   string
	Text string
}

// assumedOf says in a word or two what each assumption is about.
var assumedOf = map[string]string{
	"people": "people", "doors": "doors", "seen": "sensors", "still": "keeping still", "sits": "keeping still", "hands": "hands", "air": "the air",
	"water": "water", "power": "the plug's meter", "late": "delays", "sun": "the sun", "clock": "the clock", "order": "the order of rules",
	"relayed": "delays", "ordered": "delays",
}

// Of is what the assumption is about, in a word or two.
func (a Assumption) Of() string {
	if s := assumedOf[a.ID]; s != "" {
		return s
	}
	return "the house"
}

// sits is how long people keep still, for a promise that hardly leans on it: for how much less it would be kept isn't looked for.
func sits(seconds int32) Assumption { return Assumption{"sits", stillAssumed(seconds).Text} }

// Leans reports whether the promise leans on an assumption.
func (p Promise) Leans(id string) bool {
	for _, a := range p.Assumes {
		if a.ID == id {
			return true
		}
	}
	return false
}

// Still is the promise under the assumption that whoever is inside moves at least so often.
func (p Promise) Still(every time.Duration) Promise {
	p.World.StillFor = int32(every / time.Second)
	p.Assumes = append([]Assumption(nil), p.Assumes...)
	for i, a := range p.Assumes {
		if a.ID == "still" {
			p.Assumes[i] = stillAssumed(p.World.StillFor)
		}
	}
	return p
}

func stillAssumed(seconds int32) Assumption {
	return Assumption{"still", "whoever is inside moves at least every " + q.Span(time.Duration(seconds)*time.Second).String()}
}

// FaultKind is what may fail, once in a story.
type FaultKind string

// The kinds of fault.
const (
	NoFault      FaultKind = ""
	BatteryDead  FaultKind = "battery dead"  // or off the radio: a sensor says nothing from then on
	PowerCut     FaultKind = "power cut"     // and the mains come back, lamps at their brightest, whenever they do
	Restart      FaultKind = "restart"       // of the controller: its waits are lost, devices stay as they are
	DeviceGone   FaultKind = "device gone"   // or stuck: it stays as it is whatever rules order
	InternetGone FaultKind = "internet gone" // no message gets out
	ClockChange  FaultKind = "clock change"  // an hour forward or back, at any instant
)

// Fault is one fault; Thing is the sensor of a BatteryDead, the device of a DeviceGone.
type Fault struct {
	Kind  FaultKind
	Thing string
	Name  string // of the thing, to print
}

// String says the fault in words.
func (f Fault) String() string {
	switch f.Kind {
	case BatteryDead:
		name := f.Name
		if strings.HasPrefix(name, "door ") {
			name = "the " + name
		}
		return "with the sensor for " + name + " dead or off the radio"
	case DeviceGone:
		return "with the " + f.Name + " stuck or off the radio"
	case PowerCut:
		return "through a power cut"
	case Restart:
		return "through a restart of the controller"
	case InternetGone:
		return "with the internet gone"
	case ClockChange:
		return "through a change of the clock"
	}
	return ""
}
