// Package interview is the questions that a home and its rooms are asked, one at a time, in the household's
// words. It draws nothing and keeps nothing: a question is answered when its path is written in the project
// file, and whether it matters is a function of the project alone.
package interview

// Question is one question, as it stands now. Everything in it follows from the document.
type Question struct {
	ID      string // stays the same for as long as the thing asked about has its name
	Room    string // room id; "" is a question of the home
	Chapter Chapter
	Ask     string // the question, in the household's words
	Why     string // why it is asked: one or two sentences
	Kind    Kind
	Choices []Choice // of YesNo, Choice and Several; the keys are lower-case letters and digits
	Path    string   // what it fills in the project file; parked under this path

	Default    string // text that Answer accepts; what Enter means
	DefaultAs  string // the default in words: "yes", "10 minutes", "brick"
	DefaultWhy string // why that is the default, "" when it speaks for itself
	Example    string // another text that Answer accepts
	Unit       string // the unit that a bare number takes, "" when none

	Answered bool
	Answer   string // what is written now, in words
	Now      string // what is written now, as text that Answer accepts
	Parked   bool
	AskWho   string // who will know, when parked

	CanBeUnknown bool   // "unknown" is a good answer; it is planned for
	Caution      string // printed beside the question, "" when none
}

// Chapter groups questions under a heading.
type Chapter string

// The chapters, in the order in which they are asked.
const (
	Home       Chapter = "The home"
	Here       Chapter = "What is here"
	Light      Chapter = "Light"
	Air        Chapter = "Air"
	WaterGoal  Chapter = "Water"
	Appliances Chapter = "Appliances"
	Buttons    Chapter = "Buttons"
	OwnWords   Chapter = "In your own words"
)

// Chapters lists them in order.
func Chapters() []Chapter {
	return []Chapter{Home, Here, Light, Air, WaterGoal, Appliances, Buttons, OwnWords}
}

// Kind says how a question is answered.
type Kind int

// The kinds of question.
const (
	YesNo   Kind = iota // one of two or three choices: y, n, and u where unknown is allowed
	OneOf               // one choice by its key; some accept a figure or a word of their own too
	Several             // any number of choices by their keys, or "none"
	Amount              // a figure with its unit; a bare number takes Unit
	Text                // a line of words or of the small grammar shown in Example
	Times               // stretches of the day: "06:30 90 % 4000 K; sunset 40 %"
	Count               // a whole number
)

// String names the kind.
func (k Kind) String() string {
	return [...]string{"yes or no", "one of", "several", "amount", "text", "times", "count"}[k]
}

// Choice is one of the answers offered.
type Choice struct {
	Key   string // one lower-case letter or digit
	Label string // to print
	Value string // text that Answer accepts as well as the key
	Note  string // what follows from it, "" when nothing to say
}

// RoomKind is a kind of room that can be added.
type RoomKind struct {
	ID   string // as written in the file: "shower room"
	Name string // proposed as the room's name
	Key  string // one lower-case letter or digit
	Note string // what is typical of it
}
