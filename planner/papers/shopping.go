package papers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"

	"example.org/roombrief/model/english"
	"example.org/roombrief/planner/bill"
)

// item is a part with all that the home needs of it.
type item struct {
	part, name        string
	supplier, article string // "" where the price is the catalogue's
	priced            string // from when its price is
	quantity, owned   int    // needed, and of these there already
	each              bill.Money
	rooms             []string
	consumed          bool // cells, and what goes with the work
}

// buy is how many have to be bought.
func (it item) buy() int { return it.quantity - it.owned }

func (it item) amount() bill.Money { return it.each * bill.Money(it.buy()) }

// consumables are kinds of part that are used up, or that nobody sees once the work is done.
var consumables = map[string]bool{bill.CellKind: true, bill.SpacerKind: true, bill.GuardKind: true, "bypass load": true}

// counter is a supplier with what to buy there, devices before consumables.
type counter struct {
	supplier string
	items    []item
}

// counters groups what is to be bought by supplier: own ones by name, then what the catalogue alone has a price for.
func (s source) counters() (all []counter) {
	by := map[string][]item{}
	for _, it := range s.items() {
		if it.buy() > 0 {
			by[it.supplier] = append(by[it.supplier], it)
		}
	}
	names := slices.Sorted(maps.Keys(by))
	if len(names) > 0 && names[0] == "" {
		names = append(names[1:], "")
	}
	for _, n := range names {
		slices.SortStableFunc(by[n], func(a, b item) int {
			if a.consumed != b.consumed {
				if b.consumed {
					return -1
				}
				return 1
			}
			return 0
		})
		all = append(all, counter{n, by[n]})
	}
	return all
}

// items gathers the bill's lines by part, in the catalogue's order of shelves.
func (s source) items() []item {
	byPart := map[string]*item{}
	var order []string
	for _, l := range s.plan.Bill.Lines {
		it := byPart[l.Part]
		if it == nil {
			it = &item{part: l.Part, name: l.Name, each: l.Each, supplier: l.Supplier, article: l.Article, priced: l.Priced}
			if p, ok := s.catalogue.Part(l.Part); ok {
				it.consumed = consumables[p.Kind]
			}
			byPart[l.Part] = it
			order = append(order, l.Part)
		}
		it.quantity += l.Quantity
		it.owned += l.Owned
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

// shoppingCSV is one row a part: RFC 4180, decimal point, UTF-8, prices without tax. The quantity is what is to be bought: needed, less
// what is there already.
func (s source) shoppingCSV() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	rows := [][]string{{"part", "name", "quantity", "each", "amount", "currency", "prices_dated", "rooms", "supplier", "article", "needed", "there_already"}}
	for _, it := range s.items() {
		rows = append(rows, []string{
			it.part, cell(it.name), strconv.Itoa(it.buy()), plain(it.each),
			plain(it.amount()), s.plan.Bill.Currency, it.priced,
			cell(strings.Join(it.rooms, "; ")), cell(it.supplier), cell(it.article), strconv.Itoa(it.quantity), strconv.Itoa(it.owned),
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
	if len(s.items()) == 0 {
		b.WriteString("Nothing to buy yet: no goal of the briefs needs a device.\n\n")
	} else {
		fmt.Fprintf(&b, "%s In %s, without tax%s. Ask your supplier before you order.\n\n", text(bill.PriceNote(bl, s.Today)), bl.Currency, s.withMarkup())
		for _, c := range s.counters() {
			s.counter(&b, c)
		}
		s.there(&b)
		b.WriteString("## What it comes to\n\n| | Amount |\n|---|--:|\n")
		fmt.Fprintf(&b, "| Parts | %s |\n| Labour, %s | %s |\n| Tax | %s |\n| **Total, %s** | **%s** |\n\n",
			plain(bl.Parts), bill.Hours(bl.Minutes), plain(bl.Labour), plain(bl.Tax), bl.Currency, plain(bl.Total))
	}
	s.unmet(&b)
	s.assumed(&b)
	s.cautions(&b, s.billCautions())
	fmt.Fprintf(&b, "---\n%s\n", text(s.foot()))
	return b.Bytes()
}

// counter is what to buy of one supplier, with what it comes to.
func (s source) counter(b *bytes.Buffer, c counter) {
	head := c.supplier
	if head == "" {
		head = "Wherever you buy"
	}
	fmt.Fprintf(b, "## %s\n\n", text(head))
	sum := bill.Money(0)
	rows := func(consumed bool, head string) {
		first := true
		for _, it := range c.items {
			if it.consumed != consumed {
				continue
			}
			if first {
				fmt.Fprintf(b, "| %s | Buy | Each | Amount | For | Price of |\n|---|--:|--:|--:|---|---|\n", head)
				first = false
			}
			name := text(it.name)
			if it.article != "" {
				name += ", " + text(it.article)
			}
			fmt.Fprintf(b, "| %s | %d | %s | %s | %s | %s |\n", name, it.buy(), plain(it.each), plain(it.amount()),
				text(strings.Join(it.rooms, ", ")), text(it.priced+bill.Age(it.priced, s.Today)))
			sum += it.amount()
		}
		if !first {
			b.WriteString("\n")
		}
	}
	rows(false, "Part")
	rows(true, "Spare cells, and what goes with the work")
	fmt.Fprintf(b, "%s here: %s %s.\n\n", english.Count(len(c.items), "line", "lines"), plain(sum), s.plan.Bill.Currency)
}

// there lists what is there already and is used, so that it is looked for before the work begins.
func (s source) there(b *bytes.Buffer) {
	first := true
	for _, it := range s.items() {
		if it.owned == 0 {
			continue
		}
		if first {
			b.WriteString("## There already: not to be bought\n\n| Part | Take | For |\n|---|--:|---|\n")
			first = false
		}
		fmt.Fprintf(b, "| %s | %d of %d | %s |\n", text(it.name), it.owned, it.quantity, text(strings.Join(it.rooms, ", ")))
	}
	if !first {
		b.WriteString("\n")
	}
}

// withMarkup says that the prices of the list are what the household pays for parts, where that is more than they cost.
func (s source) withMarkup() string {
	if m := s.plan.Bill.Terms.Markup; m > 0 {
		return ", with the markup of " + bill.Percent(m)
	}
	return ""
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
