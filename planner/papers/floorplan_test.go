package papers

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/fixtures"
	"example.org/roombrief/model"
	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner/floorplan"
)

// inSheet reads a picture as XML and holds each of its texts and boxes to the sheet.
func inSheet(t interface{ Errorf(string, ...any) }, name string, body []byte) (texts []string) {
	d := xml.NewDecoder(bytes.NewReader(body))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return texts
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return texts
		}
		switch tok := tok.(type) {
		case xml.CharData:
			texts = append(texts, string(tok))
		case xml.StartElement:
			at := map[string]float64{}
			for _, a := range tok.Attr {
				if v, err := strconv.ParseFloat(a.Value, 64); err == nil {
					at[a.Name.Local] = v
				}
			}
			if tok.Name.Local != "text" && tok.Name.Local != "rect" {
				continue
			}
			if x, y := at["x"], at["y"]; x < -0.5 || y < -0.5 || x+at["width"] > sheetW+0.5 || y+at["height"] > sheetH+0.5 {
				t.Errorf("%s: a %s stands beside the sheet: %v", name, tok.Name.Local, at)
			}
		}
	}
}

func TestFloorPlansHoldEveryRoom(t *testing.T) {
	for _, h := range fixtures.Homes() {
		all, _, p := papersOf(t, h.Source)
		for _, r := range p.Rooms {
			name := FloorPlan(r.Floor)
			body, ok := all[name]
			if !ok {
				t.Fatalf("%s: there is no %s", h.File, name)
			}
			if got := strings.Join(inSheet(t, name, []byte(body)), " "); !strings.Contains(got, strings.Fields(r.Title())[0]) {
				t.Errorf("%s doesn't show %s", name, r.Title())
			}
			if strings.Contains(body, "In-box relay") && !strings.Contains(body, "licensed electrician") {
				t.Errorf("%s has relays and no caution", name)
			}
			for _, bad := range []string{"<script", "https:", "src=", "href", "@import", "url(http"} {
				if strings.Contains(body, bad) {
					t.Errorf("%s has %q", name, bad)
				}
			}
		}
	}
	if all, _, _ := papersOf(t, fixtures.Homes()[0].Source); strings.Contains(all["floor-plan-basement.svg"], "svg") {
		t.Error("a home without a basement has a plan of it")
	}
}

// A link that is too weak is told by a word on the plan, and what to do about it stands below.
func TestWeakLinksStandOnThePlan(t *testing.T) {
	doc, plan, p := papersOf(t, fixtures.Homes()[0].Source)
	if strings.Contains(doc[FloorPlan(0)], "! weak") {
		t.Error("a link of the ground floor is weak")
	}
	p.Home.Walls = model.Know("concrete")
	far := *p
	far.Rooms = append([]model.Room(nil), p.Rooms...)
	for i := range far.Rooms {
		if far.Rooms[i].ID == "wc" {
			far.Rooms[i].Outline.X += q.Length(45)
		}
	}
	all, err := All(&far, fixtures.Catalogue(), plan, Options{Program: "Roombrief test"})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range all {
		if x.Name != FloorPlan(0) {
			continue
		}
		got := strings.Join(strings.Fields(strings.Join(inSheet(t, x.Name, x.Body), " ")), " ")
		if !strings.Contains(got, "! ") || !strings.Contains(got, "bring the controller nearer") {
			t.Errorf("what is too far is not told: %s", got)
		}
	}
}

// Whatever lies where, the plan stays on its sheet, at the largest scale that it fits in, and is a picture.
func TestPlansStayOnTheirSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &model.Project{Home: model.Home{Name: rapid.StringN(0, 40, -1).Draw(t, "home")}}
		for i := range rapid.IntRange(1, 9).Draw(t, "rooms") {
			p.Rooms = append(p.Rooms, model.Room{ID: fmt.Sprint("r", i), Name: rapid.StringN(0, 30, -1).Draw(t, "name"), Outline: model.Outline{
				X: q.Length(rapid.Float64Range(-50, 150).Draw(t, "x")), Y: q.Length(rapid.Float64Range(-50, 150).Draw(t, "y")),
				Width: q.Length(rapid.Float64Range(0.3, 200).Draw(t, "w")), Depth: q.Length(rapid.Float64Range(0.3, 200).Draw(t, "d"))},
				Doors: []model.Door{{ID: "d", To: "outside"}, {ID: "e", To: "r0"}}})
		}
		f := floorplan.Of(p, nil, nil, 0)
		s := source{project: p, Options: Options{Program: "Roombrief"}}
		inSheet(t, "plan", s.floorPlan(&f, "Entrance floor"))
	})
}
