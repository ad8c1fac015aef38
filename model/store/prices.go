package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
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
func KeepPrices(path string, prices []supply.Price, now time.Time) (Kept, error) {
	target, err := resolve(path)
	if err != nil {
		return Kept{}, writeFault(path, err)
	}
	f := &File{path: path, target: target, disk: realDisk{}, Clock: func() time.Time { return now }}
	if err := writable(path, target); err != nil {
		return Kept{}, err
	}
	if err := f.Lock(); err != nil {
		return Kept{}, err
	}
	defer f.Close()
	k := Kept{path: path}
	var old []supply.Price
	if k.was, err = ReadList(path); err == nil {
		old, err = Prices(path)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return Kept{}, err
	}
	for _, p := range old {
		if len(prices) > 0 && p.Currency != prices[0].Currency {
			return Kept{}, &MixedError{path, p.Currency, prices[0].Currency}
		}
	}
	k.is = supply.Write(supply.Merge(old, prices))
	return k, WriteWhole(path, k.is)
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

// Kept is what came into a file of own prices, so that it can be taken back.
type Kept struct {
	path    string
	was, is []byte // of the file; was is nil where there was none
}

// Back has the file as it was before the prices came into it, or gone where there was none; again is the other way about. A file that
// holds something else by now stays as it is, and that is the error. now dates the lock.
func (k Kept) Back(again bool, now time.Time) error {
	from, to := k.is, k.was
	if again {
		from, to = to, from
	}
	target, err := resolve(k.path)
	if err != nil {
		return writeFault(k.path, err)
	}
	f := &File{path: k.path, target: target, disk: realDisk{}, Clock: func() time.Time { return now }}
	if err := f.Lock(); err != nil {
		return err
	}
	defer f.Close()
	held, err := readUpTo(k.path, target, MostList)
	if errors.Is(err, fs.ErrNotExist) {
		held, err = nil, nil
	}
	if err != nil {
		return readFault(k.path, err)
	}
	if (held == nil) != (from == nil) || !bytes.Equal(held, from) {
		return fmt.Errorf("%s holds other prices by now, and stays as it is", filepath.Base(k.path))
	}
	if to == nil {
		if err := os.Remove(target); err != nil {
			return writeFault(k.path, err)
		}
		return nil
	}
	return WriteWhole(k.path, to)
}
