package supply

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/reading"
)

// Heads of the clean list, in the order in which they are written. All but part, price, currency and dated may be missing.
var Heads = []string{rolePart, "supplier", "article", "name", "price", "currency", "dated", "converted"}

// Write is the clean list: RFC 4180 with commas, decimal points and UTF-8, by part and then supplier. What Read takes, it gives back.
func Write(prices []Price) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	_ = w.Write(Heads) // a buffer takes everything
	for _, p := range Sorted(prices) {
		_ = w.Write([]string{p.Part, guarded(p.Supplier), guarded(p.Article), guarded(p.Name), p.Price.String(), p.Currency, p.Dated.Format(day), p.Was})
	}
	w.Flush()
	return b.Bytes()
}

const day = "2006-01-02"

// guarded keeps a spreadsheet from reading words that start like a formula as one; Read takes the sign away again.
func guarded(s string) string {
	if s != "" && strings.ContainsRune("=+-@'", rune(s[0])) {
		return "'" + s
	}
	return s
}

func unguarded(s string) string {
	if len(s) > 1 && s[0] == '\'' && strings.ContainsRune("=+-@'", rune(s[1])) {
		return s[1:]
	}
	return s
}

// Sorted is prices by part, supplier, price and article.
func Sorted(prices []Price) []Price {
	out := slices.Clone(prices)
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.Part != b.Part:
			return a.Part < b.Part
		case a.Supplier != b.Supplier:
			return a.Supplier < b.Supplier
		case a.Price != b.Price:
			return a.Price < b.Price
		}
		return a.Article < b.Article
	})
	return out
}

// Read reads a clean list, strictly: what is wrong in any line is said, and then there are no prices.
func Read(src []byte) ([]Price, Problems) {
	var wrong Problems
	body, _, err := decode(src, "")
	if err != nil {
		return nil, Problems{{0, "the list " + err.Error()}}
	}
	rows := split(body, ',', &wrong)
	if len(rows) == 0 {
		wrong.add(0, "the list is empty")
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	at := map[string]int{}
	for i, h := range rows[0].fields {
		if _, twice := at[h]; twice {
			wrong.add(rows[0].line, "two columns are called %q", h)
		}
		at[h] = i
		if !slices.Contains(Heads, h) && !strings.HasPrefix(h, "x-") {
			hint := ""
			if near := reading.NearestName(h, Heads); near != "" {
				hint = fmt.Sprintf("; did you mean %q?", near)
			}
			wrong.add(rows[0].line, "%q is no column of own prices%s; columns are %s, and one of yours begins with x-", h, hint, strings.Join(Heads, ", "))
		}
	}
	for _, h := range []string{rolePart, "price", "currency", "dated"} {
		if _, ok := at[h]; !ok {
			wrong.add(rows[0].line, "the column %q is missing; to read a supplier's own list, use roombrief parts import", h)
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	var out []Price
	for _, r := range rows[1:] {
		if len(r.fields) != len(rows[0].fields) {
			wrong.add(r.line, "there are %d fields, and %d heads", len(r.fields), len(rows[0].fields))
			continue
		}
		before := len(wrong)
		cell := func(h string) string {
			if i, ok := at[h]; ok {
				return r.fields[i]
			}
			return ""
		}
		p := Price{Line: r.line, Part: cell(rolePart), Supplier: text(cell("supplier")), Article: text(cell("article")),
			Name: text(cell("name")), Currency: cell("currency"), Was: cell("converted")}
		if !reading.IsID(p.Part) {
			wrong.add(r.line, "%q is no part; it is the name of one in the catalogue, as in relay-1-neutral-zigbee", p.Part)
		}
		number, _, err := bare(cell("price"))
		if err == nil {
			p.Price, err = amount(number, '.')
		}
		if err != nil {
			wrong.add(r.line, "%v", err)
		}
		if !catalogue.IsCurrency(p.Currency) {
			wrong.add(r.line, "%q is no currency; it is three capitals, as in GBP", p.Currency)
		}
		if p.Dated, err = Day(cell("dated")); err != nil {
			wrong.add(r.line, "%v", err)
		}
		if p.Supplier == "" {
			p.Supplier = NoSupplier
		}
		if len(wrong) == before {
			out = append(out, p)
		}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return out, nil
}

// NoSupplier stands where a price has none.
const NoSupplier = "own list"

// Day reads a day as lists have it: 2026-11-02, or 02.11.2026, 02/11/2026 and 02-11-2026 with the day first, which is said where
// it is shown. A day that could be read either way is refused.
func Day(s string) (model.Date, error) {
	s = clean(s)
	if t, err := time.Parse(day, s); err == nil {
		return inReach(t, s)
	}
	if t, err := time.Parse("2.1.2006", s); err == nil { // with points the day is first everywhere
		return inReach(t, s)
	}
	for _, sep := range []string{"/", "-"} {
		first, errFirst := time.Parse(strings.Join([]string{"2", "1", "2006"}, sep), s)
		second, errSecond := time.Parse(strings.Join([]string{"1", "2", "2006"}, sep), s)
		switch {
		case errFirst == nil && errSecond == nil && !first.Equal(second):
			return model.Date{}, fmt.Errorf("%q may be two days; write it as %s or %s", s, first.Format(day), second.Format(day))
		case errFirst == nil:
			return inReach(first, s)
		case errSecond == nil:
			return inReach(second, s)
		}
	}
	return model.Date{}, fmt.Errorf("%q is no day; write 2026-11-02", s)
}

func inReach(t time.Time, s string) (model.Date, error) {
	if t.Year() < 1990 || t.Year() > 2199 {
		return model.Date{}, fmt.Errorf("the year of %q can't be right", s)
	}
	return model.Date{Time: t}, nil
}
