package model

import (
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
)

func TestKindHeats(t *testing.T) {
	for kind, want := range map[string]bool{
		"clothes iron": true, "hair dryer": true, "Hairdryer": true, "curling tongs": true, "toaster oven": true, "coffee maker": true,
		"soldering iron": true, "hot-plate": true, "electric blanket": true, "heat lamp": true, "towel rail": true, "boiler": true,
		"environment monitor": false, "dehumidifier": false, "television": false, "freezer": false, "": false,
	} {
		if (Appliance{Kind: kind}).Heats() != want {
			t.Errorf("%q heats: %v", kind, !want)
		}
	}
}

func TestMoreKindsStayOn(t *testing.T) {
	for kind, want := range map[string]bool{
		"gas boiler": true, "frost protection heater": true, "garage door opener": true, "stairlift": true, "baby monitor": true,
		"carbon-monoxide detector": true, "minifridge": true, "deepfreezer": true, "heat pump": true, "heat lamp": false, "consumption meter": false,
	} {
		if KindStaysOn(kind) != want {
			t.Errorf("%q stays on: %v", kind, !want)
		}
	}
}

func TestLongestStill(t *testing.T) {
	for kind, want := range map[string]time.Duration{" Living Room ": 90 * time.Minute, "WC": 15 * time.Minute, "hall": 2 * time.Minute, "orangery": 20 * time.Minute} {
		if got := LongestStill(kind); got != q.Span(want) {
			t.Errorf("%q: %v, want %v", kind, got, want)
		}
	}
}
