package keys

// Commands of the pages of an opened project. Their owners add to these tables.
const (
	AddRoom  Command = "add room"
	Change   Command = "change"
	Delete   Command = "remove"
	MoveUp   Command = "move up"
	MoveDown Command = "move down"
)

// Rooms is the list of rooms.
var Rooms = Group{Page: "Rooms", Bindings: moves(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "open", Help: "Open the room: its interview when questions are left, else its sheet."},
	Binding{Do: AddRoom, Keys: []string{"a"}, Cap: "a", Text: "add a room", Help: "Add a room by its kind."},
)}

// Sheet is a brief as lines that can be changed in place.
var Sheet = Group{Page: "Sheet", Bindings: moves(
	Binding{Do: Change, Keys: []string{"enter", "e"}, Cap: "Enter", Text: "change", Help: "Change the line in place."},
)}

// Ribbon is the day of a room.
var Ribbon = Group{Page: "Day", Bindings: moves()}

// Bill is what to buy and do.
var Bill = Group{Page: "Bill", Bindings: moves()}

// Rules is the rule sheet and the chart.
var Rules = Group{Page: "Rules", Bindings: moves()}
