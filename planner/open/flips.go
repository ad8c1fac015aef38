package open

import (
	"slices"
	"strings"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/bill"
)

// LineMore is a line of the bill that grows or shrinks with an answer.
type LineMore struct {
	Room string // "" is the home
	Part string
	More int // less than 0 are left out
}

// lines are those of which the one bill has more or fewer than the other, in the order of the bills.
func lines(a, b bill.Bill) []LineMore {
	var out []LineMore
	at := map[[2]string]int{}
	count := func(bl bill.Bill, sign int) {
		for _, l := range bl.Lines {
			key := [2]string{l.Room, l.Part}
			i, ok := at[key]
			if !ok {
				i = len(out)
				at[key] = i
				out = append(out, LineMore{Room: l.Room, Part: l.Part})
			}
			out[i].More += sign * l.Quantity
		}
	}
	count(b, 1)
	count(a, -1)
	return slices.DeleteFunc(out, func(l LineMore) bool { return l.More == 0 })
}

// flipsSaid is how many unknowns are named for a line at most.
const flipsSaid = 2

// Flips says which unknowns would change a line of the bill once they are known: that by an answer to them some of its part give way
// to others. Those at which most is at stake come first. name gives the printed name of a room.
func (p *Points) Flips(l bill.Line, name func(room string) string) (out []string) {
	if p == nil {
		return nil
	}
	more := 0
	for _, look := range p.Looks {
		for _, x := range look.Points {
			i := slices.IndexFunc(x.Answers, func(a Answer) bool { return a.takes(l) })
			switch {
			case i < 0:
			case len(out) == flipsSaid:
				more++
			default:
				out = append(out, x.flip(look, x.Answers[i], l.Room, p.Currency, name))
			}
		}
	}
	if more > 0 {
		out = append(out, "So would "+english.Plural(more, "more unknown")+".")
	}
	return out
}

// takes reports whether an answer takes some of a line's part away.
func (a Answer) takes(l bill.Line) bool {
	return slices.ContainsFunc(a.Lines, func(m LineMore) bool { return m.Room == l.Room && m.Part == l.Part && m.More < 0 })
}

func (x Priced) flip(look Look, a Answer, room, currency string, name func(string) string) string {
	do := look.Words
	if !x.Fact {
		do += " “" + x.Asks + "”"
	}
	if look.Room != room && look.Room != "" {
		do = name(look.Room) + ", " + do
	}
	says := strings.TrimSuffix(english.Upper(a.Says(currency, false)), ".")
	if parts := a.PartsSaid(); parts != "" {
		says += ": " + parts
	}
	return "What isn't known may change this: " + do + ". " + says + "."
}
