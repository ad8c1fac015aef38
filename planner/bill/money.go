package bill

import (
	"math/big"
	"strconv"
)

// Every sum of a bill is of whole minor units. Only three things are rounded, each half up, from the decimals that somebody
// wrote and without binary fractions in between: the price of one part with its markup, the labour of one part,
// and the tax on the whole.

// minor is major units as minor ones: 48 is 4800.
func minor(major float64) Money { return halfUp(new(big.Rat).Mul(decimal(major), big.NewRat(100, 1))) }

// marked is the price of one part in major units with a markup in percent.
func marked(price, markup float64) Money {
	return halfUp(new(big.Rat).Mul(decimal(price), new(big.Rat).Add(big.NewRat(100, 1), decimal(markup))))
}

// work is what so many minutes cost at a price for the hour.
func work(minutes int, hour Money) Money {
	return halfUp(big.NewRat(int64(minutes)*int64(hour), 60))
}

// percent is a part of a sum.
func percent(of Money, p float64) Money {
	return halfUp(new(big.Rat).Mul(big.NewRat(int64(of), 100), decimal(p)))
}

// decimal is the shortest decimal that a float stands for, exactly: what was written.
func decimal(f float64) *big.Rat {
	r, ok := new(big.Rat).SetString(strconv.FormatFloat(f, 'f', -1, 64))
	if !ok {
		return new(big.Rat) // not a number, which no project holds
	}
	return r
}

// halfUp rounds to whole minor units, halves towards the larger.
func halfUp(r *big.Rat) Money {
	twice := new(big.Rat).Add(new(big.Rat).Add(r, r), big.NewRat(1, 1))
	return Money(new(big.Int).Div(twice.Num(), new(big.Int).Lsh(twice.Denom(), 1)).Int64()) // Div rounds down
}
