// Package keys is the one table of what every key does. Dispatch, the footer, the `?` page and the key
// list of the README all come from it, so that none of them can say something else.
package keys

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// Command is what a key asks for, named once.
type Command string

// Binding ties keys to a command. The zero Off means that it works now.
type Binding struct {
	Do   Command
	Keys []string // as the terminal library names them: "enter", "ctrl+z", "?"
	Cap  string   // what the footer and the lists print for the keys: "↑↓"
	Text string   // two or three words for the footer; "" keeps it out of the footer
	Help string   // a sentence for `?` and the README
	Off  string   // why it does nothing now; "" when it works
}

var spelt = strings.NewReplacer("↑↓", "Up/Down", "←→", "Left/Right", "↑", "Up", "↓", "Down", "←", "Left", "→", "Right")

// Printed is the cap as a screen prints it. One that draws no arrows spells them: <> could be the keys < and >.
func (b Binding) Printed(arrows bool) string {
	if arrows {
		return b.Cap
	}
	return spelt.Replace(b.Cap)
}

// Group is the keys of one page, or of everywhere.
type Group struct {
	Page     string // to print: "Interview"
	Bindings []Binding
}

// Of finds the command of a key press, also when it is off; the caller says why it is.
func (g Group) Of(msg tea.KeyMsg) (Binding, bool) {
	return Find(g.Bindings, msg)
}

// Find looks a key press up in bindings. A paste is text, never a command.
func Find(bs []Binding, msg tea.KeyMsg) (Binding, bool) {
	if msg.Paste {
		return Binding{}, false
	}
	pressed := msg.String()
	for _, b := range bs {
		for _, k := range b.Keys {
			if k == pressed {
				return b, true
			}
		}
	}
	return Binding{}, false
}

// Copy returns the bindings of a group, for a page to say which are off now.
func (g Group) Copy() []Binding { return append([]Binding(nil), g.Bindings...) }

// Off says why a command does nothing now.
func Off(bs []Binding, do Command, why string) []Binding {
	for i := range bs {
		if bs[i].Do == do {
			bs[i].Off = why
		}
	}
	return bs
}

// Without drops commands that make no sense now and need no reason.
func Without(bs []Binding, dos ...Command) []Binding {
	out := bs[:0]
next:
	for _, b := range bs {
		for _, do := range dos {
			if b.Do == do {
				continue next
			}
		}
		out = append(out, b)
	}
	return out
}

// All is the whole table, in the order in which the README lists it.
func All() []Group {
	return []Group{
		Everywhere, Start, Rooms, NewRoom, Talk, TalkField, TalkWords, TalkEnd, Readback, Sheet, Ribbon, Writing, Plan, Bill, PriceFile, PriceForm, Prices, Points, Rules, Promises, Story,
	}
}
