package quantity

import (
	"strconv"
	"strings"
)

const rateAccepts = "a price of an hour such as 48 GBP/h"

// UnmarshalText reads an amount, a currency of three capitals, and "/h".
func (v *HourlyRate) UnmarshalText(b []byte) error {
	text := strings.TrimSpace(string(b))
	fail := func(why string) error { return failure(quote(text)+why, rateAccepts) }
	if text == "" {
		return failure("nothing was written", rateAccepts)
	}
	head, ok := "", false
	for _, end := range []string{"/h", "/hour", " an hour", " per hour"} {
		if head, ok = strings.CutSuffix(text, end); ok {
			break
		}
	}
	if !ok {
		return fail(" does not say that it is for an hour")
	}
	head = strings.TrimSpace(head)
	n := numberLength(head)
	currency := strings.TrimSpace(head[n:])
	switch {
	case n == 0:
		return fail(" does not start with an amount")
	case !isCurrency(currency):
		return fail(" has no currency of three capitals")
	}
	amount, err := strconv.ParseFloat(head[:n], 64)
	switch {
	case err != nil || amount > 100000:
		return fail(" is too large: 100000 at most")
	case amount < 0:
		return fail(" is negative, which makes no sense for a price")
	}
	*v = HourlyRate{Amount: amount, Currency: currency}
	return nil
}

func isCurrency(s string) bool {
	if len(s) != 3 {
		return false
	}
	for _, c := range []byte(s) {
		if c < 'A' || c > 'Z' {
			return false
		}
	}
	return true
}

// String is canonical: 48 GBP/h. The zero rate is "".
func (v HourlyRate) String() string {
	if v == (HourlyRate{}) {
		return ""
	}
	return plain(v.Amount) + " " + v.Currency + "/h"
}

// Show is for people: 48 GBP an hour, with two decimals where there are any.
func (v HourlyRate) Show(System) string {
	if v == (HourlyRate{}) {
		return ""
	}
	n := strconv.FormatFloat(v.Amount, 'f', 2, 64)
	return strings.TrimSuffix(n, ".00") + " " + v.Currency + " an hour"
}

// InUnitOf is the canonical form: a rate has only one.
func (v HourlyRate) InUnitOf(string) string { return v.String() }

// Accepts says what may be written.
func (HourlyRate) Accepts() string { return rateAccepts }
