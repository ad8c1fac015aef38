package main

import (
	"errors"
	"fmt"
	"slices"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/store"
	"example.org/roombrief/model/supply"
	"example.org/roombrief/planner/bill"

	"github.com/spf13/cobra"
)

// priceCheckJSON is `parts check --json`.
type priceCheckJSON struct {
	File      string         `json:"file"`
	OK        bool           `json:"ok"`
	Problems  []string       `json:"problems"`
	Suppliers []supplierJSON `json:"suppliers"`
}

type supplierJSON struct {
	Supplier string `json:"supplier"`
	Currency string `json:"currency"`
	Prices   int    `json:"prices"`
	Oldest   string `json:"oldest"`
	Newest   string `json:"newest"`
	Stale    int    `json:"stale"` // prices that are older than a year
}

func partsCheckCommand(p process) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "check [CSV]",
		Short: "Look own prices over: what is wrong in them, and how old they are",
		Long: `Look over a file of own prices that parts import made, and that you may have edited: what is wrong, line by
line, whose prices they are and how old. Without CSV the catalogue itself is looked over.

Exit status 1 when prices are older than a year.`,
		Example: "  roombrief parts check own-prices.csv",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return status{badCall, fmt.Errorf("one file of own prices is looked over at a time; see roombrief parts check --help")}
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return checkCatalogue(p, asJSON)
			}
			return checkPrices(p, args[0], asJSON)
		},
		ValidArgsFunction: csvFiles,
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// csvFiles offers lists, and nothing behind the first.
func csvFiles(c *cobra.Command, args []string, start string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return []string{"csv", "txt", "tsv"}, cobra.ShellCompDirectiveFilterFileExt
}

// checkCatalogue says what the shelf holds; that nothing is wrong with it, it couldn't have been read otherwise.
func checkCatalogue(p process, asJSON bool) error {
	c := fixtures.Catalogue()
	if asJSON {
		return printJSON(p.out, priceCheckJSON{OK: true, Problems: []string{}, Suppliers: []supplierJSON{}})
	}
	_, err := fmt.Fprintf(p.out, "The catalogue has %d parts and %d sets of limits, and nothing is wrong in it. Its prices are indicative, of %s%s.\n",
		len(c.Parts), len(c.Limits), c.Dated, bill.Age(c.Dated, model.Date{Time: today(p)}))
	return err
}

func checkPrices(p process, path string, asJSON bool) error {
	out := priceCheckJSON{File: path, Problems: []string{}, Suppliers: []supplierJSON{}}
	prices, err := store.Prices(path)
	var wrong supply.Problems
	switch {
	case errors.As(err, &wrong):
	case err != nil:
		return status{badCall, err}
	}
	for _, x := range prices {
		if _, ok := fixtures.Catalogue().Part(x.Part); !ok {
			near := ""
			if n := nearestPart(fixtures.Catalogue(), x.Part); n != "" {
				near = fmt.Sprintf("; did you mean %q?", n)
			}
			wrong = append(wrong, supply.Problem{Says: fmt.Sprintf("%s:%d: there is no part %q in the catalogue%s", path, x.Line, x.Part, near)})
		}
		if x.Currency != prices[0].Currency {
			wrong = append(wrong, supply.Problem{Says: fmt.Sprintf("%s:%d: this is in %s and line %d in %s; one home is priced in one currency", path, x.Line, x.Currency, prices[0].Line, prices[0].Currency)})
		}
	}
	for _, x := range wrong {
		out.Problems = append(out.Problems, x.Says)
	}
	day := model.Date{Time: today(p)}
	out.Suppliers, out.OK = suppliersOf(prices, day), len(wrong) == 0
	if asJSON {
		if err := printJSON(p.out, out); err != nil {
			return err
		}
	} else {
		for _, x := range out.Problems {
			fmt.Fprintln(p.out, x)
		}
		for _, s := range out.Suppliers {
			fmt.Fprintf(p.out, "%s: %s in %s, the oldest of %s%s", s.Supplier, english.Count(s.Prices, "price", "prices"), s.Currency, s.Oldest, bill.Age(s.Oldest, day))
			if s.Stale > 0 {
				fmt.Fprintf(p.out, "; %s older than a year, so ask again", english.Count(s.Stale, "is", "are"))
			}
			fmt.Fprintln(p.out)
		}
	}
	switch {
	case !out.OK:
		return status{badCall, nil}
	case slices.ContainsFunc(out.Suppliers, func(s supplierJSON) bool { return s.Stale > 0 }):
		return status{heed, nil}
	}
	return nil
}

// suppliersOf counts prices by supplier, in the order of their names.
func suppliersOf(prices []supply.Price, day model.Date) []supplierJSON {
	out := []supplierJSON{}
	for _, x := range prices {
		i := slices.IndexFunc(out, func(s supplierJSON) bool { return s.Supplier == x.Supplier })
		d := x.Dated.Format("2006-01-02")
		if i < 0 {
			i = len(out)
			out = append(out, supplierJSON{Supplier: x.Supplier, Currency: x.Currency, Oldest: d, Newest: d})
		}
		s := &out[i]
		s.Prices++
		s.Oldest, s.Newest = min(s.Oldest, d), max(s.Newest, d)
		if day.Sub(x.Dated.Time).Hours() > 24*366 {
			s.Stale++
		}
	}
	slices.SortFunc(out, func(a, b supplierJSON) int {
		if a.Supplier < b.Supplier {
			return -1
		}
		return 1
	})
	return out
}
