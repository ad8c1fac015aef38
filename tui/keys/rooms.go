package keys

// Commands of the pages of an opened project.
const (
	AddRoom  Command = "add room"
	Change   Command = "change"
	Delete   Command = "remove"
	MoveUp   Command = "move up"
	MoveDown Command = "move down"
	PrevRoom Command = "previous room"

	OpenBrief Command = "open the brief"
	OpenDay   Command = "open the day"
	OpenBack  Command = "read it back"
	Forget    Command = "leave unanswered"

	Earlier     Command = "earlier"
	Later       Command = "later"
	HourEarlier Command = "an hour earlier"
	HourLater   Command = "an hour later"
	Brighter    Command = "brighter"
	Dimmer      Command = "dimmer"
	Warmer      Command = "warmer"
	Cooler      Command = "cooler"
	PlainLamp   Command = "as the lamp is"
	NewPeriod   Command = "new period"
	Split       Command = "split"
	Lamps       Command = "lamps"
	Date        Command = "date"

	Chart Command = "chart"
	Ideal Command = "without limits"
	Fails Command = "faults"

	Mend1 Command = "mend it"
	Mend2 Command = "mend it the second way"
	Mend3 Command = "mend it the third way"

	TradeOffs Command = "trade-offs"
	Import    Command = "prices of a supplier"
	Quote     Command = "quote"
	Keep      Command = "keep this part"
	NextBest  Command = "use the next best"
	Avoid     Command = "avoid this part"

	KeepPrices Command = "keep the prices"
	SayOfList  Command = "say how a list is read"
	TakeGuess  Command = "take the guess"
	TakeLikely Command = "take the likely guesses"
	LeaveOut   Command = "leave out what is wrong"
	OtherFile  Command = "another file"

	Closer   Command = "closer"
	Farther  Command = "farther"
	TurnPlan Command = "turn the plan"

	NextPart Command = "next part"
	PrevPart Command = "part before"
)

// between walks through the rooms without leaving the page.
func between(more ...Binding) []Binding {
	return append(moves(more...),
		Binding{Do: PrevRoom, Keys: []string{"["}, Cap: "[ ]", Help: "The same page of the room before, or of the next one."},
		Binding{Do: NextRoom, Keys: []string{"]"}, Cap: "]", Help: "The same page of the next room."},
	)
}

// parts walks through the parts of a long page.
func parts(what string) []Binding {
	return []Binding{
		{Do: NextPart, Keys: []string{"tab"}, Cap: "Tab", Text: "next " + what, Help: "On to the next " + what + "."},
		{Do: PrevPart, Keys: []string{"shift+tab"}, Cap: "Shift+Tab", Help: "Back to the start of the " + what + ", then to the one before."},
	}
}

// Rooms is the list of rooms.
var Rooms = Group{Page: "Rooms", Bindings: moves(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "open", Help: "Open the room: its interview when questions are left, else its sheet."},
	Binding{Do: AddRoom, Keys: []string{"a"}, Cap: "a", Text: "add a room", Help: "Add a room by its kind."},
	Binding{Do: OpenBrief, Keys: []string{"b"}, Cap: "b", Text: "brief", Help: "Open the room's brief as a sheet."},
	Binding{Do: OpenDay, Keys: []string{"d"}, Cap: "d", Text: "day", Help: "Open the room's day."},
	Binding{Do: OpenBack, Keys: []string{"r"}, Cap: "r", Text: "read back", Help: "Read the room's brief back to the household."},
	Binding{Do: MoveUp, Keys: []string{"shift+up", "K"}, Cap: "Shift+↑↓", Text: "reorder", Help: "Move the room up or down the list; K and J do it too."},
	Binding{Do: MoveDown, Keys: []string{"shift+down", "J"}, Cap: "↓", Help: "Move the room down the list; J does it too."},
	Binding{Do: Delete, Keys: []string{"x", "delete"}, Cap: "x", Text: "remove", Help: "Remove the room with all that is in it; undo brings it back."},
)}

