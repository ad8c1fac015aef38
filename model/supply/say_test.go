package supply

import (
	"reflect"
	"strings"
	"testing"
)

func TestWhatIsSaidOfAList(t *testing.T) {
	for _, c := range []struct {
		line string
		want [][2]string
		bad  string
	}{
		{"price=4; name=Article text", [][2]string{{"column", "price=4"}, {"column", "name=Article text"}}, ""},
		{"price 4; article column 2", [][2]string{{"column", "price=4"}, {"column", "article=2"}}, ""},
		{"--column price=4 --column name=2 --with-tax 20", [][2]string{{"column", "price=4"}, {"column", "name=2"}, {"with-tax", "20"}}, ""},
		{"currency=EUR; Currency EUR", [][2]string{{"column", "currency=EUR"}, {"currency", "EUR"}}, ""},
		{"rate CHF=0.89; supplier Elm & Ash; dated 2.3.2026; map A1=door-zigbee;", [][2]string{{"rate", "CHF=0.89"}, {"supplier", "Elm & Ash"}, {"dated", "2.3.2026"}, {"map", "A1=door-zigbee"}}, ""},
		{"decimal comma; delimiter TAB; encoding latin-1", [][2]string{{"decimal", "comma"}, {"delimiter", "TAB"}, {"encoding", "latin-1"}}, ""},
		{" ; ", nil, "nothing is said yet"}, {"price", nil, "what is it about price?"}, {"with-tax 200", nil, "up to 100"}, {"with-tax 1/3", nil, "no percentage"},
		{"currenc EUR", nil, `did you mean "currency"?`}, {"column prise=4", nil, "roles are part"}, {"decimal both", nil, "point or comma"},
		{"rate CHF", nil, "is no rate"}, {"currency euros", nil, "no currency"}, {"encoding morse", nil, "there are UTF-8"}, {"map door-zigbee", nil, "article=part"}, {"dated soon", nil, "dated: "},
	} {
		got, err := Said(c.line)
		if (c.bad == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), c.bad) || !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q: %q %v", c.line, got, err)
		}
	}
}

// What is said later counts, and what options are made from stays as it was.
func TestTheLastWordCounts(t *testing.T) {
	var first Options
	say := func(o *Options, name, value string) {
		t.Helper()
		if err := o.Say(name, value); err != nil {
			t.Fatal(err)
		}
	}
	say(&first, "column", "price=3")
	say(&first, "rate", "CHF=0.9")
	later := first
	say(&later, "column", "price=4")
	say(&later, "rate", "CHF=0.8")
	say(&later, "rate", "SEK=0.1")
	if first.Columns["price"] != "3" || later.Columns["price"] != "4" || len(first.Rates) != 1 || len(later.Rates) != 2 || later.Rates[0].Text != "0.8" {
		t.Errorf("%+v %+v", first, later)
	}
}
