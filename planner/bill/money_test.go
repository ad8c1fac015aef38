package bill

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	"pgregory.net/rapid"
)

// Rounding is half up on the decimals that were written, which whole numbers show without any fraction: a price of n/10000 with
// a markup of m/100 percent is n*(10000+m)/1000000 minor units.
func TestMarkupLabourAndTaxRoundHalfUp(t *testing.T) {
	half := func(num, den int64) Money { return Money((2*num + den) / (2 * den)) }
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.Int64Range(0, 50_000_000).Draw(t, "price"), rapid.Int64Range(0, 20_000).Draw(t, "markup")
		var price, markup float64
		fmt.Sscan(fmt.Sprintf("%d.%04d", n/10000, n%10000), &price)
		fmt.Sscan(fmt.Sprintf("%d.%02d", m/100, m%100), &markup)
		if got, want := marked(price, markup), half(n*(10000+m), 1_000_000); got != want {
			t.Fatalf("%v with %v %% is %d, not %d", price, markup, got, want)
		}
		minutes, hour := rapid.IntRange(0, 600).Draw(t, "minutes"), rapid.Int64Range(0, 30_000).Draw(t, "an hour")
		if got, want := work(minutes, Money(hour)), half(int64(minutes)*hour, 60); got != want {
			t.Fatalf("%d minutes at %d are %d, not %d", minutes, hour, got, want)
		}
		net := rapid.Int64Range(0, 100_000_000).Draw(t, "net")
		if got, want := percent(Money(net), markup), half(net*m, 10_000); got != want {
			t.Fatalf("%v %% of %d is %d, not %d", markup, net, got, want)
		}
	})
}

func TestPricesSayTheirAge(t *testing.T) {
	today := model.Date{Time: time.Date(2026, 11, 30, 15, 0, 0, 0, time.UTC)}
	for dated, want := range map[string]string{"2026-11-30": " (of today)", "2026-11-29": " (1 day old)", "2026-11-01": " (29 days old)",
		"2026-03": " (8 months old)", "2023-01-01": " (3 years old)", "2026-12-01": " (not yet in force)", "": "", "soon": ""} {
		if got := Age(dated, today); got != want {
			t.Errorf("%s: %q, not %q", dated, got, want)
		}
	}
	b := Bill{Lines: []Line{{Part: "a", Priced: "2026-03"}, {Part: "b", Priced: "2026-11-01", Supplier: "Ash"},
		{Part: "c", Priced: "2026-09-01", Supplier: "Ash"}, {Part: "c", Priced: "2026-09-01", Supplier: "Ash"}}}
	if got, want := PriceNote(b, today), "Prices of 2 of 3 parts are your own: Ash, 2026-09-01 (2 months old). The others are indicative, of 2026-03 (8 months old)."; got != want {
		t.Errorf("got %s", got)
	}
	if got := PriceNote(Bill{Lines: b.Lines[1:]}, model.Date{}); !strings.HasPrefix(got, "All prices are your own: Ash, 2026-09-01.") {
		t.Errorf("got %s", got)
	}
}
