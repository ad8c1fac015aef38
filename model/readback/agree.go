package readback

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"sort"
	"strings"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
)

// State of an agreement.
type State int

// The states.
const (
	Never  State = iota // nobody has agreed yet
	Agreed              // agreed, and the brief is still the same
	Lapsed              // agreed once; the brief has changed since
)

// String names the state.
func (s State) String() string { return [...]string{"never agreed", "agreed", "lapsed"}[s] }

// goals in the order in which a fingerprint holds their parts.
var goals = []string{"lighting", "ventilation", "leak", "shutoff", "buttons"}

// Fingerprint tells briefs apart: eight hex digits of the whole, then three for each goal in the order
// lighting, ventilation, leak, shutoff, buttons, so that a lapsed agreement can say what changed. It covers
// what was agreed and not how it is written: units, the order of people and points, and the words that were
// said leave it as it is.
func Fingerprint(r model.Room) string {
	parts := canonical(r.Brief)
	out := sum(strings.Join(parts, "\n"))[:8]
	for _, p := range parts {
		out += "." + sum(p)[:3]
	}
	return out
}

func sum(text string) string {
	h := sha256.Sum256([]byte(text))
	return hex.EncodeToString(h[:])
}

// canonical writes each goal in a fixed form. Zero values are left out, so that a detail which the file
// format gains later does not lapse every agreement.
func canonical(b model.Brief) []string {
	out := make([]string, len(goals))
	for i, g := range goals {
		var w writer
		switch g {
		case "lighting":
			w.lighting(b)
		case "ventilation":
			w.ventilation(b)
		case "leak":
			w.leak(b)
		case "shutoff":
			w.shutoff(b)
		case "buttons":
			w.buttons(b)
		}
		out[i] = g + ":" + strings.Join(w.lines, ";")
	}
	return out
}

type writer struct{ lines []string }

// put writes a detail unless it says nothing.
func (w *writer) put(key string, set bool, value any) {
	if set {
		w.lines = append(w.lines, key+"="+fmt.Sprint(value))
	}
}

func (w *writer) state(s model.GoalState) bool {
	w.put("declined", s == model.Declined, true)
	w.put("wanted", s == model.Wanted, true)
	return s == model.Wanted
}

func sorted(ids []string) string {
	out := append([]string(nil), ids...)
	sort.Strings(out)
	return strings.Join(out, ",")
}

func (w *writer) lighting(b model.Brief) {
	if !w.state(b.Lighting.State) {
		return
	}
	l := b.Lighting.Want
	w.put("start", l.Start != "", l.Start)
	for _, p := range l.Periods {
		w.put("from", true, p.From.String())
		w.put("level", true, p.Level.String())
		w.put("colour", p.Colour != 0, p.Colour.String())
		w.put("circuits", len(p.Circuits) > 0, sorted(p.Circuits))
	}
	w.put("after", l.Stop.After != 0, l.Stop.After.String())
	w.put("never_while", l.Stop.NeverWhile != "", l.Stop.NeverWhile)
	w.put("keep_manual", l.KeepManual, true)
}

func (w *writer) ventilation(b model.Brief) {
	if !w.state(b.Ventilation.State) {
		return
	}
	v := b.Ventilation.Want
	w.put("ceiling", v.Ceiling.Wanted(), v.Ceiling.String())
	w.put("within", v.Within != 0, v.Within.String())
	w.put("at_most", v.AtMost != 0, v.AtMost.String())
	w.put("people_after", v.WithPeople.After != 0, v.WithPeople.After.String())
	w.put("run_on", v.WithPeople.RunOn != 0, v.WithPeople.RunOn.String())
	for _, r := range v.OnRequest {
		w.put("run", true, r.Run.String())
	}
	if v.Quiet != (model.Quiet{}) {
		w.put("quiet", true, v.Quiet.From.String()+"-"+v.Quiet.To.String()+" "+v.Quiet.Except)
	}
}

func (w *writer) leak(b model.Brief) {
	if !w.state(b.Leak.State) {
		return
	}
	l := b.Leak.Want
	w.put("points", len(l.Points) > 0, sorted(l.Points))
	w.put("tell", len(l.Tell) > 0, sorted(l.Tell))
	w.put("within", l.Within != 0, l.Within.String())
	w.put("again", l.Again != 0, l.Again.String())
	w.put("sound", l.Sound, true)
	w.put("shut", l.Shut != "", l.Shut)
}

