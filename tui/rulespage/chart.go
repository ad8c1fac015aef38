package rulespage

import (
	"fmt"
	"strings"

	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
)

const (
	numbered   = 5  // cells of a rule's number
	leastWords = 34 // cells that the cause needs to be readable; half of a narrow page
)

// drawChart sets the causes against what they move. Columns that find no room go into further panels
// below, under the same numbers.
func (p *Page) drawChart() {
	c := rules.ChartOf(p.snap.Plan.Sheet, p.snap.Room)
	b := board{page: p, chart: c, width: p.leaf.Inner()}
	b.key()
	widths := b.widths()
	for from := 0; from < len(c.Columns); {
		to, room := from, b.width-numbered-min(leastWords, b.width/2)
		for to < len(c.Columns) && (to == from || room >= widths[to]+2) {
			room -= widths[to] + 2
			to++
		}
		b.panel(from, to, widths)
		from = to
	}
	b.legend()
	p.leaf.SetRows(b.rows)
}

// board is a chart being drawn.
type board struct {
	page  *Page
	chart rules.Chart
	width int
	rows  []draw.Row
	items int
}

func (b *board) plain(text string) { b.rows = append(b.rows, draw.Row{Text: text, Item: -1}) }

// key says what the letters over the columns are, as many a line as fit evenly.
func (b *board) key() {
	b.plain("")
	widest := 0
	for _, c := range b.chart.Columns {
		widest = max(widest, layout.Width(c.Name))
	}
	cell := widest + 6
	each := max(b.width/cell, 1)
	for i := 0; i < len(b.chart.Columns); i += each {
		line := ""
		for j := i; j < min(i+each, len(b.chart.Columns)); j++ {
			name := b.chart.Columns[j].Name
			line += b.page.leaf.Theme.Strong.Render(draw.Right(letters(j), 2, "")) + "  " + layout.Fit(name, max(cell-4, 1), b.page.leaf.Theme.Glyphs.More)
		}
		b.plain(line)
	}
}

func (b *board) widths() []int {
	out := make([]int, len(b.chart.Columns))
	for i := range out {
		out[i] = layout.Width(letters(i))
		for _, r := range b.chart.Rows {
			out[i] = max(out[i], layout.Width(r.Cells[i]))
		}
	}
	return out
}

// panel draws columns [from, to) against all causes.
func (b *board) panel(from, to int, widths []int) {
	t := b.page.leaf.Theme
	words, head := b.width-numbered, ""
	for i := from; i < to; i++ {
		words -= widths[i] + 2
		head += "  " + draw.Right(letters(i), widths[i], "")
	}
	words = max(words, 8)
	b.plain("")
	b.plain(draw.Spaces(numbered+words) + t.Strong.Render(head))
	b.plain(t.Hair.Render(strings.Repeat(t.Glyphs.Hair, b.width)))
	w, mine := rules.NewWording(b.page.snap.Plan.Sheet), b.page.mine()
	for n, r := range b.chart.Rows {
		cause := draw.Wrap(r.Cause, words)
		if from > 0 || len(cause) == 0 {
			cause = []string{layout.Cut(r.Cause, words, t.Glyphs.More)}
		}
		text := draw.Right(fmt.Sprint(n+1), numbered-2, "") + "  " + layout.Fit(cause[0], words, t.Glyphs.More)
		for i := from; i < to; i++ {
			mark := r.Cells[i]
			if mark == "" {
				mark = t.Glyphs.Note
			}
			text += "  " + draw.Right(mark, widths[i], "")
		}
		b.rows = append(b.rows, draw.Row{Text: text, Item: b.items, Note: inFull(mine[n], w.Rule(mine[n]))})
		for _, s := range cause[1:] {
			b.rows = append(b.rows, draw.Row{Text: draw.Spaces(numbered) + s, Item: b.items})
		}
		b.items++
	}
}

// inFull is a rule for the margin.
func inFull(r rules.Rule, said rules.Worded) []string {
	out := []string{r.Purpose}
	if said.Guard != "" {
		out = append(out, "Guard: "+said.Guard+".")
	}
	out = append(out, "Effect: "+said.Effect+".")
	if said.Hold != "" {
		out = append(out, "Hold: "+said.Hold+".")
	}
	return out
}

func (b *board) legend() {
	b.plain("")
	for _, s := range b.chart.Legend {
		b.plain(b.page.leaf.Theme.Faint.Render(s))
	}
}

// letters names columns A to Z, then AA, AB…
func letters(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letters(i/26-1) + string(rune('A'+i%26))
}
