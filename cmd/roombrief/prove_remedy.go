package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/tui/theme"
)

// remediesJSON is what would mend a broken promise.
type remediesJSON struct {
	Best []remedyJSON `json:"best"` // those that leave nothing broken first, each by price
	Head string       `json:"-"`
	Said string       `json:"said"` // where there is none, how far the search went; else ""
}

type remedyJSON struct {
	Words     string   `json:"words"`
	Price     int64    `json:"price"` // by how much the bill goes up, in minor units of the currency
	Currency  string   `json:"currency"`
	Household bool     `json:"household"` // changes the brief, so the household decides
	At        []string `json:"at"`        // paths of the project that it writes
	Changes   []string `json:"changes"`   // what else changes
	Keeps     []string `json:"keeps"`     // promises that are broken now and kept then
	Leaves    []string `json:"leaves"`    // promises of the room that stay as they are, broken or undecided
}

// remedies looks for what mends a broken promise; nil for any other, and for one that only a fault breaks.
func (w *prover) remedies(ctx context.Context, v proof.Verdict) (*remediesJSON, error) {
	if v.State != proof.Breaks || v.Fault.Kind != promises.NoFault || v.Promise.Room == "" {
		return nil, nil
	}
	r := w.mending[v.Promise.Room]
	if !r.Mends(v.Promise.ID) {
		e := remedy.Usual
		e.Cache = w.cache
		var err error
		if r, err = remedy.For(ctx, w.project, fixtures.Catalogue(), v, e); err != nil {
			return nil, err
		}
		w.mending[v.Promise.Room] = r
	}
	out := &remediesJSON{Best: []remedyJSON{}, Head: r.Heading(), Said: r.Sentence()}
	for _, x := range r.Remedies {
		j := remedyJSON{Words: x.Words, Price: int64(x.Price), Currency: x.Currency, Household: x.Household,
			Changes: append([]string{}, x.Changes...), Keeps: append([]string{}, x.Keeps...), Leaves: append([]string{}, x.Leaves...)}
		for _, e := range x.Edits {
			j.At = append(j.At, e.Path())
		}
		out.Best = append(out.Best, j)
	}
	return out, nil
}

// mend prints the remedies under a story.
func (w *prover) mend(r *remediesJSON, t theme.Theme) {
	if r == nil {
		return
	}
	const in = 14
	lead := strings.Repeat(" ", in)
	if r.Said != "" {
		fmt.Fprintf(w.p.out, "%s\n\n", hang(lead, r.Said, w.width))
		return
	}
	if w.mended != nil && sameWords(r.Best, w.mended) {
		fmt.Fprintf(w.p.out, "%s\n\n", lead+"The changes that were listed last mend this one, too.")
		return
	}
	w.mended = r.Best
	fmt.Fprintf(w.p.out, "%s%s\n", lead, r.Head)
	for i, x := range r.Best {
		fmt.Fprintf(w.p.out, "%s\n", hang(fmt.Sprintf("%s%d  ", lead, i+1), x.Words+" "+remedyCost(x), w.width))
		for _, c := range x.Changes {
			fmt.Fprintf(w.p.out, "%s\n", hang(lead+"   "+t.Glyphs.Note+" ", c, w.width))
		}
	}
	fmt.Fprintln(w.p.out)
}

// remedyCost says what a remedy costs, who decides, and what it doesn't mend.
func remedyCost(x remedyJSON) string {
	out := remedy.Cost(x.Price, x.Currency)
	if x.Household {
		out += " It changes the brief, so the household decides."
	}
	if len(x.Leaves) > 0 {
		out += " It leaves " + strings.Join(x.Leaves, ", ") + " as it is."
	}
	return out
}

func sameWords(a, b []remedyJSON) bool {
	return slices.EqualFunc(a, b, func(x, y remedyJSON) bool { return x.Words == y.Words && slices.Equal(x.At, y.At) })
}
