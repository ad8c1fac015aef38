package model

// Title is the room's printed name: its own, or one made from its id.
func (r Room) Title() string {
	if r.Name != "" {
		return r.Name
	}
	return Titled(r.ID)
}

// Title is the person's printed name: their own, or one made from their id.
func (p Person) Title() string {
	if p.Name != "" {
		return p.Name
	}
	return Titled(p.ID)
}

// Titled turns shower-room into "Shower room".
func Titled(id string) string {
	b := []byte(id)
	for i, c := range b {
		if c == '-' {
			b[i] = ' '
		}
	}
	if len(b) > 0 && 'a' <= b[0] && b[0] <= 'z' {
		b[0] -= 'a' - 'A'
	}
	return string(b)
}

// Room finds a room by id.
func (p *Project) Room(id string) (Room, bool) {
	for _, r := range p.Rooms {
		if r.ID == id {
			return r, true
		}
	}
	return Room{}, false
}

// Person finds a person by id.
func (p *Project) Person(id string) (Person, bool) {
	for _, x := range p.People {
		if x.ID == id {
			return x, true
		}
	}
	return Person{}, false
}
