package bill

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/caution"
	"example.org/roombrief/model/english"
	q "example.org/roombrief/model/quantity"
)

// Plain is money as digits, 1234.50, without its currency.
func (m Money) Plain() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

// In is money with its currency: 1234.50 GBP.
func (m Money) In(currency string) string { return m.Plain() + " " + currency }

// Least and most columns of the text: below, words wrap badly; above, the eye loses the line.
const (
	narrowest = 40
	widest    = 110
)

// Text is the bill as a table for people, width columns wide: a block for each room, amounts aligned on
// their decimals, then totals, what is unmet, what was assumed, and the cautions that go with the parts.
// name gives the printed name of a room id; nil takes the bill's own.
func Text(b Bill, width int, name func(room string) string) string {
	return TextOn(b, width, name, model.Date{})
}

// TextOn is Text on a day, with the age of the prices.
func TextOn(b Bill, width int, name func(room string) string, today model.Date) string {
	t := &text{b: b, today: today, width: min(max(width, narrowest), widest), name: name}
	t.money = len(b.Total.Plain())
	for _, r := range b.Rooms {
		t.room(r)
	}
	if len(b.Lines) == 0 {
		t.line("Nothing to buy: no brief asks for anything yet.")
		t.line("")
	}
	t.totals()
	t.year()
	t.findings()
	t.cautions()
	return t.out.String()
}

type text struct {
	out   strings.Builder
	b     Bill
	width int
	money int // columns of an amount
	today model.Date
	name  func(room string) string
}

func (t *text) line(s string) { t.out.WriteString(strings.TrimRight(s, " ") + "\n") }

// sum writes words at the left and an amount at the right.
func (t *text) sum(left string, m Money, fill string) {
	room := t.width - t.money - 1
	left = clip(left, room-1)
	t.line(left + " " + strings.Repeat(fill, max(room-len([]rune(left))-1, 0)) + " " + pad(m.Plain(), t.money))
}

// room writes one room's lines, each with its reason under it.
func (t *text) room(r Total) {
	title := "For the home"
	if r.Room != "" {
		title = r.Name
		if t.name != nil {
			title = t.name(r.Room)
		}
	}
	t.sum(title, r.Amount, " ")
	for _, l := range t.b.Lines {
		if l.Room != r.Room {
			continue
		}
		t.sum(fmt.Sprintf("  %3d x %s", l.Quantity, l.Name), l.Amount, ".")
		why := l.Reason
		if l.RunnerUp != "" {
			why += " " + NextBest(l, t.b.Currency)
		}
		if l.Supplier != "" {
			why += " Price of " + l.Supplier + ", " + l.Priced + Age(l.Priced, t.today) + "."
		}
		t.wrapped(why, "        ")
	}
	t.line("")
}

// NextBest says what the next best part of a line is, what it would cost more, and what would make it win.
func NextBest(l Line, currency string) string {
	less := ""
	if l.RunnerWins > 0 {
		less = "; it wins once one costs " + l.RunnerWins.In(currency) + " less"
	}
	return "Next best: " + english.Lower(l.RunnerName) + ", " + more(l, currency) + less + "."
}

func more(l Line, currency string) string {
	var diffs []string
	add := func(differs int, unit func(int) string) {
		switch {
		case differs > 0:
			diffs = append(diffs, unit(differs)+" more")
		case differs < 0:
			diffs = append(diffs, unit(-differs)+" less")
		}
	}
	add(int(l.RunnerAt), func(n int) string { return Money(n).In(currency) })
	add(l.RunnerUpkeep, func(n int) string { return Work(n) + " of upkeep a year" })
	add(l.RunnerLosses, func(n int) string { return english.Plural(n, "need") + " lost" })
	if len(diffs) == 0 {
		return "for the same money"
	}
	return english.List(diffs)
}

// Work is seconds of work for people, in minutes rounded up.
func Work(seconds int) string { return Hours((seconds + 59) / 60) }

func (t *text) totals() {
	b := t.b
	parts := "Parts"
	if b.Saved > 0 {
		parts = "Parts, less " + b.Saved.Plain() + " of what is there already"
	}
	t.sum(parts, b.Parts, " ")
	t.sum(fmt.Sprintf("Labour, %s at %s an hour", Hours(b.Minutes), b.Terms.Labour.In(b.Currency)), b.Labour, " ")
	t.sum("Tax, "+Percent(b.Terms.Tax), b.Tax, " ")
	t.sum("Total in "+b.Currency, b.Total, " ")
	t.line("")
	said := PriceNote(b, t.today)
	if b.Terms.Markup > 0 {
		said += " Parts include a markup of " + Percent(b.Terms.Markup) + "."
	}
	t.wrapped(strings.TrimSpace(said+" "+Rounding), "")
	t.line("")
	t.wrapped(b.Says()+" "+b.Upkeep.Says()+" "+b.Losses.Says(), "")
}

// Rounding says what the amounts of a bill are and where they are rounded.
const Rounding = "Amounts are before tax, parts and work together. Rounded, halves up, are the price of one part, the work on one, and the tax once."

// Percent is a percentage for people: 20 %.
func Percent(p float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", p), "0"), ".") + " %"
}

// Hours is a working time for people: 12 h 36 min.
func Hours(minutes int) string {
	switch h, m := minutes/60, minutes%60; {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	default:
		return fmt.Sprintf("%d h %d min", h, m)
	}
}

func (t *text) findings() {
	if len(t.b.Unmet) > 0 {
		t.line("")
		t.line("Not as asked")
	}
	for _, u := range t.b.Unmet {
		got := "nothing"
		if u.Got != "" {
			got = "what " + u.Got
		}
		t.wrapped(fmt.Sprintf("%s: asked for what %s, got %s. %s %s", u.Need, u.Asked, got, u.Reason, u.Remedy), "  ")
	}
	if len(t.b.Assumed) > 0 {
		t.line("")
		t.line("Taken for granted until somebody looks and notes it")
	}
	for _, a := range t.b.Assumed {
		t.wrapped(a.Text, "  ")
	}
}

func (t *text) cautions() {
	has := map[string]bool{}
	for _, l := range t.b.Lines {
		has[l.Caution] = true
	}
	first := true
	for _, k := range caution.Kinds {
		if !has[k] {
			continue
		}
		if first {
			t.line("")
			t.line("Cautions")
			first = false
		}
		t.wrapped(caution.Text(k), "  ")
	}
}

// wrapped writes a paragraph between the indent and the width.
func (t *text) wrapped(s, indent string) {
	row := ""
	for _, word := range strings.Split(q.Together(s), " ") {
		word = q.Apart(word)
		switch {
		case row == "":
			row = indent + word
		case len([]rune(row))+1+len([]rune(word)) > t.width:
			t.line(row)
			row = indent + word
		default:
			row += " " + word
		}
	}
	if row != "" {
		t.line(row)
	}
}

func pad(s string, n int) string { return strings.Repeat(" ", max(n-len(s), 0)) + s }

func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-3]) + "..."
	}
	return s
}
