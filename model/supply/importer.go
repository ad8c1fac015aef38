package supply

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/reading"
)

// Options of an import: what the user says instead of a guess, and what is known from before.
type Options struct {
	Encoding  string            // one of Encodings; "" is guessed
	Delimiter rune              // 0 is guessed
	Decimal   rune              // '.' or ','; 0 is guessed
	Columns   map[string]string // column by role: its head, or its number counted from 1
	Currency  string            // of prices that don't say; "" has the list say it
	To        string            // currency that is wanted; "" takes the list's own, if it is one
	Rates     []Rate            // by which other currencies may become To
	Supplier  string            // where the list names none
	Dated     model.Date        // where the list gives none
	Tax       *big.Rat          // in the prices, as a fraction of the price without; nil for none
	Map       map[string]string // part by the supplier's article
	Known     []Price           // kept before: their articles are mapped as they were
	Confirm   bool              // take sure guesses
}

// Column is a column that is read.
type Column struct {
	Role   string
	Number int // counted from 1
	Head   string
	Told   bool // by the user; else guessed
}

// Row is a line of the list with what it is taken for.
type Row struct {
	Price
	How   string // how it came to its part: "part column", "as you said", "as before", "confirmed guess"; "" for a guess
	Guess Guess
}

// Import is a list as it was read.
type Import struct {
	Encoding, Supplier string
	Delimiter, Decimal rune
	DecimalTold        bool // by a price or the user; else it is a default that nothing in the list decides
	HeadLine           int
	Columns            []Column
	Unread             []Column // those that have no role; Head is what the first line has there, where there are no heads
	Currency           string
	Notes              []string // sentences that the user should read
	Taken              []Row
	Guessed            []Row // not taken until confirmed
	Lines, Others      int   // lines with a price, and those of them that look like no part
	Wrong              Problems
}

// importer is an import under way.
type importer struct {
	Options
	Import
	cat   *catalogue.Catalogue
	at    map[string]int // column of each role
	known map[[2]string]string
	used  map[string]bool // articles of Map that a line had
	match *matcher
	rates map[string]int // lines converted, by currency
}

// Prices are those that were taken: the cheapest of each part and supplier, sorted.
func (im *Import) Prices() []Price {
	var all []Price
	for _, r := range im.Taken {
		all = append(all, r.Price)
	}
	return cheapest(all)
}

// cheapest keeps one price for each part and supplier.
func cheapest(all []Price) []Price {
	return slices.CompactFunc(Sorted(all), func(a, b Price) bool { return a.Part == b.Part && a.Supplier == b.Supplier })
}

// Merge puts newer prices among older ones: a part of the same supplier is replaced, all else stays as old as it is.
func Merge(old, newer []Price) []Price {
	out := slices.Clone(newer)
	for _, p := range old {
		if !slices.ContainsFunc(newer, func(n Price) bool { return n.Part == p.Part && n.Supplier == p.Supplier }) {
			out = append(out, p)
		}
	}
	return cheapest(out)
}

// ReadList reads a supplier's list. What is wrong with it stands in Wrong, all of it; what could be read is there nevertheless.
func ReadList(src []byte, c *catalogue.Catalogue, o Options) *Import {
	im := &importer{Options: o, cat: c, known: map[[2]string]string{}, used: map[string]bool{}, match: newMatcher(c), rates: map[string]int{}}
	im.Import.Supplier = o.Supplier
	for _, p := range o.Known {
		if p.Article != "" {
			im.known[[2]string{p.Supplier, p.Article}] = p.Part
		}
	}
	im.read(src)
	return &im.Import
}

func (im *importer) read(src []byte) {
	body, found, err := decode(src, im.Options.Encoding)
	im.Import.Encoding = found
	if err != nil {
		im.Wrong.add(0, "the list %v", err)
		return
	}
	if im.Import.Delimiter = im.Options.Delimiter; im.Import.Delimiter == 0 {
		im.Import.Delimiter = guessDelimiter(body)
	}
	rows := split(body, im.Import.Delimiter, &im.Wrong)
	lines, ok := im.heads(rows)
	if !ok {
		return
	}
	im.decimal(lines)
	for _, article := range slices.Sorted(maps.Keys(im.Map)) {
		part := im.Map[article]
		if _, ok := im.cat.Part(part); !ok {
			im.Wrong.add(0, "article %s is to be part %q, which the catalogue doesn't have%s", article, part, im.near(part))
		}
	}
	for _, r := range lines {
		im.row(r)
	}
	for _, a := range slices.Sorted(maps.Keys(im.Map)) {
		if !im.used[a] {
			im.Wrong.add(0, "no line has the article %q that you gave a part", a)
		}
	}
	im.settle()
}

func (im *importer) near(part string) string {
	var ids []string
	for _, p := range im.cat.Parts {
		ids = append(ids, p.ID)
	}
	if n := reading.NearestName(part, ids); n != "" {
		return fmt.Sprintf("; did you mean %q?", n)
	}
	return ""
}

