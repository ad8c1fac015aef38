package open

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/caution"
	"example.org/roombrief/model/english"
)

// Head stands over the list.
const Head = "Look at these before you leave"

// Entry is a place to look at, in sentences.
type Entry struct {
	Head string   // "Shower room: look in the switch box by the door."
	Says []string // what each answer comes to
	More []string // who will know, what was said
}

// Entries are the places to look at, most at stake first. name gives the printed name of a room.
func (p *Points) Entries(name func(room string) string) []Entry {
	var out []Entry
	for _, l := range p.Looks {
		e := Entry{Head: english.Upper(l.Words) + "."}
		if l.Room != "" {
			e.Head = name(l.Room) + ": " + l.Words + "."
		}
		var said []string
		for _, x := range l.Points {
			if !x.Fact {
				e.Head = strings.TrimSuffix(e.Head, ".") + " “" + x.Asks + "”"
			}
			e.Says = append(e.Says, x.Says(p.Currency))
			for _, t := range x.Together {
				if s := t.Says(p.Currency); !contains(said, s) {
					said = append(said, s)
				}
			}
			e.More = append(e.More, x.known()...)
		}
		e.Says = append(e.Says, said...)
		out = append(out, e)
	}
	return out
}

// known is who will know, and what was said about it.
func (p Point) known() (out []string) {
	if p.Ask != "" {
		out = append(out, "Who will know: "+p.Ask+".")
	}
	if p.Words != "" {
		out = append(out, "“"+p.Words+"”")
	}
	return out
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// IdleLines are the points on which nothing hangs, a line for each.
func (p *Points) IdleLines(name func(room string) string) []string {
	var out []string
	for _, x := range p.Idle {
		line := english.Upper(x.Asks)
		if x.Room != "" {
			line = name(x.Room) + ": " + x.Asks
		}
		out = append(out, strings.TrimRight(line, ".?")+".")
	}
	return out
}

// Basis says what the figures are measured against and what was looked at, so that nobody takes them for more.
func (p *Points) Basis() []string {
	first := fmt.Sprintf("Against the plan as it is, %s with tax and at the bill's prices, which takes what nobody knows for the worst that is usual.", p.Total.In(p.Currency))
	tried := "Each answer was planned by itself, and every two answers of points that touch; not three at once."
	if p.Tried.Skip > 0 {
		tried += fmt.Sprintf(" Of the pairs in different boxes %d were left out.", p.Tried.Skip)
	}
	if p.Tried.Routes {
		tried += " In a home of this size each answer keeps to the routes for radio of the plan as it is; with others it may cost less."
	}
	if !p.Proved {
		tried += " The promises were not looked at."
	}
	return []string{first, tried}
}

// Cautions are the kinds of caution that go with looking.
func (p *Points) Cautions() map[string]bool {
	kinds := map[string]bool{}
	for _, l := range p.Looks {
		if k := l.Caution(); k != "" {
			kinds[k] = true
		}
	}
	return kinds
}

// Text is the list for people, width columns wide.
func (p *Points) Text(project *model.Project, width int) string {
	var b strings.Builder
	put := func(lead, text string) {
		for i, l := range wrap(text, width-len([]rune(lead))) {
			if i > 0 {
				lead = strings.Repeat(" ", len([]rune(lead)))
			}
			fmt.Fprintln(&b, strings.TrimRight(lead+l, " "))
		}
	}
	name := func(id string) string { r, _ := project.Room(id); return r.Title() }
	if len(p.Looks)+len(p.Idle)+len(p.Left) == 0 {
		return "Nothing is open: every fact is known, and no question is parked.\n"
	}
	if len(p.Looks) > 0 {
		fmt.Fprintln(&b, Head)
	}
	for _, e := range p.Entries(name) {
		fmt.Fprintln(&b)
		put("  ", e.Head)
		for _, s := range e.Says {
			put("    - ", s)
		}
		for _, s := range e.More {
			put("      ", s)
		}
	}
	if len(p.Idle) > 0 {
		if len(p.Looks) > 0 {
			fmt.Fprintln(&b)
		}
		fmt.Fprint(&b, "Nothing hangs on these\n\n")
		for _, s := range p.IdleLines(name) {
			put("  - ", s)
		}
	}
	fmt.Fprintln(&b)
	for _, s := range p.Basis() {
		put("", s)
	}
	for _, k := range caution.Kinds {
		if p.Cautions()[k] {
			fmt.Fprintln(&b)
			put("", "Caution: "+caution.Text(k))
		}
	}
	return b.String()
}

// wrap cuts a text into lines of so many cells at most.
func wrap(text string, width int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case len([]rune(line))+1+len([]rune(w)) <= max(width, 20):
			line += " " + w
		default:
			out = append(out, line)
			line = w
		}
	}
	return append(out, line)
}
