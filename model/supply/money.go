package supply

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"unicode"

	"example.org/roombrief/model/catalogue"
)

// currencySigns are signs that stand for one currency each, as far as a price list goes. A bare dollar is taken for the US one,
// and shown as that before anything is kept.
var currencySigns = map[string]string{"£": "GBP", "€": "EUR", "$": "USD", "Fr.": "CHF"}

// knownCurrencies are codes that a head or a price may hold; any other three capitals in a price are taken as a code too.
var knownCurrencies = []string{"GBP", "EUR", "USD", "CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "HUF", "RON", "BGN", "CAD", "AUD", "NZD", "JPY", "ISK", "TRY", "ZAR"}

// currencyIn finds the one currency that a head names, by code or sign; "" for none or several.
func currencyIn(text string) string {
	found := ""
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
		for _, c := range knownCurrencies {
			if w == c && found != c {
				if found != "" {
					return ""
				}
				found = c
			}
		}
	}
	for sign, c := range currencySigns {
		if strings.Contains(text, sign) && found != c {
			if found != "" {
				return ""
			}
			found = c
		}
	}
	return found
}

// withoutCurrency takes codes and signs of currencies out of a plain head.
func withoutCurrency(plain string) string {
	var keep []string
	for _, w := range strings.Fields(plain) {
		w = strings.Trim(w, "£€$")
		known := w == ""
		for _, c := range knownCurrencies {
			known = known || w == strings.ToLower(c) || w == "eur" || w == "euro"
		}
		if !known {
			keep = append(keep, w)
		}
	}
	return strings.Join(keep, " ")
}

// bare takes a price apart: the digits with their marks, and the currency that stands with them.
func bare(cell string) (number, currency string, err error) {
	s := clean(cell)
	for sign, c := range currencySigns {
		if i := strings.Index(s, sign); i >= 0 {
			s, currency = s[:i]+" "+s[i+len(sign):], c
			break
		}
	}
	s = strings.TrimSpace(s)
	if head, tail := s, ""; len(s) >= 3 {
		if catalogue.IsCurrency(head[:3]) {
			s, tail = s[3:], head[:3]
		} else if catalogue.IsCurrency(head[len(head)-3:]) {
			s, tail = head[:len(head)-3], head[len(head)-3:]
		}
		if tail != "" {
			if currency != "" && currency != tail {
				return "", "", fmt.Errorf("%q names two currencies", cell)
			}
			currency = tail
		}
	}
	for _, crowns := range []string{"kr.", "kr"} { // of which country, the list says elsewhere
		s = strings.TrimSuffix(strings.TrimPrefix(s, crowns), crowns)
	}
	for _, end := range []string{".–", ".-", ",–", ",-", ".—", ",—"} { // 12.– is twelve and nothing
		s = strings.TrimSuffix(strings.TrimSpace(s), end)
	}
	s = strings.TrimSpace(s)
	s = thousands.Replace(s) // blanks and apostrophes set thousands apart
	if s == "" {
		return "", currency, fmt.Errorf("there is no price")
	}
	if strings.HasPrefix(s, "-") {
		return "", currency, fmt.Errorf("the price %q is below zero", cell)
	}
	if strings.Trim(s, "0123456789.,'") != "" || strings.Trim(s, ".,'") == "" {
		return "", currency, fmt.Errorf("%q is not a price", cell)
	}
	return s, currency, nil
}

var thousands = strings.NewReplacer("’", "'", " ", "'")

// decimalVote says what a bare number shows of the decimal mark: '.' or ',' where it can only be that, 0 where it shows nothing.
func decimalVote(s string) rune {
	point, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case point >= 0 && comma >= 0:
		if point > comma {
			return '.'
		}
		return ','
	case point < 0 && comma < 0:
		return 0
	}
	at, mark, other := point, '.', ','
	if comma >= 0 {
		at, mark, other = comma, ',', '.'
	}
	switch {
	case strings.Count(s, string(mark)) > 1:
		return other // set more than once it sets thousands apart
	case len(s)-at-1 != 3 || strings.HasPrefix(s, "0") || at > 3:
		return mark
	}
	return 0
}

// mostDigits of a price stand before its decimal mark.
const mostDigits = 7

// tooLarge reports an amount that couldn't be read again once it is written.
func (a Amount) tooLarge() bool { return len(strconv.FormatInt(int64(a/whole), 10)) > mostDigits }

// amount reads a bare number with a given decimal mark. Marks of thousands must stand where thousands end.
func amount(s string, decimal rune) (Amount, error) {
	bad := func(why string) (Amount, error) { return 0, fmt.Errorf("%q is not a price: %s", s, why) }
	units, fraction, has := strings.Cut(s, string(decimal))
	if has && (fraction == "" || strings.Trim(fraction, "0123456789") != "") {
		return bad("the decimal mark is " + named(decimal))
	}
	groups := strings.FieldsFunc(units, func(r rune) bool { return r < '0' || r > '9' })
	for i, g := range groups {
		if i > 0 && len(g) != 3 || i == 0 && len(groups) > 1 && (len(g) > 3 || g[0] == '0') {
			return bad("the decimal mark is " + named(decimal))
		}
	}
	fraction = strings.TrimRight(fraction, "0")
	if len(fraction) > 4 {
		return bad("it has more than four decimals")
	}
	digits := strings.TrimLeft(strings.Join(groups, ""), "0")
	if len(digits) > mostDigits {
		return bad("it is too large")
	}
	var n Amount
	for _, d := range digits + fraction + strings.Repeat("0", 4-len(fraction)) {
		n = n*10 + Amount(d-'0')
	}
	if n == 0 {
		return bad("a price is above zero")
	}
	return n, nil
}

func named(decimal rune) string {
	if decimal == ',' {
		return "a comma"
	}
	return "a point"
}

// Rate turns one currency into another: one unit of From is so many of To.
type Rate struct {
	From string
	Text string // as the user wrote it, with a point
	rat  *big.Rat
}

// ParseRate reads CHF=0.89: one CHF is 0.89 of the currency that is wanted.
func ParseRate(s string) (Rate, error) {
	from, text, ok := strings.Cut(s, "=")
	from, text = strings.ToUpper(strings.TrimSpace(from)), strings.TrimSpace(text)
	if !ok || !catalogue.IsCurrency(from) || text == "" || len(text) > 12 || strings.Trim(text, "0123456789.") != "" {
		return Rate{}, fmt.Errorf("%q is no rate; write CHF=0.89 where one CHF is 0.89 of the currency that you want", s)
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok || r.Sign() <= 0 || r.Cmp(big.NewRat(1_000_000, 1)) > 0 {
		return Rate{}, fmt.Errorf("%q is no rate: it is above zero and at most a million", s)
	}
	return Rate{from, text, r}, nil
}
