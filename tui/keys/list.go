package keys

import "strings"

// Markdown is the key list of the README: a table for each page.
func Markdown() string {
	var b strings.Builder
	for i, g := range All() {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString("### " + g.Page + "\n\n| key | does |\n|---|---|\n")
		for _, x := range g.Bindings {
			b.WriteString("| " + cell(x.Cap) + " | " + cell(x.Help) + " |\n")
		}
	}
	return b.String()
}

func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
