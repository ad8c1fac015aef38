package supply_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/supply"
	"pgregory.net/rapid"
)

func randomPrices(t *rapid.T) (all []supply.Price) {
	text := rapid.StringMatching(`[=+\-@']{0,2}[A-Za-zäß€"';,| .0-9]{0,12}`)
	seen := map[[2]string]bool{}
	for i := rapid.IntRange(1, 8).Draw(t, "prices"); i > 0; i-- {
		p := supply.Price{
			Part:     rapid.SampledFrom(fixtures.Catalogue().Parts).Draw(t, "part").ID,
			Supplier: strings.Join(strings.Fields(text.Draw(t, "supplier")), " "),
			Article:  strings.Join(strings.Fields(text.Draw(t, "article")), " "),
			Name:     strings.Join(strings.Fields(text.Draw(t, "name")), " "),
			Price:    supply.Amount(rapid.Int64Range(1, 99_999_999_999).Draw(t, "price")),
			Currency: "EUR",
			Dated:    model.Date{Time: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 700).Draw(t, "day"))},
		}
		if p.Supplier == "" {
			p.Supplier = supply.NoSupplier
		}
		if rapid.Bool().Draw(t, "converted") {
			p.Was = "10.00 CHF at 0.9"
		}
		if k := [2]string{p.Part, p.Supplier}; !seen[k] {
			seen[k] = true
			all = append(all, p)
		}
	}
	return all
}

// same compares prices but for their lines.
func same(a, b []supply.Price) bool {
	strip := func(ps []supply.Price) []supply.Price {
		out := slices.Clone(ps)
		for i := range out {
			out[i].Line = 0
		}
		return out
	}
	return slices.Equal(strip(a), strip(b))
}

// What is written is read back as it was, and so does importing it as if a supplier had sent it; both write the same bytes again.
func TestWriteReadWriteIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prices := randomPrices(t)
		out := supply.Write(prices)
		back, wrong := supply.Read(out)
		if len(wrong) > 0 || !same(back, supply.Sorted(prices)) {
			t.Fatalf("wrote\n%s\nread %+v\nwrong %v", out, back, wrong)
		}
		if again := supply.Write(back); !bytes.Equal(again, out) {
			t.Fatalf("wrote\n%s\nthen\n%s", out, again)
		}
		im := supply.ReadList(out, fixtures.Catalogue(), supply.Options{Dated: today})
		if len(im.Wrong) > 0 || len(im.Prices()) != len(prices) {
			t.Fatalf("imported %d of %d from\n%s\nwrong %v", len(im.Prices()), len(prices), out, im.Wrong)
		}
		once := supply.Write(im.Prices())
		twice := supply.ReadList(once, fixtures.Catalogue(), supply.Options{Dated: today})
		if w := supply.Write(twice.Prices()); !bytes.Equal(w, once) {
			t.Fatalf("imported, written and imported again:\n%s\nthen\n%s", once, w)
		}
	})
}

func TestReadRefuses(t *testing.T) {
	head := "part,price,currency,dated\n"
	for _, c := range []struct{ src, says string }{
		{"", "the list is empty"},
		{"part,price,currency\n", `line 1: the column "dated" is missing`},
		{"part,price,currency,dated,suplier\n", `line 1: "suplier" is no column of own prices; did you mean "supplier"?`},
		{"part,part,price,currency,dated\n", `line 1: two columns are called "part"`},
		{head + "door-thread,8.80,GBP\n", "line 2: there are 3 fields, and 4 heads"},
		{head + "Contact Thread,8.80,GBP,2026-11-01\n", `line 2: "Contact Thread" is no part`},
		{head + "door-thread,\"8,80\",GBP,2026-11-01\n", `line 2: "8,80" is not a price: the decimal mark is a point`},
		{head + "door-thread,8.80,pounds,2026-11-01\n", `line 2: "pounds" is no currency`},
		{head + "door-thread,8.80,GBP,yesterday\n", `line 2: "yesterday" is no day`},
		{head + "door-thread,x,GBP,2026-11-01\ndoor-ble,y,GBP,2026-11-01\n", "line 2: \"x\" is not a price\nline 3: \"y\" is not a price"},
	} {
		prices, wrong := supply.Read([]byte(c.src))
		if prices != nil || !strings.HasPrefix(wrong.Error(), c.says) {
			t.Errorf("%q: %v, want %s", c.src, wrong, c.says)
		}
	}
}

func TestPriced(t *testing.T) {
	c := fixtures.Catalogue()
	before, _ := c.Part("door-thread")
	own := []supply.Price{
		{Line: 2, Part: "door-thread", Supplier: "Dear", Price: 95000, Currency: "GBP", Dated: today},
		{Line: 3, Part: "door-thread", Supplier: "Ash", Price: 81000, Currency: "GBP", Dated: today},
	}
	mine, err := supply.Priced(c, own, "GBP")
	if err != nil {
		t.Fatal(err)
	}
	got, _ := mine.Part("door-thread")
	if got.Price["GBP"] != 8.1 || got.Own.Supplier != "Ash" || got.Own.Dated != "2026-11-30" {
		t.Errorf("priced %+v", got)
	}
	if after, _ := c.Part("door-thread"); after.Price["GBP"] != before.Price["GBP"] || after.Own.Supplier != "" {
		t.Error("the catalogue itself was changed")
	}
	own = append(own, supply.Price{Line: 4, Part: "door-ble", Price: 1, Currency: "CHF"}, supply.Price{Line: 5, Part: "nothing", Currency: "GBP"})
	if _, err := supply.Priced(c, own, "GBP"); err == nil || strings.Count(err.Error(), "line ") != 2 ||
		!strings.Contains(err.Error(), "line 4: door-ble is priced in CHF and the home in GBP") {
		t.Errorf("another currency: %v", err)
	}
}

// Whatever a supplier sends, it is read or refused, in lines that are there, and what is taken can be kept.
func FuzzImport(f *testing.F) {
	f.Add([]byte(german))
	f.Add([]byte("part,price,currency\ndoor-thread,8.80,GBP\n"))
	f.Add([]byte("\xff\xfea\x00;\x00"))
	f.Add([]byte("sku|desc|net £|per\n\"a\"\"b|Leak probe|1'234.50|x10\n"))
	f.Add([]byte("a;price\n\";\n;\"x\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		im := supply.ReadList(src, fixtures.Catalogue(), supply.Options{Dated: today, Currency: "GBP", Confirm: true})
		lines := bytes.Count(src, []byte("\n")) + bytes.Count(src, []byte("\r")) + 2
		for _, p := range im.Wrong {
			if p.Line < 0 || p.Line > lines || p.Says == "" {
				t.Fatalf("%d lines, and line %d: %q", lines, p.Line, p.Says)
			}
		}
		prices := im.Prices()
		if len(prices) == 0 {
			return
		}
		out := supply.Write(prices)
		back, wrong := supply.Read(out)
		if len(wrong) > 0 || !same(back, prices) {
			t.Fatalf("kept as\n%s\nwrong %v", out, wrong)
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("part,supplier,article,name,price,currency,dated,converted\ndoor-thread,Ash,'=1,x,8.80,GBP,2026-11-01,\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		prices, wrong := supply.Read(src)
		if len(wrong) > 0 {
			return
		}
		out := supply.Write(prices)
		back, wrong := supply.Read(out)
		if len(wrong) > 0 || !bytes.Equal(supply.Write(back), out) {
			t.Fatalf("%q then %q: %v", src, out, wrong)
		}
	})
}
