package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model/projectfile"
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
	Words     string     `json:"words"` // one sentence
	Price     int64      `json:"price"` // by how much the bill goes up, in minor units of the currency
	Currency  string     `json:"currency"`
	Household bool       `json:"household"` // changes the brief, so the household decides
	Edits     []editJSON `json:"edits"`     // of the project file, in the order in which to make them
	Changes   []string   `json:"changes"`   // what else changes
	Keeps     []string   `json:"keeps"`     // promises that are broken now and kept then
	Leaves    []string   `json:"leaves"`    // promises of the room that stay as they are, broken or undecided
}

// editJSON is one edit of the project file.
type editJSON struct {
	Path string  `json:"path"`
	Does string  `json:"does"` // set, append, remove
	Old  *string `json:"old"`  // what stands there now; null where nothing does, and for what is appended
	New  string  `json:"new"`  // YAML
}

func (w *prover) edits(all []projectfile.Edit) []editJSON {
	out := []editJSON{}
	for _, e := range all {
		j := editJSON{Path: e.Path(), Does: e.Does(), New: e.Value()}
		if old, ok := w.doc.Text(e.Path()); ok && j.Does != "append" {
			j.Old = &old
		}
		out = append(out, j)
	}
	return out
}

// remedies looks for what mends a broken promise; nil for any other, and in a whole home for one that only a fault breaks: of those there
// may be many, and each takes its time.
func (w *prover) remedies(ctx context.Context, v proof.Verdict) (*remediesJSON, error) {
	if v.State != proof.Breaks || v.Fault.Kind != promises.NoFault && w.only == "" || v.Promise.Room == "" {
		return nil, nil
	}
	r := w.mending[v.Promise.Room]
	if !r.Mends(v.Promise.ID) {
		e := remedy.Usual
		e.Cache = w.cache
		var err error
		if r, err = remedy.For(ctx, w.project, w.shelf, v, e); err != nil {
			return nil, err
		}
		w.mending[v.Promise.Room] = r
	}
	out := &remediesJSON{Best: []remedyJSON{}, Head: r.Heading(), Said: r.Sentence()}
	for _, x := range r.Remedies {
		j := remedyJSON{Words: x.Words, Price: int64(x.Price), Currency: x.Currency, Household: x.Household,
			Changes: append([]string{}, x.Changes...), Keeps: append([]string{}, x.Keeps...), Leaves: append([]string{}, x.Leaves...)}
		j.Edits = w.edits(x.Edits)
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
	return slices.EqualFunc(a, b, func(x, y remedyJSON) bool {
		return x.Words == y.Words && slices.EqualFunc(x.Edits, y.Edits, func(a, b editJSON) bool { return a.Path == b.Path && a.New == b.New })
	})
}

// appliedJSON is something that the plan has for the sake of a promise.
type appliedJSON struct {
	Need     string `json:"need"`
	Promise  string `json:"promise"` // kind of the promise that would break without it
	Words    string `json:"words"`
	Why      string `json:"why"`
	Price    *int64 `json:"price"` // by how much it makes the bill dearer, in minor units; null where that wasn't reckoned
	Currency string `json:"currency"`
	text     string
}

func (w *prover) applied(ctx context.Context, room string) ([]appliedJSON, error) {
	out := []appliedJSON{}
	if room == "" {
		return out, nil
	}
	all, err := remedy.Mandatory(ctx, w.project, w.shelf, w.plan, room)
	for _, a := range all {
		j := appliedJSON{Need: a.Need, Promise: string(a.Promise), Words: a.Words, Why: a.Why, Currency: a.Currency, text: a.Text()}
		if price := int64(a.Price); a.Priced {
			j.Price = &price
		}
		out = append(out, j)
	}
	return out, err
}

// printApplied prints under the promises what the plan has for their sake.
func (w *prover) printApplied(all []appliedJSON, t theme.Theme) {
	if len(all) == 0 {
		return
	}
	fmt.Fprint(w.p.out, "\n  For the sake of these promises the plan has already\n")
	for _, a := range all {
		fmt.Fprintf(w.p.out, "%s\n", hang("    "+t.Glyphs.Note+"  ", a.text, w.width))
	}
}
