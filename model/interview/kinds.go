package interview

import "strings"

// roomKind is what is typical of one kind of room. Lists are written in the same one-line grammars that
// the household may type, so that every default can be read here and answered there.
type roomKind struct {
	RoomKind
	Wet        bool // has wet-room zones
	Indoors    bool // a controller may sit here
	Floor      int
	Width      float64 // m
	Depth      float64 // m
	Ceiling    float64 // m
	Door       string  // where its door usually leads
	Usually    string  // how the door is left
	Windows    int
	Circuits   string
	Fan        string // "" when there usually is none
	FanUS      string
	Water      string // ids, comma separated
	WaterOffer string
	Appliances string
	Offer      string
	Start      string
	Day        string // the proposed periods
	NightOn    string // circuits of the last period, when the room has them
	Stop       string // how long the light outlasts people
	Still      bool   // somebody may keep still here
	Reason     string // why the fan runs by itself: damp, people, both, request
	Within     string
	AtMost     string
	InFor      string
	RunOn      string
	Request    string
	Quiet      string
	Buttons    string
}

// Kinds lists the kinds of room, in the order in which they are offered.
func Kinds() []RoomKind {
	out := make([]RoomKind, len(kindTable))
	for i, k := range kindTable {
		out[i] = k.RoomKind
	}
	return out
}

// kindOf finds a kind by its name in the file; a kind of the household's own has modest defaults.
func kindOf(id string) *roomKind {
	for i := range kindTable {
		if strings.EqualFold(kindTable[i].ID, id) {
			return &kindTable[i]
		}
	}
	return &otherKind
}

// Wet says whether such a room has wet-room zones.
func Wet(kind string) bool { return kindOf(kind).Wet }
