package interview

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/roombrief/model/readback"
)

// which asks for the next room; "" is done.
func (p *plain) which() (string, error) {
	rooms := p.d.Project().Rooms
	for {
		p.printf("\nWhich room now?\n")
		for i, r := range rooms {
			done, of := Progress(p.d, r.ID)
			p.printf("  %d  %s (%d of %d answered)\n", i+1, nameOf(r.Name, r.ID), done, of)
		}
		p.printf("A new one, by its kind:\n")
		for _, k := range Kinds() {
			p.printf("  %s  %s: %s\n", k.Key, k.ID, k.Note)
		}
		def := "done"
		if len(rooms) == 0 {
			def = kindTable[0].ID
		}
		p.printf("[%s]\n", def)
		text, err := p.prompt()
		if err != nil {
			return "", err
		}
		if text == "" {
			text = def
		}
		if text == "quit" {
			return "", errQuit
		}
		if w := fold(text); w == "done" || w == "no" || w == "none" {
			p.printf("Saved. %s\n", p.left())
			return "", nil
		}
		if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(rooms) {
			return rooms[n-1].ID, nil
		}
		if id, ok := p.roomCalled(text); ok {
			return id, nil
		}
		if id, err := p.newRoom(text); err != nil || id != "" {
			return id, err
		}
	}
}

// newRoom adds a room by its kind; "" asks again.
func (p *plain) newRoom(text string) (string, error) {
	kind := text
	for _, k := range Kinds() {
		if text == k.Key || fold(text) == fold(k.ID) || fold(text) == fold(k.Name) {
			kind = k.ID
		}
	}
	if len([]rune(kind)) < 2 {
		p.printf("%q is neither a room nor a kind of room here; type a number, a letter, or a kind in words.\n", text)
		return "", nil
	}
	s, _ := newScope(p.d, "")
	name := s.freeName(kindOf(kind).Name)
	if kindOf(kind).ID == "" {
		name = s.freeName(begin(kind))
	}
	p.printf("\nWhat do you call it?\n[%s]\n", name)
	typed, err := p.prompt()
	if err != nil {
		return "", err
	}
	if typed != "" {
		name = typed
	}
	d, id, err := AddRoom(p.d, kind, name)
	if err != nil {
		p.printf("%s.\n", begin(err.Error()))
		return "", nil
	}
	return id, p.keep(d)
}

// readBack tells the brief back and asks who agrees.
func (p *plain) readBack(id string) error {
	p.printf("\n%sread back\n\n", p.heading(id))
	for _, s := range readback.Room(p.d.Project(), id) {
		p.printf("%s\n", s.Text)
	}
	if _, state := readback.Agreement(p.d.Project(), id); state == readback.Agreed {
		return nil
	}
	p.printf("\nIs that what you want? Say who agrees, or Enter for nobody yet.\n[nobody yet]\n")
	text, err := p.prompt()
	if err != nil {
		return err
	}
	if text == "quit" {
		return errQuit
	}
	if text == "" || text == "skip" || isNone(text) {
		return nil
	}
	d, err := readback.Agree(p.d, id, text, p.opts.Today)
	if err != nil {
		p.printf("%s.\n", begin(err.Error()))
		return nil
	}
	p.printf("Agreed by %s.\n", text)
	return p.keep(d)
}

func (p *plain) roomCalled(name string) (string, bool) {
	for _, r := range p.d.Project().Rooms {
		if strings.EqualFold(r.ID, name) || strings.EqualFold(r.Name, name) {
			return r.ID, true
		}
	}
	return "", false
}

func (p *plain) roomNames() string {
	var names []string
	for _, r := range p.d.Project().Rooms {
		names = append(names, r.ID)
	}
	return noneIf(names, ", ")
}

// left says how much is open.
func (p *plain) left() string {
	open := 0
	count := func(room string) {
		for _, qn := range All(p.d, room) {
			if !qn.Answered && !qn.Parked {
				open++
			}
		}
	}
	count("")
	for _, r := range p.d.Project().Rooms {
		count(r.ID)
	}
	parked := len(p.d.Project().Open)
	switch {
	case open == 0 && parked == 0:
		return "Every question is answered."
	case open == 0:
		return fmt.Sprintf("Parked: %d.", parked)
	}
	return fmt.Sprintf("Not asked yet: %d. Parked: %d.", open, parked)
}
