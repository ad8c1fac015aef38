package papers

import (
	"bytes"
	"fmt"
	"strings"

	"example.org/roombrief/model/caution"
)

var marks = strings.NewReplacer(
	"\\", "\\\\", "|", "\\|", "*", "\\*", "_", "\\_", "`", "\\`", "<", "&lt;", ">", "&gt;",
	"[", "\\[", "]", "\\]", "#", "\\#", "\r\n", " ", "\n", " ", "\r", " ",
)

// text makes somebody's words safe inside a line or a table cell of Markdown.
func text(s string) string { return strings.TrimSpace(marks.Replace(s)) }

// cautions prints the cautions of the given kinds.
func (s source) cautions(b *bytes.Buffer, kinds map[string]bool) {
	first := true
	for _, k := range caution.Kinds {
		if !kinds[k] {
			continue
		}
		if first {
			b.WriteString("## Cautions\n\n")
			first = false
		}
		fmt.Fprintf(b, "- %s\n", caution.Text(k))
	}
	if !first {
		b.WriteString("\n")
	}
}

// billCautions are the kinds that the bill's lines bring, and the ones that the goals bring.
func (s source) billCautions() map[string]bool {
	kinds := map[string]bool{}
	for _, l := range s.plan.Bill.Lines {
		if l.Caution != "" {
			kinds[l.Caution] = true
		}
	}
	for _, r := range s.plan.Sheet.Rules {
		for k := range goalCautions(r.Goal) {
			kinds[k] = true
		}
	}
	return kinds
}

// goalCautions of one goal.
func goalCautions(goal string) map[string]bool {
	switch goal {
	case "ventilation":
		return map[string]bool{"ventilation": true}
	case "leak":
		return map[string]bool{"water": true, "life safety": true}
	case "shutoff":
		return map[string]bool{"heating": true, "life safety": true}
	}
	return nil
}
