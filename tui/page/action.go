package page

import "example.org/roombrief/model/projectfile"

// Action is what a page asks of the root: plain data, carried out after Update.
type Action interface{ action() }

// Edit changes the document, as one step of undo. When it is refused the page gets a Refused.
type Edit struct {
	Edits []projectfile.Edit
	Label string // for undo: "level of the evening period"
	At    string // where to stand when it is taken back
	Join  bool   // with an edit of the same label just before it makes one step of undo
	Then  Action // carried out when it went well
}

// Replace puts a whole document in, as one step of undo: what model/interview and model/readback answer.
type Replace struct {
	Doc   *projectfile.Document
	Label string
	At    string // where to stand when it is taken back
	Then  Action
}

// Reckon makes a new document off the screen's thread, for what takes longer than a frame. Make must touch
// nothing but what it captured. Its result is one step of undo; it is dropped when the document has changed
// meanwhile.
type Reckon struct {
	Make  func() (*projectfile.Document, error)
	Label string
	At    string // where to stand when it is taken back
	Then  Action
}

// Goto turns to a page. An empty Room keeps the room that is open.
type Goto struct {
	Page ID
	Room string
	At   string // path or question to stand on, "" for the first
}

// Back turns to the page that this one was reached from.
type Back struct{}

// Open opens a file; Create makes it first from Source when it isn't there.
type Open struct {
	File   string
	Create bool
	Source []byte
}

// Pass says that the key was not the page's; the globals may have it.
type Pass struct{}

// Undo and Redo walk through the documents since the opening.
type Undo struct{}

// Redo makes an undone change again.
type Redo struct{}

// Quit saves and leaves.
type Quit struct{}

// Say shows a sentence above the footer until the next key.
type Say struct {
	Text  string
	Alarm bool // danger only: broken promises, danger, something that was not saved
}

// Export writes the papers into a folder; "" is the folder named after the file, beside it.
type Export struct{ Dir string }

// Faults turns what one fault at a time does to the promises on and off.
type Faults struct{}

// Several are carried out in order.
type Several []Action

func (Pass) action()    {}
func (Edit) action()    {}
func (Replace) action() {}
func (Reckon) action()  {}
func (Goto) action()    {}
func (Back) action()    {}
func (Open) action()    {}
func (Undo) action()    {}
func (Redo) action()    {}
func (Quit) action()    {}
func (Say) action()     {}
func (Export) action()  {}
func (Faults) action()  {}
func (Several) action() {}

// Refused tells a page that its Edit did not go through; nothing was changed.
type Refused struct {
	Err   error
	Label string
}
