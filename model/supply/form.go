package supply

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"example.org/roombrief/model"
)

// SupplierOf is whose list a file is taken to be where nobody says: its name without the ending.
func SupplierOf(path string) string {
	return strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
}

// Form says how a list was read, a line for each thing with what it was taken for, so that a wrong guess is seen. The list came from a
// path and was read with some options on a day.
func (im *Import) Form(path string, o Options, today model.Date) (lines [][2]string) {
	say := func(what, text string) { lines = append(lines, [2]string{what, text}) }
	how := func(told bool, other string) string {
		if told {
			return ", as you said"
		}
		return ", " + other
	}
	named := func(role string) bool {
		return slices.ContainsFunc(im.Columns, func(c Column) bool { return c.Role == role })
	}
	if im.Encoding != "" {
		say("encoding", im.Encoding+how(o.Encoding != "", "guessed"))
	}
	if im.Delimiter != 0 {
		say("fields", "set apart by "+map[rune]string{';': "semicolons", ',': "commas", '\t': "tabs", '|': "bars"}[im.Delimiter]+how(o.Delimiter != 0, "guessed"))
	}
	if im.Decimal != 0 {
		shown := "as the prices show"
		if !im.DecimalTold {
			shown = "as nothing in the list shows"
		}
		say("decimals", "after a "+map[rune]string{'.': "point", ',': "comma"}[im.Decimal]+how(o.Decimal != 0, shown))
	}
	if im.HeadLine > 0 {
		say("heads", fmt.Sprintf("in line %d", im.HeadLine))
	}
	for _, c := range im.Columns {
		text := fmt.Sprintf("column %d", c.Number)
		if c.Head != "" {
			text += fmt.Sprintf(", %q", c.Head)
		}
		if c.Told {
			text += ", as you said"
		}
		say(c.Role, text)
	}
	if len(im.Unread) > 0 {
		var other []string
		for _, c := range im.Unread {
			other = append(other, fmt.Sprintf("column %d, %q", c.Number, c.Head))
		}
		if n := len(other) - 6; n > 1 {
			other = append(other[:6], fmt.Sprintf("and %d more", n))
		}
		say("not read", strings.Join(other, "; "))
	}
	if im.Currency != "" && !named("currency") {
		say("currency", im.Currency)
	}
	if im.Supplier != "" && !named("supplier") {
		say("supplier", im.Supplier+how(im.Supplier != SupplierOf(path), "from the name of the file"))
	}
	if im.Decimal != 0 && !named("dated") {
		say("prices of", o.Dated.Format(day)+how(o.Dated.Format(day) != today.Format(day), "today"))
	}
	return lines
}

// Says is how a line came to its part, or how likely it is for it, and what it was converted from.
func (r Row) Says() string {
	out := r.How
	if out == "" {
		out = "perhaps"
		if r.Guess.Sure {
			out = "likely"
		}
		if r.Guess.Second != "" && !r.Guess.Sure {
			out += ", or " + r.Guess.Second
		}
	}
	if r.Was != "" {
		out += "; " + r.Was
	}
	return out
}

// Whole reports whether something is wrong with the list as a whole, and not with a line of it.
func (im *Import) Whole() bool {
	return slices.ContainsFunc(im.Wrong, func(p Problem) bool { return p.Line == 0 })
}

// Likely counts the guesses that are sure enough to be confirmed together.
func (im *Import) Likely() (n int) {
	for _, r := range im.Guessed {
		if r.Guess.Sure {
			n++
		}
	}
	return n
}
