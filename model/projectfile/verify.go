package projectfile

import (
	"slices"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/catalogue"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/model/reading"
	"gopkg.in/yaml.v3"
)

// verify finds what no single field shows: names that name nothing, and entries that contradict each other.
func verify(d *Document, dec *reading.Decoder) {
	v := verifier{
		Decoder: dec, d: d, p: d.project, rooms: map[string]int{}, people: map[string]int{},
		roomIDs: namesOf(d.project.Rooms, func(r *model.Room) string { return r.ID }),
		persons: namesOf(d.project.People, func(p *model.Person) string { return p.ID }),
		hosts:   namesOf(d.project.Controllers, func(c *model.Controller) string { return c.ID }),
		lists:   map[listKey]*names{}, items: map[*yaml.Node]map[string]*yaml.Node{},
	}
	for i := range v.p.Rooms {
		id := v.p.Rooms[i].ID
		if _, ok := v.rooms[id]; !ok && id != "" {
			v.rooms[id] = i
		}
	}
	for i := range v.p.People {
		v.people[v.p.People[i].ID] = i
	}
	v.version()
	v.home()
	for _, r := range dec.Refs {
		v.reference(r)
	}
	list := reading.Child(d.whole, "rooms")
	for i := range v.p.Rooms {
		v.room(&v.p.Rooms[i], list.Content[i], i)
	}
	v.limits()
	v.promises()
	v.openPoints()
	v.choices()
	v.places()
	v.roomChoices()
}

type verifier struct {
	*reading.Decoder
	d       *Document
	p       *model.Project
	rooms   map[string]int // index by id
	people  map[string]int
	roomIDs *names
	persons *names
	hosts   *names // controllers
	cocks   *names // room/water-point of every stopcock, when somebody asked
	lists   map[listKey]*names
	items   map[*yaml.Node]map[string]*yaml.Node
}

func (v *verifier) warn(n *yaml.Node, path, message, hint string) {
	v.Add(Problem{Line: n.Line, Column: n.Column, Path: path, Message: message, Hint: hint, Warning: true})
}

func (v *verifier) version() {
	if n := v.d.walk([]string{"roombrief"}); n != nil && n.Kind == yaml.ScalarNode {
		if i, err := strconv.Atoi(n.Value); err == nil && i < 0 {
			v.At(n, "roombrief", reading.Quote(n.Value)+" is no version", "write `roombrief: "+strconv.Itoa(model.Version)+"`")
		}
	}
}

func (v *verifier) home() {
	h := &v.p.Home
	if n := v.d.walk([]string{"home", "place", "timezone"}); n != nil && h.Place.Timezone != "" && !isTimezone(h.Place.Timezone) {
		v.At(n, "home/place/timezone", reading.Quote(h.Place.Timezone)+" is not the name of a time zone", "accepted: an IANA name such as Europe/London or America/New_York")
	}
	if n := v.d.walk([]string{"home", "currency"}); n != nil && h.Currency != "" {
		switch {
		case !catalogue.IsCurrency(h.Currency):
			v.At(n, "home/currency", reading.Quote(h.Currency)+" is not a currency", "accepted: three capitals, as in GBP, EUR or USD")
		case !slices.Contains(catalogue.Currencies, h.Currency) && v.p.Choices.Supply == "":
			v.warn(n, "home/currency", "the catalogue has no prices in "+h.Currency+", so nothing can be priced", "import a price list in "+h.Currency+" (roombrief parts import), or choose "+strings.Join(catalogue.Currencies, ", "))
		}
	}
	if n := v.d.walk([]string{"home", "terms", "labour"}); n != nil && h.Currency != "" && h.Terms.Labour.Currency != "" && h.Terms.Labour.Currency != h.Currency {
		v.warn(n, "home/terms/labour", "labour is priced in "+h.Terms.Labour.Currency+" and parts in "+h.Currency, "write both in one currency")
	}
}

