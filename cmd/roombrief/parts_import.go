package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/model/store"
	"example.org/roombrief/model/supply"

	"github.com/spf13/cobra"
)

// importFlags are what the user says to `parts import`.
type importFlags struct {
	project, out, guesses              string
	encoding, delimiter, decimal       string
	currency, in, supplier, dated, tax string
	columns, rates, maps               []string
	confirm, leaveOut, asJSON          bool
}

func importCommand(p process) *cobra.Command {
	var f importFlags
	c := &cobra.Command{
		ValidArgsFunction: csvFiles,

		Use:   "import CSV",
		Short: "Take a supplier's price list in as your own prices",
		Long: `Read a supplier's price list as it comes, and keep the prices of what the catalogue has as
a clean CSV beside a project, which plans with them from then on.

Encoding, delimiter, decimal mark and columns are guessed and shown; a flag sets each
right. A line is for a part when its part column says so, when you say so (--map), or when
you did before; words that look like a part are shown as a guess, and taken with --confirm,
or by way of a file (--guesses) in which you strike out what is wrong.

Prices are without tax. One currency only: another is converted by a rate that you
give, or refused. Any line that is wrong is said, and then nothing is kept, unless you
leave such lines out.

Exit status 1 when guesses were not confirmed or lines were left out; 2 when nothing could
be kept.`,
		Example: `  roombrief parts import huber.csv --for alder-row.yaml
  roombrief parts import huber.csv --for alder-row.yaml --confirm --map 4711-02=door-zigbee
  roombrief parts import list.csv --column price=4 --column name=2 --currency EUR -o own-prices.csv
  roombrief parts import suisse.csv --for alder-row.yaml --rate CHF=0.89 --confirm`,
		Args: oneList,
		RunE: func(c *cobra.Command, args []string) error { return importList(p, args[0], f) },
	}
	s := c.Flags()
	s.StringVar(&f.project, "for", "", "project file that the prices are kept beside, and that gives the currency")
	s.StringVarP(&f.out, "output", "o", "", "keep the prices in this file; own-prices.csv beside the project when absent")
	s.StringVar(&f.guesses, "guesses", "", "write guesses to this CSV, to be looked over and imported")
	s.StringVar(&f.encoding, "encoding", "", "encoding of the list: "+strings.Join(supply.Encodings, ", "))
	s.StringVar(&f.delimiter, "delimiter", "", "what sets fields apart: comma, semicolon, tab or bar")
	s.StringVar(&f.decimal, "decimal", "", "decimal mark: point or comma")
	s.StringArrayVar(&f.columns, "column", nil, "role=head or role=number; roles: "+strings.Join(supply.Roles, ", "))
	s.StringVar(&f.currency, "currency", "", "currency of prices that don't say theirs")
	s.StringVar(&f.in, "in", "", "currency that prices are kept in; the project's with --for")
	s.StringArrayVar(&f.rates, "rate", nil, "your rate for another currency: CHF=0.89 where one CHF is 0.89 of yours")
	s.StringVar(&f.supplier, "supplier", "", "whose list it is; the file's name when absent")
	s.StringVar(&f.dated, "dated", "", "day of the prices where the list gives none; today when absent")
	s.StringVar(&f.tax, "with-tax", "", "percent of tax that is in the prices, to be taken out")
	s.StringArrayVar(&f.maps, "map", nil, "article=part: which part an article is")
	s.BoolVar(&f.confirm, "confirm", false, "take the guesses that are likely")
	s.BoolVar(&f.leaveOut, "leave-out", false, "leave lines out that are wrong, and keep the rest")
	s.BoolVar(&f.asJSON, "json", false, "print JSON")
	words(c, "encoding", supply.Encodings...)
	words(c, "delimiter", "comma", "semicolon", "tab", "bar")
	words(c, "decimal", "point", "comma")
	return c
}

func oneList(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return status{badCall, fmt.Errorf("name one price list, as in roombrief parts import huber.csv --for alder-row.yaml; see roombrief parts import --help")}
	}
	return nil
}

// keeping is where imported prices go, and what lies there.
type keeping struct {
	path string         // "" keeps nothing
	old  []supply.Price // from before
	file *store.File    // the project, nil without
	doc  *projectfile.Document
	name string // that the project has to note, "" when it does already
}

func importList(p process, path string, f importFlags) error {
	o, err := f.options(p, path)
	if err != nil {
		return status{badCall, err}
	}
	k, err := f.keeping(p)
	if err != nil {
		return err
	}
	o.Known = k.old
	if k.doc != nil {
		o.To = k.doc.Project().Home.Money()
	}
	src, err := listBytes(p, path)
	if err != nil {
		return err
	}
	im := supply.ReadList(src, fixtures.Catalogue(), o)
	r := report{p: p, f: f, o: o, im: im, path: path, today: model.Date{Time: today(p)}, kept: k.path, whole: im.Whole()}
	r.bad = len(im.Wrong) > 0 && (r.whole || !f.leaveOut)
	prices := im.Prices()
	if !r.bad && len(prices) > 0 && k.path != "" {
		if err := k.keep(prices, today(p)); err != nil {
			return err
		}
		r.count = len(prices)
	}
	if f.guesses != "" && len(im.Guessed) > 0 {
		if err := store.WriteWhole(f.guesses, guessesCSV(im)); err != nil {
			return status{badCall, err}
		}
	}
	return r.print()
}

