// Package supply reads and writes an installer's own prices. They are kept beside the project as a clean CSV of one form
// (clean.go), and come from whatever list a supplier sends (importer.go). It does no input or output of files and knows no clock.
package supply

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
)

// Price is what one supplier asks for one part, without tax.
type Price struct {
	Line     int // in the file that it was read from, counted from 1
	Part     string
	Supplier string
	Article  string // the supplier's number for it
	Name     string // the supplier's words for it
	Price    Amount
	Currency string
	Dated    model.Date
	Was      string // price and rate that it was converted from, as in "12.50 CHF at 0.89"; "" where it was not
}

// Amount is money in ten-thousandths of the major unit, so that a price of one out of a pack is kept whole.
type Amount int64

// whole is one major unit.
const whole = 10000

// String is decimal, with two digits after the point, or as many of four as it takes.
func (a Amount) String() string {
	s := fmt.Sprintf("%d.%04d", a/whole, a%whole)
	for range 2 {
		s = strings.TrimSuffix(s, "0")
	}
	return s
}

// Float is the amount in major units; its shortest decimal is the amount itself.
func (a Amount) Float() float64 {
	f, _ := strconv.ParseFloat(a.String(), 64) // a number by construction
	return f
}

// times is the amount by a rate or through a divisor, rounded half up to a ten-thousandth.
func (a Amount) times(r *big.Rat) Amount {
	x := new(big.Rat).Mul(new(big.Rat).SetInt64(int64(a)), r)
	x.Add(x, big.NewRat(1, 2))
	q := new(big.Int).Div(x.Num(), x.Denom()) // rounds down, and the half has been added
	return Amount(q.Int64())
}

// Problem is what is wrong in one line of a list.
type Problem struct {
	Line int    // counted from 1; 0 is the list as a whole
	Says string // a sentence without its stop
}

// Error is "line 12: …".
func (p Problem) Error() string {
	if p.Line == 0 {
		return p.Says
	}
	return fmt.Sprintf("line %d: %s", p.Line, p.Says)
}

// Problems is everything that is wrong with a list.
type Problems []Problem

// Error has one problem on each line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// mostProblems that are told one by one; a list with more is the wrong list.
const mostProblems = 200

// add keeps a problem, as long as somebody would still read it.
func (ps *Problems) add(line int, format string, args ...any) {
	switch n := len(*ps); {
	case n < mostProblems:
		*ps = append(*ps, Problem{line, fmt.Sprintf(format, args...)})
	case n == mostProblems:
		*ps = append(*ps, Problem{0, fmt.Sprintf("more is wrong than these %d lines; is it the right file?", mostProblems)})
	}
}

// Priced is the catalogue with own prices in place of its indicative ones. Each part takes its cheapest own price, the
// first of equal ones. A price in another currency than the home's is refused, all of them at once, and so is a
// part that the catalogue doesn't have.
func Priced(c *catalogue.Catalogue, prices []Price, currency string) (*catalogue.Catalogue, error) {
	var wrong Problems
	out := *c
	out.Parts = slices.Clone(c.Parts)
	at := map[string]int{}
	for i, p := range out.Parts {
		at[p.ID] = i
	}
	for _, p := range prices {
		i, ok := at[p.Part]
		switch {
		case !ok:
			wrong.add(p.Line, "no part %q in the catalogue", p.Part)
			continue
		case p.Currency != currency:
			wrong.add(p.Line, "%s is priced in %s and the home in %s; import the list again with a rate of yours (--rate %s=…), or change home/currency",
				p.Part, p.Currency, currency, p.Currency)
			continue
		}
		part := &out.Parts[i]
		price := p.Price.Float()
		if part.Own.Supplier != "" && part.Price[currency] <= price {
			continue
		}
		part.Price = map[string]float64{currency: price}
		part.Own = catalogue.Own{Supplier: p.Supplier, Article: p.Article, Dated: p.Dated.Format("2006-01-02"), Converted: p.Was}
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return &out, nil
}
