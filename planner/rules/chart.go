package rules

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Chart is the cause-and-effect chart of one room: a row for each rule, a column for each thing, wait or
// message that the rules move, and a mark where they meet.
type Chart struct {
	Room    string
	Columns []Column
	Rows    []Row
	Legend  []string // what the marks mean: one phrase for each sort of mark that the chart uses
}

// Column of a chart.
type Column struct {
	ID   string // thing or wait; "" is the column of messages
	Name string
}

// Row of a chart. Cells has one mark for each column, "" where the rule leaves it alone.
type Row struct {
	Rule  string
	Cause string
	Guard string
	Cells []string
}

// Marks, in the order of the legend.
var legends = []struct{ name, text string }{
	{"level", "40 = lamps to 40 %"},
	{"on", "+ = on, shut (a valve) or noted"},
	{"off", "- = off or forgotten"},
	{"restart", "6m = a wait starts, again from now"},
	{"longer", "6m> = a wait starts, never cutting it short"},
	{"keep", "6m= = a wait starts unless it runs"},
	{"stack", "6m& = a wait starts, or gets longer by that"},
	{"stop", "x = a wait stops"},
	{"tell", "! = people are told"},
}

// ChartOf draws the chart of the rules of one room; room "" is the home as a whole.
func ChartOf(sheet Sheet, room string) Chart {
	var ours []Rule
	for i := range sheet.Rules {
		if sheet.Rules[i].Room == room {
			ours = append(ours, sheet.Rules[i])
		}
	}
	w := wordingOf(sheet, ours...)
	c := Chart{Room: room}
	at := map[string]int{}
	column := func(id, name string) int {
		i, ok := at[id]
		if !ok {
			i = len(c.Columns)
			at[id] = i
			c.Columns = append(c.Columns, Column{ID: id, Name: name})
		}
		return i
	}
	used := map[string]bool{}
	for _, r := range ours {
		said := w.Rule(r)
		row := Row{Rule: r.ID, Cause: said.Cause, Guard: said.Guard}
		for _, e := range r.Effects {
			id, name := w.moved(e)
			i := column(id, name)
			for len(row.Cells) <= i {
				row.Cells = append(row.Cells, "")
			}
			mark, sort := w.mark(e, r.Again)
			row.Cells[i] = mark
			used[sort] = true
		}
		c.Rows = append(c.Rows, row)
	}
	for i := range c.Rows {
		c.Rows[i].Cells = append(c.Rows[i].Cells, make([]string, len(c.Columns)-len(c.Rows[i].Cells))...)
	}
	for _, l := range legends {
		if used[l.name] {
			c.Legend = append(c.Legend, l.text)
		}
	}
	return c
}

func (w Wording) moved(e Effect) (id, name string) {
	switch e.Kind {
	case Set:
		return e.Thing, w.thing(e.Thing).Name
	case Tell:
		return "", "people told"
	}
	return e.Wait, "wait " + waitName(e.Wait)
}

func (w Wording) mark(e Effect, again Again) (mark, sort string) {
	switch e.Kind {
	case Tell:
		return "!", "tell"
	case Stop:
		return "x", "stop"
	case Start:
		switch again {
		case Longer:
			return span(e.For) + ">", "longer"
		case Keep:
			return span(e.For) + "=", "keep"
		case Stack:
			return span(e.For) + "&", "stack"
		}
		return span(e.For), "restart"
	}
	if !e.Value.On {
		return "-", "off"
	}
	if w.thing(e.Thing).Kind == Lamp {
		return fmt.Sprint(e.Value.Level), "level"
	}
	return "+", "on"
}

const (
	leastLabel = 24 // cells of width that the words of a row need to be readable
	rowNumber  = 4
)

// Text draws the chart in width cells (at least 40), of ASCII characters only where names are. Columns
// that don't fit beside the words go into further panels below, under the same row numbers.
func (c Chart) Text(width int) string {
	if len(c.Rows) == 0 {
		return ""
	}
	width = max(width, 40)
	var b strings.Builder
	for i, col := range c.Columns {
		fmt.Fprintf(&b, "%2s  %s\n", letters(i), col.Name)
	}
	widths := c.cellWidths()
	for from := 0; from < len(c.Columns); {
		to, room := from, width-rowNumber-leastLabel
		for to < len(c.Columns) && (to == from || room >= widths[to]+1) {
			room -= widths[to] + 1
			to++
		}
		b.WriteByte('\n')
		c.panel(&b, width, from, to, widths)
		from = to
	}
	b.WriteByte('\n')
	for _, l := range c.Legend {
		fmt.Fprintf(&b, "%s\n", l)
	}
	return strings.TrimRight(b.String(), "\n")
}

// panel draws columns [from, to). Only the first panel repeats the words in full.
func (c Chart) panel(b *strings.Builder, width, from, to int, widths []int) {
	label := width - rowNumber
	for i := from; i < to; i++ {
		label -= widths[i] + 1
	}
	fmt.Fprintf(b, "%s", strings.Repeat(" ", rowNumber+label))
	for i := from; i < to; i++ {
		fmt.Fprintf(b, " %*s", widths[i], letters(i))
	}
	fmt.Fprintf(b, "\n%s\n", strings.Repeat("-", width))
	for n, r := range c.Rows {
		words := r.Cause
		if r.Guard != "" && from == 0 {
			words += ", " + r.Guard
		}
		lines := wrapWords(words, label-1)
		if from > 0 {
			lines = lines[:1]
		}
		for i, line := range lines {
			if i > 0 {
				fmt.Fprintf(b, "%s%s\n", strings.Repeat(" ", rowNumber), line)
				continue
			}
			row := fmt.Sprintf("%3d %s", n+1, pad(line, label))
			for j := from; j < to; j++ {
				row += " " + strings.Repeat(" ", widths[j]-utf8.RuneCountInString(r.Cells[j])) + r.Cells[j]
			}
			fmt.Fprintf(b, "%s\n", strings.TrimRight(row, " "))
		}
	}
}

func (c Chart) cellWidths() []int {
	widths := make([]int, len(c.Columns))
	for i := range widths {
		widths[i] = len(letters(i))
		for _, r := range c.Rows {
			widths[i] = max(widths[i], utf8.RuneCountInString(r.Cells[i]))
		}
	}
	return widths
}

// letters names columns A to Z, then AA, AB…
func letters(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letters(i/26-1) + string(rune('A'+i%26))
}

func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}

// wrapWords breaks at spaces, and inside words that are wider than a line.
func wrapWords(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		for utf8.RuneCountInString(word) > width {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			rs := []rune(word)
			lines, word = append(lines, string(rs[:width])), string(rs[width:])
		}
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}
