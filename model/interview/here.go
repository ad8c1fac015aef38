package interview

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

// roomAsks are what a tape measure and a look around find out.
func (s *scope) roomAsks() {
	r := s.room
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "name", Kind: Text, Ask: "What do you call this room?", Why: "The papers and the buttons use your name for it.",
			Default: s.freeName(s.kind.Name), Example: "Upstairs shower", Now: r.Name,
		},
		write: func(t string) ([]projectfile.Edit, error) { return setText(s.base+"/name", t) },
	})
	s.kindAsk()
	s.floorAsk()
	s.sizeAsk()
	s.doorsAsk()
	s.windowsAsk()
	s.circuitsAsk()
	for _, c := range r.Circuits {
		s.dimmableAsk(c)
		if s.kind.Wet {
			s.zoneAsk(c)
		}
	}
	s.fansAsk()
}

func (s *scope) kindAsk() {
	kinds := Kinds()
	choices := make([]Choice, len(kinds))
	for i, k := range kinds {
		choices[i] = Choice{Key: k.Key, Label: k.ID, Value: k.ID, Note: k.Note}
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "kind", Kind: OneOf, Choices: choices, Ask: "What kind of room is it?",
			Why:     "The kind chooses which questions matter and what is proposed. A kind of your own is fine; it gets modest proposals.",
			Default: "hall", Example: "conservatory", Now: s.room.Kind,
		},
		write: func(t string) ([]projectfile.Edit, error) {
			if c, ok := choose(choices, t); ok {
				t = c.Value
			}
			if len(t) < 2 {
				return nil, fmt.Errorf("%q is not a kind of room; accepted: %s, or words of your own", t, offer(choices))
			}
			return setText(s.base+"/kind", t)
		},
	})
}

var floorNames = map[string]int{
	"basement": -1, "cellar": -1, "down": -1, "downstairs": 0, "ground": 0, "ground floor": 0, "entrance": 0, "up": 1, "upstairs": 1, "first": 1,
	"first floor": 1, "second": 2, "second floor": 2, "attic": 2, "loft": 2, "third": 3,
}

func (s *scope) floorAsk() {
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "floor", Kind: Count, Ask: "Which floor is it on? 0 is the one that you enter by.",
			Why:     "Radio loses much of its strength at every floor.",
			Default: strconv.Itoa(s.kind.Floor), Example: "-1", Now: strconv.Itoa(s.room.Floor),
		},
		write: func(t string) ([]projectfile.Edit, error) {
			n, err := strconv.Atoi(fold(t))
			if at, ok := floorNames[fold(t)]; ok {
				n, err = at, nil
			}
			if err != nil || n < -5 || n > 100 {
				return nil, fmt.Errorf("%q is not a floor; write a whole number, as in 0 for the entrance floor or -1 for the basement", t)
			}
			return []projectfile.Edit{projectfile.Set(s.base+"/floor", strconv.Itoa(n))}, nil
		},
	})
}

func (s *scope) sizeAsk() {
	o := s.room.Outline
	now := ""
	if o.Width > 0 {
		now = s.written("outline/width") + " x " + s.written("outline/depth")
		if o.Ceiling > 0 {
			now += ", ceiling " + s.written("outline/ceiling")
		}
	}
	unit := "m"
	if s.sys == q.US {
		unit = "ft"
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "outline", Kind: Text, Unit: unit,
			Ask:     "How big is it: width, depth, and height of the ceiling?",
			Why:     "The reach of a sensor, the work of a fan and the way of radio follow from it. Rooms are laid side by side until a plan says better.",
			Default: s.sizeText(q.Length(s.kind.Width), q.Length(s.kind.Depth), q.Length(s.kind.Ceiling)), DefaultWhy: "typical; a tape or a laser takes a minute",
			Example: map[q.System]string{q.Metric: "2.1 x 2.4, ceiling 2.35", q.US: "7 x 8 ft, ceiling 7 ft 10 in"}[s.sys],
			Now:     now, Answer: shown(now != "", s.sizeText(o.Width, o.Depth, o.Ceiling)),
		},
		done:  func() bool { return s.d.Has(s.base + "/outline/width") },
		write: func(t string) ([]projectfile.Edit, error) { return s.writeSize(t, unit) },
	})
}

func (s *scope) sizeText(w, d, c q.Length) string {
	out := w.Show(s.sys) + " x " + d.Show(s.sys)
	if c > 0 {
		out += ", ceiling " + c.Show(s.sys)
	}
	return out
}

