package bill

import (
	"fmt"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
)

// Radios in the order in which ties are broken. A part without a radio takes no slot.
var Radios = [radios]string{"zigbee", "thread", "wifi", "ble", "wired"}

const radios = 5

// DefaultLabour is an hour's work where the project names no rate, in major units of any currency.
const DefaultLabour = 45

// article is a part of the shelf with its money.
type article struct {
	*catalogue.Part
	index   int   // on the shelf
	radio   int   // in Radios; -1 without one
	each    Money // with markup
	work    Money // labour of one
	cost    Money // of one, with all that comes with it
	toll    toll  // the same
	count   int   // articles, with all that comes with it
	slots   slots // radio slots of one, with all that comes with it
	with    []extra
	owned   int    // the kind of owned part that it is, counted from 1; 0 for none
	lacks   string // a part that it needs and the shelf hasn't got
	avoided bool
}

// slots counts devices by radio, in the order of Radios, and then uses of owned kinds, below zero (owned.go).
type slots [held]int

const held = radios + ownable

func (s slots) plus(o slots, n int) slots {
	for i := range s {
		s[i] += n * o[i]
	}
	return s
}

// within reports whether no count is above that of o.
func (s slots) within(o slots) bool {
	for i := range s {
		if s[i] > o[i] {
			return false
		}
	}
	return true
}

// kit is the set of radios that s uses, as bits.
func (s slots) kit() int {
	k := 0
	for i, n := range s[:radios] {
		if n > 0 {
			k |= 1 << i
		}
	}
	return k
}

// extra is an article that comes with another, or is bought for the same spot.
type extra struct {
	*article
	n int
}

// shelf is the catalogue as this home may buy from it.
type shelf struct {
	articles []*article // priced in the home's currency, in the shelf's order
	byID     map[string]*article
	currency string
	dated    string
	terms    Terms
	volts    float64
	us       bool // lengths are shown in inches
	limits   map[string]catalogue.Limits
	owned    []owned // dearest kinds first; the search weighs the first
	assumed  []Assumption

	known      map[string]*served // by signature and spacer
	guardPlate *article
	guardKnown bool
	cells      map[string]*article // by size
	spacers    []*article          // that bring a switch plate forward
}

func newShelf(p *model.Project, c *catalogue.Catalogue) (*shelf, error) {
	s := &shelf{byID: map[string]*article{}, known: map[string]*served{}, dated: c.Dated, limits: map[string]catalogue.Limits{}}
	if err := s.setTerms(p); err != nil {
		return nil, err
	}
	for _, l := range c.Limits {
		s.limits[l.ID] = l
	}
	for i := range c.Parts {
		part := &c.Parts[i]
		price, ok := part.Price[s.currency]
		if !ok || price < 0 {
			continue
		}
		a := &article{Part: part, index: i, radio: radioOf(part.Radio)}
		a.each = marked(price, s.terms.Markup)
		a.work = work(part.Minutes, s.terms.Labour)
		a.avoided = avoided(part, p.Choices.Avoid)
		if _, twice := s.byID[part.ID]; !twice {
			s.articles = append(s.articles, a)
			s.byID[part.ID] = a
		}
	}
	s.own(p.Existing)
	s.findConsumables()
	for _, a := range s.articles {
		s.complete(a, map[string]bool{})
	}
	return s, nil
}

// Families of the shelf that other parts draw on.
const (
	CellKind   = "battery cell"
	SpacerKind = "box spacer"
)

func (s *shelf) findConsumables() {
	s.cells = map[string]*article{}
	for _, a := range s.articles {
		switch {
		case a.Kind == CellKind:
			one := s.cells[a.Battery.Cell]
			if one == nil || a.each+a.work < one.each+one.work {
				s.cells[a.Battery.Cell] = a
			}
		case a.Kind == SpacerKind && a.Depth > 0 && !a.avoided:
			s.spacers = append(s.spacers, a)
		}
	}
}

