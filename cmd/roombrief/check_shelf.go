package main

import (
	"errors"
	"fmt"
	"io/fs"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
	"example.org/roombrief/model/supply"
)

// shelfProblems is what a sound project says of the catalogue that the catalogue doesn't bear out: parts that lie there already and
// that it doesn't have, choices that nothing heeds, and own prices that are missing, wrong or old. All are warnings, since rules and proofs don't need them;
// unpriced says that there can be no bill.
func shelfProblems(path string, doc *projectfile.Document, day model.Date) (all []projectfile.Problem, unpriced bool) {
	at := func(where, message, hint string) {
		line, column := doc.Where(where)
		all = append(all, projectfile.Problem{Line: line, Column: column, Path: where, Message: message, Hint: hint, Warning: true})
	}
	for i, e := range doc.Project().Existing {
		if _, ok := fixtures.Catalogue().Part(e.Part); ok {
			continue
		}
		hint := "nothing is taken off the bill for it; roombrief parts lists the parts there are"
		if near := nearestPart(fixtures.Catalogue(), e.Part); near != "" {
			hint = fmt.Sprintf("did you mean %q? Nothing is taken off the bill for it as it is", near)
		}
		at(fmt.Sprintf("existing/%d/part", i), fmt.Sprintf("there is no part %q in the catalogue", e.Part), hint)
	}
	idleChoices(doc.Project(), at)
	message, hint, unpriced := priceProblem(path, doc.Project(), day)
	if message != "" {
		at("choices/supply", message, hint)
	}
	return all, unpriced
}

// priceProblem is what is wrong with the own prices of a home, "" when nothing is or it has none.
func priceProblem(path string, p *model.Project, day model.Date) (message, hint string, unpriced bool) {
	file := store.PriceFile(path, p)
	if file == "" {
		return "", "", false
	}
	prices, err := store.Prices(file)
	var wrong supply.Problems
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Sprintf("the own prices %s are not there", file), "make them with roombrief parts import, or take this line out", true
	case errors.As(err, &wrong):
		message = wrong[0].Says
		if n := len(wrong) - 1; n > 0 {
			message += fmt.Sprintf(" (and %s)", english.Count(n, "more problem", "more problems"))
		}
		return message, "roombrief parts check " + file + " lists all that is wrong there", true
	case err != nil:
		return "the own prices can't be read: " + err.Error(), "", true
	}
	money, other := p.Home.Money(), 0
	for _, x := range prices {
		if x.Currency != money {
			message = fmt.Sprintf("%s:%d: %s is priced in %s and the home in %s", file, x.Line, x.Part, x.Currency, money)
			hint = fmt.Sprintf("import the list again with a rate of yours (--rate %s=…), or change home/currency", x.Currency)
			other++
		}
	}
	if other > 0 {
		return message, hint, true
	}
	if _, err := supply.Priced(fixtures.Catalogue(), prices, money); err != nil {
		return file + ": " + err.Error(), "roombrief parts check " + file + " says which part is nearest", true
	}
	stale := 0
	for _, s := range suppliersOf(prices, day) {
		stale += s.Stale
	}
	if stale > 0 {
		return fmt.Sprintf("of the %d prices in %s %s older than a year", len(prices), file, english.Count(stale, "is", "are")),
			"ask the supplier again, and import the list", false
	}
	return "", "", false
}
