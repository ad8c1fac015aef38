package ideal

import (
	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// The is a room within a sentence: "the shower room", "the downstairs WC", "Rosa's study", "Room 1".
func The(r *model.Room) string { return (&room{r: r}).the() }

// LeadsOut reports whether a room is where people leave the house: everything off there means the house.
func LeadsOut(r *model.Room) bool { return leadsOut(r) }

// YearOf is the sun at the home on each day of SunYear, nil where its place isn't known or no period starts with
// the sun.
func YearOf(p *model.Project) []rules.Day { return yearOf(p) }
