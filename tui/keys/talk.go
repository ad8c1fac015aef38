package keys

// Commands of the interview and the read-back.
const (
	TakeDefault Command = "take default"
	Previous    Command = "previous"
	Skip        Command = "next"
	Park        Command = "park"
	Words       Command = "words"
	Write       Command = "write"
	Agree       Command = "agree"
	NextRoom    Command = "next room"
)

// Talk is one question at a time. Choices have keys of their own, shown beside them.
var Talk = Group{Page: "Interview", Bindings: []Binding{
	{Do: TakeDefault, Keys: []string{"enter"}, Cap: "Enter", Text: "take it", Help: "Take what is marked, or what is written in the field."},
	{Do: Up, Keys: []string{"up"}, Cap: "↑↓", Help: "Mark another answer."},
	{Do: Down, Keys: []string{"down"}, Cap: "↓", Help: "Mark the next answer."},
	{Do: Previous, Keys: []string{"shift+tab"}, Cap: "Shift+Tab", Text: "back", Help: "Back to the question before; the answer stays."},
	{Do: Skip, Keys: []string{"tab"}, Cap: "Tab", Text: "next", Help: "On to the next question, leaving this one as it is."},
	{Do: Park, Keys: []string{"ctrl+p"}, Cap: "Ctrl+P", Text: "park", Help: "Park the question: it becomes an open point."},
	{Do: Words, Keys: []string{"ctrl+t"}, Cap: "Ctrl+T", Text: "their words", Help: "Write down what was said, word for word."},
}}

// Readback is the brief told back.
var Readback = Group{Page: "Read-back", Bindings: moves()}

// Start is where the program opens without a file.
var Start = Group{Page: "Start", Bindings: moves(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "open", Help: "Open the marked line."},
)}
