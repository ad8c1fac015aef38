package papers

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"strings"

	"example.org/roombrief/model/caution"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/bill"
)

// QuoteName is the file of the quote.
const QuoteName = "quote.html"

//go:embed quote.html.tmpl
var quotePage string

var quoteTemplate = template.Must(template.New("quote").Parse(quotePage))

// quoteOf is what the quote shows.
type quoteOf struct {
	Home, Foot, Currency      string
	Rooms                     []quoteRow
	Net, Tax, Percent, Total  string
	Work, Saved, Prices, Note string
	Leave                     []leaveOf
	Otherwise                 []quoteRow
	Unmet, Assumed, Cautions  []string
}

type quoteRow struct{ Name, What, Amount string }

// leaveOf is a room that may be left out, with its goals.
type leaveOf struct {
	quoteRow
	Goals []quoteRow
}

// quotePaper is one self-contained page for the household: no script, no fetched font or picture; it prints on A4 and Letter.
func (s source) quotePaper() ([]byte, error) {
	q, b := s.Quote, s.plan.Bill
	page := quoteOf{Home: s.homeName(), Foot: s.foot(), Currency: q.Currency, Net: q.Net.Plain(), Tax: q.Tax.Plain(), Percent: bill.Percent(b.Terms.Tax),
		Total: q.Total.Plain(), Work: bill.Hours(b.Minutes), Prices: bill.PriceNote(b, s.Today), Note: planner.OptionsNote}
	if b.Saved > 0 {
		page.Saved = b.Saved.In(b.Currency)
	}
	for _, r := range q.Rooms {
		row := quoteRow{Name: planner.SharedName, What: "controllers, spare cells, what goes with them", Amount: r.Amount.Plain()}
		if r.Room != "" {
			var goals []string
			for _, g := range r.Goals {
				goals = append(goals, planner.GoalWord(g))
			}
			row.Name, row.What = s.roomName(r.Room), strings.Join(goals, ", ")
		}
		page.Rooms = append(page.Rooms, row)
	}
	for _, o := range q.Options {
		row := quoteRow{Name: o.Words(s.roomName, b), Amount: o.Difference()}
		switch {
		case !o.Shown():
		case o.Kind == planner.LeaveRoom:
			page.Leave = append(page.Leave, leaveOf{quoteRow: row})
		case o.Kind == planner.LeaveGoal:
			row.Name = "only its " + planner.GoalWord(o.Goal)
			last := &page.Leave[len(page.Leave)-1]
			last.Goals = append(last.Goals, row)
		default:
			page.Otherwise = append(page.Otherwise, row)
		}
	}
	for _, u := range b.Unmet {
		page.Unmet = append(page.Unmet, s.unmetWords(u))
	}
	for _, a := range b.Assumed {
		page.Assumed = append(page.Assumed, a.Text)
	}
	kinds := s.billCautions()
	for _, k := range caution.Kinds {
		if kinds[k] {
			page.Cautions = append(page.Cautions, caution.Text(k))
		}
	}
	var out bytes.Buffer
	if err := quoteTemplate.Execute(&out, page); err != nil {
		return nil, fmt.Errorf("quote: %w", err)
	}
	return out.Bytes(), nil
}

// unmetWords say of a need what it gets instead of what was asked.
func (s source) unmetWords(u bill.Unmet) string {
	name := u.Need
	for _, n := range s.plan.Needs {
		if n.ID == u.Need {
			name = s.roomName(n.Room) + ", " + n.Name
		}
	}
	got := "nothing serves it here"
	if u.Got != "" {
		got = "planned is what " + u.Got
	}
	return fmt.Sprintf("%s: asked is what %s; %s. %s", name, u.Asked, got, u.Reason)
}
