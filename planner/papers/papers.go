// Package papers writes what an installer leaves behind: pure functions from a plan to documents.
package papers

import (
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/open"
)

// Paper is one document; its bytes depend on nothing but the arguments of All.
type Paper struct {
	Name string // file name
	For  string // who it is for, to print beside the name
	Body []byte
}

// Options of a set of papers.
type Options struct {
	Today   model.Date // printed on each paper
	Program string     // name and version of the program, printed small
	Proved  []Proved   // verdicts by room, in the order in which they are printed; nil leaves their paper out

	Open  *open.Points   // what hangs on what nobody knows; nil leaves its paper out, and so does nothing that is open
	Quote *planner.Quote // what the household is shown before it says yes; nil leaves the paper out
}

// source is what every paper is written from.
type source struct {
	project   *model.Project
	catalogue *catalogue.Catalogue
	plan      planner.Plan
	Options
}

// All writes every paper of a home, in the order in which they are read.
func All(p *model.Project, c *catalogue.Catalogue, plan planner.Plan, o Options) ([]Paper, error) {
	s := source{project: p, catalogue: c, plan: plan, Options: o}
	csv, err := s.shoppingCSV()
	if err != nil {
		return nil, err
	}
	page, err := s.household()
	if err != nil {
		return nil, err
	}
	out := []Paper{
		{"shopping-list.md", "whoever buys", s.shoppingMarkdown()},
		{"shopping-list.csv", "a supplier or a spreadsheet", csv},
		{"rule-sheet.md", "whoever enters the rules", s.ruleSheet()},
	}
	out = append(out, s.floorPlans()...)
	if o.Proved != nil {
		promises, err := s.promiseSheet()
		if err != nil {
			return nil, err
		}
		out = append(out, promises...)
	}
	if x := o.Open; x != nil && len(x.Looks)+len(x.Idle) > 0 {
		out = append(out, Paper{OpenPoints, "whoever goes to the house before anything is bought", s.openSheet()})
	}
	if o.Quote != nil {
		quote, err := s.quotePaper()
		if err != nil {
			return nil, err
		}
		out = append(out, Paper{QuoteName, "the household, before it says yes", quote})
	}
	return append(out, Paper{"household.html", "the household", page}), nil
}

// roomName is the printed name of a room id; "" is the home as a whole.
func (s source) roomName(id string) string {
	if id == "" {
		return "The home as a whole"
	}
	for _, r := range s.project.Rooms {
		if r.ID == id {
			return r.Title()
		}
	}
	return id
}

// homeName is never empty.
func (s source) homeName() string {
	if n := strings.TrimSpace(s.project.Home.Name); n != "" {
		return n
	}
	return "Unnamed home"
}

// foot says where a paper comes from.
func (s source) foot() string {
	day := "undated"
	if !s.Today.IsZero() {
		day = s.Today.Format("2 January 2006")
	}
	return day + ", " + s.Program
}
