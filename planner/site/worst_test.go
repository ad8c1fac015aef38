package site

import (
	"fmt"
	"math"
	"os"
	"sort"
	"strings"
	"testing"
)

// far is the largest deviation of a quantity from its reference figures.
type far struct {
	n        int
	abs, rel float64
}

var worst = map[string]far{}

// record keeps the largest deviation of a quantity. A label may start with a row's name and a colon, and may end in
// the place at which the quantity was taken.
func record(t testing.TB, what string, got, want float64) {
	name, _, _ := strings.Cut(t.Name(), "/")
	name = strings.TrimPrefix(name, "Test")
	if i := strings.LastIndex(what, ": "); i >= 0 {
		what = what[i+2:]
	}
	what, _, _ = strings.Cut(what, " at ")
	w := worst[name+": "+what]
	w.n++
	off := math.Abs(got - want)
	w.abs = math.Max(w.abs, off)
	if want != 0 {
		w.rel = math.Max(w.rel, off/math.Abs(want))
	}
	worst[name+": "+what] = w
}

// TestMain prints under -v how far every quantity is from its references at most.
func TestMain(m *testing.M) {
	code := m.Run()
	if testing.Verbose() && len(worst) > 0 {
		var names []string
		for k := range worst {
			names = append(names, k)
		}
		sort.Strings(names)
		fmt.Printf("\n%-48s %5s %12s %12s\n", "worst deviation from the references", "n", "absolute", "relative")
		for _, k := range names {
			fmt.Printf("%-48s %5d %12.3g %12.3g\n", k, worst[k].n, worst[k].abs, worst[k].rel)
		}
	}
	os.Exit(code)
}
