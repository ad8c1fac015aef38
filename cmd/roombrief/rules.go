package main

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/rules"

	"github.com/spf13/cobra"
)

// rulesJSON is `rules --json`.
type rulesJSON struct {
	Controllers []controllerJSON `json:"controllers,omitempty"` // what each runs; not with --ideal
	Lost        []lostJSON       `json:"lost,omitempty"`        // what no controller can do
	Rules       []ruleJSON       `json:"rules"`                 // as on a controller without limits
	Findings    []findingJSON    `json:"findings"`
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
	var asJSON, asIdeal bool
	var room, controller string
	c := &cobra.Command{
		Use:   "rules FILE",
		Short: "Print the rules that each controller runs, with what to type where",
		Long: `Print the rules of each controller in the order to enter them: what each is for, which
promise it serves and what to type where, with what the limits of the controller changed and
what they cost; and for each room a chart of which cause moves what. With --ideal the rules are
those of a controller without limits, as the briefs come to them.

Exit status 1 when a brief asks for something that its room cannot do, or a controller cannot do
what a rule needs.`,
		Example: `  roombrief rules alder-row.yaml
  roombrief rules alder-row.yaml --room shower-room --ideal`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			doc, plan, _, err := behaviourOf(c.Context(), p, args[0])
			if err != nil {
				return err
			}
			if err := checkRoom(doc, room); err != nil {
				return err
			}
			entered, err := chosen(plan, room, controller)
			if err != nil {
				return err
			}
			asIdeal = asIdeal || len(plan.Hosts) == 0
			switch {
			case asJSON:
				view := rulesView(plan, room)
				if !asIdeal {
					view.Controllers, view.Lost = controllersView(plan, entered), lostView(plan.Elsewhere())
				}
				err = printJSON(p.out, view)
			case asIdeal:
				printIdeal(p, doc.Project(), plan, room)
			default:
				entering{p, doc.Project(), plan, widthOf(p)}.all(entered)
				printFindings(p, plan, room)
			}
			if err == nil && troubled(plan, entered, room, asIdeal) {
				return status{heed, nil}
			}
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	c.Flags().BoolVar(&asIdeal, "ideal", false, "as on a controller without limits")
	c.Flags().StringVar(&room, "room", "", "only this room")
	c.Flags().StringVar(&controller, "controller", "", "only what this controller runs")
	return c
}

// chosen is what to enter, of one controller or all.
func chosen(plan planner.Plan, room, controller string) ([]planner.Enter, error) {
	all := plan.Entering(fixtures.Catalogue(), room)
	if controller == "" {
		return all, nil
	}
	var names []string
	for _, h := range plan.Hosts {
		names = append(names, h.ID)
	}
	if _, ok := plan.Host(controller); !ok {
		hint := "the plan has no controllers"
		if len(names) > 0 {
			hint = "the plan has " + strings.Join(names, ", ")
		}
		return nil, status{badCall, fmt.Errorf("no controller %q in this plan; %s", controller, hint)}
	}
	return slices.DeleteFunc(all, func(e planner.Enter) bool { return e.Host.ID != controller }), nil
}

// troubled reports whether something that was asked for can't be had.
func troubled(plan planner.Plan, entered []planner.Enter, room string, asIdeal bool) bool {
	for _, f := range plan.Findings {
		if f.Serious && (room == "" || f.Room == room) {
			return true
		}
	}
	if asIdeal {
		return false
	}
	return len(plan.Elsewhere()) > 0 || slices.ContainsFunc(entered, func(e planner.Enter) bool { return len(e.Lost) > 0 })
}

// printIdeal prints the rules as on a controller without limits.
func printIdeal(p process, project *model.Project, plan planner.Plan, room string) {
	wording := rules.NewWording(plan.Sheet)
	if room == "" {
		printRules(p, plan, wording, "", "The home as a whole")
	}
	for _, r := range project.Rooms {
		if room == "" || r.ID == room {
			printRules(p, plan, wording, r.ID, r.Title())
		}
	}
	printFindings(p, plan, room)
	if len(plan.Sheet.Rules) == 0 {
		fmt.Fprintln(p.out, "No rules: no brief asks for anything yet.")
	}
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
