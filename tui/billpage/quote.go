package billpage

import (
	"fmt"
	"strings"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/readback"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/tui/draw"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// quote is a sheet that can be turned to the household: what each room comes to, and what it may leave out or have otherwise.
func (w *writer) quote() {
	b, t := w.snap.Plan.Bill, w.snap.Theme
	title := t.Strong.Render(w.home()) + t.Faint.Render(": parts and work together, in "+b.Currency)
	now := t.Strong.Render(b.Total.Plain()) + t.Faint.Render(" with tax")
	if word := draw.Planning(w.snap); word != "" {
		now = t.Faint.Render(word)
	}
	w.head = []string{"  " + layout.Ends(title, now, w.width, t.Glyphs.More), ""}
	sums := planner.SumUp(w.snap.Project, b)
	if len(sums.Rooms) == 0 {
		w.words("", "Nothing to quote: no brief asks for anything yet. Press 1 for the rooms.")
		return
	}
	name := 0
	for _, r := range sums.Rooms {
		name = max(name, layout.Width(w.quoted(r.Room)))
	}
	for _, r := range sums.Rooms {
		w.quoteRoom(r, min(name, w.width/3))
	}
	w.blank()
	w.amount("Parts and work", sums.Net.Plain(), t.Text.Render)
	w.amount("Tax, "+bill.Percent(b.Terms.Tax), sums.Tax.Plain(), t.Text.Render)
	w.amount("Total in "+b.Currency, sums.Total.Plain(), t.Strong.Render)
	w.blank()
	said := "Work of " + bill.Hours(b.Minutes) + " is in it. "
	if b.Saved > 0 {
		said += "What is there already is used, and takes " + b.Saved.In(b.Currency) + " off. "
	}
	w.words("", said+bill.PriceNote(b, w.today()))
	w.options()
	w.unmet("Not as asked", b)
	w.assumed("Taken for granted, so that the price may still change", b)
	w.cautions(b)
}

func (w *writer) home() string {
	if name := w.snap.Project.Home.Name; name != "" {
		return name
	}
	return "The home"
}

// amount is a row of words with money at its right end.
func (w *writer) amount(left, money string, ink func(...string) string) {
	w.rows = append(w.rows, draw.Row{Text: ink(layout.Ends(left, money, w.width, w.snap.Theme.Glyphs.More)), Item: -1})
}

// quoted is a room's name on the quote.
func (w *writer) quoted(room string) string {
	if room == "" {
		return planner.SharedName
	}
	return w.roomName(room)
}

// quoteRoom is what one room comes to, its name in so many cells, with what it then does by itself in the margin.
func (w *writer) quoteRoom(r planner.QuoteRoom, name int) {
	t := w.snap.Theme
	to, note := page.Goto{}, []string{"Controllers, spare cells, and what goes with them."}
	if r.Room != "" {
		to, note = page.Goto{Page: page.Sheet, Room: r.Room}, nil
		for _, s := range readback.Room(w.snap.Project, r.Room) {
			note = append(note, s.Text)
		}
	}
	var goals []string
	for _, g := range r.Goals {
		goals = append(goals, planner.GoalWord(g))
	}
	left := layout.Fit(w.quoted(r.Room), name, t.Glyphs.More) + "  " + t.Faint.Render(strings.Join(goals, ", "))
	w.item(to, note, layout.Ends(left, r.Amount.Plain(), w.width, t.Glyphs.More))
}

// options are what the household may have otherwise, each planned.
func (w *writer) options() {
	q := w.snap.Quote
	switch {
	case q != nil && q.Fault != nil:
		w.heading("What you may leave out, or have otherwise")
		w.words("", fmt.Sprintf("It can't be planned: %v", q.Fault))
		return
	case q == nil || q.Busy && len(q.Result.Options) == 0:
		w.heading("What you may leave out, or have otherwise")
		w.words("", "Each is being planned; it comes in a moment.")
		return
	}
	w.someOptions("What you may leave out", func(o planner.Option) bool { return o.Kind != planner.OtherAim })
	w.someOptions("What you may have otherwise", func(o planner.Option) bool { return o.Kind == planner.OtherAim })
	w.blank()
	w.words("", planner.OptionsNote)
}

func (w *writer) someOptions(heading string, of func(planner.Option) bool) {
	first := true
	for i, o := range w.snap.Quote.Result.Options {
		if !of(o) || !o.Shown() {
			continue
		}
		if first {
			w.heading(heading)
			first = false
		}
		w.item(page.Goto{}, w.optionNote(o), w.optionLines(o)...)
		w.at[len(w.at)-1] = i
	}
}

// optionLines are the words of an option, its difference behind the last of them.
func (w *writer) optionLines(o planner.Option) []string {
	t := w.snap.Theme
	left, words := "", o.Words(w.roomName, w.snap.Plan.Bill)
	if o.Kind == planner.LeaveGoal {
		left, words = "  ", "only its "+planner.GoalWord(o.Goal)
	}
	more := o.Difference()
	if !t.Glyphs.Line {
		more = strings.ReplaceAll(more, "−", "-")
	}
	lines := draw.Hang(left, words, max(w.width-layout.Width(more)-2, 12))
	last := len(lines) - 1
	lines[last] = layout.Ends(lines[last], more, w.width, t.Glyphs.More)
	return lines
}

// optionNote is what the home comes to with an option, and how to have it.
func (w *writer) optionNote(o planner.Option) []string {
	out := []string{"The home then comes to " + o.Total.In(w.snap.Plan.Bill.Currency) + " with tax."}
	if o.Kind == planner.OtherAim {
		return append(out, o.Upkeep.Says()+" "+o.Losses.Says(), "Enter plans the home so; u takes that back.")
	}
	return append(out, "Enter leaves it out, with what was said of it; u takes that back.")
}

// option is the one under the cursor.
func (p *Page) option() (o planner.Option, ok bool) {
	at, q := p.leaf.At(), p.snap.Quote
	if p.view != quoting || q == nil || at < 0 || p.lines[at] < 0 || p.lines[at] >= len(q.Result.Options) {
		return o, false
	}
	return q.Result.Options[p.lines[at]], true
}

// have makes an option the home's.
func (p *Page) have(o planner.Option) page.Action {
	if p.snap.Planning || p.snap.Quote.Busy {
		return page.Say{Text: "The options are being planned anew; they come in a moment."}
	}
	name := func(id string) string { r, _ := p.snap.Project.Room(id); return r.Title() }
	then := func(what string) page.Say {
		return page.Say{Text: what + "; the home is planned anew. u takes it back."}
	}
	switch o.Kind {
	case planner.OtherAim:
		return page.Edit{Edits: aimed(o.Aim), Label: "another aim of the bill", Then: then("Chosen")}
	case planner.LeaveGoal:
		return page.Edit{Edits: []projectfile.Edit{declined(o.Room, o.Goal)}, Label: planner.GoalWord(o.Goal) + " of " + name(o.Room), Then: then("Left out")}
	}
	var edits []projectfile.Edit
	room, _ := p.snap.Project.Room(o.Room)
	for _, g := range planner.Wanted(&room.Brief) {
		edits = append(edits, declined(o.Room, g))
	}
	return page.Edit{Edits: edits, Label: "all of " + name(o.Room), Then: then("Left out")}
}

func declined(room, goal string) projectfile.Edit {
	return projectfile.Set("rooms/"+room+"/brief/"+goal, "none")
}
