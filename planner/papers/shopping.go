package papers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"example.org/roombrief/planner/bill"
)

// item is a part with all that the home needs of it.
type item struct {
	part, name string
	quantity   int
	each       bill.Money
	rooms      []string
}

// items gathers the bill's lines by part, in the catalogue's order of shelves.
func (s source) items() []item {
	byPart := map[string]*item{}
	var order []string
	for _, l := range s.plan.Bill.Lines {
		it := byPart[l.Part]
		if it == nil {
			it = &item{part: l.Part, name: l.Name, each: l.Each}
			byPart[l.Part] = it
			order = append(order, l.Part)
		}
		it.quantity += l.Quantity
		room := fmt.Sprintf("%s × %d", s.roomName(l.Room), l.Quantity)
		if l.Room == "" {
			room = fmt.Sprintf("home × %d", l.Quantity)
		}
		it.rooms = append(it.rooms, room)
	}
	place := map[string]int{}
	for i, p := range s.catalogue.Parts {
		place[p.ID] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return place[order[i]] < place[order[j]] })
	out := make([]item, len(order))
	for i, id := range order {
		out[i] = *byPart[id]
	}
	return out
}

// shoppingCSV is one row a part: RFC 4180, decimal point, UTF-8, prices without tax.
func (s source) shoppingCSV() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	rows := [][]string{{"part", "name", "quantity", "each", "amount", "currency", "prices_dated", "rooms"}}
	for _, it := range s.items() {
		rows = append(rows, []string{
			it.part, cell(it.name), strconv.Itoa(it.quantity), plain(it.each),
			plain(it.each * bill.Money(it.quantity)), s.plan.Bill.Currency, s.plan.Bill.Dated,
			cell(strings.Join(it.rooms, "; ")),
		})
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, fmt.Errorf("shopping list: %w", err)
	}
	return b.Bytes(), nil
}

// cell keeps a spreadsheet from reading a name that starts like a formula as one.
func cell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}

// plain is an amount in the major unit with two decimals and a point.
func plain(m bill.Money) string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

func (s source) shoppingMarkdown() []byte {
	var b bytes.Buffer
	bl := s.plan.Bill
	fmt.Fprintf(&b, "# Shopping list: %s\n\n", text(s.homeName()))
	fmt.Fprintf(&b, "Prices are indicative, dated %s, in %s, without tax. Ask your supplier before you order.\n\n", bl.Dated, bl.Currency)
	items := s.items()
	if len(items) == 0 {
		b.WriteString("Nothing to buy yet: no goal of the briefs needs a device.\n\n")
	} else {
		b.WriteString("| Part | Quantity | Each | Amount | For |\n|---|--:|--:|--:|---|\n")
		for _, it := range items {
			fmt.Fprintf(&b, "| %s | %d | %s | %s | %s |\n", text(it.name), it.quantity, plain(it.each),
				plain(it.each*bill.Money(it.quantity)), text(strings.Join(it.rooms, ", ")))
		}
		b.WriteString("\n| | Amount |\n|---|--:|\n")
		fmt.Fprintf(&b, "| Parts | %s |\n| Labour, %s | %s |\n| Tax | %s |\n| **Total, %s** | **%s** |\n\n",
			plain(bl.Parts), bill.Hours(bl.Minutes), plain(bl.Labour), plain(bl.Tax), bl.Currency, plain(bl.Total))
	}
	s.unmet(&b)
	s.assumed(&b)
	s.cautions(&b, s.billCautions())
	fmt.Fprintf(&b, "---\n%s\n", text(s.foot()))
	return b.Bytes()
}

// unmet lists what the shelf cannot serve; silence here would be read as "all is covered".
func (s source) unmet(b *bytes.Buffer) {
	if len(s.plan.Bill.Unmet) == 0 {
		return
	}
	b.WriteString("## Not served as asked\n\n")
	for _, u := range s.plan.Bill.Unmet {
		got := "nothing in the catalogue serves it here"
		if u.Got != "" {
			got = "planned with less: " + u.Got
		}
		fmt.Fprintf(b, "- **%s**: asked for %s; %s. %s %s\n", text(u.Need), text(u.Asked), text(got), text(u.Reason), text(u.Remedy))
	}
	b.WriteString("\n")
}

// assumed lists what was planned for the worst because nobody knows.
func (s source) assumed(b *bytes.Buffer) {
	if len(s.plan.Bill.Assumed) == 0 {
		return
	}
	b.WriteString("## Planned for the worst, because nobody knows yet\n\n")
	for _, a := range s.plan.Bill.Assumed {
		fmt.Fprintf(b, "- %s\n", text(a.Text))
	}
	b.WriteString("\n")
}
