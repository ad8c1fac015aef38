package papers

import (
	"bytes"
	"fmt"
	"strings"

	"example.org/roombrief/planner/rules"
)

// ruleSheet is every rule in the order to enter, room by room, with the chart of each room.
func (s source) ruleSheet() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Rule sheet: %s\n\n", text(s.homeName()))
	b.WriteString("The rules are written as for a controller without limits of its own. " +
		"Before entering them, compare the waits, time windows and sun times with what the controller at hand can do.\n\n")
	if len(s.plan.Sheet.Rules) == 0 {
		b.WriteString("No rules yet: no goal of the briefs needs one.\n\n")
	}
	s.roomRules(&b, "")
	for _, room := range s.project.Rooms {
		s.roomRules(&b, room.ID)
	}
	s.findings(&b)
	s.cautions(&b, s.billCautions())
	fmt.Fprintf(&b, "---\n%s\n", text(s.foot()))
	return b.Bytes()
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
		chart := strings.ReplaceAll(rules.ChartOf(s.plan.Sheet, room).Text(100), "`", "'")
		fmt.Fprintf(b, "```\n%s\n```\n\n", strings.TrimRight(chart, "\n"))
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
