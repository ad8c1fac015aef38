package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
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
	put("torn.csv", head+"door-zigbee,Ash,free,GBP,2026-11-01\n")
	put("empty.csv", "")
	for _, c := range []struct{ supply, says string }{
		{"", ""},
		{"mine.csv", ""},
		{filepath.Join(dir, "mine.csv"), ""},
		{"nowhere.csv", "the own prices of this home (choices/supply) can't be read: " + filepath.Join(dir, "nowhere.csv") + " doesn't exist"},
		{"dollars.csv", filepath.Join(dir, "dollars.csv") + ":2: door-zigbee is priced in USD and the home in GBP"},
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
