package bill_test

import (
	"strings"
	"testing"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/planner/bill"
)

const dimmerText = `Shower room                                                        57.00
    1 x In-box dimmer, no neutral needed ........................  57.00
        Cheapest that dims lamps without a neutral, fits a box 35 mm
        deep and carries 21 W. Next best: GU10 lamp, tunable white,
        4.10 GBP more; it wins once one costs 1.37 GBP less.

For the home                                                      103.00
    1 x Controller .............................................. 103.00
        Cheapest to hold the home's devices: 1 on Zigbee. Next best:
        controller, able, 77.00 GBP more; it wins once one costs
        77.01 GBP less.

Parts                                                              88.00
Labour, 1 h 30 min at 48.00 GBP an hour                            72.00
Tax, 20 %                                                          32.00
Total in GBP                                                      192.00

Prices are indicative, of 2026-03. Parts include a markup of 10 %.
Amounts are before tax, parts and work together. Rounded, halves up, are
the price of one part, the work on one, and the tax once.

This is the cheapest bill. It asks for no upkeep. Lost without the
internet: 1 of 1 need; without the Wi-Fi network: none; without a
controller: none. What sits behind a wall switch still works by hand.

Cautions
  Mains wiring can kill.`

func TestText(t *testing.T) {
	b := cheapest(t, smallHome(), ceiling(catalogue.DimLamp))
	if got := bill.Text(b, 72, nil); !strings.HasPrefix(got, dimmerText) {
		t.Errorf("got\n%s\nwant\n%s", got, dimmerText)
	}
	for _, width := range []int{1, 40, 80, 1000} {
		for _, row := range strings.Split(bill.Text(b, width, nil), "\n") {
			if n := len([]rune(row)); n > max(min(width, 110), 40) {
				t.Errorf("%d columns at width %d: %q", n, width, row)
			}
		}
	}
}

func TestMoney(t *testing.T) {
	for m, want := range map[bill.Money]string{0: "0.00", 5: "0.05", 123456: "1234.56", -5: "-0.05", -250: "-2.50"} {
		if m.Plain() != want {
			t.Errorf("%d is %s, not %s", m, m.Plain(), want)
		}
	}
}
