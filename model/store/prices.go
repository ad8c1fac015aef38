package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/supply"
)

// OwnPrices is the file beside a project that own prices are kept in, where the project names no other.
const OwnPrices = "own-prices.csv"

// MostList is how many bytes of a supplier's list are read.
const MostList = 16 << 20

// ReadList reads a list as another program wrote it, in whatever encoding.
func ReadList(path string) ([]byte, error) {
	target, err := resolve(path)
	if err != nil {
		return nil, readFault(path, err)
	}
	body, err := readUpTo(path, target, MostList)
	if err != nil {
		return nil, readFault(path, err)
	}
	return body, nil
}

// PriceFile is where a project keeps its own prices: beside it, under the name that it gives; "" when it has none.
func PriceFile(project string, p *model.Project) string {
	switch name := p.Choices.Supply; {
	case name == "":
		return ""
	case filepath.IsAbs(name):
		return name
	default:
		return filepath.Join(filepath.Dir(project), filepath.FromSlash(name))
	}
}

// Prices reads own prices that were kept. The error is a sentence, or one for each line that is wrong.
func Prices(path string) ([]supply.Price, error) {
	src, err := ReadList(path)
	if err != nil {
		return nil, err
	}
	prices, wrong := supply.Read(src)
	if len(wrong) > 0 {
		return nil, inFile(path, wrong)
	}
	return prices, nil
}

// inFile puts the file and the line before what is wrong there.
func inFile(path string, wrong supply.Problems) supply.Problems {
	var out supply.Problems
	for _, w := range wrong {
		at := path
		if w.Line > 0 {
			at = fmt.Sprintf("%s:%d", path, w.Line)
		}
		out = append(out, supply.Problem{Says: at + ": " + w.Says})
	}
	return out
}

// MixedError is that prices of two currencies would come into one file.
type MixedError struct{ Path, Has, Adds string }

func (e *MixedError) Error() string {
	return fmt.Sprintf("%s holds prices in %s and these are in %s; they are not mixed", e.Path, e.Has, e.Adds)
}

// KeepPrices puts prices among those that a file holds, in the place of older ones of the same supplier. The file is locked from the
// reading to the writing, so that two who import at once lose nothing of each
// other's; now dates the lock.
func KeepPrices(path string, prices []supply.Price, now time.Time) error {
	target, err := resolve(path)
	if err != nil {
		return writeFault(path, err)
	}
	f := &File{path: path, target: target, disk: realDisk{}, Clock: func() time.Time { return now }}
	if err := writable(path, target); err != nil {
		return err
	}
	if err := f.Lock(); err != nil {
		return err
	}
	defer f.Close()
	old, err := Prices(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, p := range old {
		if len(prices) > 0 && p.Currency != prices[0].Currency {
			return &MixedError{path, p.Currency, prices[0].Currency}
		}
	}
	return WriteWhole(path, supply.Write(supply.Merge(old, prices)))
}

// Shelf is the catalogue as a project may buy from it: with the own prices that it names in place of the indicative ones. What is
// wrong with those is an error, and then the shelf is the catalogue as it was.
func Shelf(project string, p *model.Project, c *catalogue.Catalogue) (*catalogue.Catalogue, error) {
	path := PriceFile(project, p)
	if path == "" {
		return c, nil
	}
	prices, err := Prices(path)
	if errors.Is(err, fs.ErrNotExist) {
		return c, fmt.Errorf("the own prices of this home (choices/supply) can't be read: %w; make them with roombrief parts import, or take the line out", err)
	}
	if err != nil {
		return c, err
	}
	priced, err := supply.Priced(c, prices, p.Home.Money())
	var wrong supply.Problems
	if errors.As(err, &wrong) {
		return c, inFile(path, wrong)
	}
	return priced, err
}
