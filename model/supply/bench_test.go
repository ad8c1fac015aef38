package supply_test

import (
	"fmt"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model/supply"
)

// A wholesaler's list of twenty thousand lines, of which few are for parts of the catalogue.
func BenchmarkImport(b *testing.B) {
	var s strings.Builder
	s.WriteString("sku;description;net price EUR\n")
	parts := fixtures.Catalogue().Parts
	for i := range 20000 {
		name := fmt.Sprintf("Cable gland M%d, grey, polyamide, pack %d", i%40, i%7)
		if i%50 == 0 {
			name = parts[i/50%len(parts)].Name
		}
		fmt.Fprintf(&s, "A%05d;%s;%d,%02d\n", i, name, i%900+1, i%100)
	}
	src := []byte(s.String())
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		if im := supply.ReadList(src, fixtures.Catalogue(), supply.Options{Dated: today}); len(im.Wrong) > 0 || im.Lines != 20000 {
			b.Fatal(im.Wrong)
		}
	}
}