func (w *writer) shutoff(b model.Brief) {
	if !w.state(b.Shutoff.State) {
		return
	}
	list := append([]model.Shutoff(nil), b.Shutoff.Want...)
	sort.SliceStable(list, func(i, j int) bool { return list[i].Appliance < list[j].Appliance })
	for _, x := range list {
		w.put("appliance", true, x.Appliance)
		w.put("after", x.After != 0, x.After.String())
		w.put("below", x.Idle.Below != 0, x.Idle.Below.String())
		w.put("for", x.Idle.For != 0, x.Idle.For.String())
		w.put("warn", x.Warn != 0, x.Warn.String())
		w.put("extend", x.Extend == "button", x.Extend)
		w.put("tell", len(x.Tell) > 0, sorted(x.Tell))
	}
}

func (w *writer) buttons(b model.Brief) {
	if !w.state(b.Buttons.State) {
		return
	}
	list := append([]model.Button(nil), b.Buttons.Want...)
	sort.SliceStable(list, func(i, j int) bool { return list[i].ID < list[j].ID })
	for _, x := range list {
		w.put("button", true, x.ID)
		w.put("where", x.Where != "", x.Where)
		w.put("press", x.Press.Verb != model.Nothing, x.Press.String())
		w.put("double", x.Double.Verb != model.Nothing, x.Double.String())
		w.put("hold", x.Hold.Verb != model.Nothing, x.Hold.String())
	}
}

// Agreement is the newest agreement to a room's brief, and whether it still holds.
func Agreement(p *model.Project, roomID string) (model.Agreed, State) {
	if p == nil {
		return model.Agreed{}, Never
	}
	var found model.Agreed
	for _, a := range p.Records.Agreed {
		if a.Room == roomID && (found.Room == "" || !a.On.Before(found.On.Time)) {
			found = a
		}
	}
	if found.Room == "" {
		return found, Never
	}
	for _, r := range p.Rooms {
		if r.ID == roomID {
			now := Fingerprint(r)
			if found.Brief == now || found.Brief == now[:8] {
				return found, Agreed
			}
		}
	}
	return found, Lapsed
}

// Changed names the goals that changed since a lapsed agreement; nil when it can't be told.
func Changed(p *model.Project, roomID string) []string {
	a, state := Agreement(p, roomID)
	if state != Lapsed {
		return nil
	}
	old := strings.Split(a.Brief, ".")
	for _, r := range p.Rooms {
		if r.ID != roomID || len(old) != len(goals)+1 {
			continue
		}
		var out []string
		for i, part := range strings.Split(Fingerprint(r), ".")[1:] {
			if part != old[i+1] {
				out = append(out, goals[i])
			}
		}
		return out
	}
	return nil
}

// Agree writes that somebody agreed to a room's brief as it stands, in place of what was agreed before.
func Agree(d *projectfile.Document, roomID, by string, on time.Time) (*projectfile.Document, error) {
	p := d.Project()
	if by = strings.TrimSpace(strings.ToValidUTF8(by, "")); by == "" {
		return d, errors.New("an agreement needs a name: who said yes?")
	}
	if on.IsZero() {
		return d, errors.New("an agreement needs its day")
	}
	for _, r := range p.Rooms {
		if r.ID != roomID {
			continue
		}
		for _, x := range p.People {
			if strings.EqualFold(x.Name, by) {
				by = x.ID
			}
		}
		var edits []projectfile.Edit
		for i := len(p.Records.Agreed) - 1; i >= 0; i-- {
			if p.Records.Agreed[i].Room == roomID {
				edits = append(edits, projectfile.Remove(fmt.Sprintf("records/agreed/%d", i)))
			}
		}
		entry := fmt.Sprintf("{room: %s, by: %s, on: %s, brief: %s}",
			projectfile.Quote(roomID), projectfile.Quote(by), on.Format("2006-01-02"), projectfile.Quote(Fingerprint(r)))
		out, err := d.Apply(append(edits, projectfile.Append("records/agreed", entry))...)
		if err != nil {
			return d, fmt.Errorf("the agreement cannot be written: %w", err)
		}
		return out, nil
	}
	return d, fmt.Errorf("there is no room %q in this home", roomID)
}