// writeSize reads "2.1 x 2.4, ceiling 2.35": lengths between x's and commas, the unit of a later one for
// those before it.
func (s *scope) writeSize(text, unit string) ([]projectfile.Edit, error) {
	clean := strings.NewReplacer("×", ",", "*", ",", " by ", ",", "ceiling", ",", "height", ",", "high", " ", "wide", " ", "deep", " ").
		Replace(strings.ToLower(decimal(text)))
	var b strings.Builder
	for i := 0; i < len(clean); i++ {
		if clean[i] == 'x' {
			b.WriteByte(',')
			continue
		}
		b.WriteByte(clean[i])
	}
	parts := items(b.String(), ",;")
	bad := fmt.Errorf("%q is not the size of a room; write width x depth, and the ceiling, as in 2.1 x 2.4, ceiling 2.35 m", text)
	if len(parts) != 2 && len(parts) != 3 {
		return nil, bad
	}
	keys := []string{"width", "depth", "ceiling"}
	var out []projectfile.Edit
	for i := len(parts) - 1; i >= 0; i-- {
		v, written, err := figure[q.Length](parts[i], unit)
		if err != nil {
			return nil, bad
		}
		if v < 0.3 || v > 100 {
			return nil, fmt.Errorf("%s is no %s of a room; accepted: from 0.3 m to 100 m", written, keys[i])
		}
		if i < 2 {
			unit = lastUnit(written, unit)
		}
		out = append([]projectfile.Edit{projectfile.Set(s.base+"/outline/"+keys[i], written)}, out...)
	}
	if !s.d.Has(s.base + "/outline/x") {
		out = append(s.placeBeside(), out...)
	}
	return out, nil
}

// lastUnit is the unit that ends a length, so that "7 x 8 ft" is all in feet.
func lastUnit(written, unit string) string {
	i := strings.LastIndexAny(written, "0123456789 ")
	if u := strings.TrimSpace(written[i+1:]); u != "" && u != "in" && u != `"` {
		return u
	}
	return unit
}

// placeBeside puts a room to the right of those of its floor, so that distances are not nought.
func (s *scope) placeBeside() []projectfile.Edit {
	x := q.Length(0)
	for _, r := range s.p.Rooms {
		if r.ID != s.room.ID && r.Floor == s.room.Floor {
			x = max(x, r.Outline.X+r.Outline.Width)
		}
	}
	if x == 0 {
		return nil
	}
	return []projectfile.Edit{projectfile.Set(s.base+"/outline/x", x.InUnitOf(lengthUnit(s.sys))), projectfile.Set(s.base+"/outline/y", "0 m")}
}

func lengthUnit(sys q.System) string {
	if sys == q.US {
		return "1 ft 1 in"
	}
	return "1 m"
}

func (s *scope) doorsAsk() {
	def := s.kind.Usually + " to " + s.kind.Door
	if s.kind.Usually == "none" {
		def = "opening to " + s.kind.Door
	}
	parts := make([]string, len(s.room.Doors))
	for i, d := range s.room.Doors {
		parts[i] = doorText(d)
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "doors", Kind: Text, Ask: "Which doors does it have, where do they lead, and how are they left?",
			Why:     "A closed door is how the room knows that somebody who keeps still is inside.",
			Default: def, Example: "closed to landing; open to garden; opening to kitchen", Now: noneIf(parts, "; "),
		},
		write: s.writeDoors,
	})
}

func doorText(d model.Door) string {
	how := d.Usually
	switch how {
	case "none":
		how = "opening"
	case "":
		how = "door"
	}
	if d.To == "" {
		return how
	}
	return how + " to " + d.To
}

func noneIf(parts []string, sep string) string {
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, sep)
}

func (s *scope) writeDoors(text string) ([]projectfile.Edit, error) {
	var list []item
	taken := map[string]bool{}
	if !isNone(text) {
		for _, one := range items(text, ";,", " and ") {
			usually := ""
			var to []string
			for _, w := range strings.Fields(one) {
				switch strings.ToLower(w) {
				case "closed", "shut":
					usually = "closed"
				case "open":
					usually = "open"
				case "opening", "doorless", "arch":
					usually = "none"
				case "to", "into", "door", "usually", "the", "a", "left", "kept", "leads":
				default:
					to = append(to, w)
				}
			}
			id := "door"
			if len(s.room.Doors) > len(list) {
				id = s.room.Doors[len(list)].ID
			}
			id = slug(id, taken)
			taken[id] = true
			it := item{id: id}
			if len(to) > 0 {
				it.fields = append(it.fields, field{"to", projectfile.Quote(s.roomNamed(strings.Join(to, " ")))})
			}
			if usually != "" {
				it.fields = append(it.fields, field{"usually", usually})
			}
			list = append(list, it)
		}
	}
	return s.writeList(s.base+"/doors", list), nil
}

