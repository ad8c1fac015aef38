package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/supply"

	"github.com/charmbracelet/x/ansi"
)

// report is what an import came to.
type report struct {
	p          process
	f          importFlags
	o          supply.Options
	im         *supply.Import
	path, kept string
	today      model.Date
	whole      bool // something is wrong with the list as a whole
	bad        bool // nothing may be kept
	count      int  // prices that were kept
}

// importJSON is `parts import --json`.
type importJSON struct {
	List      string        `json:"list"`
	Encoding  string        `json:"encoding"`
	Delimiter string        `json:"delimiter"`
	Decimal   string        `json:"decimal"`
	HeadLine  int           `json:"head_line"` // counted from 1; 0 when the list has no heads
	Columns   []columnJSON  `json:"columns"`
	Currency  string        `json:"currency"` // that the list as a whole is in, "" when lines say it
	Lines     int           `json:"lines"`    // with a price
	Others    int           `json:"others"`   // of them, like no part of the catalogue
	Taken     []rowJSON     `json:"taken"`
	Guessed   []rowJSON     `json:"guessed"` // not taken until confirmed
	Notes     []string      `json:"notes"`
	Wrong     []problemLine `json:"wrong"`
	KeptIn    string        `json:"kept_in"` // "" when nothing was kept
}

type columnJSON struct {
	Role   string `json:"role"`
	Number int    `json:"number"`
	Head   string `json:"head"`
	Told   bool   `json:"told"` // by a flag; else guessed
}

type rowJSON struct {
	Line     int     `json:"line"`
	Article  string  `json:"article"`
	Name     string  `json:"name"`
	Part     string  `json:"part"`
	How      string  `json:"how"`
	Score    float64 `json:"score"` // of a guess, 0 to 1
	Likely   bool    `json:"likely"`
	Second   string  `json:"second"` // next likely part
	Price    string  `json:"price"`  // decimal, in the major unit
	Currency string  `json:"currency"`
	Supplier string  `json:"supplier"`
	Dated    string  `json:"dated"`
	Was      string  `json:"converted"`
}

type problemLine struct {
	Line    int    `json:"line"` // 0 is the list as a whole
	Message string `json:"message"`
}

// print shows the report, then what is wrong, and gives the exit status.
func (r report) print() error {
	if r.f.asJSON {
		if err := printJSON(r.p.out, r.json()); err != nil {
			return err
		}
	} else {
		r.form()
		r.rows()
		r.ending()
	}
	for _, x := range r.im.Wrong {
		at := r.path
		if x.Line > 0 {
			at = fmt.Sprintf("%s:%d", r.path, x.Line)
		}
		fmt.Fprintf(r.p.err, "%s: %s\n", at, x.Says)
	}
	switch {
	case r.bad && r.whole:
		return status{badCall, errors.New("nothing was kept")}
	case r.bad:
		return status{badCall, errors.New("nothing was kept; put these lines right, or leave them out (--leave-out)")}
	case len(r.im.Taken) == 0 || len(r.im.Wrong) > 0 || len(r.im.Guessed) > 0:
		return status{heed, nil}
	}
	return nil
}

// form shows how the list was read, so that a wrong guess is seen.
func (r report) form() {
	fmt.Fprintf(r.p.out, "%s: %s\n", r.path, english.Count(r.im.Lines, "line with a price", "lines with a price"))
	for _, l := range r.im.Form(r.path, r.o, r.today) {
		fmt.Fprintf(r.p.out, "  %-10s %s\n", l[0], l[1])
	}
	for _, n := range r.im.Notes {
		fmt.Fprintln(r.p.out, wrap(n, "  ", widthOf(r.p)))
	}
}

// mostShown is how many guesses are printed; all of them go into --guesses.
const mostShown = 60

