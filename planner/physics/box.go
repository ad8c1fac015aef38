package physics

import (
	"fmt"
	"math"

	"example.org/roombrief/planner/site"
)

// Fill of a switch box where the code counts volumes (North America).
const (
	boxVolume  = 6.5 // in³ for each gang and inch of depth: a marked 18 in³ at 2 3/4 in; boxes of steel hold less
	boxWire    = 14  // AWG of lighting circuits on 15 A
	boxEdition = 2020
	inch       = 0.0254
)

// Filled is a switch box with what is in it.
type Filled struct {
	Verdict
	Needs, Has float64 // in³
	Deep       float64 // m of depth that would hold it
}

// BoxFill reckons the volume that a box must have once every gang has a smart switch, or a switch with a module behind
// it. A box with a neutral is taken to be fed there: two neutrals and a feed more. A module without a yoke is not settled by
// the code's text; it is counted as a device. depth is in m.
func BoxFill(gangs int, neutral, behind bool, depth float64) (Filled, error) {
	f := Filled{}
	f.Caution = "mains"
	gangs = max(gangs, 1)
	fill := site.BoxFill{Conductors: map[int]int{boxWire: 2 * gangs}, Grounds: []int{boxWire}, Edition: boxEdition}
	if neutral {
		fill.Conductors[boxWire] += 2
	}
	fill.Devices = []site.Yoke{{AWG: boxWire, Gangs: gangs}}
	if behind {
		fill.Devices = append(fill.Devices, site.Yoke{AWG: boxWire, Gangs: gangs})
	}
	needs, err := fill.CubicInches()
	if err != nil {
		return f, err
	}
	f.Needs, f.Has = needs, boxVolume*float64(gangs)*depth/inch
	f.Deep = needs / boxVolume / float64(gangs) * inch
	f.OK = f.Has >= f.Needs-1e-9
	f.assume("a box holds %g in³ for each gang and inch of depth, with conductors of %d AWG", boxVolume, boxWire)
	f.Say = fmt.Sprintf("The box has about %.1f in³, and conductors and devices take %.1f in³", f.Has, f.Needs)
	if f.OK {
		f.Say += "; local code decides."
		return f, nil
	}
	f.Say += fmt.Sprintf(": read the volume that is marked in the box, or fit one %.2f in deep.", math.Ceil(f.Deep/inch*4)/4)
	return f, nil
}
