package supply_test

import (
	"fmt"
	"math/big"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/supply"
)

var today = model.Date{Time: time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC)}

const german = "Elektro Huber GmbH;;;;\r\nPreisliste Stand 01.11.2026;;;;\r\n\r\n" +
	"Art.-Nr.;Bezeichnung;VE;Netto EUR;Lieferzeit\r\n" +
	"4711-01;Bewegungsmelder Decke, Batterie, Zigbee;1;1.018,40;2 Tage\r\n" +
	"4711-02;\"Türkontakt; Batterie\";10;98,00;2 Tage\r\n" +
	"Leuchtmittel;;;;\r\n" +
	"4711-03;Gehäuseschraube M3 ½\";100;4,50;sofort\r\n"

func encoded(t testing.TB, e encoding.Encoding, text string) []byte {
	t.Helper()
	b, err := e.NewEncoder().Bytes([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The same list is read the same in every encoding that suppliers send.
func TestEveryEncoding(t *testing.T) {
	for _, c := range []struct {
		name string
		src  []byte
		says string
	}{
		{"plain", []byte(german), supply.UTF8},
		{"with a mark", []byte("\xef\xbb\xbf" + german), supply.UTF8},
		{"Windows", encoded(t, charmap.Windows1252, german), supply.Windows1252},
		{"UTF-16, low byte first", encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), german), supply.UTF16LE},
		{"UTF-16, high byte first", encoded(t, unicode.UTF16(unicode.BigEndian, unicode.UseBOM), german), supply.UTF16BE},
		{"UTF-16 without a mark", encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), german), supply.UTF16LE},
		{"Latin-1 with a byte that Windows hasn't", append(encoded(t, charmap.ISO8859_1, german), "4711-09;Dose \x90;1;3,00;x\r\n"...), supply.Latin1},
	} {
		im := supply.ReadList(c.src, fixtures.Catalogue(), supply.Options{Supplier: "Huber", Dated: today, Map: map[string]string{"4711-02": "door-zigbee"}, Confirm: true})
		if len(im.Wrong) > 0 {
			t.Errorf("%s: %v", c.name, im.Wrong)
			continue
		}
		if im.Encoding != c.says || im.Delimiter != ';' || im.Decimal != ',' || im.HeadLine != 4 || im.Currency != "EUR" {
			t.Errorf("%s: read as %s, %q, decimal %q, heads in line %d, %s", c.name, im.Encoding, im.Delimiter, im.Decimal, im.HeadLine, im.Currency)
		}
		want := map[string]string{"4711-01": "1018.40", "4711-02": "9.80"}
		for _, p := range im.Prices() {
			if want[p.Article] != p.Price.String() || p.Currency != "EUR" || p.Supplier != "Huber" {
				t.Errorf("%s: %+v", c.name, p)
			}
			delete(want, p.Article)
		}
		if len(want) > 0 || im.Others < 1 {
			t.Errorf("%s: not taken: %v; %d others", c.name, want, im.Others)
		}
		if p := im.Taken[1]; p.Name != "Türkontakt; Batterie" || p.Line != 6 {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

// list imports rows under heads.
func list(o supply.Options, rows ...string) *supply.Import {
	if o.Dated.IsZero() {
		o.Dated = today
	}
	return supply.ReadList([]byte(strings.Join(rows, "\n")+"\n"), fixtures.Catalogue(), o)
}

func TestPricesAreReadAsMeant(t *testing.T) {
	head := "part;article;price"
	for _, c := range []struct{ rows, want string }{
		{"x;12,50|y;3,00", "12.50 3.00"},
		{"x;12.50|y;3.00", "12.50 3.00"},
		{"x;1.234,50|y;1.234", "1234.50 1234.00"}, // the first shows what the second means
		{"x;1,234.50|y;1,234", "1234.50 1234.00"},
		{"x;1'234.50|y;12.–", "1234.50 12.00"},
		{"x;1 234,5|y;€ 7,25", "1234.50 7.25"},
		{"x;7,25 €|y;EUR 8,1", "7.25 8.10"},
		{"x;0,1234|y;0.5", "0.1234 ✗"}, // the majority decides, the first of equals being the point: see below
		{"x;12|y;13", "12.00 13.00"},
		{"x;12,345|y;2,5", "12.345 2.50"},
		{"x;on request|y;2.50", "✗ 2.50"},
		{"x;-2.50|y;0.00", "✗ ✗"},
		{"x;1.23.4|y;99999999", "✗ ✗"},
		{"x;1.23456|y;1.5", "✗ 1.50"},
		{"x;18,40|y;7,90|z;0.450", "18.40 7.90 ✗"}, // no thousands begin with a nought
		{"x;1 028,40 kr|y;kr. 99,00", "1028.40 99.00"},
	} {
		rows := []string{head}
		for _, r := range strings.Split(c.rows, "|") {
			rows = append(rows, "door-zigbee;"+r)
		}
		im := list(supply.Options{Currency: "EUR"}, rows...)
		wrong := map[int]bool{}
		for _, p := range im.Wrong {
			wrong[p.Line] = true
		}
		at := map[int]string{}
		for _, r := range im.Taken {
			at[r.Line] = r.Price.Price.String()
		}
		var got []string
		for line := 2; line <= len(rows); line++ {
			if s := at[line]; s != "" && !wrong[line] {
				got = append(got, s)
			} else {
				got = append(got, "✗")
			}
		}
		if c.rows == "x;0,1234|y;0.5" {
			c.want = "✗ 0.50"
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: read %s, want %s (%v)", c.rows, s, c.want, im.Wrong)
		}
	}
}

// Everything that is wrong is said, each with its line, and nothing is said twice.
func TestErrorsByLine(t *testing.T) {
	im := list(supply.Options{Map: map[string]string{"A9": "door-zigbee", "A1": "door-zigbe"}, To: "GBP"},
		`article,description,price,currency,valid from`,
		`A1,"Door contact, battery",8.90,GBP,2026-11-01`,
		`A2,Motion sensor for the ceiling,nought,GBP,2026-11-01`,
		`A3,"Never closed,7.10,GBP,2026-11-01`,
		`A4,Leak probe,7.10,CHF,2026-11-01`,
		`A5,Leak probe,7.10,pounds,2026-11-01`,
		`A6,Leak probe,7.10,GBP,03/04/2026`,
		`A7,Leak probe,$7.10,GBP,2026-02-30`)
	want := []string{
		`line 4: a quotation mark is opened and never closed`,
		`article A1 is to be part "door-zigbe", which the catalogue doesn't have; did you mean "door-zigbee"?`,
		`line 3: "nought" is not a price`,
		`line 4: there is no price`,
		`line 5: this is in CHF, and prices are wanted in GBP; they are not mixed: give a rate (--rate CHF=…, what one CHF is in GBP) or leave the line out`,
		`line 6: "pounds" is no currency; it is three capitals, as in GBP`,
		`line 7: "03/04/2026" may be two days; write it as 2026-04-03 or 2026-03-04`,
		`line 8: the price is in USD and its currency is GBP`,
		`line 8: "2026-02-30" is no day; write 2026-11-02`,
		`no line has the article "A9" that you gave a part`,
	}
	var got []string
	for _, p := range im.Wrong {
		if p.Line == 4 && strings.Contains(p.Says, "never closed") || p.Line != 4 {
			got = append(got, p.Error())
		}
	}
	var wanted []string
	for _, w := range want {
		if w != "line 4: there is no price" {
			wanted = append(wanted, w)
		}
	}
	if fmt.Sprint(got) != fmt.Sprint(wanted) {
		t.Errorf("got:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(wanted, "\n"))
	}
}

func TestCurrencyIsNeverMixedSilently(t *testing.T) {
	rows := []string{"part;price;currency", "door-zigbee;8,90;EUR", "door-thread;10,00;CHF"}
	if im := list(supply.Options{}, rows...); len(im.Wrong) != 1 || im.Wrong[0].Line != 3 {
		t.Errorf("two currencies in a list: %v", im.Wrong)
	}
	rate, err := supply.ParseRate("CHF=0.935")
	if err != nil {
		t.Fatal(err)
	}
	im := list(supply.Options{To: "EUR", Rates: []supply.Rate{rate}}, rows...)
	ps := im.Prices()
	if len(im.Wrong) > 0 || len(ps) != 2 || ps[0].Price.String() != "9.35" || ps[0].Was != "10.00 CHF at 0.935" || ps[1].Was != "" {
		t.Errorf("converted: %+v %v", ps, im.Wrong)
	}
	if !strings.Contains(strings.Join(im.Notes, " "), "1 price is converted from CHF at your rate: 1 CHF is 0.935 EUR") {
		t.Errorf("the rate isn't shown: %v", im.Notes)
	}
	whole := list(supply.Options{}, "part;Preis CHF", "door-zigbee;8.90", "door-thread;10.00")
	if ps := whole.Prices(); len(whole.Wrong) > 0 || len(ps) != 2 || ps[0].Currency != "CHF" {
		t.Errorf("a list that is in CHF throughout: %+v %v", ps, whole.Wrong)
	}
	if im := list(supply.Options{}, "part;price", "door-zigbee;8.90"); len(im.Wrong) != 1 || !strings.Contains(im.Wrong[0].Says, "which currency") {
		t.Errorf("no currency at all: %v", im.Wrong)
	}
}

func TestTaxAndPacks(t *testing.T) {
	rows := []string{"part;pack;Price inc VAT £", "door-zigbee;1;12.00", "door-thread;7;50.00"}
	if im := list(supply.Options{}, rows...); len(im.Wrong) != 1 || !strings.Contains(im.Wrong[0].Says, "with tax") {
		t.Errorf("prices with tax: %v", im.Wrong)
	}
	im := list(supply.Options{Tax: big.NewRat(20, 100)}, rows...)
	if ps := im.Prices(); len(im.Wrong) > 0 || ps[0].Price.String() != "5.9524" || ps[1].Price.String() != "10.00" || ps[1].Currency != "GBP" {
		t.Errorf("%+v %v", ps, im.Wrong)
	}
}

func TestWordsForAPieceAreAPackOfOne(t *testing.T) {
	for pack, want := range map[string]string{"each": "12.00", "EA": "12.00", "10 Stk": "1.20", "x 10": "1.20", "/100": "0.12", "4pcs": "3.00", "per 2": "6.00", "Stück": "12.00",
		"-5": "", "0": "", "2,5": "", "box": "", "1000000": ""} {
		im := list(supply.Options{Currency: "GBP"}, "part;pack;price", "door-zigbee;"+pack+";12.00")
		got := ""
		if ps := im.Prices(); len(ps) == 1 && len(im.Wrong) == 0 {
			got = ps[0].Price.String()
		}
		if got != want {
			t.Errorf("a pack of %q makes it %q, want %q: %v", pack, got, want, im.Wrong)
		}
	}
}

// What a rate makes too large to be read again is refused, as the own prices would be lost with it.
func TestWhatIsConvertedCanBeReadAgain(t *testing.T) {
	rate, err := supply.ParseRate("JPY=1000")
	if err != nil {
		t.Fatal(err)
	}
	for price, want := range map[string]int{"9999.99": 0, "10000": 1} {
		im := list(supply.Options{To: "EUR", Rates: []supply.Rate{rate}}, "part;price;currency", "door-zigbee;"+price+";JPY")
		if len(im.Wrong) != want || want > 0 && !strings.Contains(im.Wrong[0].Says, "look at the rate") {
			t.Errorf("%s: %v", price, im.Wrong)
		}
		if _, wrong := supply.Read(supply.Write(im.Prices())); want == 0 && len(wrong) > 0 {
			t.Errorf("%s: %v", price, wrong)
		}
	}
}

func TestTheFormSaysWhoSaidTheDay(t *testing.T) {
	noon := model.Date{Time: today.Add(12 * time.Hour)}
	for _, c := range []struct {
		dated model.Date
		want  string
	}{{today, "2026-11-30, today"}, {model.Date{Time: today.AddDate(0, 0, -1)}, "2026-11-29, as you said"}} {
		o := supply.Options{Dated: c.dated, Currency: "GBP"}
		got := ""
		for _, l := range list(o, "part;price", "door-zigbee;12.00").Form("huber.csv", o, noon) {
			if l[0] == "prices of" {
				got = l[1]
			}
		}
		if got != c.want {
			t.Errorf("says %q, want %q", got, c.want)
		}
	}
}

func TestColumnsSaid(t *testing.T) {
	im := list(supply.Options{Currency: "GBP", Confirm: true, Columns: map[string]string{"name": "2", "price": "4", "article": "1"}},
		"P1,Door contact battery thread,x,9.10", "P2,Leak cable one metre battery zigbee,x,19.10")
	if len(im.Wrong) > 0 || len(im.Prices()) != 2 || im.HeadLine != 0 {
		t.Errorf("%+v", im)
	}
	im = list(supply.Options{}, "P1,Door contact,x,9.10")
	if len(im.Wrong) != 1 || !strings.Contains(im.Wrong[0].Says, "--column price=4") {
		t.Errorf("without heads: %v", im.Wrong)
	}
	im = list(supply.Options{Columns: map[string]string{"price": "Trade"}}, "article,name,price", "P1,Door contact,9.10")
	if len(im.Wrong) != 1 || !strings.Contains(im.Wrong[0].Says, `no column "Trade"`) {
		t.Errorf("a column that isn't: %v", im.Wrong)
	}
}

// Words of ordinary lists find their part, or are shown as unsure; none finds a wrong one surely.
func TestGuesses(t *testing.T) {
	for _, c := range []struct{ words, part string }{
		{"Zigbee micro module 1 channel relay, neutral required, 230 V", "relay-1-neutral-zigbee"},
		{"Door sensor, battery, Thread", "door-thread"},
		{"Reed contact Bluetooth, battery", "door-ble"},
		{"Water leak sensor 1 point Wi-Fi battery", "leak-point-wifi"},
		{"GU10 LED bulb tunable white Zigbee", "lamp-gu10-tunable-zigbee"},
		{"GU10 bulb CCT Thread", "lamp-gu10-tunable-thread"},
		{"Lithium coin cell CR2450", "cell-cr2450"},
		{"Bewegungsmelder Wand Batterie Bluetooth", "motion-ble"},
		{"Smart plug 13 A Zigbee with metering", "plug-13a-zigbee"},
		{"Push button 4 key battery Zigbee", "button-4-zigbee"},
		{"Screwdriver set, 7 pieces", ""},
		{"Cable ties 200 mm black", ""},
		{"NYM-J 3x1.5 100 m", ""},
	} {
		im := list(supply.Options{Currency: "GBP"}, "article;name;price", "a;"+c.words+";1.00")
		got, sure := "", false
		if len(im.Guessed) == 1 {
			got, sure = im.Guessed[0].Part, im.Guessed[0].Guess.Sure
		}
		t.Logf("%-62s %-28s %v", c.words, got, im.Guessed)
		if got != c.part && (sure || c.part == "") {
			t.Errorf("%s: surely %s, should be %s", c.words, got, c.part)
		}
	}
}

func TestNotLists(t *testing.T) {
	for _, c := range []struct{ src, says string }{
		{"", "is empty"},
		{" \r\n\n", "is empty"},
		{"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "is not a text file"},
		{"\x01\x02\x03\x04\x05\x06 some", "is not a text file"},
		{"just a letter to the editor\nwith two lines\n", "no column of the list looks like prices"},
		{"article;name;price\n", "no line of the list has a price"},
	} {
		im := list(supply.Options{Currency: "GBP"}, strings.TrimSuffix(c.src, "\n"))
		if len(im.Wrong) != 1 || !strings.Contains(im.Wrong[0].Says, c.says) {
			t.Errorf("%q: %v", c.src, im.Wrong)
		}
	}
}

func TestEarlierChoicesStay(t *testing.T) {
	before := []supply.Price{{Part: "door-thread", Supplier: "Ash", Article: "DC9", Price: 95000, Currency: "GBP", Dated: today},
		{Part: "leak-point-wifi", Supplier: "Ash", Article: "L1", Price: 150000, Currency: "GBP", Dated: today}}
	im := list(supply.Options{Supplier: "Ash", Known: before}, "sku,product,net price £", "DC9,Contact type nine,8.80", "ZZ,Tape,1.00")
	ps := im.Prices()
	if len(ps) != 1 || ps[0].Part != "door-thread" || im.Taken[0].How != "as before" {
		t.Fatalf("%+v", im)
	}
	all := supply.Merge(before, ps)
	if len(all) != 2 || all[0].Price.String() != "8.80" || all[1].Part != "leak-point-wifi" {
		t.Errorf("merged: %+v", all)
	}
}
