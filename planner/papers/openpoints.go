package papers

import (
	"bytes"
	"fmt"
)

// OpenPoints is the name of the paper of what nobody knows yet.
const OpenPoints = "open-points.md"

// openSheet is where to look before buying, most at stake first, what hangs on each answer, and what need not be looked at.
func (s source) openSheet() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Open points: %s\n\n", text(s.homeName()))
	if len(s.Open.Looks) > 0 {
		b.WriteString("Look at these before anything is bought; what is most at stake stands first.\n\n")
	}
	for _, e := range s.Open.Entries(s.roomName) {
		fmt.Fprintf(&b, "- [ ] **%s**\n", text(e.Head))
		for _, line := range append(e.Says, e.More...) {
			fmt.Fprintf(&b, "  - %s\n", text(line))
		}
	}
	if len(s.Open.Looks) > 0 {
		b.WriteString("\n")
	}
	if len(s.Open.Idle) > 0 {
		b.WriteString("## Nothing hangs on these\n\n")
		for _, line := range s.Open.IdleLines(s.roomName) {
			fmt.Fprintf(&b, "- %s\n", text(line))
		}
		b.WriteString("\n")
	}
	for _, line := range s.Open.Basis() {
		fmt.Fprintf(&b, "%s\n\n", text(line))
	}
	s.cautions(&b, s.Open.Cautions())
	fmt.Fprintf(&b, "---\n%s\n", text(s.foot()))
	return b.Bytes()
}
