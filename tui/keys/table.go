package keys

// Commands that every page knows.
const (
	Help     Command = "help"
	Quit     Command = "quit"
	Suspend  Command = "suspend"
	Undo     Command = "undo"
	Redo     Command = "redo"
	Back     Command = "back"
	ToRooms  Command = "to rooms"
	ToTalk   Command = "to interview"
	ToSheet  Command = "to sheet"
	ToDay    Command = "to day"
	ToBill   Command = "to bill"
	ToRules  Command = "to rules"
	ToProof  Command = "to promises"
	ToPoints Command = "to open points"
	ToPlan   Command = "to plan"
	Papers   Command = "papers"
)

// Moves that lists share.
const (
	Up     Command = "up"
	Down   Command = "down"
	Left   Command = "left"
	Right  Command = "right"
	PageUp Command = "page up"
	PageDn Command = "page down"
	Top    Command = "top"
	Bottom Command = "bottom"
	Take   Command = "take"
)

// Everywhere works on every page. While a text field has the keys, or a page takes letters for itself,
// only the keys that are not letters or digits still do.
var Everywhere = Group{Page: "Everywhere", Bindings: []Binding{
	{Do: Help, Keys: []string{"?", "f1"}, Cap: "?", Text: "keys", Help: "Show the keys of this page. F1 does it in a text field too."},
	{Do: Back, Keys: []string{"esc"}, Cap: "Esc", Help: "Go back a page, or leave a text field. Nothing is lost by it."},
	{Do: Undo, Keys: []string{"ctrl+u", "u"}, Cap: "u", Text: "undo", Help: "Take the last change back, as far as the opening of the file. Ctrl+U does it in the interview too."},
	{Do: Redo, Keys: []string{"ctrl+r", "U"}, Cap: "U", Help: "Make it again. Ctrl+R does it in the interview too."},
	{Do: ToRooms, Keys: []string{"1"}, Cap: "1", Help: "Rooms of the home."},
	{Do: ToTalk, Keys: []string{"2"}, Cap: "2", Help: "Interview of the room."},
	{Do: ToSheet, Keys: []string{"3"}, Cap: "3", Help: "Brief of the room as a sheet."},
	{Do: ToDay, Keys: []string{"4"}, Cap: "4", Help: "Day of the room, as a ribbon."},
	{Do: ToBill, Keys: []string{"5"}, Cap: "5", Help: "Bill of the home."},
	{Do: ToRules, Keys: []string{"6"}, Cap: "6", Help: "Rules of the room."},
	{Do: Papers, Keys: []string{"7"}, Cap: "7", Text: "papers", Help: "Write the papers into a folder beside the file."},
	{Do: ToProof, Keys: []string{"8"}, Cap: "8", Help: "Promises of the room, with their verdicts."},
	{Do: ToPoints, Keys: []string{"9"}, Cap: "9", Help: "Open points of the home: what to look at before you leave, with what hangs on it."},
	{Do: ToPlan, Keys: []string{"0"}, Cap: "0", Help: "Plan of the floor that the room is on."},
	{Do: Suspend, Keys: []string{"ctrl+z"}, Cap: "Ctrl+Z", Help: "Save and step out to the shell; `fg` comes back."},
	{Do: Quit, Keys: []string{"ctrl+c", "q"}, Cap: "q", Text: "quit", Help: "Save and leave. Ctrl+C does it in a text field too."},
}}

// moves are the keys of a list.
func moves(more ...Binding) []Binding {
	return append([]Binding{
		{Do: Up, Keys: []string{"up", "k"}, Cap: "↑↓", Text: "move", Help: "Up and down a line; k and j do it too."},
		{Do: Down, Keys: []string{"down", "j"}, Cap: "↓", Help: "Down a line."},
		{Do: PageUp, Keys: []string{"pgup"}, Cap: "PgUp", Help: "Up a page."},
		{Do: PageDn, Keys: []string{"pgdown"}, Cap: "PgDn", Help: "Down a page."},
		{Do: Top, Keys: []string{"home"}, Cap: "Home", Help: "To the first line."},
		{Do: Bottom, Keys: []string{"end"}, Cap: "End", Help: "To the last line."},
	}, more...)
}
