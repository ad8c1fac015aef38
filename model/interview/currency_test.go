package interview

import (
	"testing"

	"example.org/roombrief/model/projectfile"
)

func TestOtherMoneyAsksForTermsAgain(t *testing.T) {
	for _, tt := range []struct {
		to   string
		kept bool
	}{{"EUR", false}, {"GBP", true}} {
		doc := projectfile.Parse([]byte("roombrief: 1\nhome: {currency: GBP, terms: {labour: 48 GBP/h, markup: 12 %, tax: 20 %}}\n"))
		for _, q := range All(doc, "") {
			if q.Path != "home/currency" {
				continue
			}
			if q.Answer != "pounds (GBP)" {
				t.Errorf("as it stands it is %q", q.Answer)
			}
			next, err := Answer(doc, q, tt.to)
			if err != nil {
				t.Fatal(err)
			}
			doc = next
		}
		if doc.Project().Home.Currency != tt.to || doc.Has("home/terms") != tt.kept || len(doc.Problems()) > 0 {
			t.Errorf("%s: %s, %v", tt.to, doc.Source(), doc.Problems())
		}
	}
}