// complete adds up what comes with an article: its also-parts, and one spare set of cells (the first set
// comes in the box). A part that comes with itself is counted once.
func (s *shelf) complete(a *article, seen map[string]bool) {
	if a.count > 0 || seen[a.ID] {
		return
	}
	seen[a.ID] = true
	cost, count := a.each+a.work, 1
	burden := toll{upkeep: upkeepOf(a.Part)}
	var with []extra
	var used slots
	if a.radio >= 0 && !does(a.Part, catalogue.Speak) {
		used[a.radio] = 1
	}
	if a.owned > 0 {
		used[radios+a.owned-1]--
	}
	for _, x := range a.Also {
		o, ok := s.byID[x.Part]
		if !ok {
			a.lacks = x.Part
		}
		if !ok || seen[x.Part] {
			continue
		}
		s.complete(o, seen)
		if o.lacks != "" {
			a.lacks = o.lacks
		}
		n := max(x.Each, 1)
		with = append(with, extra{o, n})
		cost += Money(n) * o.cost
		count += n * o.count
		burden = burden.plus(o.toll, n)
		used = used.plus(o.slots, n)
	}
	if cell := s.cells[a.Battery.Cell]; cell != nil && a.Kind != CellKind && a.Battery.Count > 0 {
		s.complete(cell, seen)
		with = append(with, extra{cell, a.Battery.Count})
		used = used.plus(cell.slots, a.Battery.Count)
		cost += Money(a.Battery.Count) * (cell.each + cell.work)
		count += a.Battery.Count
	}
	a.cost, a.toll, a.count, a.slots, a.with = cost, burden, count, used, with
	delete(seen, a.ID)
}

// setTerms reads currency, mains and terms, and says what it had to fill in.
func (s *shelf) setTerms(p *model.Project) error {
	h := p.Home
	s.currency, s.volts, s.us = h.Money(), float64(h.Mains.Voltage), h.Units == "us"
	if h.Currency == "" {
		s.assume("home/currency", "the currency", s.currency, "No currency is given, so prices are in "+s.currency+"; note the home's.")
	}
	if s.volts == 0 {
		s.volts = 230
		if h.Units == "us" {
			s.volts = 120
		}
		as := fmt.Sprintf("%.0f V", s.volts)
		s.assume("home/mains/voltage", "the mains voltage", as, "The mains voltage isn't given, so parts for "+as+" are planned; note it before anything is bought.")
	}
	t := h.Terms
	s.terms = Terms{Labour: minor(t.Labour.Amount), Markup: float64(t.Markup), Tax: float64(t.Tax)}
	switch {
	case t.Labour.Currency == "" && t.Labour.Amount == 0:
		s.terms.Labour = DefaultLabour * 100
		as := fmt.Sprintf("%d %s an hour", DefaultLabour, s.currency)
		s.assume("home/terms/labour", "the price of labour", as, "No price of labour is given, so it is reckoned at "+as+"; note yours.")
	case t.Labour.Currency != "" && t.Labour.Currency != s.currency:
		return fmt.Errorf("home/terms/labour is in %s but the home's currency is %s; write both in one currency",
			t.Labour.Currency, s.currency)
	}
	if t.Labour.Amount < 0 || t.Markup < 0 || t.Tax < 0 {
		return fmt.Errorf("home/terms: labour, markup and tax can't be below zero")
	}
	return nil
}

func (s *shelf) assume(at, asked, as, text string) {
	s.assumed = append(s.assumed, Assumption{At: at, Asked: asked, As: as, Text: text})
}

func radioOf(name string) int {
	for i, r := range Radios {
		if r == name {
			return i
		}
	}
	return -1
}

// avoided reports whether one of the project's avoid entries means the part.
func avoided(p *catalogue.Part, avoid []string) bool {
	return slices.ContainsFunc(avoid, func(entry string) bool { return Means(entry, p) })
}

// Means reports whether an entry of choices/avoid means a part: it is its id, or words that all occur in its name, kind, radio
// or supply.
func Means(entry string, p *catalogue.Part) bool {
	if entry == p.ID {
		return true
	}
	words := wordsOf(entry)
	return len(words) > 0 && !slices.ContainsFunc(words, func(w string) bool { return !hasWord(p, w) })
}

func hasWord(p *catalogue.Part, w string) bool {
	for _, x := range wordsOf(strings.Join([]string{p.Name, p.Kind, p.Radio, RadioName(p.Radio), p.Supply}, " ")) {
		if x == w || x+"s" == w {
			return true
		}
	}
	return false
}

func wordsOf(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" ,;:()/-", r) })
}

// does reports whether a part lists an ability.
func does(p *catalogue.Part, a catalogue.Ability) bool {
	for _, d := range p.Does {
		if d == a {
			return true
		}
	}
	return false
}
