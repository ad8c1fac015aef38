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

// drawChart sets the causes against what they move: the columns from p.col on that find room beside the
// words. Their names and letters stay in place while the rules scroll.
func (p *Page) drawChart() {
	c := rules.ChartOf(p.sheet(), p.snap.Room)
	b := board{page: p, chart: c, width: p.leaf.Inner()}
	widths := b.widths()
	p.cols = len(c.Columns)
	p.col = min(p.col, max(p.cols-1, 0))
	to := b.fits(p.col, widths)
	for to == p.cols && p.col > 0 && b.fits(p.col-1, widths) == p.cols {
		p.col-- // no empty space at the right end
	}
	p.seen = to - p.col
	more := ""
	if p.seen < p.cols {
		more = fmt.Sprintf(", columns %s to %s of %s", letters(p.col), letters(to-1), letters(p.cols-1))
	}
	p.leaf.Head = append([]string{p.head(more), ""}, b.key(p.col, to)...)
	b.panel(p.col, to, widths)
	b.legend()
	p.leaf.SetRows(b.rows)
}

// fits is the end of the columns from one on that fit beside the words; at least one does.
func (b *board) fits(from int, widths []int) int {
	to, room := from, b.width-numbered-min(leastWords, b.width/2)
	for to < len(widths) && (to == from || room >= widths[to]+2) {
		room -= widths[to] + 2
		to++
	}
	return to
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
func (b *board) key(from, to int) []string {
	widest, t := 0, b.page.leaf.Theme
	for _, c := range b.chart.Columns[from:to] {
		widest = max(widest, layout.Width(c.Name))
	}
	cell := widest + 6
	each := max(b.width/cell, 1)
	var out []string
	for i := from; i < to; i += each {
		line := "  "
		for j := i; j < min(i+each, to); j++ {
			line += t.Strong.Render(draw.Right(letters(j), 2, "")) + "  " + layout.Fit(b.chart.Columns[j].Name, max(cell-4, 1), t.Glyphs.More)
		}
		out = append(out, line)
	}
	return out
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

// panel draws columns [from, to) against all causes, their letters in the head.
func (b *board) panel(from, to int, widths []int) {
	t := b.page.leaf.Theme
	words, head := b.width-numbered, ""
	for i := from; i < to; i++ {
		words -= widths[i] + 2
		head += "  " + draw.Right(letters(i), widths[i], "")
	}
	words = max(words, 8)
	b.page.leaf.Head = append(b.page.leaf.Head,
		draw.Spaces(2+numbered+words)+t.Strong.Render(head),
		"  "+t.Hair.Render(strings.Repeat(t.Glyphs.Hair, b.width)))
	w, mine := rules.NewWording(b.page.sheet()), b.page.mine()
	for n, r := range b.chart.Rows {
		cause := draw.Wrap(r.Cause, words)
		if len(cause) == 0 {
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
