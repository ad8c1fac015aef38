package billpage

import (
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/caution"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

const lead = 6 // cells of a line before its name: how many, and the mark of a caution

// writer makes the rows of a bill.
type writer struct {
	snap  page.Snapshot
	width int
	rows  []draw.Row
	goes  []page.Goto
	at    []int // lines of the bill, by item; -1 for other items
	head  []string
	money []string // aligned: each and amount of every line, subtotals, totals
}

func (w *writer) write() {
	if w.snap.Plan == nil {
		text := "The bill is being planned; it comes in a moment."
		if w.snap.PlanFault != nil {
			text = fmt.Sprintf("There is no bill: %v", w.snap.PlanFault)
		}
		w.blank()
		w.words("", text)
		return
	}
	b := w.snap.Plan.Bill
	w.unmet("Wanting", b)
	w.assumed("Taken for granted until somebody looks", b)
	w.findings("To settle before buying", true)
	if len(b.Lines) == 0 {
		w.findings("To know", false)
		w.heading("Nothing to buy yet")
		w.words("", "The bill fills as the rooms are interviewed. Press 1 for the rooms.")
		return
	}
	w.lines(b)
	w.totals(b)
	w.year(b.Year)
	w.findings("To know", false)
	w.cautions(b)
}

func (w *writer) blank() { w.rows = append(w.rows, draw.Row{Item: -1}) }

func (w *writer) heading(text string) {
	if len(w.rows) > 0 {
		w.blank()
	}
	w.rows = append(w.rows, draw.Row{Text: w.snap.Theme.Strong.Render(text), Item: -1, Head: true})
}

func (w *writer) words(mark, text string) {
	for _, s := range draw.Hang(mark, text, w.width) {
		w.rows = append(w.rows, draw.Row{Text: s, Item: -1})
	}
}

// item adds the rows of one thing that the cursor can stand on.
func (w *writer) item(to page.Goto, note []string, lines ...string) {
	for _, s := range lines {
		w.rows = append(w.rows, draw.Row{Text: s, Item: len(w.goes), Note: note})
		note = nil
	}
	w.goes, w.at = append(w.goes, to), append(w.at, -1)
}

// unmet comes first: what nothing on the shelf does here, and what to do about it.
func (w *writer) unmet(heading string, b bill.Bill) {
	if len(b.Unmet) == 0 {
		return
	}
	w.heading(heading)
	for _, u := range b.Unmet {
		text := w.needName(u.Need) + ": " + u.Asked + " is asked for, and nothing on the shelf does it here."
		if u.Got != "" {
			text = w.needName(u.Need) + ": " + u.Asked + " is asked for; " + u.Got + " is what it gets."
		}
		lines := draw.Hang(w.snap.Theme.Glyphs.Open+" ", text, w.width)
		if u.Remedy != "" {
			lines = append(lines, draw.Hang("  ", "What to do: "+u.Remedy, w.width)...)
		}
		w.item(w.sheetAt(u.Need), []string{u.Reason}, lines...)
	}
}

func (w *writer) assumed(heading string, b bill.Bill) {
	if len(b.Assumed) == 0 {
		return
	}
	w.heading(heading)
	for _, a := range b.Assumed {
		note := []string{"Not known: " + a.Asked + ". Planned as: " + a.As + "."}
		if x, ok := w.snap.Open.Of(strings.TrimPrefix(a.At, "rooms/")); ok {
			note = append(note, x.Says(w.snap.Open.Currency))
		}
		note = append(note, "Enter goes to the line where the answer belongs.")
		w.item(w.sheetAt(a.At), note, draw.Hang(w.snap.Theme.Glyphs.Note+" ", a.Text, w.width)...)
	}
}

// findings are what the planner has to say of the briefs and the facts.
func (w *writer) findings(heading string, serious bool) {
	first := true
	for _, f := range w.snap.Plan.Findings {
		if f.Serious != serious {
			continue
		}
		if first {
			w.heading(heading)
			first = false
		}
		mark := w.snap.Theme.Glyphs.Note
		if f.Serious {
			mark = w.snap.Theme.Glyphs.Open
		}
		to := w.sheetAt(f.At)
		if f.Room != "" {
			to.Room = f.Room
		}
		w.item(to, nil, draw.Hang(mark+" ", f.Text, w.width)...)
	}
}

func (w *writer) sheetAt(path string) page.Goto {
	room := draw.RoomOf(path)
	if room == "" {
		room = page.HomeItself
	}
	return page.Goto{Page: page.Sheet, Room: room, At: path}
}

func (w *writer) needName(id string) string {
	for _, n := range w.snap.Plan.Needs {
		if n.ID == id {
			return w.roomName(n.Room) + ", " + n.Name
		}
	}
	return id
}

func (w *writer) roomName(id string) string {
	if w.snap.Project != nil {
		if r, ok := w.snap.Project.Room(id); ok {
			return r.Title()
		}
	}
	if id == "" {
		return "The whole home"
	}
	return draw.Plain(id)
}

// lines writes the bill room by room, numbers aligned on their decimals.
func (w *writer) lines(b bill.Bill) {
	each, amount := w.columns(b)
	numbers := layout.Width(each[0]) + layout.Width(amount[0])
	work := 0
	for _, l := range b.Lines {
		work = max(work, layout.Width(workText(l.Minutes)))
	}
	if w.width-numbers-work-lead-6 < 16 { // a narrow page keeps the amounts and lets the work go
		work = 0
	}
	name := max(w.width-lead-numbers-work-6, 8)
	needs := map[string]string{}
	for _, n := range w.snap.Plan.Needs {
		needs[n.ID] = n.Name
	}
	t, room, totals := w.snap.Theme, "\x00", roomTotals(b)
	w.heads(b, layout.Width(each[0]), work, layout.Width(amount[0]))
	for i, l := range b.Lines {
		if l.Room != room {
			room = l.Room
			if len(w.rows) > 0 {
				w.blank()
			}
			sum := draw.Right(totals[room].Plain(), w.width-name-lead, "")
			w.rows = append(w.rows, draw.Row{Text: t.Strong.Render(layout.Fit(w.roomName(room), name+lead, t.Glyphs.More) + sum), Item: -1, Head: true})
		}
		mark := " "
		if l.Caution != "" {
			mark = "!"
		}
		names := layout.Wrap(l.Name, name)
		text := draw.Right(fmt.Sprint(l.Quantity), 3, t.Glyphs.More) + " " + mark + " " + layout.Fit(names[0], name, t.Glyphs.More) + "  " + each[i]
		if work > 0 {
			text += "  " + draw.Right(workText(l.Minutes), work, "")
		} else {
			text += "  "
		}
		to := page.Goto{}
		if l.Room != "" {
			to = page.Goto{Page: page.Sheet, Room: l.Room}
		}
		w.item(to, w.note(l, needs, b.Currency), append([]string{text + "  " + amount[i]}, layout.Indent(names[1:], lead)...)...)
		w.at[len(w.at)-1] = i
	}
}

// heads stay over the numbers of the lines, with how sure the prices are before them.
func (w *writer) heads(b bill.Bill, each, work, amount int) {
	right := draw.Right("each", each, "") + "  "
	if work > 0 {
		right += draw.Right("work", work, "") + "  "
	}
	right += draw.Right("amount", max(amount, 6), "")
	left := "Prices in " + b.Currency + " are " + w.sure(b)
	if word := draw.Planning(w.snap); word != "" {
		left = word
	}
	t := w.snap.Theme
	w.head = []string{"  " + t.Faint.Render(layout.Ends(left, right, w.width, t.Glyphs.More)), ""}
}

// sure says in a few words how sure the prices are.
func (w *writer) sure(b bill.Bill) string {
	own, all := 0, 0
	for _, s := range bill.Sources(b) {
		all += s.Parts
		if s.Supplier != "" {
			own += s.Parts
		}
	}
	if own > 0 {
		return fmt.Sprintf("your own for %d of %d parts", own, all)
	}
	return "indicative, of " + b.Dated
}

func (w *writer) today() model.Date { return model.Date{Time: w.snap.Today} }

// columns are the prices of one and the amounts of all lines, each aligned.
func (w *writer) columns(b bill.Bill) (each, amount []string) {
	for _, l := range b.Lines {
		each = append(each, l.Each.Plain())
		amount = append(amount, l.Amount.Plain())
	}
	for _, m := range []bill.Money{b.Parts, b.Labour, b.Tax, b.Total} {
		amount = append(amount, m.Plain())
	}
	w.money = draw.Decimals(amount)
	return draw.Decimals(each), w.money
}

func workText(minutes int) string {
	if minutes == 0 {
		return ""
	}
	return fmt.Sprintf("%d min", minutes)
}

func roomTotals(b bill.Bill) map[string]bill.Money {
	out := map[string]bill.Money{}
	for _, l := range b.Lines {
		out[l.Room] += l.Amount
	}
	return out
}

// note is why this part and what would be next.
func (w *writer) note(l bill.Line, needs map[string]string, currency string) []string {
	var out []string
	if l.Reason != "" {
		out = append(out, l.Reason)
	} else {
		out = append(out, "Why this one, and what would be next best, is being worked out; it comes in a moment.")
	}
	if l.RunnerUp != "" {
		out = append(out, bill.NextBest(l, currency))
	}
	out = append(out, w.snap.Open.Flips(l, w.roomName)...)
	if l.Supplier != "" {
		out = append(out, "Price of "+l.Supplier+", "+l.Priced+bill.Age(l.Priced, w.today())+".")
	}
	var serves []string
	for _, id := range l.Covers {
		if n := needs[id]; n != "" {
			serves = append(serves, n)
		}
	}
	if len(serves) > 0 {
		out = append(out, "For: "+strings.Join(serves, ", ")+".")
	}
	if l.Caution != "" {
		out = append(out, "! "+caution.Text(l.Caution))
	}
	return out
}

func (w *writer) totals(b bill.Bill) {
	t := w.snap.Theme
	work := q.Span(int64(b.Minutes) * 60e9).Show(w.snap.Units)
	sums := w.money[len(w.money)-4:]
	num := layout.Width(sums[0])
	w.blank()
	w.rows = append(w.rows, draw.Row{Text: draw.Spaces(w.width-num) + t.Hair.Render(strings.Repeat(t.Glyphs.Hair, num)), Item: -1})
	for i, what := range []string{
		fmt.Sprintf("Parts, with %s markup", percent(b.Terms.Markup)),
		fmt.Sprintf("Labour, %s at %s an hour", work, b.Terms.Labour.Plain()),
		fmt.Sprintf("Tax, %s", percent(b.Terms.Tax)),
		"Total in " + b.Currency,
	} {
		text := layout.Fit(what, max(w.width-num-2, 0), t.Glyphs.More) + "  " + sums[i]
		if i == 3 {
			text = t.Strong.Render(text)
		}
		w.rows = append(w.rows, draw.Row{Text: text, Item: -1})
	}
	w.blank()
	if b.Saved > 0 {
		w.words("", "What is there already would have cost "+b.Saved.In(b.Currency)+" more.")
	}
	w.words("", bill.PriceNote(b, w.today())+" "+bill.Rounding)
	w.blank()
	w.words("", b.Says()+" "+b.Upkeep.Says()+" "+b.Losses.Says())
}

func percent(v float64) string { return q.Percent(v).Show(q.Metric) }

// cautions prints each that the lines call for, once and in full.
func (w *writer) cautions(b bill.Bill) {
	has := map[string]bool{}
	for _, l := range b.Lines {
		has[l.Caution] = true
	}
	first := true
	for _, kind := range caution.Kinds {
		if !has[kind] {
			continue
		}
		if first {
			w.heading("Take care")
			first = false
		}
		w.words("! ", caution.Text(kind))
	}
}
