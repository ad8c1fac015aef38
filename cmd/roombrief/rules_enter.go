package main

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/rules"
)

// controllerJSON is one controller in `rules --json`.
type controllerJSON struct {
	ID      string      `json:"id"`
	Room    string      `json:"room,omitempty"`
	Part    string      `json:"part"`
	Limits  string      `json:"limits"`
	Rules   int         `json:"rules"`
	AtMost  int         `json:"at_most,omitempty"`
	Lost    []lostJSON  `json:"lost"`
	Changed []noteJSON  `json:"changed"`
	Races   []string    `json:"races"`
	Sun     []string    `json:"sun_times"` // tables that stand for sun times
	Enter   []entryJSON `json:"enter"`     // in the order to enter
}

type lostJSON struct {
	Limit   string `json:"limit"`
	Rule    string `json:"rule,omitempty"` // before fitting
	Text    string `json:"text"`
	Promise string `json:"promise"`
	Remedy  string `json:"remedy"`
}

type noteJSON struct {
	Limit string `json:"limit"`
	Rule  string `json:"rule,omitempty"`
	Text  string `json:"text"`
	Costs string `json:"costs,omitempty"`
}

type entryJSON struct {
	Order   int         `json:"order"`
	ID      string      `json:"id"`
	From    []string    `json:"from"` // rules before fitting that it carries out
	Room    string      `json:"room"`
	Title   string      `json:"title"`
	Purpose string      `json:"purpose"`
	Promise string      `json:"promise"`
	Fields  []fieldJSON `json:"fields"`
}

type fieldJSON struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

func lostView(all []fitting.Lost) []lostJSON {
	out := []lostJSON{}
	for _, l := range all {
		out = append(out, lostJSON{l.Limit, l.Rule, l.Text, l.Promise, l.Remedy})
	}
	return out
}

func controllersView(plan planner.Plan, all []planner.Enter) []controllerJSON {
	out := []controllerJSON{}
	for _, e := range all {
		c := controllerJSON{ID: e.Host.ID, Room: e.Host.Room, Part: e.Part, Limits: e.Host.Limits.ID, Rules: e.Rules, AtMost: e.Host.Limits.Rules,
			Lost: lostView(e.Lost), Changed: []noteJSON{}, Races: []string{}, Sun: []string{}, Enter: []entryJSON{}}
		for _, n := range e.Notes {
			c.Changed = append(c.Changed, noteJSON{n.Limit, n.Rule, n.Text, n.Costs})
		}
		for _, r := range e.Races {
			c.Races = append(c.Races, r.Text)
		}
		for _, t := range e.Tables {
			c.Sun = append(c.Sun, t.Words())
		}
		for _, h := range plan.Placed.Hosts {
			if h.Host != e.Host.ID {
				continue
			}
			for _, x := range e.Entries {
				j := entryJSON{x.Order, x.Rule, h.Fit.From[x.Rule], x.Room, x.Title, x.Purpose, x.Promise, []fieldJSON{}}
				for _, f := range x.Fields {
					j.Fields = append(j.Fields, fieldJSON(f))
				}
				c.Enter = append(c.Enter, j)
			}
		}
		out = append(out, c)
	}
	return out
}

// entering prints what to enter into each controller.
type entering struct {
	process
	project *model.Project
	plan    planner.Plan
	width   int
}

func (w entering) text(indent, s string) { fmt.Fprintln(w.out, wrap(s, indent, w.width)) }

func (w entering) all(es []planner.Enter) {
	for _, l := range w.plan.Elsewhere() {
		w.lost(l)
	}
	for _, e := range es {
		w.text("", e.Title())
		w.text("  ", e.Many()+w.place(e.Host.Room))
		for _, l := range e.Lost {
			w.lost(l)
		}
		w.changed(e)
		fmt.Fprintln(w.out)
		room := "?"
		for _, x := range e.Entries {
			if x.Room != room {
				w.chart(e, room)
				room = x.Room
				fmt.Fprintf(w.out, "  %s\n\n", w.name(room))
			}
			w.entry(x)
		}
		w.chart(e, room)
	}
}

func (w entering) place(room string) string {
	if room == "" {
		return ""
	}
	return " It sits in: " + w.name(room) + "."
}

func (w entering) name(room string) string {
	if r, ok := w.project.Room(room); ok {
		return r.Title()
	}
	return "The home as a whole"
}

func (w entering) lost(l fitting.Lost) {
	text := "Lost: " + l.Text + fmt.Sprintf(" It costs the promise \"%s\".", l.Promise)
	if l.Limit != "" {
		text += " The limit is " + l.Limit + "."
	}
	w.text("  ", text+" "+l.Remedy)
}

// changed says what the limits changed: each change with its price, the others by their number.
func (w entering) changed(e planner.Enter) {
	free := map[string]int{}
	var order []string
	for _, n := range e.Notes {
		if n.Costs != "" {
			w.text("  ", fmt.Sprintf("Changed for %s: %s %s", n.Limit, n.Text, n.Costs))
			continue
		}
		if free[n.Limit]++; free[n.Limit] == 1 {
			order = append(order, n.Limit)
		}
	}
	for i, k := range order {
		order[i] = fmt.Sprintf("%s %d", k, free[k])
	}
	if len(order) > 0 {
		w.text("  ", "Written otherwise for its limits, at no cost: "+strings.Join(order, ", ")+". --json lists them.")
	}
	for _, r := range e.Races {
		w.text("  ", "Order unknown: "+r.Text)
	}
	for _, t := range e.Tables {
		w.text("  ", "Through the year "+t.Words()+".")
	}
}

func (w entering) entry(x fitting.Entry) {
	fmt.Fprintf(w.out, "%s\n", hang(fmt.Sprintf("%5d  ", x.Order), x.Title+": "+x.Purpose, w.width))
	if x.Promise != "" {
		fmt.Fprintf(w.out, "%s\n", hang(fmt.Sprintf("       %-13s ", "for"), x.Promise, w.width))
	}
	for _, f := range x.Fields {
		fmt.Fprintf(w.out, "%s\n", hang(fmt.Sprintf("       %-13s ", f.Name), f.Value, w.width))
	}
	fmt.Fprintln(w.out)
}

// chart of a room's rules, after the last of them.
func (w entering) chart(e planner.Enter, room string) {
	if h := w.plan.HostOf(room); h != nil && h.Host == e.Host.ID {
		fmt.Fprintf(w.out, "%s\n\n", rules.ChartOf(h.Fit.Sheet, room).Text(w.width))
	}
}
