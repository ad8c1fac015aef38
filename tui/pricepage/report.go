package pricepage

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model/english"
	"example.org/roombrief/model/supply"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
)

// report is what a list came to: how it was read, what is wrong, what is guessed and what is taken.
func (p *Page) report() []draw.Row {
	k := p.snap.Prices
	if k == nil || k.Import == nil {
		return draw.Paragraph("No list is being looked over.", p.leaf.Inner())
	}
	w := &writer{page: p, width: p.leaf.Inner()}
	t := p.leaf.Theme
	state := fmt.Sprintf("%d taken, %d guessed, %d wrong", len(k.Import.Taken), len(k.Import.Guessed), len(k.Import.Wrong))
	if k.Busy {
		state = "working on it" + t.Glyphs.More
	}
	p.leaf.Head = []string{"  " + layout.Ends(t.Strong.Render(k.File), t.Faint.Render(state), w.width, t.Glyphs.More), ""}
	p.leaf.Aside = []string{"would be kept in " + k.Keep}
	if k.Fault != nil {
		w.words(t.Glyphs.Broken+" ", "Not kept: "+k.Fault.Error()+".")
	}
	w.form(k.Form)
	w.notes(k.Import.Notes)
	w.wrong(k.Import.Wrong)
	w.section(fmt.Sprintf("Guessed, and not taken (%d)", len(k.Import.Guessed)), k.Import.Guessed)
	w.section(fmt.Sprintf("Taken (%d)", len(k.Import.Taken)), k.Import.Taken)
	if n := k.Import.Others; n > 0 {
		w.blank()
		w.words("", english.Count(n, "line looks", "lines look")+" like nothing in the catalogue.")
	}
	return w.rows
}

type writer struct {
	page  *Page
	width int
	rows  []draw.Row
}

func (w *writer) blank() {
	if len(w.rows) > 0 {
		w.rows = append(w.rows, draw.Row{Item: -1})
	}
}

func (w *writer) heading(text string) {
	w.blank()
	w.rows = append(w.rows, draw.Row{Text: w.page.leaf.Theme.Strong.Render(text), Item: -1, Head: true})
}

func (w *writer) words(mark, text string) {
	for _, s := range draw.Hang(mark, text, w.width) {
		w.rows = append(w.rows, draw.Row{Text: s, Item: -1})
	}
}

// item is a line that the cursor can stand on.
func (w *writer) item(l supply.Row, note []string, lines ...string) {
	for _, s := range lines {
		w.rows = append(w.rows, draw.Row{Text: s, Item: len(w.page.lines), Note: note})
		note = nil
	}
	w.page.lines = append(w.page.lines, l)
}

// form is how the list was read. Its lines are the first items of the page.
func (w *writer) form(lines [][2]string) {
	if len(lines) == 0 {
		return
	}
	w.heading("How it was read")
	wide := 0
	for _, l := range lines {
		wide = max(wide, len(l[0]))
	}
	for _, l := range lines {
		w.item(supply.Row{}, []string{"Where this is wrong, e sets it right."},
			draw.Hang(fmt.Sprintf("%-*s  ", wide, l[0]), l[1], w.width)...)
	}
}

func (w *writer) notes(texts []string) {
	if len(texts) == 0 {
		return
	}
	w.blank()
	for _, s := range texts {
		w.words(w.page.leaf.Theme.Glyphs.Note+" ", s)
	}
}

// wrong is every problem by its line.
func (w *writer) wrong(all supply.Problems) {
	if len(all) == 0 {
		return
	}
	text := fmt.Sprintf("Wrong (%d): nothing is kept until these are put right, or left out with l", len(all))
	if w.page.snap.Prices.Import.Whole() {
		text = fmt.Sprintf("Wrong (%d): nothing is kept until this is put right with e", len(all))
	} else if w.page.less {
		text = fmt.Sprintf("Wrong (%d), and left out", len(all))
	}
	w.heading(text)
	if slices.ContainsFunc(all, func(x supply.Problem) bool { return strings.Contains(x.Says, "--") }) {
		w.words("", "What begins with -- is said after e, or as a flag of the command parts import.")
	}
	for _, x := range all {
		w.item(supply.Row{}, nil, draw.Hang(w.page.leaf.Theme.Glyphs.Broken+" ", english.Upper(x.Error())+".", w.width)...)
	}
}

// section is lines of the list, each with what it is taken for.
func (w *writer) section(heading string, rows []supply.Row) {
	if len(rows) == 0 {
		return
	}
	w.heading(heading)
	t := w.page.leaf.Theme
	money := 0
	for _, r := range rows {
		money = max(money, len(price(r)))
	}
	for _, r := range rows {
		left := strings.TrimSpace(r.Article + "  " + r.Name)
		first := layout.Fit(left, max(w.width-money-2, 8), t.Glyphs.More) + "  " + draw.Right(price(r), money, "")
		lines := append([]string{first}, draw.Hang("    ", r.Part+": "+r.Says(), w.width)...)
		w.item(r, w.note(r), lines...)
	}
}

func price(r supply.Row) string { return r.Price.Price.String() + " " + r.Currency }

// note says in the margin what the part is, and what a key does.
func (w *writer) note(r supply.Row) []string {
	out := []string{fmt.Sprintf("Line %d of the list.", r.Line)}
	if c := w.page.snap.Catalogue; c != nil {
		if part, ok := c.Part(r.Part); ok {
			out = append(out, part.Name+".")
		}
	}
	switch {
	case r.How == "" && r.Article != "":
		out = append(out, "y takes it for that.")
	case w.page.read.Map[r.Article] != "":
		out = append(out, "y gives it back.")
	}
	return out
}
