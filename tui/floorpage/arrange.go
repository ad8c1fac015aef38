package floorpage

import (
	"example.org/roombrief/planner/floorplan"
	"example.org/roombrief/tui/layout"
)

// Scales in m a column: farther than that names no longer fit, and the plan is moved under the window instead; nearer than that a
// small room would fill the screen.
const (
	farthest = 0.48
	nearest  = 0.06
	zoom     = 1.3 // of one key press
	gain     = 1.2 // what a plan must gain from being turned, or from its notes standing below
)

// arrangement says where plan and notes stand on a page, and how the plan is drawn.
type arrangement struct {
	planW, planH int
	noteW, noteH int
	below        bool // the notes stand under the plan
	turned       bool
	perCol       float64
}

const (
	narrowNotes = 30 // cells of notes at the right where a page has no margin
	lowNotes    = 4  // lines of notes below
)

// arrange finds the arrangement in which the plan is largest: notes at the right or below, turned or not. Turn says what the user
// wants: 0 what fits, 1 turned, -1 not.
func arrange(f *floorplan.Floor, w, h, turn, closer int) arrangement {
	var ways []arrangement
	if body, m := layout.Columns(w); m > 0 {
		ways = append(ways, arrangement{planW: body - 1, planH: h, noteW: m, noteH: h})
	} else {
		if w >= 60 {
			ways = append(ways, arrangement{planW: w - narrowNotes - 3, planH: h, noteW: narrowNotes, noteH: h})
		}
		ways = append(ways, arrangement{planW: w, planH: max(h-lowNotes-1, 1), noteW: w - 2, noteH: min(lowNotes, max(h-2, 0)), below: true})
	}
	best := arrangement{}
	for _, a := range ways {
		a.perCol = fit(f, a.planW, a.planH, turn > 0)
		a.turned = turn > 0
		if t := fit(f, a.planW, a.planH, true); turn == 0 && t*gain < a.perCol {
			a.perCol, a.turned = t, true
		}
		if best.perCol == 0 || a.perCol*gain < best.perCol {
			best = a
		}
	}
	best.perCol = min(max(best.perCol, nearest), farthest)
	for range max(closer, 0) {
		best.perCol = max(best.perCol/zoom, nearest)
	}
	for range max(-closer, 0) {
		best.perCol *= zoom
	}
	return best
}
