package main

import (
	"fmt"
	"strings"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/rules"

	"github.com/spf13/cobra"
)

// rulesJSON is `rules --json`.
type rulesJSON struct {
	Rules    []ruleJSON    `json:"rules"`
	Findings []findingJSON `json:"findings"`
}

type ruleJSON struct {
	ID      string   `json:"id"`
	Room    string   `json:"room"`
	Goal    string   `json:"goal"`
	Purpose string   `json:"purpose"`
	Cause   string   `json:"cause"`
	Guard   string   `json:"guard,omitempty"`
	Effect  string   `json:"effect"`
	Hold    string   `json:"hold,omitempty"`
	Things  []string `json:"things"` // what it sees or moves, by path
}

type findingJSON struct {
	Room    string `json:"room,omitempty"`
	At      string `json:"at,omitempty"`
	Serious bool   `json:"serious"`
	Text    string `json:"text"`
}

func rulesCommand(p process) *cobra.Command {
	var asJSON bool
	var room string
	c := &cobra.Command{
		Use:   "rules FILE",
		Short: "Print the rules of each room, with its cause-and-effect chart",
		Long: `Print every rule that the briefs come to, room by room, with a chart of which cause
moves what. The rules are written as for a controller without limits of its own.

Exit status 1 when a brief asks for something that its room cannot do.`,
		Example: `  roombrief rules alder-row.yaml
  roombrief rules alder-row.yaml --room shower-room`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			doc, plan, err := planOf(c.Context(), p, args[0])
			if err != nil {
				return err
			}
			if err := checkRoom(doc, room); err != nil {
				return err
			}
			if asJSON {
				if err := printJSON(p.out, rulesView(plan, room)); err != nil {
					return err
				}
			} else {
				wording := rules.NewWording(plan.Sheet)
				if room == "" {
					printRules(p, plan, wording, "", "The home as a whole")
				}
				for _, r := range doc.Project().Rooms {
					if room == "" || r.ID == room {
						printRules(p, plan, wording, r.ID, r.Title())
					}
				}
				printFindings(p, plan, room)
				if len(plan.Sheet.Rules) == 0 {
					fmt.Fprintln(p.out, "No rules: no brief asks for anything yet.")
				}
			}
			for _, f := range plan.Findings {
				if f.Serious && (room == "" || f.Room == room) {
					return status{heed, nil}
				}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().StringVar(&room, "room", "", "only this room")
	return c
}

func rulesView(plan planner.Plan, room string) rulesJSON {
	out := rulesJSON{Rules: []ruleJSON{}, Findings: []findingJSON{}}
	wording := rules.NewWording(plan.Sheet)
	for _, r := range plan.Sheet.Rules {
		if room != "" && r.Room != room {
			continue
		}
		w := wording.Rule(r)
		out.Rules = append(out.Rules, ruleJSON{r.ID, r.Room, r.Goal, r.Purpose, w.Cause, w.Guard, w.Effect, w.Hold, thingsOf(r)})
	}
	for _, f := range plan.Findings {
		if room == "" || f.Room == room {
			out.Findings = append(out.Findings, findingJSON{f.Room, f.At, f.Serious, f.Text})
		}
	}
	return out
}

// thingsOf a rule, each once, in the order in which it names them.
func thingsOf(r rules.Rule) []string {
	out, seen := []string{}, map[string]bool{"": true}
	add := func(id string) {
		if !seen[id] {
			seen[id] = true
			out = append(out, id)
		}
	}
	add(r.Cause.Thing)
	for _, l := range r.Guard {
		add(l.Thing)
	}
	for _, e := range r.Effects {
		add(e.Thing)
	}
	for _, l := range r.Hold {
		add(l.Thing)
	}
	return out
}

func printRules(p process, plan planner.Plan, wording rules.Wording, room, title string) {
	n, width := 0, widthOf(p)
	for _, r := range plan.Sheet.Rules {
		if r.Room != room {
			continue
		}
		if n == 0 {
			fmt.Fprintf(p.out, "%s\n\n", title)
		}
		n++
		w := wording.Rule(r)
		fmt.Fprintf(p.out, "%3d  %s\n", n, wrap(r.Purpose, "     ", width)[5:])
		for _, row := range []struct{ name, words string }{{"cause", w.Cause}, {"guard", w.Guard}, {"effect", w.Effect}, {"hold", w.Hold}} {
			if row.words != "" {
				lead := fmt.Sprintf("     %-7s ", row.name)
				fmt.Fprintf(p.out, "%s%s\n", lead, wrap(row.words, "             ", width)[13:])
			}
		}
		fmt.Fprintln(p.out)
	}
	if n > 0 {
		fmt.Fprintf(p.out, "%s\n\n", rules.ChartOf(plan.Sheet, room).Text(width))
	}
}

func printFindings(p process, plan planner.Plan, room string) {
	first := true
	for _, f := range plan.Findings {
		if room != "" && f.Room != room {
			continue
		}
		if first {
			fmt.Fprintln(p.out, "To know first")
			first = false
		}
		text := f.Text
		if strings.Contains(f.At, "/") {
			text += " (" + f.At + ")" // where to write it
		}
		fmt.Fprintln(p.out, wrap(text, "  ", widthOf(p)))
	}
}
