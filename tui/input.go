package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

// typed takes what was typed. Keys that follow each other fast arrive as one message; outside of a text
// field each of them is a key press of its own.
func (r *root) typed(msg tea.KeyMsg) tea.Cmd {
	if msg.Type != tea.KeyRunes || msg.Paste || msg.Alt || len(msg.Runes) < 2 || torn(msg.Runes) {
		return r.key(msg)
	}
	var cmds []tea.Cmd
	for rest := msg.Runes; len(rest) > 0; {
		if r.over == nil && r.page != nil && r.page.Takes() == page.Text {
			cmds = append(cmds, r.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: rest}))
			break
		}
		one := tea.KeyMsg{Type: tea.KeyRunes, Runes: rest[:1]}
		if rest[0] == ' ' {
			one.Type = tea.KeySpace
		}
		cmds = append(cmds, r.key(one))
		rest = rest[1:]
	}
	return tea.Batch(cmds...)
}

// torn reports what is left of an escape sequence that arrived in two pieces: no key presses.
func torn(text []rune) bool {
	return text[0] == 'O' || text[0] == '[' && text[1] != '[' && text[1] != ']'
}

// key takes a key press, in the order: too small a window, overlay, focused text field, globals, page.
func (r *root) key(msg tea.KeyMsg) tea.Cmd {
	name := msg.String()
	switch {
	case msg.Paste: // text, never a command
	case name == "ctrl+c":
		return r.quit()
	case name == "ctrl+z":
		return r.suspend()
	}
	if r.frame.TooSmall {
		if name == "q" {
			return r.quit()
		}
		return nil
	}
	r.said = page.Say{}
	if r.over != nil {
		return r.over.key(r, msg)
	}
	if name == "f1" {
		return r.help()
	}
	if r.page == nil {
		return nil
	}
	if b, ok := keys.Find(r.page.Help(), msg); ok && b.Off != "" {
		r.said = page.Say{Text: b.Off}
		return nil
	}
	switch r.page.Takes() {
	case page.Text:
		return r.carry(r.page.Update(msg))
	case page.Letters:
		a := r.page.Update(msg)
		if _, pass := a.(page.Pass); pass {
			return r.global(msg)
		}
		return r.carry(a)
	}
	if _, ok := keys.Find(r.globals(), msg); ok {
		return r.global(msg)
	}
	return r.carry(r.page.Update(msg))
}

// global carries out a key that works everywhere.
func (r *root) global(msg tea.KeyMsg) tea.Cmd {
	b, ok := keys.Find(r.globals(), msg)
	if !ok {
		return nil
	}
	if b.Off != "" {
		r.said = page.Say{Text: b.Off}
		return nil
	}
	switch b.Do {
	case keys.Help:
		return r.help()
	case keys.Back:
		r.back()
	case keys.Undo:
		return r.carry(page.Undo{})
	case keys.Redo:
		return r.carry(page.Redo{})
	case keys.Quit:
		return r.quit()
	case keys.Papers:
		return r.export("")
	default:
		if id, ok := turns[b.Do]; ok {
			return r.carry(page.Goto{Page: id, Room: r.roomFor(id)})
		}
	}
	return nil
}

// turns are the pages that have a key of their own.
var turns = map[keys.Command]page.ID{
	keys.ToRooms: page.Rooms, keys.ToTalk: page.Talk, keys.ToSheet: page.Sheet,
	keys.ToDay: page.Ribbon, keys.ToBill: page.Bill, keys.ToRules: page.Rules, keys.ToProof: page.Promises,
	keys.ToPoints: page.Points, keys.ToPlan: page.Plan,
}

// roomFor takes the room that the page points at, keeps the room in hand, or takes the first one for a
// page that needs a room.
func (r *root) roomFor(id page.ID) string {
	ofHome := id == page.Talk || id == page.Sheet || id == page.Promises
	if room := r.pointed(); room != "" && (room != page.HomeItself || ofHome) {
		return room
	}
	if r.at.room != "" || r.session == nil || len(r.session.project.Rooms) == 0 {
		return r.at.room
	}
	if id == page.Talk {
		return page.HomeItself
	}
	return r.session.project.Rooms[0].ID
}

