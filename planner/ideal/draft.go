// Package ideal turns briefs into rules as they would be on a controller without limits, and into the
// needs that those rules have.
package ideal

import (
	"example.org/roombrief/model"
	"example.org/roombrief/planner/needs"
	"example.org/roombrief/planner/rules"
)

// Drafted is what the briefs come to.
type Drafted struct {
	Sheet    rules.Sheet
	Needs    []needs.Need
	Findings []Finding
}

// Finding is something that the user should know about a brief or a fact.
type Finding struct {
	Room    string // "" for the home
	At      string // path in the project
	Serious bool   // makes commands end with status 1
	Text    string // one sentence: what, and what to do about it
}

// Draft drafts the rules and needs of a home, room by room, in project order.
func Draft(p *model.Project) Drafted { return Drafted{} }
