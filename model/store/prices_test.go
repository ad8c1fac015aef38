package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/supply"
)

func TestShelfTakesOwnPricesFromBesideTheProject(t *testing.T) {
	dir := t.TempDir()
	project := filepath.Join(dir, "home.yaml")
	p := &model.Project{}
	p.Home.Currency = "GBP"
	put := func(name, body string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(body), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	const head = "part,supplier,price,currency,dated\n"
	put("mine.csv", head+"door-zigbee,Ash,7.77,GBP,2026-11-01\n")
	put("dollars.csv", head+"door-zigbee,Ash,7.77,USD,2026-11-01\ndoor-wired,Ash,7.77,USD,2026-11-01\n")
	put("many.csv", head+strings.Repeat("door-zigbee,Ash,7.77,USD,2026-11-01\n", 300))
	put("torn.csv", head+"door-zigbee,Ash,free,GBP,2026-11-01\n")
	put("empty.csv", "")
	for _, c := range []struct{ supply, says string }{
		{"", ""},
		{"mine.csv", ""},
		{filepath.Join(dir, "mine.csv"), ""},
		{"nowhere.csv", "the own prices of this home (choices/supply) can't be read: " + filepath.Join(dir, "nowhere.csv") + " doesn't exist"},
		{"dollars.csv", filepath.Join(dir, "dollars.csv") + ":2: door-zigbee is priced in USD and the home in GBP"},
		{"many.csv", filepath.Join(dir, "many.csv") + ": more is wrong than these 200 lines"},
		{"torn.csv", filepath.Join(dir, "torn.csv") + `:2: "free" is not a price`},
		{"empty.csv", filepath.Join(dir, "empty.csv") + ": the list is empty"},
		{".", "is a folder"},
	} {
		p.Choices.Supply = c.supply
		shelf, err := Shelf(project, p, fixtures.Catalogue())
		part, _ := shelf.Part("door-zigbee")
		if c.says == "" {
			if want := c.supply != ""; err != nil || (part.Own.Supplier == "Ash" && part.Price["GBP"] == 7.77) != want {
				t.Errorf("%q: %+v %v", c.supply, part.Own, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), c.says) || shelf != fixtures.Catalogue() {
			t.Errorf("%q: %v, want %s", c.supply, err, c.says)
		}
	}
}

func TestListsAreReadInAnyEncodingUpToASize(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "list.csv")
	if err := os.WriteFile(path, []byte("\xff\xfea\x00"), 0o600); err != nil {
		t.Fatal(err)
	}
	if b, err := ReadList(path); err != nil || len(b) != 4 {
		t.Errorf("UTF-16: %q %v", b, err)
	}
	if err := os.Truncate(path, MostList+1); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadList(path); CodeOf(err) != TooLarge {
		t.Errorf("too large: %v", err)
	}
}

// Whoever imports reads the list long before it is kept. What another program kept meanwhile stays; while one writes, the other is refused.
func TestPricesAreKeptAmongThoseOfOthers(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own-prices.csv")
	now := time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC)
	price := func(part, supplier, money, currency string) supply.Price {
		list, wrong := supply.Read([]byte("part,supplier,price,currency,dated\n" + part + "," + supplier + "," + money + "," + currency + ",2026-11-01\n"))
		if len(wrong) > 0 {
			t.Fatal(wrong)
		}
		return list[0]
	}
	keep := func(p supply.Price) error { _, err := KeepPrices(path, []supply.Price{p}, now); return err }
	for _, p := range []supply.Price{price("door-zigbee", "Ash", "7.77", "GBP"), price("door-wired", "Elm", "3.10", "GBP"), price("door-zigbee", "Ash", "8.00", "GBP")} {
		if err := keep(p); err != nil {
			t.Fatal(err)
		}
	}
	held := func() string {
		prices, err := Prices(path)
		if err != nil {
			t.Fatal(err)
		}
		out := ""
		for _, p := range prices {
			out += p.Part + " " + p.Price.String() + "\n"
		}
		return out
	}
	const want = "door-wired 3.10\ndoor-zigbee 8.00\n"
	if got := held(); got != want {
		t.Errorf("the file holds\n%s", got)
	}
	var mixed *MixedError
	if err := keep(price("door-wired", "Elm", "3.10", "EUR")); !errors.As(err, &mixed) || mixed.Has != "GBP" || mixed.Adds != "EUR" {
		t.Errorf("another currency: %v", err)
	}
	other, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Lock(); err != nil {
		t.Fatal(err)
	}
	if err := keep(price("door-wired", "Elm", "4.00", "GBP")); !errors.Is(err, ErrLocked) {
		t.Errorf("while another program writes: %v", err)
	}
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	if got := held(); got != want {
		t.Errorf("what was refused is in the file:\n%s", got)
	}
}