// Sheet is a brief as lines that can be changed in place.
var Sheet = Group{Page: "Sheet", Bindings: between(append(parts("chapter"),
	Binding{Do: Change, Keys: []string{"enter", "e"}, Cap: "Enter", Text: "change", Help: "Change the line in place."},
	Binding{Do: Earlier, Keys: []string{"left"}, Cap: "←→", Text: "other choice", Help: "The choice before or the next, on a line with choices."},
	Binding{Do: Later, Keys: []string{"right"}, Cap: "→", Help: "The next choice, on a line with choices."},
	Binding{Do: Forget, Keys: []string{"x", "delete"}, Cap: "x", Text: "clear", Help: "Leave the line unanswered again; undo brings the answer back."},
	Binding{Do: Park, Keys: []string{"p"}, Cap: "p", Text: "park", Help: "Park the line: it becomes an open point for somebody who knows."},
	Binding{Do: Words, Keys: []string{"w"}, Cap: "w", Text: "their words", Help: "Write down what was said of this, word for word."},
	Binding{Do: OpenDay, Keys: []string{"d"}, Cap: "d", Text: "day", Help: "Open the room's day, to move its periods."},
	Binding{Do: OpenBack, Keys: []string{"r"}, Cap: "r", Text: "read back", Help: "Read the brief back to the household."},
)...)}

// Ribbon is the day of a room.
var Ribbon = Group{Page: "Day", Bindings: between(
	Binding{Do: Earlier, Keys: []string{"left"}, Cap: "←→", Text: "5 min", Help: "Start the period five minutes earlier or later."},
	Binding{Do: Later, Keys: []string{"right"}, Cap: "→", Help: "Start the period five minutes later."},
	Binding{Do: HourEarlier, Keys: []string{"shift+left", "H"}, Cap: "Shift+←→", Text: "1 h", Help: "Start the period an hour earlier or later; H and L do it too."},
	Binding{Do: HourLater, Keys: []string{"shift+right", "L"}, Cap: "→", Help: "Start the period an hour later; L does it too."},
	Binding{Do: Brighter, Keys: []string{"+", "="}, Cap: "+ -", Text: "level", Help: "More or less light, in steps of 5 %, of 1 % under 10 %. At 0 % the period leaves the light as it is."},
	Binding{Do: Dimmer, Keys: []string{"-", "_"}, Cap: "-", Help: "Less light; at 0 % the period leaves the light as it is."},
	Binding{Do: Warmer, Keys: []string{"<", ","}, Cap: "< >", Text: "colour", Help: "Warmer or cooler light, in steps of 100 K."},
	Binding{Do: Cooler, Keys: []string{">", "."}, Cap: ">", Help: "Cooler light."},
	Binding{Do: PlainLamp, Keys: []string{"p"}, Cap: "p", Help: "Leave the colour as the lamp is."},
	Binding{Do: Change, Keys: []string{"enter", "t"}, Cap: "Enter", Text: "start", Help: "Write when the period starts: 06:20, sunset, sunrise-00:30."},
	Binding{Do: NewPeriod, Keys: []string{"n"}, Cap: "n", Text: "new", Help: "A new period; you write when it starts."},
	Binding{Do: Split, Keys: []string{"s"}, Cap: "s", Text: "split", Help: "Split the period in two halves with the same light."},
	Binding{Do: Lamps, Keys: []string{"l"}, Cap: "l", Text: "lamps", Help: "Choose which lamp circuits the period lights."},
	Binding{Do: Delete, Keys: []string{"x", "delete"}, Cap: "x", Text: "remove", Help: "Remove the period; the one before it goes on."},
	Binding{Do: Date, Keys: []string{"d"}, Cap: "d", Text: "date", Help: "Show another day: today, midwinter, equinox, midsummer."},
)}