// pointed is the room that the cursor of the page in front stands on.
func (r *root) pointed() string {
	if p, ok := r.page.(page.Pointing); ok {
		return p.Pointing()
	}
	return ""
}

// globals are the keys that work everywhere, with the reasons of those that are off.
func (r *root) globals() []keys.Binding {
	bs := r.reachable(keys.Everywhere.Copy())
	if r.session == nil {
		return keys.Without(bs, keys.Undo, keys.Redo, keys.ToRooms, keys.ToTalk, keys.ToSheet, keys.ToDay,
			keys.ToBill, keys.ToRules, keys.ToProof, keys.ToPoints, keys.ToPlan, keys.Papers)
	}
	if r.session.hist.canUndo() == "" {
		bs = keys.Off(bs, keys.Undo, "Nothing has been changed since the file was opened.")
	}
	if r.session.hist.canRedo() == "" {
		bs = keys.Off(bs, keys.Redo, "Nothing has been taken back.")
	}
	if len(r.session.project.Rooms) == 0 {
		const why = "There is no room yet: press 1 and add one."
		for _, do := range []keys.Command{keys.ToSheet, keys.ToDay, keys.ToRules, keys.ToProof, keys.ToPlan} {
			bs = keys.Off(bs, do, why)
		}
	}
	if r.plan.fault != nil {
		bs = keys.Off(bs, keys.Papers, "There is no plan to write papers from: "+sentence(r.plan.fault.Error()))
	}
	return bs
}

// mouse passes clicks and the wheel to what lies under them; places count from the page's own corner.
func (r *root) mouse(msg tea.MouseMsg) tea.Cmd {
	if r.frame.TooSmall || r.page == nil {
		return nil
	}
	if r.over != nil {
		return r.over.mouse(r, msg)
	}
	if msg.Y == r.frame.Header.Y && msg.Action == tea.MouseActionPress && msg.Button == tea.MouseButtonLeft {
		return r.clickHeader(msg.X - r.frame.Header.X)
	}
	b := r.frame.Body
	if msg.X < b.X || msg.X >= b.X+b.W || msg.Y < b.Y || msg.Y >= b.Y+b.H {
		return nil
	}
	msg.X -= b.X
	msg.Y -= b.Y
	return r.carry(r.page.Update(msg))
}

// clickHeader turns to the page whose name was clicked.
func (r *root) clickHeader(x int) tea.Cmd {
	for _, t := range r.tabs() {
		if x >= t.from && x < t.to {
			if b, ok := find(r.globals(), t.do); ok && b.Off != "" {
				r.said = page.Say{Text: b.Off}
				return nil
			}
			return r.carry(page.Goto{Page: t.page, Room: r.roomFor(t.page)})
		}
	}
	return nil
}

// reachable leaves out the keys that a page takes for itself: its letters and digits, or in a text field all
// that is written.
func (r *root) reachable(bs []keys.Binding) []keys.Binding {
	takes := page.Own
	if r.page != nil {
		takes = r.page.Takes()
	}
	if takes == page.Own {
		return bs
	}
	var out []keys.Binding
	for _, b := range bs {
		var left []string
		for _, k := range b.Keys {
			if len(k) > 1 && (takes == page.Letters || b.Do != keys.Undo && b.Do != keys.Redo && b.Do != keys.Back) ||
				k == "?" && takes == page.Letters {
				left = append(left, k)
			}
		}
		if len(left) == 0 {
			continue
		}
		if b.Keys[len(b.Keys)-1] != left[len(left)-1] || len(left) == 1 {
			b.Cap = caps(left[0])
		}
		b.Keys = left
		out = append(out, b)
	}
	return out
}

// caps prints a key's name as keyboards do.
func caps(key string) string {
	if rest, ok := strings.CutPrefix(key, "ctrl+"); ok {
		return "Ctrl+" + strings.ToUpper(rest)
	}
	if len(key) > 1 {
		return strings.ToUpper(key[:1]) + key[1:]
	}
	return key
}

func find(bs []keys.Binding, do keys.Command) (keys.Binding, bool) {
	for _, b := range bs {
		if b.Do == do {
			return b, true
		}
	}
	return keys.Binding{}, false
}

// sentence ends s like one.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?:") {
		return s
	}
	return s + "."
}