// listBytes reads the list, or with "-" what comes in.
func listBytes(p process, path string) ([]byte, error) {
	if path != "-" {
		src, err := store.ReadList(path)
		if err != nil {
			return nil, status{badCall, err}
		}
		return src, nil
	}
	src, err := io.ReadAll(io.LimitReader(p.in, store.MostList+1))
	if err == nil && len(src) > store.MostList {
		err = errors.New("it is larger than any price list")
	}
	if err != nil {
		return nil, status{badCall, fmt.Errorf("what comes in can't be read: %w", err)}
	}
	return src, nil
}

// options reads the flags; the error names the one that can't be read.
func (f importFlags) options(p process, path string) (o supply.Options, err error) {
	o = supply.Options{Confirm: f.confirm, Supplier: f.supplier, Dated: model.Date{Time: today(p)}}
	if o.Supplier == "" && path != "-" {
		o.Supplier = supply.SupplierOf(path)
	}
	say := func(name string, values ...string) {
		for _, v := range values {
			if v == "" || err != nil {
				continue
			}
			if bad := o.Say(name, v); bad != nil {
				err = bad
				if strings.HasPrefix(bad.Error(), name) { // it names the flag
					err = fmt.Errorf("--%w", bad)
				}
			}
		}
	}
	say("encoding", f.encoding)
	say("delimiter", f.delimiter)
	say("decimal", f.decimal)
	say("column", f.columns...)
	say("map", f.maps...)
	say("currency", f.currency)
	if o.To = strings.ToUpper(f.in); err == nil && o.To != "" && !catalogue.IsCurrency(o.To) {
		err = fmt.Errorf("--in %q is no currency; it is three capitals, as in GBP", o.To)
	}
	say("rate", f.rates...)
	say("dated", f.dated)
	say("with-tax", f.tax)
	return o, err
}

// keeping finds out where prices are to be kept, and reads those that are there.
func (f importFlags) keeping(p process) (k keeping, err error) {
	k.path = f.out
	if f.project != "" {
		if k.file, err = store.Open(f.project); err != nil {
			return k, status{badCall, err}
		}
		if k.doc = projectfile.Parse(k.file.Bytes()); !k.doc.OK() {
			printProblems(p.err, f.project, k.doc.Problems())
			return k, status{badCall, nil}
		}
		if in := strings.ToUpper(f.in); in != "" && in != k.doc.Project().Home.Money() {
			return k, status{badCall, fmt.Errorf("--in %s, but %s is in %s; leave --in out, or change home/currency there", in, f.project, k.doc.Project().Home.Money())}
		}
		if dir, err := store.StateDir(p.env); err == nil {
			k.file.StateDir = dir
		}
		k.file.Clock = func() time.Time { return today(p) }
		beside := store.PriceFile(f.project, k.doc.Project())
		if beside == "" {
			if beside = f.out; beside == "" {
				beside = filepath.Join(filepath.Dir(f.project), store.OwnPrices)
			}
			if k.name, err = filepath.Rel(filepath.Dir(f.project), beside); err != nil {
				k.name = beside
			}
			k.name = filepath.ToSlash(k.name)
		}
		if f.out != "" && filepath.Clean(f.out) != filepath.Clean(beside) {
			return k, status{badCall, fmt.Errorf("%s keeps its prices in %s; leave out -o, or --for", f.project, beside)}
		}
		k.path = beside
	}
	if k.path == "" {
		return k, nil
	}
	k.old, err = store.Prices(k.path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return k, status{badCall, err}
	}
	return k, nil
}

// keep writes the prices among those of before, and notes in the project where they are.
func (k keeping) keep(prices []supply.Price, now time.Time) error {
	var doc *projectfile.Document
	if k.name != "" {
		var err error
		if doc, err = k.doc.Apply(projectfile.Set("choices/supply", projectfile.Quote(k.name))); err != nil {
			return status{badCall, err}
		}
		defer k.file.Close()
		if err := takeOver(k.file); err != nil {
			return err
		}
	}
	_, err := store.KeepPrices(k.path, prices, now)
	var mixed *store.MixedError
	if errors.As(err, &mixed) {
		err = fmt.Errorf("%w: keep these in another file (-o), or give a rate (--in %s --rate %s=…)", err, mixed.Has, mixed.Adds)
	}
	if err == nil && doc != nil {
		err = k.file.Save(doc.Source())
	}
	if err != nil {
		return status{badCall, err}
	}
	return nil
}

// guessesCSV is the guesses as a list in the clean form: what is wrong in it is struck out by hand, and the rest imported.
func guessesCSV(im *supply.Import) []byte {
	var all []supply.Price
	for _, g := range im.Guessed {
		all = append(all, g.Price)
	}
	return supply.Write(all)
}
