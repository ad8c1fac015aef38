package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/roombrief/tui/page"
)

// pricingBench is a bench whose home lies in a folder with a supplier's list.
func pricingBench(t *testing.T, list string) (b *bench, dir string) {
	dir = t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "ash.csv"), []byte(list), 0o600); err != nil {
		t.Fatal(err)
	}
	b = newBench(t, small, 80, 24, func(it *Opened) { it.File = filepath.Join(dir, "home.yaml") })
	b.settle()
	b.press("5", "i")
	b.sees("Which price list did your supplier send?")
	b.send(keyMsg(filepath.Join(dir, "ash.csv")))
	b.press("enter")
	return b, dir
}

func TestPricesOfASupplierAreKeptAndPlannedWith(t *testing.T) {
	b, dir := pricingBench(t, "part,article,price,currency\ndoor-zigbee,A1,7.90,GBP\n")
	b.sees("1 taken, 0 guessed, 0 wrong")
	if part, _ := b.r.shelf.Part("door-zigbee"); part.Own.Supplier != "" {
		t.Fatal("it plans with a list that is only being looked over")
	}
	b.press("esc")
	b.sees("▸ Bill")
	if _, err := os.Stat(filepath.Join(dir, "own-prices.csv")); err == nil {
		t.Fatal("what was dropped is kept")
	}
	b.press("i")
	b.sees("Which price list did your supplier send?")
	b.send(keyMsg(filepath.Join(dir, "ash.csv")))
	b.press("enter", "enter")
	b.sees("1 price is kept in own-prices.csv; the bill is planned with them.")
	b.sees("▸ Bill")
	if part, _ := b.r.shelf.Part("door-zigbee"); part.Own.Supplier != "ash" || part.Price["GBP"] != 7.90 {
		t.Errorf("it plans with %+v", part.Own)
	}
	if !strings.Contains(b.source(), "supply: own-prices.csv") {
		t.Errorf("the project doesn't name them:\n%s", b.source())
	}
	b.press("u")
	if part, _ := b.r.shelf.Part("door-zigbee"); part.Own.Supplier != "" {
		t.Error("undone, and still planned with")
	}
	if _, err := os.Stat(filepath.Join(dir, "own-prices.csv")); err == nil {
		t.Error("undone, and the prices are still kept")
	}
	b.press("U")
	if part, _ := b.r.shelf.Part("door-zigbee"); part.Price["GBP"] != 7.90 {
		t.Errorf("made again, it plans with %+v", part.Own)
	}
	b.press("i")
	if err := os.WriteFile(filepath.Join(dir, "ash.csv"), []byte("part,price,currency\ndoor-zigbee,8.00,GBP\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.send(keyMsg(filepath.Join(dir, "ash.csv")))
	b.press("enter", "enter") // the project names them already: it is planned anew nevertheless
	if part, _ := b.r.shelf.Part("door-zigbee"); part.Price["GBP"] != 8 {
		t.Errorf("newer prices: it plans with %v", part.Price["GBP"])
	}
	b.press("u")
	b.sees("Taken back: the prices of ash.csv.")
	if part, _ := b.r.shelf.Part("door-zigbee"); part.Price["GBP"] != 7.90 || !strings.Contains(b.source(), "supply: own-prices.csv") {
		t.Errorf("newer prices taken back: it plans with %v", part.Price["GBP"])
	}
	if err := os.WriteFile(filepath.Join(dir, "own-prices.csv"), []byte("part,supplier,price,currency,dated\ndoor-wired,Elm,3.00,GBP,2026-01-01\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.press("u")
	b.sees("own-prices.csv holds other prices by now, and stays as it is.")
	if _, err := os.Stat(filepath.Join(dir, "own-prices.csv")); err != nil {
		t.Error("what somebody else wrote is gone")
	}
}

func TestPricesThatCannotBeKeptStayInSight(t *testing.T) {
	b, dir := pricingBench(t, "part,price,currency\ndoor-zigbee,7.90,GBP\n")
	if err := os.WriteFile(filepath.Join(dir, "own-prices.csv"), []byte("part,supplier,price,currency,dated\ndoor-wired,Elm,3.00,EUR,2026-01-01\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	b.press("enter")
	b.sees("Not kept: ")
	b.sees("holds prices in EUR")
	if strings.Contains(b.source(), "supply:") {
		t.Error("the project names prices that were not kept")
	}
}

func TestALateListIsDropped(t *testing.T) {
	b, _ := pricingBench(t, "part,price,currency\ndoor-zigbee,7.90,GBP\n")
	known := b.r.prices.known
	b.send(listRead{gen: b.r.prices.gen - 1, known: page.Prices{File: "old.csv"}})
	b.send(listKept{gen: b.r.prices.gen - 1, count: 3})
	if b.r.prices.known != known || b.r.at.page != page.Supply {
		t.Error("what was asked for before is taken for what is asked for now")
	}
}

func TestPagesOfTheHomeSpeakOfNoRoom(t *testing.T) {
	b := newBench(t, two, 80, 24)
	b.r.at.room = "den"
	b.settle()
	b.press("6")
	b.sees("here 2 devices")
	for _, keys := range [][]string{{"5"}, {"5", "i", "esc"}, {"9"}} {
		b.press(keys...)
		if strings.Contains(b.view(), "here 2 devices") {
			t.Errorf("after %v:\n%s", keys, b.view())
		}
	}
	b.press("5", "i")
	if strings.Contains(b.view(), "here 2 devices") {
		t.Errorf("the page of prices speaks of a room:\n%s", b.view())
	}
}