// isTimezone looks at the form only: whether the zone exists is known where the clock is.
func isTimezone(s string) bool {
	if len(s) > 64 {
		return false
	}
	for _, part := range strings.Split(s, "/") {
		if part == "" || strings.Trim(part, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-") != "" {
			return false
		}
	}
	return s[0] >= 'A' && s[0] <= 'Z'
}

// room holds the entries of one room against each other.
func (v *verifier) room(r *model.Room, n *yaml.Node, index int) {
	path := "rooms/" + r.ID
	if at, ok := v.rooms[r.ID]; !ok || at != index {
		path = "rooms/" + strconv.Itoa(index)
	}
	v.kind(r.Kind, reading.Child(n, "kind"), path+"/kind")
	v.placed(r, n, path)
	brief := reading.Child(n, "brief")
	if brief == nil {
		return
	}
	path += "/brief"
	if g := r.Brief.Lighting; g.Wanted() {
		v.periods(reading.Child(reading.Child(brief, "lighting"), "periods"), path+"/lighting/periods")
	}
	if g := r.Brief.Ventilation; g.Wanted() {
		v.quiet(reading.Child(reading.Child(brief, "ventilation"), "quiet"), path+"/ventilation/quiet")
	}
	if g := r.Brief.Shutoff; g.Wanted() {
		v.shutoffs(r, reading.Child(brief, "shutoff"), path+"/shutoff")
	}
	if g := r.Brief.Buttons; g.Wanted() {
		v.buttons(r, reading.Child(brief, "buttons"), path+"/buttons")
	}
}

// kind warns of a kind of room that looks like a known one and isn't: any kind is taken, and one that nobody knows gets the defaults
// of a plain room.
func (v *verifier) kind(kind string, n *yaml.Node, path string) {
	const longest = 40
	if n == nil || kind == "" || len(kind) > longest || model.KnownKind(kind) {
		return
	}
	near := reading.NearestName(kind, model.RoomKinds())
	if near == "" || !strings.Contains(strings.ToLower(kind), near) && reading.Slips(kind, near) > max(1, len(near)/4) {
		return
	}
	if near == "wc" {
		near = "WC"
	}
	v.warn(n, path, "no defaults are known of the kind of room "+reading.Quote(kind)+"; those of a plain room are taken", "did you mean "+near+"?")
}

// timeAt reads a time of day again where it stands: the project has no place for "could not be read".
func timeAt(n *yaml.Node) (t q.DayTime, ok bool) {
	if n == nil || n.Kind != yaml.ScalarNode || isNull(n) {
		return t, false
	}
	return t, t.UnmarshalText([]byte(n.Value)) == nil
}

func (v *verifier) periods(list *yaml.Node, path string) {
	if list == nil || list.Kind != yaml.SequenceNode {
		return
	}
	starts := map[q.DayTime]*yaml.Node{}
	for i, item := range list.Content {
		from := reading.Child(item, "from")
		t, ok := timeAt(from)
		if !ok {
			continue
		}
		if first := starts[t]; first != nil {
			v.At(from, path+"/"+strconv.Itoa(i)+"/from", "two periods start at "+t.String(), "the other stands in line "+strconv.Itoa(first.Line)+"; let one start later, or remove it")
			continue
		}
		starts[t] = from
	}
}

func (v *verifier) quiet(n *yaml.Node, path string) {
	to := reading.Child(n, "to")
	a, ok := timeAt(reading.Child(n, "from"))
	if b, ok2 := timeAt(to); ok && ok2 && a == b {
		v.At(to, path+"/to", "the quiet hours start and end at "+a.String(), "a quiet time needs two different times; to have none, remove `quiet`")
	}
}