func (r report) rows() {
	if len(r.im.Taken) > 0 {
		fmt.Fprintf(r.p.out, "\nTaken\n")
		r.table(r.im.Taken)
	}
	if n := len(r.im.Guessed); n > 0 {
		fmt.Fprintf(r.p.out, "\nGuessed, and not taken\n")
		r.table(r.im.Guessed[:min(n, mostShown)])
		if n > mostShown {
			fmt.Fprintf(r.p.out, "  and %d more; --guesses FILE writes all of them\n", n-mostShown)
		}
	}
	if r.im.Others > 0 {
		fmt.Fprintf(r.p.out, "\n%s like nothing in the catalogue.\n", english.Count(r.im.Others, "line looks", "lines look"))
	}
}

// table prints a block of two rows a line: what the list says, and what it is taken for.
func (r report) table(rows []supply.Row) {
	width := widthOf(r.p)
	price := 0
	for _, x := range rows {
		price = max(price, len(x.Price.Price.String()+" "+x.Currency))
	}
	for _, x := range rows {
		money := x.Price.Price.String() + " " + x.Currency
		words := strings.TrimSpace(x.Article + "  " + x.Name)
		name := max(width-price-11, 10)
		fmt.Fprintf(r.p.out, "  %5d  %s%s %*s\n", x.Line, ansi.Truncate(words, name, "…"),
			strings.Repeat(" ", max(name-ansi.StringWidth(words), 0)), price, money)
		fmt.Fprintln(r.p.out, wrap(fmt.Sprintf("%s: %s", x.Part, x.Says()), "         ", width))
	}
}

func (r report) ending() {
	switch {
	case r.bad:
	case r.count > 0:
		fmt.Fprintf(r.p.out, "\n%s in %s.\n", english.Count(r.count, "price is kept", "prices are kept"), r.kept)
	case len(r.im.Taken) > 0:
		fmt.Fprintf(r.p.out, "\nNothing is kept yet: say where with --for PROJECT or -o FILE.\n")
	default:
		fmt.Fprintf(r.p.out, "\nNothing was taken.\n")
	}
	if n := len(r.im.Guessed); n > 0 && !r.bad {
		likely := r.im.Likely()
		text := "Give an article its part with --map, or look the guesses over in a file (--guesses FILE) and import that."
		if likely > 0 && !r.f.confirm {
			text = fmt.Sprintf("--confirm takes the %s; ", english.Count(likely, "likely guess", "likely guesses")) + strings.ToLower(text[:1]) + text[1:]
		}
		if r.f.guesses != "" {
			text += " They are in " + r.f.guesses + "."
		}
		fmt.Fprintln(r.p.out, wrap(text, "", widthOf(r.p)))
	}
}

func (r report) json() importJSON {
	im := r.im
	out := importJSON{List: r.path, Encoding: im.Encoding, Delimiter: mark(im.Delimiter), Decimal: mark(im.Decimal), HeadLine: im.HeadLine,
		Columns: []columnJSON{}, Currency: im.Currency, Lines: im.Lines, Others: im.Others, Taken: rowsJSON(im.Taken), Guessed: rowsJSON(im.Guessed),
		Notes: append([]string{}, im.Notes...), Wrong: []problemLine{}}
	if r.count > 0 {
		out.KeptIn = r.kept
	}
	for _, c := range im.Columns {
		out.Columns = append(out.Columns, columnJSON{c.Role, c.Number, c.Head, c.Told})
	}
	for _, x := range im.Wrong {
		out.Wrong = append(out.Wrong, problemLine{x.Line, x.Says})
	}
	return out
}

// mark is a sign as text, "" for none.
func mark(r rune) string {
	if r == 0 {
		return ""
	}
	return string(r)
}

func rowsJSON(rows []supply.Row) []rowJSON {
	out := []rowJSON{}
	for _, x := range rows {
		out = append(out, rowJSON{x.Line, x.Article, x.Name, x.Part, x.How, x.Guess.Score, x.Guess.Sure, x.Guess.Second,
			x.Price.Price.String(), x.Currency, x.Supplier, x.Dated.Format("2006-01-02"), x.Was})
	}
	return out
}
