package site

import (
	"fmt"
	"math"
)

// LoadRule is how much of a rating a load may take. These are aids for checking: local code and a licensed
// electrician decide.
type LoadRule string

const (
	Continuous    LoadRule = "na_continuous"      // three hours and more: 80 % (NEC 210.19(A), 210.20(A))
	CordSingle    LoadRule = "na_cord_single"     // cord and plug, not fastened: 80 % of the branch (NEC 210.23(A)(1))
	FastenedShare LoadRule = "na_fastened_shared" // fastened in place on a shared circuit: 50 % (NEC 210.23(A)(2))
	Intermittent  LoadRule = "na_noncont"         // all of it
	PlugFuse      LoadRule = "uk_fuse"            // BS 1362 fuse: all of it
	Plug16        LoadRule = "eu_schuko"          // 16 A plug: all of it
)

var loadShare = map[LoadRule]float64{Continuous: 0.8, CordSingle: 0.8, FastenedShare: 0.5, Intermittent: 1, PlugFuse: 1, Plug16: 1}

// Loaded is a load held against a rating.
type Loaded struct {
	Current float64 // A that it draws
	Limit   float64 // A that it may draw
	LimitW  float64 // W that it may draw
	OK      bool
}

// Load holds a load in W at a voltage (90 to 260 V) and power factor (0.3 to 1) against a rating in A (0.1 to
// 125).
func Load(volts, pf, watts, rating float64, rule LoadRule) (Loaded, error) {
	share, ok := loadShare[rule]
	if !ok {
		return Loaded{}, fmt.Errorf("no load rule %q", rule)
	}
	if err := first(within("voltage", volts, 90, 260, "V"), within("power factor", pf, 0.3, 1, ""),
		within("load", watts, 0, 30e3, "W"), within("rating", rating, 0.1, 125, "A")); err != nil {
		return Loaded{}, err
	}
	l := Loaded{Current: watts / (volts * pf), Limit: rating * share}
	l.LimitW = l.Limit * volts * pf
	l.OK = l.Current <= l.Limit*(1+1e-12)
	return l, nil
}

// Inrush factors by which a load exceeds its steady current as it is switched on; what a relay with only a
// resistive rating has to stand (relay makers' load guidance).
var Inrush = map[string]float64{"resistive": 1, "motor": 6, "incandescent": 10}

// Relay holds a load against a relay's resistive rating in A.
func Relay(rating float64, kind string, volts, watts, pf float64) (steady, inrush float64, ok bool, err error) {
	factor, known := Inrush[kind]
	if !known {
		return 0, 0, false, fmt.Errorf("no inrush figure for a %q load; there are resistive, motor and incandescent", kind)
	}
	if err := first(within("rating", rating, 0.1, 125, "A"), within("voltage", volts, 90, 260, "V"),
		within("load", watts, 0, 30e3, "W"), within("power factor", pf, 0.3, 1, "")); err != nil {
		return 0, 0, false, err
	}
	steady = watts / (volts * pf)
	inrush = steady * factor
	return steady, inrush, inrush <= rating*(1+1e-12), nil
}

// conductor volumes in cubic inches by AWG size (NEC table 314.16(B)).
var conductor = map[int]float64{18: 1.50, 16: 1.75, 14: 2.00, 12: 2.25, 10: 2.50, 8: 3.00, 6: 5.00}

// Conductor is the volume in cubic inches that one conductor of an AWG size takes in a box.
func Conductor(awg int) (float64, error) {
	v, ok := conductor[awg]
	if !ok {
		return 0, fmt.Errorf("no volume for %d AWG; there are 18, 16, 14, 12, 10, 8 and 6", awg)
	}
	return v, nil
}

// BoxFill is what is in a box (NEC 314.16(B)). A module without a yoke is not settled by the text: ask the
// authority having jurisdiction.
type BoxFill struct {
	Conductors map[int]int // by AWG size
	Devices    []Yoke
	Clamps     bool  // internal clamps
	Supports   int   // types of support fitting
	Grounds    []int // AWG size of each equipment ground
	Edition    int   // of the NEC: 2017 and before count all grounds as one
}

// Yoke is a device: the largest conductor on it, and its gangs.
type Yoke struct{ AWG, Gangs int }

// CubicInches is the least volume that the box must have.
func (f BoxFill) CubicInches() (float64, error) {
	total, largest := 0.0, 0.0
	for awg, n := range f.Conductors {
		v, err := Conductor(awg)
		if err != nil {
			return 0, err
		}
		if n > 0 {
			total += v * float64(n)
			largest = math.Max(largest, v)
		}
	}
	var grounds []float64
	for _, awg := range f.Grounds {
		v, err := Conductor(awg)
		if err != nil {
			return 0, err
		}
		grounds = append(grounds, v)
		largest = math.Max(largest, v)
	}
	for _, d := range f.Devices {
		v, err := Conductor(d.AWG)
		if err != nil {
			return 0, err
		}
		total += 2 * v * float64(max(d.Gangs, 1))
		largest = math.Max(largest, v)
	}
	if f.Clamps {
		total += largest
	}
	total += largest * float64(f.Supports)
	return total + groundFill(grounds, f.Edition), nil
}

// groundFill counts equipment grounds: one allowance of the largest, and from 2020 a quarter more for each over
// four.
func groundFill(grounds []float64, edition int) float64 {
	if len(grounds) == 0 {
		return 0
	}
	largest := 0.0
	for _, g := range grounds {
		largest = math.Max(largest, g)
	}
	if edition >= 2020 && len(grounds) > 4 {
		return largest * (1 + 0.25*float64(len(grounds)-4))
	}
	return largest
}

// WetZone is the zone of a place near a bath or shower, with the least ingress class there (IEC 60364-7-701).
type WetZone struct {
	Zone    string // "0", "1", "2", "outside"
	Ingress string // "IPX7", "IPX4", "" where the general rules hold
}

// ZoneOf finds the zone of a place: inside says whether it is in the basin of the bath or shower, over whether
// it is above it; height in m over the floor, aside in m from the basin's edge, or from the fixed water outlet
// where there is no basin; outlet is the height in m of the highest fixed outlet. Walls and fixed partitions
// limit zones: this knows none.
func ZoneOf(inside, over, basin bool, height, aside, outlet float64) (WetZone, error) {
	if err := first(within("height", height, 0, 5, "m"), within("distance", aside, 0, 20, "m"), within("outlet height", outlet, 0, 4, "m")); err != nil {
		return WetZone{}, err
	}
	top := math.Max(2.25, outlet)
	switch {
	case basin && inside:
		return WetZone{"0", "IPX7"}, nil
	case basin && over && height <= top:
		return WetZone{"1", "IPX4"}, nil
	case basin && !over && aside <= 0.6 && height <= 2.25:
		return WetZone{"2", "IPX4"}, nil
	case !basin && aside <= 1.2 && height <= 0.1:
		return WetZone{"0", "IPX7"}, nil
	case !basin && aside <= 1.2 && height <= top:
		return WetZone{"1", "IPX4"}, nil
	}
	return WetZone{"outside", ""}, nil
}
