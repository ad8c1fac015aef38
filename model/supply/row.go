package supply

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"example.org/roombrief/model/catalogue"
)

// row reads one line: its price, and which part it is for.
func (im *importer) row(r record) {
	p := Price{Line: r.line, Article: text(im.cell(r, roleArticle)), Name: text(im.cell(r, roleName)), Dated: im.Dated, Was: im.cell(r, roleWas)}
	id := im.cell(r, rolePart)
	raw := im.cell(r, rolePrice)
	if raw == "" && (filled(r) <= 1 || p.Article == "" && p.Name == "" && id == "") {
		return // a heading between the lines, or a foot
	}
	im.Lines++
	good := im.money(&p, r, raw)
	if d := im.cell(r, roleDated); d != "" {
		day, err := Day(d)
		if err != nil {
			im.Wrong.add(r.line, "%v", err)
			good = false
		}
		p.Dated = day
	}
	p.Supplier = text(im.cell(r, roleSupplier))
	if p.Supplier == "" {
		p.Supplier = im.Options.Supplier
	}
	if p.Supplier == "" {
		p.Supplier = NoSupplier
	}
	if id != "" {
		if _, ok := im.cat.Part(id); !ok {
			im.Wrong.add(r.line, "there is no part %q in the catalogue%s", id, im.near(id))
			return
		}
	}
	if part := im.Map[p.Article]; p.Article != "" && part != "" {
		im.used[p.Article] = true
		if _, ok := im.cat.Part(part); !ok {
			return // said once, for the whole list
		}
	}
	if good {
		im.place(p, id)
	}
}

// place gives a price its part: as the list says, as the user says, as it was before, or by its words.
func (im *importer) place(p Price, id string) {
	take := func(part, how string, g Guess) {
		p.Part = part
		im.Taken = append(im.Taken, Row{p, how, g})
	}
	mapped := ""
	if p.Article != "" {
		mapped = im.Map[p.Article]
	}
	switch before := im.known[[2]string{p.Supplier, p.Article}]; {
	case mapped != "":
		take(mapped, "as you said", Guess{})
		return
	case id != "":
		take(id, "its part column", Guess{})
		return
	case before != "":
		if _, ok := im.cat.Part(before); ok {
			take(before, "as before", Guess{})
			return
		}
	}
	g := im.match.guess(p.Name)
	switch {
	case g.Part == "":
		im.Others++
	case im.Confirm && g.Sure:
		take(g.Part, "a confirmed guess", g)
	default:
		p.Part = g.Part
		im.Guessed = append(im.Guessed, Row{p, "", g})
	}
}

// money reads a price into one of one unit, without tax, in the currency that is wanted.
func (im *importer) money(p *Price, r record, raw string) bool {
	before := len(im.Wrong)
	number, currency, err := bare(raw)
	if err == nil {
		p.Price, err = amount(number, im.Import.Decimal)
	}
	if err != nil {
		im.Wrong.add(r.line, "%v", err)
	}
	if pack := im.cell(r, rolePack); pack != "" && err == nil {
		n, ok := pieces(pack)
		if !ok {
			im.Wrong.add(r.line, "%q is no number of pieces in a pack", pack)
		} else if n > 1 {
			p.Price = p.Price.times(big.NewRat(1, int64(n)))
		}
	}
	if im.Tax != nil {
		without := new(big.Rat).Add(big.NewRat(1, 1), im.Tax)
		p.Price = p.Price.times(without.Inv(without))
	}
	if c := strings.ToUpper(im.cell(r, roleCurrency)); c != "" {
		if sign, ok := currencySigns[im.cell(r, roleCurrency)]; ok {
			c = sign
		}
		switch {
		case !catalogue.IsCurrency(c):
			im.Wrong.add(r.line, "%q is no currency; it is three capitals, as in GBP", im.cell(r, roleCurrency))
		case currency != "" && currency != c:
			im.Wrong.add(r.line, "the price is in %s and its currency is %s", currency, c)
		}
		currency = c
	}
	if currency == "" {
		currency = im.Import.Currency
	}
	if len(im.Wrong) == before {
		im.convert(p, r, currency)
	}
	switch {
	case len(im.Wrong) > before:
	case p.Price <= 0:
		im.Wrong.add(r.line, "the price of one comes to less than a ten-thousandth")
	case p.Price.tooLarge():
		im.Wrong.add(r.line, "the price comes to %s %s, which is too large; look at the rate", p.Price, p.Currency)
	}
	return len(im.Wrong) == before
}

// packForm is how many pieces a price is for: "10", "x 10", "/100", "10 pcs", or a word for one piece.
var packForm = regexp.MustCompile(`^(?:x|/|per)? *(\d{0,6}) *(?:pcs?|pieces?|each|ea|units?|stk|stück|st|pz|uds?)?\.?$`)

func pieces(pack string) (n int, ok bool) {
	part := packForm.FindStringSubmatch(strings.ToLower(pack))
	switch {
	case part == nil:
		return 0, false
	case part[1] == "":
		return 1, true
	}
	n, err := strconv.Atoi(part[1])
	return n, err == nil && n >= 1 && n <= 100_000
}

// convert puts a price into the currency that is wanted, by a rate of the user's and none else.
func (im *importer) convert(p *Price, r record, currency string) {
	switch {
	case currency == "":
		im.Wrong.add(r.line, "nothing says which currency this is; say it for the list (--currency GBP)")
		return
	case im.To == "":
		if im.Import.Currency == "" {
			im.Import.Currency = currency
		}
		if currency != im.Import.Currency {
			im.Wrong.add(r.line, "this is in %s and others are in %s; prices of two currencies are kept in one list only by a rate of yours (--in %s --rate %s=…)", currency, im.Import.Currency, im.Import.Currency, currency)
			return
		}
	case currency != im.To:
		for _, rate := range im.Rates {
			if rate.From == currency {
				p.Was = p.Price.String() + " " + currency + " at " + rate.Text
				p.Price = p.Price.times(rate.rat)
				p.Currency = im.To
				im.rates[currency]++
				return
			}
		}
		im.Wrong.add(r.line, "this is in %s, and prices are wanted in %s; they are not mixed: give a rate (--rate %s=…, what one %s is in %s) or leave the line out", currency, im.To, currency, currency, im.To)
		return
	}
	p.Currency = currency
}

// text is somebody's words with single blanks, and without the sign that guards them from a spreadsheet.
func text(s string) string { return strings.Join(strings.Fields(unguarded(s)), " ") }

// filled is how many fields of a row hold anything.
func filled(r record) (n int) {
	for _, f := range r.fields {
		if f != "" {
			n++
		}
	}
	return n
}