// heads finds out which column is what. Without a row of heads the user has to say it by numbers.
func (im *importer) heads(rows []record) (body []record, ok bool) {
	at, columns := headRow(rows)
	heads := []string{}
	body = rows
	if at >= 0 {
		heads, body, im.HeadLine = rows[at].fields, rows[at+1:], rows[at].line
	}
	if columns == nil {
		columns = map[string]int{}
	}
	told := map[string]bool{}
	for _, role := range Roles {
		want, ok := im.Options.Columns[role]
		if !ok {
			continue
		}
		i := slices.IndexFunc(heads, func(h string) bool { return strings.EqualFold(h, want) })
		if n, err := strconv.Atoi(want); i < 0 && err == nil && n >= 1 {
			i = n - 1
		}
		if i < 0 || i >= widest(rows) {
			im.Wrong.add(0, "there is no column %q for the %s; name its head or its number", want, role)
			continue
		}
		columns[role], told[role] = i, true
	}
	if _, ok := columns[rolePrice]; !ok {
		im.otherPrice(columns, heads)
	}
	im.unread(columns, heads, body)
	if _, ok := columns[rolePrice]; !ok || len(im.Wrong) > 0 && len(told) < len(im.Options.Columns) {
		if !ok {
			im.Wrong.add(0, "no column of the list looks like prices; say which is what with --column, as in --column price=4 --column name=2 --column article=1")
		}
		return nil, false
	}
	_, part := columns[rolePart]
	_, name := columns[roleName]
	_, article := columns[roleArticle]
	if !part && !name && !article {
		im.Wrong.add(0, "no column of the list looks like names or article numbers; say which is what with --column, as in --column name=2 --column article=1")
		return nil, false
	}
	im.at = columns
	for _, role := range append(slices.Clone(Roles), roleWas) {
		if i, ok := columns[role]; ok {
			c := Column{Role: role, Number: i + 1, Told: told[role]}
			if i < len(heads) {
				c.Head = heads[i]
			}
			im.Import.Columns = append(im.Import.Columns, c)
		}
	}
	if im.Options.Currency == "" {
		if i := columns[rolePrice]; i < len(heads) {
			im.Import.Currency = currencyIn(heads[i])
		}
	} else {
		im.Import.Currency = im.Options.Currency
	}
	return body, true
}

// unread are the columns that nothing is read from, so that a person sees what there is to choose from.
func (im *importer) unread(columns map[string]int, heads []string, body []record) {
	read := map[int]bool{}
	for _, i := range columns {
		read[i] = true
	}
	if len(heads) == 0 && len(body) > 0 {
		heads = body[0].fields
	}
	for i, h := range heads {
		if !read[i] && strings.TrimSpace(h) != "" {
			im.Import.Unread = append(im.Import.Unread, Column{Number: i + 1, Head: h})
		}
	}
}

func widest(rows []record) (n int) {
	for _, r := range rows {
		n = max(n, len(r.fields))
	}
	return n
}

// otherPrice takes list prices, and prices with tax, where there are no others.
func (im *importer) otherPrice(columns map[string]int, heads []string) {
	if i, ok := columns[roleList]; ok {
		columns[rolePrice] = i
		im.Notes = append(im.Notes, fmt.Sprintf("The only prices are list prices (%q); a discount of yours is not in them.", heads[i]))
		return
	}
	if i, ok := columns[roleTaxed]; ok {
		columns[rolePrice] = i
		if im.Tax == nil {
			im.Wrong.add(0, "the only prices, %q, look to be with tax; say how much of it is in them (--with-tax 20), or which column is without (--column price=…)", heads[i])
		}
	}
}

// decimal finds the decimal mark that the prices show, or else takes what goes with the delimiter.
func (im *importer) decimal(body []record) {
	if im.Import.Decimal = im.Options.Decimal; im.Import.Decimal != 0 {
		im.DecimalTold = true
		return
	}
	votes, thousands := map[rune]int{}, 0
	for _, r := range body {
		if s, _, err := bare(im.cell(r, rolePrice)); err == nil {
			v := decimalVote(s)
			votes[v]++
			if v == 0 && strings.ContainsAny(s, ".,") {
				thousands++
			}
		}
	}
	im.Import.Decimal, im.DecimalTold = '.', true
	switch {
	case votes[','] > votes['.']:
		im.Import.Decimal = ','
	case votes[','] == 0 && votes['.'] == 0:
		im.DecimalTold = thousands == 0
		if im.Import.Delimiter == ';' {
			im.Import.Decimal = ','
		}
	}
	if !im.DecimalTold {
		im.Notes = append(im.Notes, fmt.Sprintf("Nothing in the prices shows whether their mark is for decimals or thousands; it is taken as if %s were for decimals. Look at the prices below, and say --decimal point or comma if they are wrong.", named(im.Import.Decimal)))
	}
}

func (im *importer) cell(r record, role string) string {
	if i, ok := im.at[role]; ok && i < len(r.fields) {
		return r.fields[i]
	}
	return ""
}

// settle says in sentences what was done to the prices, and what of them is left out.
func (im *importer) settle() {
	if im.Lines == 0 && len(im.Wrong) == 0 {
		im.Wrong.add(0, "no line of the list has a price")
	}
	for _, r := range im.Rates {
		if n := im.rates[r.From]; n > 0 {
			im.Notes = append(im.Notes, fmt.Sprintf("%s converted from %s at your rate: 1 %s is %s %s.", english.Count(n, "price is", "prices are"), r.From, r.From, r.Text, im.To))
		}
	}
	if im.Tax != nil {
		percent, _ := new(big.Rat).Mul(im.Tax, big.NewRat(100, 1)).Float64()
		im.Notes = append(im.Notes, fmt.Sprintf("Tax of %s %% was taken out of every price.", strconv.FormatFloat(percent, 'f', -1, 64)))
	}
	best := map[[2]string]Row{}
	for _, r := range im.Taken {
		k := [2]string{r.Part, r.Price.Supplier}
		if b, ok := best[k]; !ok || r.Price.Price < b.Price.Price {
			best[k] = r
		}
	}
	for _, r := range im.Taken {
		if b := best[[2]string{r.Part, r.Price.Supplier}]; b.Line != r.Line {
			im.Notes = append(im.Notes, fmt.Sprintf("Line %d is for %s too, and dearer than line %d, or as dear; the cheaper is kept.", r.Line, r.Part, b.Line))
		}
	}
}
