package model

import (
	"fmt"
	"strings"

	q "example.org/roombrief/model/quantity"
)

// Deed is what one press of a button does, written as a phrase:
//
//	lights full | lights off | lights 30 % | lights auto
//	fan 20m | fan off
//	everything off
//	extend APPLIANCE
//	acknowledge
//
// The zero Deed does nothing.
type Deed struct {
	Verb      Verb
	Level     q.Percent // of Lights
	Run       q.Span    // of FanRun
	Appliance string    // of Extend
}

// Verb of a deed.
type Verb int

const (
	Nothing Verb = iota
	Lights       // at Level; 0 is off
	LightsAuto
	FanRun
	FanOff
	EverythingOff
	Extend
	Acknowledge
)

// DeedForms are the accepted phrases, for hints and the schema.
const DeedForms = "lights full, lights off, lights 30 %, lights auto, fan 20m, fan off, everything off, extend APPLIANCE, acknowledge"

// UnmarshalText reads a phrase.
func (d *Deed) UnmarshalText(b []byte) error {
	s := strings.Join(strings.Fields(string(b)), " ")
	head, rest, _ := strings.Cut(s, " ")
	bad := fmt.Errorf("%q is not something a button can do; accepted: %s", s, DeedForms)
	*d = Deed{}
	switch head {
	case "":
	case "lights":
		d.Verb = Lights
		switch rest {
		case "full":
			d.Level = 100
		case "off":
			d.Level = 0
		case "auto":
			d.Verb = LightsAuto
		default:
			if err := d.Level.UnmarshalText([]byte(rest)); err != nil || d.Level < 0 || d.Level > 100 {
				return bad
			}
		}
	case "fan":
		if rest == "off" {
			d.Verb = FanOff
			break
		}
		d.Verb = FanRun
		if err := d.Run.UnmarshalText([]byte(rest)); err != nil || d.Run <= 0 {
			return bad
		}
	case "everything":
		if rest != "off" {
			return bad
		}
		d.Verb = EverythingOff
	case "extend":
		if rest == "" {
			return bad
		}
		d.Verb, d.Appliance = Extend, rest
	case "acknowledge":
		if rest != "" {
			return bad
		}
		d.Verb = Acknowledge
	default:
		return bad
	}
	return nil
}

// String is the phrase that reads back as this deed.
func (d Deed) String() string {
	switch d.Verb {
	case Lights:
		switch d.Level {
		case 100:
			return "lights full"
		case 0:
			return "lights off"
		}
		return "lights " + d.Level.String()
	case LightsAuto:
		return "lights auto"
	case FanRun:
		return "fan " + d.Run.String()
	case FanOff:
		return "fan off"
	case EverythingOff:
		return "everything off"
	case Extend:
		return "extend " + d.Appliance
	case Acknowledge:
		return "acknowledge"
	}
	return ""
}
