package margin

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/bill"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/layout"
	"example.org/roombrief/tui/page"
)

// Line is what follows from the project in one line of w cells: the room in hand first, then the home. Where there is no room for
// all of it, words go first and then what is of least use on the way; what is open and what is broken stay.
func Line(s page.Snapshot, w int) string {
	if s.PlanFault != nil {
		return "No plan: " + s.PlanFault.Error()
	}
	if s.Plan == nil {
		return "Working out what this needs" + s.Theme.Glyphs.More
	}
	b := s.Plan.Bill
	devices, here, kept := "", "", promisedShort(tally(s, s.Room))
	if s.Room != "" && b.Total != 0 {
		here = "here nothing yet"
		if t, ok := roomTotal(b, s.Room); ok && t.Devices > 0 {
			devices, here = "here "+english.Count(t.Devices, "device", "devices")+" ", t.Amount.Plain()
		}
	}
	total, tax := "nothing to buy yet", ""
	if b.Total > 0 {
		total, tax = "home about "+b.Total.In(b.Currency), " with tax"
	}
	var rest []string
	if n := len(Points(s.Project, "")); n > 0 {
		rest = append(rest, fmt.Sprintf("%d open", n))
	}
	if n := len(b.Unmet); n > 0 {
		rest = append(rest, fmt.Sprintf("%d not to be had", n))
	}
	line := func(parts ...string) string {
		parts = slices.DeleteFunc(append(parts, rest...), func(p string) bool { return p == "" })
		return strings.Join(parts, " "+s.Theme.Glyphs.Note+" ")
	}
	short := here
	if devices != "" {
		short = "here " + here
	}
	var out string
	for _, out = range []string{line(devices+here, kept, total+tax), line(devices+here, kept, total), line(short, kept, total),
		line(kept, total), line(total)} {
		if layout.Width(out) <= w {
			break
		}
	}
	return out
}

func roomTotal(b bill.Bill, room string) (bill.Total, bool) {
	for _, t := range b.Rooms {
		if t.Room == room {
			return t, true
		}
	}
	return bill.Total{}, false
}

// Room is what follows from a room, as notes for a margin of w cells: cost, devices, what is not met, open
// points. An empty id is the home.
func Room(s page.Snapshot, room string, w, at int) []Note {
	if s.PlanFault != nil {
		return []Note{{At: at, Head: "No plan", Text: s.PlanFault.Error(), Alarm: true}}
	}
	if s.Plan == nil {
		return []Note{{At: at, Text: "Working out what this needs" + s.Theme.Glyphs.More}}
	}
	b := s.Plan.Bill
	notes := []Note{cost(s, room, at)}
	if n, ok := promised(s, room, at); ok {
		notes = append(notes, n)
	}
	if text := devices(s, b, room, w); text != "" {
		notes = append(notes, Note{At: at, Head: "Devices, in " + b.Currency, Text: text})
	}
	if text := unmet(s, room); text != "" {
		notes = append(notes, Note{At: at, Head: "Not to be had", Text: text})
	}
	if text := points(s, room, w); text != "" {
		notes = append(notes, Note{At: at, Head: "Open points", Text: text})
	}
	return notes
}

func cost(s page.Snapshot, room string, at int) Note {
	b := s.Plan.Bill
	if b.Total == 0 {
		return Note{At: at, Head: "What this comes to", Text: "Nothing to buy yet."}
	}
	all := "The home: " + b.Total.In(b.Currency) + " with tax. " + bill.PriceNote(b, model.Date{Time: s.Today})
	if room == "" {
		return Note{At: at, Head: "What this comes to", Text: all}
	}
	here := "Nothing to buy here yet."
	if t, ok := roomTotal(b, room); ok && t.Devices > 0 {
		here = fmt.Sprintf("This room: %s before tax, %s.", t.Amount.In(b.Currency),
			english.Count(t.Devices, "device", "devices"))
	}
	return Note{At: at, Head: "What this comes to", Text: here + "\n" + all}
}

// promised counts the promises of a room, or of the home, by their verdicts.
func promised(s page.Snapshot, room string, at int) (Note, bool) {
	t := tally(s, room)
	if t.All() == 0 {
		return Note{}, false
	}
	text := page.Said(t) + "."
	if x, _ := s.Proofs.Of(room); s.Proving && (room == "" || x.Stale) {
		text += " Proving" + s.Theme.Glyphs.More
	}
	return Note{At: at, Head: "Promises", Text: text, Alarm: t.Broken > 0}, true
}

func tally(s page.Snapshot, room string) page.Tally {
	if room == "" {
		return s.Proofs.Tally()
	}
	x, _ := s.Proofs.Of(room)
	return x.Tally()
}

// promisedShort is the same in a word or two: how many are broken, else how many are kept.
func promisedShort(t page.Tally) string {
	switch {
	case t.Broken > 0:
		return fmt.Sprintf("%d broken", t.Broken)
	case t.Kept > 0:
		return fmt.Sprintf("%d kept", t.Kept)
	}
	return ""
}

func devices(s page.Snapshot, b bill.Bill, room string, w int) string {
	var out []string
	for _, l := range b.Lines {
		if l.Room != room {
			continue
		}
		amount := l.Amount.Plain()
		count := fmt.Sprintf("%d ", l.Quantity)
		name := layout.Wrap(l.Name, max(w-len(count)-len(amount)-2, 8))
		for i, part := range name {
			if i > 0 {
				count = strings.Repeat(" ", len(count))
			}
			if i < len(name)-1 {
				out = append(out, count+part)
			} else {
				out = append(out, layout.Ends(count+part, amount, w, s.Theme.Glyphs.More))
			}
		}
	}
	return strings.Join(out, "\n")
}

func unmet(s page.Snapshot, room string) string {
	rooms := map[string]string{}
	names := map[string]string{}
	for _, n := range s.Plan.Needs {
		rooms[n.ID], names[n.ID] = n.Room, n.Name
	}
	var out []string
	for _, u := range s.Plan.Bill.Unmet {
		if rooms[u.Need] == room {
			out = append(out, english.Upper(names[u.Need])+": "+u.Reason)
		}
	}
	return strings.Join(out, "\n")
}

// points are the open points of a room, each with what hangs on it in a word or two.
func points(s page.Snapshot, room string, w int) string {
	var out []string
	for _, o := range Points(s.Project, room) {
		mark := s.Theme.Glyphs.Open + " "
		text := o.Text
		if x, ok := s.Open.Of(o.At); ok {
			text += ": " + x.Short(s.Open.Currency)
		}
		for _, l := range layout.Wrap(text, max(w-2, 8)) {
			out = append(out, mark+l)
			mark = "  "
		}
	}
	return strings.Join(out, "\n")
}

// Points are the parked questions and unknown facts of a room; of the whole home for "".
func Points(p *model.Project, room string) []open.Point {
	return slices.DeleteFunc(open.List(p), func(o open.Point) bool { return room != "" && o.Room != room })
}