// roomNamed gives the id of a room that is called so, or the words.
func (s *scope) roomNamed(words string) string {
	for _, r := range s.p.Rooms {
		if strings.EqualFold(r.Name, words) || strings.EqualFold(wordsOf(r.ID), words) || strings.EqualFold(r.ID, words) {
			return r.ID
		}
	}
	return words
}

var compass = map[string]string{
	"n": "N", "north": "N", "ne": "NE", "north-east": "NE", "northeast": "NE", "e": "E", "east": "E", "se": "SE", "south-east": "SE", "southeast": "SE",
	"s": "S", "south": "S", "sw": "SW", "south-west": "SW", "southwest": "SW", "w": "W", "west": "W", "nw": "NW", "north-west": "NW", "northwest": "NW",
}

func (s *scope) windowsAsk() {
	def := "none"
	if s.kind.Windows > 0 {
		def = strconv.Itoa(s.kind.Windows)
	}
	parts := make([]string, len(s.room.Windows))
	for i, w := range s.room.Windows {
		parts[i] = strings.TrimSpace(w.Faces + " " + shown(w.Area > 0, s.written("windows/"+w.ID+"/area")))
		if parts[i] == "" {
			parts[i] = "window"
		}
	}
	example := "SE 1.2 m2; W"
	if s.sys == q.US {
		example = "SE 12 ft2; W"
	}
	s.add(ask{
		Question: Question{
			Chapter: Here, Path: "windows", Kind: Text, Ask: "Which windows does it have, where do they look, and how big are they?",
			Why:     "Daylight may make lamps needless, and a sensor must not look into the sun.",
			Default: def, DefaultWhy: shown(s.kind.Windows > 0, "how many will do when nobody has a compass"), Example: example, Now: noneIf(parts, "; "),
		},
		write: s.writeWindows,
	})
}

func (s *scope) writeWindows(text string) ([]projectfile.Edit, error) {
	parts := items(text, ";,", " and ")
	if n, err := strconv.Atoi(fold(text)); err == nil {
		if n < 0 || n > 30 {
			return nil, fmt.Errorf("%d windows are more than a room has; accepted: 0 to 30", n)
		}
		parts = make([]string, n)
	}
	if isNone(text) && !strings.EqualFold(strings.TrimSpace(text), "n") { // N is a window to the north
		parts = nil
	}
	taken := map[string]bool{}
	var list []item
	for i, one := range parts {
		it := item{id: "window"}
		if i < len(s.room.Windows) {
			it.id = s.room.Windows[i].ID
		}
		it.id = slug(it.id, taken)
		taken[it.id] = true
		for _, w := range strings.Fields(strings.ToLower(one)) {
			if f, ok := compass[w]; ok {
				it.fields = append(it.fields, field{"faces", f})
				one = cutWord(one, w)
			}
			if w == "window" {
				one = cutWord(one, w)
			}
		}
		if one = strings.TrimSpace(one); one != "" {
			unit := map[q.System]string{q.Metric: "m2", q.US: "ft2"}[s.sys]
			v, written, err := figure[q.Area](one, unit)
			if err != nil || v <= 0 || v > 100 || len(it.fields) > 1 {
				return nil, fmt.Errorf("%q is not a window; write where it looks and how big it is, as in SE 1.2 m2, or just how many there are", one)
			}
			it.fields = append(it.fields, field{"area", written})
		}
		if len(it.fields) > 2 {
			return nil, fmt.Errorf("%q is more than one window; put a semicolon between them, as in S 1.2 m2; W", text)
		}
		list = append(list, it)
	}
	return s.writeList(s.base+"/windows", list), nil
}

// cutWord takes a word out of a text, whatever its letters' case.
func cutWord(text, word string) string {
	fs := strings.Fields(text)
	out := fs[:0]
	for _, f := range fs {
		if strings.EqualFold(f, word) {
			word = "\x00"
			continue
		}
		out = append(out, f)
	}
	return strings.Join(out, " ")
}

// freeName is a name that no other room has.
func (s *scope) freeName(name string) string {
	for n := 1; ; n++ {
		try := name
		if n > 1 {
			try += " " + strconv.Itoa(n)
		}
		free := true
		for _, r := range s.p.Rooms {
			if strings.EqualFold(r.Name, try) && (s.room == nil || r.ID != s.room.ID) {
				free = false
			}
		}
		if free {
			return try
		}
	}
}
