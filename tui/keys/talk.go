package keys

// Commands of the interview and the read-back.
const (
	Previous  Command = "previous"
	Following Command = "following"
	Park      Command = "park"
	Words     Command = "words"
	Rest      Command = "usual for the rest"
	Unknown   Command = "unknown"
	Own       Command = "own answer"
	Leave     Command = "leave"
	Tick      Command = "tick"
	Agree     Command = "agree"
	NextRoom  Command = "next room"
	First     Command = "first question"
)

// talkAlways are the keys of a question, whatever its kind. None is a letter or a digit: those are the
// answers, or are written.
func talkAlways(more ...Binding) []Binding {
	return append(more,
		Binding{Do: Previous, Keys: []string{"shift+tab"}, Cap: "Shift+Tab", Text: "back", Help: "Back to the question before. Its answer stays until another is given."},
		Binding{Do: Park, Keys: []string{"ctrl+p"}, Cap: "Ctrl+P", Text: "park", Help: "Park the question: it is kept as an open point, and planned for both ways."},
		Binding{Do: Words, Keys: []string{"ctrl+t"}, Cap: "Ctrl+T", Text: "words", Help: "Write down what was said, word for word, with the goal that it belongs to."},
		Binding{Do: Rest, Keys: []string{"ctrl+d"}, Cap: "Ctrl+D", Text: "rest", Help: "Take the usual answers for the rest of this chapter; the read-back tells what they are."},
		Binding{Do: Following, Keys: []string{"tab"}, Cap: "Tab", Text: "skip", Help: "On to the next question, leaving this one as it is."},
		Binding{Do: Undo, Keys: []string{"ctrl+u"}, Cap: "Ctrl+U", Text: "undo", Help: "Take the last answer back."},
		Binding{Do: Redo, Keys: []string{"ctrl+r"}, Cap: "Ctrl+R", Help: "Give it again."},
		Binding{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "rooms", Help: "Leave the interview; it goes on here when you come back."},
	)
}

// Talk is a question with answers to choose from. Each answer has a key of its own, shown before it.
var Talk = Group{Page: "Interview", Bindings: talkAlways(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "take", Help: "Take the marked answer. A single key takes the answer that it stands before."},
	Binding{Do: Up, Keys: []string{"up"}, Cap: "↑↓", Help: "Mark another answer, up and down."},
	Binding{Do: Down, Keys: []string{"down"}, Cap: "↓", Help: "Mark the answer below."},
	Binding{Do: Left, Keys: []string{"left"}, Cap: "←→", Help: "To the other column of answers, where there are two."},
	Binding{Do: Right, Keys: []string{"right"}, Cap: "→", Help: "To the right column of answers."},
	Binding{Do: Tick, Keys: []string{" "}, Cap: "Space", Help: "Tick the marked answer where several may be taken."},
	Binding{Do: Own, Keys: []string{"="}, Cap: "=", Help: "Write an answer of your own, where one is taken."},
)}

// TalkField is a question whose answer is written. Letters and digits go into the field.
var TalkField = Group{Page: "Interview, writing", Bindings: talkAlways(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "take", Help: "Take what stands in the field. What is offered is replaced by the first letter that you write."},
	Binding{Do: Unknown, Keys: []string{"ctrl+n"}, Cap: "Ctrl+N", Text: "not known", Help: "Nobody knows: it is planned for, and priced as an open point."},
)}

// TalkWords is the line for what was said, word for word.
var TalkWords = Group{Page: "Interview, their words", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "keep", Help: "Keep the words with the goal that the question is about."},
	{Do: Leave, Keys: []string{"esc", "ctrl+t"}, Cap: "Esc", Text: "set aside", Help: "Back to the question; what is written stays for when you come back."},
}}

// TalkEnd is the page after the last question of a room.
var TalkEnd = Group{Page: "Interview, end of a room", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "go on", Help: "Do the marked thing."},
	{Do: Up, Keys: []string{"up"}, Cap: "↑↓", Help: "Mark another line, up and down."},
	{Do: Down, Keys: []string{"down"}, Cap: "↓", Help: "Mark the line below."},
	{Do: Previous, Keys: []string{"shift+tab"}, Cap: "Shift+Tab", Text: "back", Help: "Back to the last question."},
	{Do: Undo, Keys: []string{"ctrl+u"}, Cap: "Ctrl+U", Text: "undo", Help: "Take the last answer back."},
	{Do: Redo, Keys: []string{"ctrl+r"}, Cap: "Ctrl+R", Help: "Give it again."},
	{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "rooms", Help: "To the list of rooms."},
}}

// Readback is the brief told back. Each person has a digit of their own, shown beside the name.
var Readback = Group{Page: "Read-back", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "change", Help: "Ask again what the marked sentence came from."},
	{Do: Up, Keys: []string{"up", "k"}, Cap: "↑↓", Text: "move", Help: "Up and down a sentence; k and j do it too."},
	{Do: Down, Keys: []string{"down", "j"}, Cap: "↓", Help: "Down a sentence."},
	{Do: NextRoom, Keys: []string{"n"}, Cap: "n", Text: "next room", Help: "On to the next room that has questions left."},
	{Do: AddRoom, Keys: []string{"a"}, Cap: "a", Text: "add a room", Help: "Add a room by its kind."},
	{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "rooms", Help: "To the list of rooms."},
}}

// NewRoom is the page on which a kind of room is chosen. Each kind has a letter of its own, shown before it.
var NewRoom = Group{Page: "A new room", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "take it", Help: "Take the marked kind, then the name that is offered or written."},
	{Do: Up, Keys: []string{"up"}, Cap: "↑↓", Text: "move", Help: "Mark another kind, up and down."},
	{Do: Down, Keys: []string{"down"}, Cap: "↓", Help: "Mark the kind below."},
	{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "back", Help: "Add no room."},
}}

// Start is where the program opens without a file. Each line has a digit of its own.
var Start = Group{Page: "Start", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "open", Help: "Open the marked line."},
	{Do: Up, Keys: []string{"up", "k"}, Cap: "↑↓", Text: "move", Help: "Up and down a line; k and j do it too."},
	{Do: Down, Keys: []string{"down", "j"}, Cap: "↓", Help: "Down a line."},
}}
