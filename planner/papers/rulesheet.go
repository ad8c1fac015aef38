package papers

import (
	"bytes"
	"fmt"
	"strings"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/fitting"
	"example.org/roombrief/planner/rules"
)

// ruleSheet is what to enter into each controller, in the order to enter it, with the chart of each room.
func (s source) ruleSheet() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Rule sheet: %s\n\n", text(s.homeName()))
	all := s.plan.Entering(s.catalogue, "")
	switch {
	case len(s.plan.Sheet.Rules) == 0:
		b.WriteString("No rules yet: no goal of the briefs needs one.\n\n")
	case len(all) == 0:
		b.WriteString("No controller runs these rules yet; they are written as for one without limits.\n\n")
		s.idealRules(&b)
	default:
		b.WriteString("Each controller has its rules in the order to enter them, written as its limits want them: " +
			"waits, time windows and toggles are what it can do. Other limits give other rules, so print this again when a controller changes.\n\n")
	}
	s.lost(&b, s.plan.Elsewhere())
	for _, e := range all {
		s.controller(&b, e)
	}
	s.seasons(&b)
	s.findings(&b)
	s.cautions(&b, s.billCautions())
	fmt.Fprintf(&b, "---\n%s\n", text(s.foot()))
	return b.Bytes()
}

// controller is one controller: what its limits cost, then its rules.
func (s source) controller(b *bytes.Buffer, e planner.Enter) {
	fmt.Fprintf(b, "## %s\n\n%s", text(e.Title()), text(e.Many()))
	if e.Host.Room != "" {
		fmt.Fprintf(b, " It sits in: %s.", text(s.roomName(e.Host.Room)))
	}
	b.WriteString("\n\n")
	s.lost(b, e.Lost)
	said := false
	for _, n := range e.Notes {
		if n.Costs != "" {
			fmt.Fprintf(b, "- Changed for `%s`: %s %s\n", n.Limit, text(n.Text), text(n.Costs))
			said = true
		}
	}
	for _, r := range e.Races {
		fmt.Fprintf(b, "- Order unknown: %s\n", text(r.Text))
		said = true
	}
	if said {
		b.WriteString("\n")
	}
	for _, t := range e.Tables {
		s.table(b, t)
	}
	room := "?"
	for _, x := range e.Entries {
		if x.Room != room {
			s.chartAfter(b, e, room)
			room = x.Room
			fmt.Fprintf(b, "### %s\n\n", text(s.roomName(room)))
		}
		s.entry(b, x)
	}
	s.chartAfter(b, e, room)
}

// lost is what can't be done, with what to do about it.
func (s source) lost(b *bytes.Buffer, all []fitting.Lost) {
	for _, l := range all {
		fmt.Fprintf(b, "- **Lost**: %s It costs the promise \"%s\".", text(l.Text), text(l.Promise))
		if l.Limit != "" {
			fmt.Fprintf(b, " The limit is `%s`.", l.Limit)
		}
		fmt.Fprintf(b, " %s\n", text(l.Remedy))
	}
	if len(all) > 0 {
		b.WriteString("\n")
	}
}

// table of the clock times that stand for a sun time.
func (s source) table(b *bytes.Buffer, t fitting.Table) {
	words := t.Words()
	of, rows, _ := strings.Cut(strings.TrimPrefix(words, "for "), ": ")
	fmt.Fprintf(b, "Clock times for %s, up to %d minutes from the sun:\n\n| set | from |\n|---|---|\n", text(of), t.Worst)
	for _, row := range strings.Split(rows, ", ") {
		at, from, _ := strings.Cut(row, " from ")
		fmt.Fprintf(b, "| %s | %s |\n", text(at), text(from))
	}
	b.WriteString("\n")
}

func (s source) entry(b *bytes.Buffer, x fitting.Entry) {
	fmt.Fprintf(b, "#### %d. %s\n\n%s\n\n- rule: `%s`\n", x.Order, text(x.Title), text(x.Purpose), x.Rule)
	if x.Promise != "" {
		fmt.Fprintf(b, "- for: %s\n", text(x.Promise))
	}
	for _, f := range x.Fields {
		fmt.Fprintf(b, "- %s: %s\n", text(f.Name), text(f.Value))
	}
	b.WriteString("\n")
}

// chartAfter is the chart of a room that has been written.
func (s source) chartAfter(b *bytes.Buffer, e planner.Enter, room string) {
	if h := s.plan.HostOf(room); h != nil && h.Host == e.Host.ID {
		s.chart(b, h.Fit.Sheet, room)
	}
}

func (s source) chart(b *bytes.Buffer, sheet rules.Sheet, room string) {
	chart := strings.ReplaceAll(rules.ChartOf(sheet, room).Text(100), "`", "'")
	fmt.Fprintf(b, "```\n%s\n```\n\n", strings.TrimRight(chart, "\n"))
}

// idealRules are the rules as on a controller without limits, room by room.
func (s source) idealRules(b *bytes.Buffer) {
	s.roomRules(b, "")
	for _, room := range s.project.Rooms {
		s.roomRules(b, room.ID)
	}
}

func (s source) roomRules(b *bytes.Buffer, room string) {
	n := 0
	for _, r := range s.plan.Sheet.Rules {
		if r.Room != room {
			continue
		}
		if n == 0 {
			fmt.Fprintf(b, "## %s\n\n", text(s.roomName(room)))
		}
		n++
		w := rules.Words(s.plan.Sheet, r)
		fmt.Fprintf(b, "### %d. %s\n\n", n, text(r.Purpose))
		fmt.Fprintf(b, "- rule: `%s`\n- cause: %s\n", r.ID, text(w.Cause))
		for _, row := range []struct{ name, words string }{{"guard", w.Guard}, {"effect", w.Effect}, {"hold", w.Hold}} {
			if row.words != "" {
				fmt.Fprintf(b, "- %s: %s\n", row.name, text(row.words))
			}
		}
		b.WriteString("\n")
	}
	if n > 0 {
		s.chart(b, s.plan.Sheet, room)
	}
}

// findings that the reader should know before entering anything.
func (s source) findings(b *bytes.Buffer) {
	if len(s.plan.Findings) == 0 {
		return
	}
	b.WriteString("## To know first\n\n")
	for _, f := range s.plan.Findings {
		fmt.Fprintf(b, "- **%s**: %s\n", text(s.roomName(f.Room)), text(f.Text))
	}
	b.WriteString("\n")
}