// Plan is a floor with its rooms to scale.
var Plan = Group{Page: "Plan", Bindings: append([]Binding{
	{Do: Up, Keys: []string{"up", "k"}, Cap: "↑↓ ←→", Text: "room", Help: "To the room beside, above or below; h, j, k and l do it too. Rooms without an outline stand under the plan."},
	{Do: Down, Keys: []string{"down", "j"}, Cap: "↓", Help: "To the room below."},
	{Do: Left, Keys: []string{"left", "h"}, Cap: "←", Help: "To the room at the left."},
	{Do: Right, Keys: []string{"right", "l"}, Cap: "→", Help: "To the room at the right."},
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "brief", Help: "Open the room's brief as a sheet."},
	{Do: PageDn, Keys: []string{"pgdown", " "}, Cap: "PgDn", Text: "notes", Help: "More of the notes; Space does it too."},
	{Do: PageUp, Keys: []string{"pgup"}, Cap: "PgUp", Help: "Back in the notes."},
	{Do: Closer, Keys: []string{"+", "="}, Cap: "+ -", Text: "scale", Help: "Closer, or farther away."},
	{Do: Farther, Keys: []string{"-", "_"}, Cap: "-", Help: "Farther away."},
	{Do: TurnPlan, Keys: []string{"t"}, Cap: "t", Text: "turn", Help: "Turn the plan a quarter to the left, or back."},
	{Do: PrevRoom, Keys: []string{"["}, Cap: "[ ]", Help: "The room before in the list, or the next one, on whatever floor."},
	{Do: NextRoom, Keys: []string{"]"}, Cap: "]", Help: "The next room in the list."},
}, parts("floor")...)}

// Bill is what to buy and do.
var Bill = Group{Page: "Bill", Bindings: moves(append(parts("room"),
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "brief", Help: "Open the brief of the room that the line belongs to; among the trade-offs, choose the bill under the cursor; on the quote, have the option under the cursor."},
	Binding{Do: TradeOffs, Keys: []string{"t"}, Cap: "t", Text: "trade-offs", Help: "Turn between the bill and the bills of which none beats another in money, upkeep and losses at once."},
	Binding{Do: Quote, Keys: []string{"h"}, Cap: "h", Text: "quote", Help: "Turn between the bill and the quote for the household: what each room comes to, and what it may leave out or have otherwise."},
	Binding{Do: Keep, Keys: []string{"p"}, Cap: "p", Text: "pin", Help: "Pin the part of the line to what it serves, whatever else would be cheaper; again to let it go."},
	Binding{Do: NextBest, Keys: []string{"n"}, Cap: "n", Text: "next best", Help: "Use the next best part for what the line serves."},
	Binding{Do: Avoid, Keys: []string{"x"}, Cap: "x", Text: "avoid", Help: "Never use the part of the line in this home; undo brings it back."},
	Binding{Do: Import, Keys: []string{"i"}, Cap: "i", Text: "prices", Help: "Take a supplier's price list in as your own prices."},
)...)}

// PriceFile is the question which list.
var PriceFile = Group{Page: "Price list", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "read it", Help: "Read the file, and show what it was taken for; nothing is kept yet."},
	{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "back", Help: "Back to the bill."},
}}

// PriceForm is what is said of a list.
var PriceForm = Group{Page: "Price list read otherwise", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "read it so", Help: "Read the list anew, as you say; nothing is kept yet."},
	{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "as it was", Help: "Back to the list as it was read."},
}}

// Prices is a supplier's list that is looked over.
var Prices = Group{Page: "Prices", Bindings: moves(append(parts("part"),
	Binding{Do: KeepPrices, Keys: []string{"enter"}, Cap: "Enter", Text: "keep", Help: "Keep the prices that are taken in a file beside the project, and plan with them."},
	Binding{Do: SayOfList, Keys: []string{"e"}, Cap: "e", Text: "read otherwise", Help: "Say which column is what, the decimal mark, tax, a rate, or whatever else was guessed wrong."},
	Binding{Do: TakeGuess, Keys: []string{"y"}, Cap: "y", Text: "take guess", Help: "Take the guess under the cursor, or give it back."},
	Binding{Do: TakeLikely, Keys: []string{"c"}, Cap: "c", Text: "all likely", Help: "Take all guesses that are likely, or give them back."},
	Binding{Do: LeaveOut, Keys: []string{"l"}, Cap: "l", Text: "leave out", Help: "Leave the lines out that are wrong, so that the rest can be kept; again to count them in."},
	Binding{Do: OtherFile, Keys: []string{"f"}, Cap: "f", Help: "Choose another file."},
	Binding{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "drop", Help: "Back to the bill; nothing of the list is kept."},
)...)}

