package papers

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"example.org/roombrief/model"
	"example.org/roombrief/model/caution"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/readback"
)

//go:embed household.html.tmpl
var householdPage string

var householdTemplate = template.Must(template.New("household").Parse(householdPage))

// pageOf is what the household page shows.
type pageOf struct {
	Home, Foot string
	Rooms      []roomOf
	People     []string
	Cautions   []string
}

type roomOf struct {
	Name    string
	Agreed  string // who agreed and when, or that nobody has yet
	Goals   []goalOf
	Buttons []buttonOf
	Said    []string
}

type goalOf struct {
	Name      string
	Sentences []string
	Picture   template.HTML // of the light over the day; all of its texts are escaped
}

type buttonOf struct {
	Name                string
	Press, Double, Hold string
}

// goalNames as the household reads them.
var goalNames = map[string]string{
	"lighting": "Light", "ventilation": "Air", "leak": "Water", "shutoff": "Appliances", "buttons": "Buttons", "room": "The room",
}

// household is one self-contained page: no script, no fetched font or picture.
func (s source) household() ([]byte, error) {
	page := pageOf{Home: s.homeName(), Foot: s.foot()}
	kinds := map[string]bool{}
	for _, r := range s.project.Rooms {
		room := s.householdRoom(r)
		if len(room.Goals) == 0 && len(room.Buttons) == 0 {
			continue
		}
		page.Rooms = append(page.Rooms, room)
	}
	for _, r := range s.plan.Sheet.Rules {
		for k := range goalCautions(r.Goal) {
			kinds[k] = true
		}
	}
	for _, k := range caution.Kinds {
		if kinds[k] {
			page.Cautions = append(page.Cautions, caution.Text(k))
		}
	}
	for _, p := range s.project.People {
		if p.Alerts {
			page.People = append(page.People, p.Title())
		}
	}
	var b bytes.Buffer
	if err := householdTemplate.Execute(&b, page); err != nil {
		return nil, fmt.Errorf("household page: %w", err)
	}
	return b.Bytes(), nil
}

func (s source) householdRoom(r model.Room) roomOf {
	room := roomOf{Name: r.Title(), Agreed: "Not agreed yet."}
	switch a, state := readback.Agreement(s.project, r.ID); state {
	case readback.Agreed:
		room.Agreed = fmt.Sprintf("Agreed by %s, %s.", s.personName(a.By), a.On.Format("2 January 2006"))
	case readback.Lapsed:
		room.Agreed = fmt.Sprintf("Changed since %s agreed on %s; to be agreed again.", s.personName(a.By), a.On.Format("2 January 2006"))
	}
	for _, sentence := range readback.Room(s.project, r.ID) {
		if sentence.Caution || sentence.Goal == "buttons" && len(r.Brief.Buttons.Want) > 0 {
			continue // cautions stand together at the end; the table of presses says it better
		}
		name, shown := goalNames[sentence.Goal]
		if !shown {
			continue // what was said is quoted below; open points are the installer's
		}
		if n := len(room.Goals); n == 0 || room.Goals[n-1].Name != name {
			room.Goals = append(room.Goals, goalOf{Name: name})
		}
		g := &room.Goals[len(room.Goals)-1]
		g.Sentences = append(g.Sentences, together.Replace(sentence.Text))
	}
	for i := range room.Goals {
		if said := s.reckonedCeiling(r); said != "" && room.Goals[i].Name == goalNames["ventilation"] {
			room.Goals[i].Sentences = slices.Insert(room.Goals[i].Sentences, 1, together.Replace(said))
		}
		if room.Goals[i].Name == goalNames["lighting"] {
			room.Goals[i].Picture = template.HTML(s.lightRibbon(r)) // #nosec: made here, each text by clean
		}
	}
	for _, b := range r.Brief.Buttons.Want {
		room.Buttons = append(room.Buttons, buttonOf{
			Name:  where(b),
			Press: deedWords(r, b.Press), Double: deedWords(r, b.Double), Hold: deedWords(r, b.Hold),
		})
	}
	for _, said := range r.Brief.Said {
		room.Said = append(room.Said, said.Words)
	}
	return room
}

// together keeps a number and its unit on one line of print.
var together = strings.NewReplacer(" K)", "\u00a0K)", " %", "\u00a0%")

func (s source) personName(id string) string {
	if p, ok := s.project.Person(id); ok {
		return p.Title()
	}
	return id
}

// besides are words by which a place says already where it is: "over the ironing board".
var besides = []string{"above", "at", "behind", "below", "beside", "between", "by", "in", "inside", "left", "near", "next", "on", "opposite", "over", "right", "under", "underneath"}

func where(b model.Button) string {
	if first, _, more := strings.Cut(b.Where, " "); more && slices.Contains(besides, strings.ToLower(first)) {
		return english.Upper(b.Where)
	}
	if b.Where != "" {
		return "By the " + strings.TrimPrefix(b.Where, "the ")
	}
	return model.Titled(b.ID)
}

// deedWords is what a press does, for somebody who has never seen the file.
func deedWords(r model.Room, d model.Deed) string {
	switch d.Verb {
	case model.Lights:
		switch d.Level {
		case 100:
			return "Full light"
		case 0:
			return "Light off"
		}
		return "Light to " + d.Level.String()
	case model.LightsAuto:
		return "Light by itself again"
	case model.FanRun:
		return "Fan for " + d.Run.String()
	case model.FanOff:
		return "Fan off"
	case model.EverythingOff:
		return "Everything off"
	case model.Extend:
		for _, a := range r.Appliances {
			if a.ID == d.Appliance {
				return "More time for the " + a.Kind
			}
		}
		return "More time for " + d.Appliance
	case model.Acknowledge:
		return "I have seen the alert"
	}
	return ""
}