func (v *verifier) shutoffs(r *model.Room, list *yaml.Node, path string) {
	seen, stay := map[string]int{}, map[string]string{}
	for _, a := range r.Appliances {
		switch {
		case a.MustStayOn:
			stay[a.ID] = "it is marked must_stay_on"
		case a.StaysOn():
			stay[a.ID] = "its kind (" + a.Kind + ") must stay on"
		}
	}
	for i := range r.Brief.Shutoff.Want {
		s := &r.Brief.Shutoff.Want[i]
		item := list.Content[i]
		at := reading.Child(item, "appliance")
		if at == nil || s.Appliance == "" {
			continue
		}
		here := path + "/" + strconv.Itoa(i)
		if why := stay[s.Appliance]; why != "" {
			v.At(at, here+"/appliance", reading.Quote(s.Appliance)+" may never be switched off by a rule: "+why, "remove this entry")
		}
		if line, twice := seen[s.Appliance]; twice {
			v.At(at, here+"/appliance", "a second entry switches off "+reading.Quote(s.Appliance), "the other stands in line "+strconv.Itoa(line)+"; keep one of them")
		}
		seen[s.Appliance] = at.Line
		if warn := reading.Child(item, "warn"); warn != nil && s.Warn > 0 && s.After > 0 && s.Warn >= s.After {
			v.warn(warn, here+"/warn", "the warning would come "+s.Warn.String()+" before the end of "+s.After.String(), "let it come later")
		}
	}
}

func (v *verifier) buttons(r *model.Room, list *yaml.Node, path string) {
	there := v.things(r, "appliance")
	for i, b := range r.Brief.Buttons.Want {
		for _, press := range []struct {
			key  string
			deed model.Deed
		}{{"press", b.Press}, {"double", b.Double}, {"hold", b.Hold}} {
			n := reading.Child(list.Content[i], press.key)
			if n == nil || press.deed.Verb != model.Extend || there.has(press.deed.Appliance) {
				continue
			}
			name := b.ID
			if name == "" {
				name = strconv.Itoa(i)
			}
			v.lost(n, path+"/"+name+"/"+press.key, reading.Quote(press.deed.Appliance)+" is no appliance of this room", press.deed.Appliance, there)
		}
	}
}

// limits reads what each place says otherwise of its controller's limits.
func (v *verifier) limits() {
	list := v.d.walk([]string{"controllers"})
	for i, c := range v.p.Controllers {
		n := reading.Child(list.Content[i], "except")
		if n == nil || n.Kind != yaml.MappingNode {
			continue
		}
		path := joinPath([]string{"controllers", c.ID, "except"})
		if c.ID == "" {
			path = "controllers/" + strconv.Itoa(i) + "/except"
		}
		for k := 0; k+1 < len(n.Content); k += 2 {
			key, value := n.Content[k], n.Content[k+1]
			written, ok := c.Except[key.Value]
			if !ok {
				continue // it was no text, and that is said
			}
			if _, err := (catalogue.Limits{}).Except(map[string]string{key.Value: written}); err != nil {
				message, hint, _ := strings.Cut(strings.TrimPrefix(err.Error(), "except/"+key.Value+": "), "; ")
				v.At(value, path+"/"+key.Value, message, hint)
			}
		}
	}
}

func (v *verifier) promises() {
	list := v.d.walk([]string{"promises"})
	for i, p := range v.p.Promises {
		n := reading.Child(list.Content[i], "between")
		if n == nil || n.Kind != yaml.SequenceNode {
			continue
		}
		path := joinPath([]string{"promises", p.ID, "between"})
		if p.ID == "" {
			path = "promises/" + strconv.Itoa(i) + "/between"
		}
		if len(n.Content) != 2 {
			v.At(n, path, "two times belong here, and there are "+strconv.Itoa(len(n.Content)), `write the start and the end: ["23:30", "06:00"]`)
			continue
		}
		a, ok := timeAt(n.Content[0])
		if b, ok2 := timeAt(n.Content[1]); ok && ok2 && a == b {
			v.At(n.Content[1], path+"/1", "the promise starts and ends at "+a.String(), "write two different times, or remove `between` for the whole day")
		}
	}
}
