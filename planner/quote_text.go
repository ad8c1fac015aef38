package planner

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/readback"
	"example.org/roombrief/planner/bill"
)

// GoalWord is a goal as a household calls it, when its brief is read back and when it is priced.
func GoalWord(goal string) string { return readback.GoalWord(goal) }

// SharedName is the row of what no single room has.
const SharedName = "For all rooms together"

// OptionsNote says what the differences of the options are, and are not.
const OptionsNote = "Each difference is with tax, and comes from planning the whole home anew with only that otherwise. Two together may save more or less than both by themselves. Goals that would save nothing are not listed."

// Words of an option, against the bill of the quote; name gives a room's.
func (o Option) Words(name func(room string) string, b bill.Bill) string {
	switch {
	case o.Kind == LeaveRoom:
		return name(o.Room) + ", all of it"
	case o.Kind == LeaveGoal:
		return name(o.Room) + ", only its " + GoalWord(o.Goal)
	case o.Aim == bill.Upkeep:
		return fmt.Sprintf("The least upkeep: %s a year instead of %s", bill.Work(o.Upkeep.Seconds), bill.Work(b.Upkeep.Seconds))
	case o.Aim == bill.Resilience:
		return fmt.Sprintf("The least lost when something fails: of %d needs %s without the internet, %s without the Wi-Fi network, %s without a controller",
			o.Losses.Of, against(o.Losses.Internet, b.Losses.Internet), against(o.Losses.Network, b.Losses.Network), against(o.Losses.Controller, b.Losses.Controller))
	}
	return "The least money"
}

func against(is, was int) string {
	if is == was {
		return fmt.Sprint(is)
	}
	return fmt.Sprintf("%d instead of %d", is, was)
}

// Shown reports whether a household should see the option: leaving a goal out that saves nothing is none, as where its button is needed
// for another goal too.
func (o Option) Shown() bool { return o.Kind != LeaveGoal || o.More < 0 }

// Difference is what an option does to the price, with its sign.
func (o Option) Difference() string {
	switch {
	case o.More > 0:
		return "+" + o.More.Plain()
	case o.More < 0:
		return "−" + (-o.More).Plain()
	}
	return "0.00"
}

// Text is the quote for people, width columns wide, on a day.
func (q Quote) Text(b bill.Bill, width int, name func(room string) string, today model.Date) string {
	t := &quoteText{width: min(max(width, 40), 100)}
	t.money = len(q.Total.Plain()) + 1
	for _, r := range q.Rooms {
		left := SharedName
		if r.Room != "" {
			left = name(r.Room)
			var words []string
			for _, g := range r.Goals {
				words = append(words, GoalWord(g))
			}
			if len(words) > 0 {
				left += ": " + strings.Join(words, ", ")
			}
		}
		t.row(left, r.Amount.Plain(), ".")
	}
	if len(q.Rooms) == 0 {
		t.line("Nothing to quote: no brief asks for anything yet.")
		return t.out.String()
	}
	t.line("")
	t.row("Parts and work", q.Net.Plain(), " ")
	t.row("Tax, "+bill.Percent(b.Terms.Tax), q.Tax.Plain(), " ")
	t.row("Total in "+q.Currency, q.Total.Plain(), " ")
	t.line("")
	t.para("Work of " + bill.Hours(b.Minutes) + " is in it." + saved(b) + " " + bill.PriceNote(b, today))
	t.options(q, b, name)
	if len(b.Unmet) > 0 {
		t.line("")
		t.para(unserved(len(b.Unmet)))
	}
	if len(b.Assumed) > 0 {
		t.line("")
		t.line("Taken for granted, so that the price may still change")
		for _, a := range b.Assumed {
			t.para("· " + a.Text)
		}
	}
	return t.out.String()
}

func (t *quoteText) options(q Quote, b bill.Bill, name func(string) string) {
	for _, part := range []struct{ head, kind string }{{"What you may leave out", LeaveRoom}, {"What you may have otherwise", OtherAim}} {
		first := true
		for _, o := range q.Options {
			if (o.Kind == OtherAim) != (part.kind == OtherAim) || !o.Shown() {
				continue
			}
			if first {
				t.line("")
				t.line(part.head)
				first = false
			}
			left := "  " + o.Words(name, b)
			if o.Kind == LeaveGoal {
				left = "    only its " + GoalWord(o.Goal)
			}
			t.row(left, o.Difference(), ".")
		}
	}
	if len(q.Options) > 0 {
		t.line("")
		t.para(OptionsNote)
	}
}

// saved says what the parts that are there already take off.
func saved(b bill.Bill) string {
	if b.Saved == 0 {
		return ""
	}
	return " What is there already is used, and takes " + b.Saved.In(b.Currency) + " off."
}

func unserved(n int) string {
	if n == 1 {
		return "One thing that was asked for is not served as asked; the bill says which and what to do."
	}
	return fmt.Sprintf("%d things that were asked for are not served as asked; the bill says which and what to do.", n)
}

type quoteText struct {
	out          strings.Builder
	width, money int
}

func (t *quoteText) line(s string) { t.out.WriteString(strings.TrimRight(s, " ") + "\n") }

// row wraps words at the left and puts an amount behind their last line.
func (t *quoteText) row(left, amount, fill string) {
	indent := left[:len(left)-len(strings.TrimLeft(left, " "))]
	lines := wrapped(left, indent, indent+"  ", t.width-t.money-2)
	for _, l := range lines[:len(lines)-1] {
		t.line(l)
	}
	last := lines[len(lines)-1]
	gap := t.width - t.money - len([]rune(last)) - 2
	t.line(last + " " + strings.Repeat(fill, max(gap, 0)) + " " + strings.Repeat(" ", max(t.money-len([]rune(amount)), 0)) + amount)
}

func (t *quoteText) para(s string) {
	hang := ""
	if strings.HasPrefix(s, "· ") {
		hang = "  "
	}
	for _, l := range wrapped(s, "", hang, t.width) {
		t.line(l)
	}
}

// wrapped breaks words into lines, the first behind indent and the others behind hang.
func wrapped(s, indent, hang string, width int) (lines []string) {
	row := ""
	for _, w := range strings.Fields(s) {
		switch {
		case row == "":
			row = indent + w
		case len([]rune(row))+1+len([]rune(w)) > width:
			lines = append(lines, row)
			row = hang + w
		default:
			row += " " + w
		}
	}
	return append(lines, row)
}