// Points is what nobody knows yet.
var Points = Group{Page: "Open points", Bindings: moves(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "to the line", Help: "Open the brief at the line where the answer belongs."},
)}

// Rules is the rule sheet and the chart.
var Rules = Group{Page: "Rules", Bindings: between(append(parts("goal"),
	Binding{Do: Left, Keys: []string{"left"}, Cap: "←→", Text: "columns", Help: "Show the columns of the chart to the left or to the right."},
	Binding{Do: Right, Keys: []string{"right"}, Cap: "→", Help: "Show the columns to the right."},
	Binding{Do: Chart, Keys: []string{"c"}, Cap: "c", Text: "chart", Help: "Turn between the rules in words and the chart of causes and effects."},
	Binding{Do: Ideal, Keys: []string{"i"}, Cap: "i", Text: "no limits", Help: "Turn between what the controller runs and the rules as they were on one without limits."},
)...)}

// Promises is what the briefs promise, with the verdicts.
var Promises = Group{Page: "Promises", Bindings: between(
	Binding{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "story", Help: "Open the story that breaks the promise, or the promises of the room under the cursor."},
	Binding{Do: Fails, Keys: []string{"f"}, Cap: "f", Text: "faults", Help: "Show what each promise comes to while one thing fails: a battery, the mains, the controller, the internet, the clock."},
)}

// Story is how a promise breaks.
var Story = Group{Page: "Story", Bindings: []Binding{
	{Do: Left, Keys: []string{"left", "up", "h", "k"}, Cap: "←→", Text: "move", Help: "To the moment before or the next; the up and down arrows do it too."},
	{Do: Right, Keys: []string{"right", "down", "l", "j"}, Cap: "→", Help: "To the next moment; the down arrow does it too."},
	{Do: Top, Keys: []string{"home"}, Cap: "Home", Help: "To the beginning."},
	{Do: Bottom, Keys: []string{"end"}, Cap: "End", Text: "where it breaks", Help: "To the moment in which it breaks."},
	{Do: Mend1, Keys: []string{"a"}, Cap: "a b c", Text: "mend", Help: "Make the first of the changes that mend the promise; undo takes it back."},
	{Do: Mend2, Keys: []string{"b"}, Cap: "b", Help: "Make the second of them."},
	{Do: Mend3, Keys: []string{"c"}, Cap: "c", Help: "Make the third of them."},
	{Do: Back, Keys: []string{"esc"}, Cap: "Esc", Text: "promises", Help: "Back to the promises."},
}}

// Writing is for a line that is being changed in place, on any page of an opened project.
var Writing = Group{Page: "Changing a line", Bindings: []Binding{
	{Do: Take, Keys: []string{"enter"}, Cap: "Enter", Text: "keep", Help: "Keep what is written or marked."},
	{Do: Up, Keys: []string{"up"}, Cap: "↑↓", Text: "mark", Help: "Mark another choice."},
	{Do: Down, Keys: []string{"down"}, Cap: "↓", Help: "Mark the next choice."},
	{Do: Tick, Keys: []string{" "}, Cap: "Space", Text: "in or out", Help: "Take the marked choice in or out, where several may be chosen."},
	{Do: Leave, Keys: []string{"esc"}, Cap: "Esc", Text: "leave", Help: "Leave the line as it was."},
}}

// WritingWith is the bindings of Writing that matter: those of a field of text, and with choices those of a list.
func WritingWith(choices, several bool) []Binding {
	bs := Writing.Copy()
	if !choices {
		bs = Without(bs, Up, Down)
	}
	if !several {
		bs = Without(bs, Tick)
	}
	return bs
}
