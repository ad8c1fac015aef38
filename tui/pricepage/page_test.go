package pricepage

import (
	"errors"
	"strings"
	"testing"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	"example.org/roombrief/model/supply"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

const (
	ash   = "article;description;price GBP\nA1;Door contact, Zigbee, battery;7.90\nA2;Motion sensor ceiling zigbee battery;21.40\n;B22 lamp tunable white;9.20\nA4;Garden hose;4\n"
	wrong = "part,price,currency\ndoor-zigbee,7.90,GBP\ndoor-zigbe,8.00,GBP\ndoor-ble,nought,GBP\n"
	euros = "part;price EUR\ndoor-zigbee;9,80\n"
)

// looked is a page on which a list was asked for and read as the root reads it.
type looked struct {
	*trial.Desk
	t    *testing.T
	list string
}

func look(t *testing.T, list string, w, h int) *looked {
	l := &looked{trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), w, h), t, list}
	return l.press("=list.csv", "enter")
}

// press presses keys, and reads the list again where the page asks for that.
func (l *looked) press(names ...string) *looked {
	l.t.Helper()
	for _, n := range names {
		l.Press(n)
		a, ok := l.Last.(page.ReadPrices)
		if !ok {
			continue
		}
		today := model.Date{Time: trial.Today}
		o := supply.Options{To: "GBP", Supplier: "list", Dated: today, Confirm: a.Confirm, Map: a.Map}
		for _, said := range a.Said {
			if err := o.Say(said[0], said[1]); err != nil {
				l.t.Fatal(err)
			}
		}
		im := supply.ReadList([]byte(l.list), fixtures.Catalogue(), o)
		l.Snap.Prices = &page.Prices{File: a.File, Keep: "own-prices.csv", Import: im, Form: im.Form(a.File, o, today)}
		l.Page.Show(l.Snap)
	}
	return l
}

func (l *looked) sees(texts ...string) {
	l.t.Helper()
	for _, text := range texts {
		if !strings.Contains(l.Seen(), text) {
			l.t.Errorf("the page does not say %q:\n%s", text, l.Seen())
		}
	}
}

func TestAListIsShownBeforeItIsKept(t *testing.T) {
	l := look(t, ash, 76, 60)
	l.sees("list.csv", "0 taken, 3 guessed, 0 wrong", "encoding   UTF-8, guessed", `price      column 3, "price GBP"`, "supplier   list, from the name of the file",
		"A1  Door contact, Zigbee, battery", "7.90 GBP", "door-zigbee: likely", "1 line looks like nothing in the catalogue.")
	if l.press("enter"); !strings.Contains(l.Said(), "Nothing is taken yet") {
		t.Errorf("Enter does %v", l.Last)
	}
}

func TestGuessesAreTakenOneByOneOrAllThatAreLikely(t *testing.T) {
	l := look(t, ash, 116, 60)
	for !strings.Contains(l.Seen(), "▸ A1") {
		l.press("down")
	}
	l.sees("y takes it for that.")
	l.press("y").sees("1 taken, 2 guessed", "as you said")
	l.press("end", "y").sees("0 taken, 3 guessed")
	l.press("c").sees("2 taken, 1 guessed", "confirmed guess")
	for !strings.Contains(l.Seen(), "▸ B22") {
		l.press("up")
	}
	if l.press("y"); !strings.Contains(l.Said(), "no article number") {
		t.Errorf("y on a line without an article does %v", l.Last)
	}
	if l.press("enter"); l.Last != page.Action(page.KeepPrices{}) {
		t.Errorf("Enter does %v", l.Last)
	}
	l.press("c").sees("0 taken, 3 guessed")
}

func TestNothingIsKeptWhileALineIsWrong(t *testing.T) {
	l := look(t, wrong, 76, 60)
	l.sees("1 taken, 0 guessed, 2 wrong", `Line 3: there is no part "door-zigbe"`, `Line 4: "nought" is not a price.`, "or left out with l")
	if l.press("enter"); !strings.Contains(l.Said(), "leave them out with l") {
		t.Errorf("Enter does %v", l.Last)
	}
	l.press("l").sees("Wrong (2), and left out")
	if l.press("enter"); l.Last != page.Action(page.KeepPrices{}) {
		t.Errorf("Enter does %v", l.Last)
	}
	l = look(t, euros, 76, 60)
	l.sees("What begins with -- is said after e")
	if l = look(t, "", 76, 60); !strings.Contains(l.press("l").Said(), "as a whole") {
		t.Errorf("of an empty list l does %v", l.Last)
	}
}

