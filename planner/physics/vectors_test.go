package physics_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// table reads a reference file: comment lines, a header, rows.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "fixtures", "vectors", name))
	if err != nil {
		t.Fatal(err)
	}
	c := csv.NewReader(strings.NewReader(string(b)))
	c.Comment = '#'
	rows, err := c.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatal(name, err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
