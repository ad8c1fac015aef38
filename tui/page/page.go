// Package page is what the root and the pages of a project agree on. The root is the only tea.Model; it
// shows a page a Snapshot of what is known, passes it messages, and carries out the Actions that it
// answers. A page never touches a file, a clock or the document itself.
//
// A page is made by its package's New() and registered in tui/pages.go. The root then calls, in this order:
// SetSize whenever the window changes, Show whenever anything in the snapshot does (also before the first
// View), Update for keys, mouse and results while the page is in front, and View after every message.
package page

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/open"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/theme"
)

// ID names a page.
type ID string

// The pages.
const (
	Start    ID = "start"
	Rooms    ID = "rooms"
	Talk     ID = "talk"
	Readback ID = "readback"
	Sheet    ID = "sheet"
	Ribbon   ID = "ribbon"
	Bill     ID = "bill"
	Rules    ID = "rules"
	Promises ID = "promises"
	Story    ID = "story"    // of one broken promise
	Points   ID = "points"   // what nobody knows yet, with what hangs on it
	Plan     ID = "plan"     // of a floor
	Supply   ID = "prices"   // of a supplier, to be kept
	NewRoom  ID = "new room" // a kind and a name, then its interview
)

// Page is one page of the notebook. Implementations are pointers to plain structs.
type Page interface {
	// SetSize gives the cells between header and footer; the page fills them and no more.
	SetSize(w, h int)
	// Show hands in what is known now. The snapshot is never changed afterwards, so it may be kept.
	Show(s Snapshot)
	// Update takes a tea.KeyMsg, a tea.MouseMsg (its place counted from the page's own corner) or a message of
	// this package, and answers with what the root should do; nil is nothing.
	Update(msg tea.Msg) Action
	// View draws at most h lines of at most w cells.
	View() string
	// Help is the keys that work on this page now, those that are off with their reason.
	Help() []keys.Binding
	// Takes says which keys the page wants before the globals see them.
	Takes() Takes
}

// Takes says which keys go to the page first.
type Takes int

// What a page takes. Ctrl+C, Ctrl+Z and F1 always stay with the root.
const (
	Own     Takes = iota // globals first, the rest to the page
	Letters              // page first: single-key choices; what it answers with Pass goes to the globals
	Text                 // page only: a text field is focused, and Esc leaves it
)

// HomeItself as the room of a Goto speaks of the home as a whole.
const HomeItself = "."

// Titled is a page whose header says more than its name.
type Titled interface{ Title() string }

// Pointing is a page whose cursor stands on a room, or on HomeItself: the keys that turn to a page of a
// room take that one. "" points at nothing.
type Pointing interface{ Pointing() string }

// Snapshot is what is known at one moment.
type Snapshot struct {
	Doc       *projectfile.Document // never nil on a page of an opened project
	Project   *model.Project        // Doc.Project(), decoded once; treat as read-only
	Catalogue *catalogue.Catalogue  // nil before the first plan
	Plan      *planner.Plan         // the newest finished plan; nil before the first
	PlanFault error                 // why the newest planning failed; nil when it didn't
	Planning  bool                  // Plan follows an older document; the next one is on its way
	Proofs    *Proofs               // verdicts so far; nil before the first
	Trades    *Trades               // the bills that none beats; nil before they are asked for
	Quote     *Quote                // what the household is shown; nil before it is asked for
	Prices    *Prices               // a supplier's list that is being looked over; nil when there is none
	Mends     *Mends                // what would mend the promise whose story is in front; nil before that is asked
	Open      *open.Points          // what hangs on the open points, as far as it is known; nil before the first
	Weighing  bool                  // some of it follows an older document, or is still to come
	Proving   bool                  // some of them follow an older document, or are still to come
	Faults    bool                  // what a fault does to each promise is shown, too
	Room      string                // the room that pages of a room speak of; "" when there is none
	At        string                // path that Goto asked for, "" when none
	File      string
	Theme     theme.Theme
	Units     q.System
	Today     time.Time
	ReadOnly  string // why nothing can be changed; "" when it can
	CanUndo   string // the label of what undo would take back; "" when nothing
	CanRedo   string
}

// RoomNow is the room that the snapshot speaks of.
func (s Snapshot) RoomNow() (model.Room, bool) {
	if s.Project == nil {
		return model.Room{}, false
	}
	for _, r := range s.Project.Rooms {
		if r.ID == s.Room {
			return r, true
		}
	}
	return model.Room{}, false
}

// RoomName prints a room's name, or its id when it has none.
func RoomName(r model.Room) string {
	if r.Name != "" {
		return r.Name
	}
	return r.ID
}