// A list that is read wrong is put right on the page, a word at a time, and Enter with no word takes them all back.
func TestAListIsReadOtherwise(t *testing.T) {
	l := look(t, "Code;Stock;Text;Listed;Gross\nA1;12;Door contact, Zigbee, battery;10,00;7,90\n", 76, 30)
	l.sees("nothing is kept until this is put right with e", `not read   column 2, "Stock"`)
	l.press("e").sees("How is this list to be read otherwise?", "with-tax   20: percent of tax")
	l.press("=with-tax 20; currenc GBP", "enter").sees(`did you mean`)
	for range "currenc GBP" {
		l.press("backspace")
	}
	l.press("=currency GBP", "enter").sees("0 taken, 1 guessed, 0 wrong", "6.5833 GBP", "Tax of 20 % was taken out")
	for !strings.Contains(l.Seen(), "▸ price") {
		l.press("down")
	}
	l.press("e", "=4", "enter").sees(`price      column 4, "Listed", as you said`, "8.3333 GBP")
	l.press("e").sees("Said so far: with-tax 20; currency GBP; price=4.")
	l.press("esc").sees("8.3333 GBP")
	l.press("e")
	for range "price=" {
		l.press("backspace")
	}
	l.press("enter").sees("look to be with tax")
}

func TestWhatCannotBeReadOrKeptIsSaid(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", ""), 76, 19)
	if d.Press("enter"); !strings.Contains(d.Seen(), "Write which file") {
		t.Errorf("without a file:\n%s", d.Seen())
	}
	d.Press("=nowhere.csv", "enter")
	d.Snap.Prices = &page.Prices{File: "nowhere.csv", Busy: true}
	d.Page.Show(d.Snap)
	if !strings.Contains(d.Seen(), "It is being read.") {
		t.Errorf("while it is read:\n%s", d.Seen())
	}
	d.Snap.Prices = &page.Prices{File: "nowhere.csv", Fault: errors.New("nowhere.csv doesn't exist")}
	d.Page.Show(d.Snap)
	if !strings.Contains(d.Seen(), "✗ nowhere.csv doesn't exist.") || d.Page.Takes() != page.Text {
		t.Errorf("a file that isn't there:\n%s", d.Seen())
	}
	l := look(t, wrong, 76, 30)
	failed := *l.Snap.Prices
	failed.Fault = errors.New("own-prices.csv is open in another program")
	l.Snap.Prices = &failed
	l.Page.Show(l.Snap)
	l.sees("✗ Not kept: own-prices.csv is open in another program.")
	l.Snap.ReadOnly = "The home is for reading only."
	l.Page.Show(l.Snap)
	if l.press("enter"); l.Said() != l.Snap.ReadOnly {
		t.Errorf("of a home for reading only Enter does %v", l.Last)
	}
}

func TestTheListIsDroppedOrAnotherTaken(t *testing.T) {
	l := look(t, ash, 76, 30)
	if l.press("f"); l.Page.Takes() != page.Text || !strings.Contains(l.Seen(), "list.csv") {
		t.Errorf("f shows\n%s", l.Seen())
	}
	l.press("enter")
	l.Snap.At = Anew
	if l.Page.Show(l.Snap); l.Page.Takes() != page.Text || strings.Contains(l.Seen(), "list.csv") {
		t.Errorf("asked for another list it shows\n%s", l.Seen())
	}
	if l.press("esc"); l.Last != page.Action(page.Back{}) {
		t.Errorf("Esc in the field does %v", l.Last)
	}
}

func TestFits(t *testing.T) {
	s := look(t, ash, 76, 30).Snap
	make := func() page.Page {
		p := New().(*Page)
		p.read.File = "list.csv"
		return p
	}
	trial.Fits(t, make, s, "end")
	trial.Fits(t, New, trial.Home(t, "alder-row.yaml", ""), "=a/long/path/to/some/list/that/goes/on/and/on/and/on/list.csv")
}
