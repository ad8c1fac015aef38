package interview

import (
	"path"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
)

// What an answer says nothing of stays: a list that is answered again, with one thing more, keeps the positions that were noted.
func TestPositionsOutliveAnAnswer(t *testing.T) {
	d := projectfile.Parse([]byte(`roombrief: 1
home: {name: A}
rooms:
  - id: bath
    kind: bathroom
    circuits: [{id: ceiling, lamps: 3, flux: 470 lm, base: GU10, switch: box, position: {x: 1 m, y: 1 m}}]
    switches: [{id: box, gangs: 2, neutral: yes, depth: 35 mm, position: {x: 2 m, y: 0 m}}]
    fans: [{id: extract, airflow: 21 l/s, power: 18 W, position: {x: 0.3 m, y: 0.2 m}}]
    water: [{id: tray, kind: waste, position: {x: 0.5 m, y: 0.5 m}}]
    outlets: [{id: left, by: left, position: {x: 0 m, y: 1 m}}]
`))
	if !d.OK() {
		t.Fatal(d.Problems())
	}
	for _, q := range All(d, "bath") {
		text, more := map[string]string{"circuits": "ceiling 3 GU10 470 lm; mirror 1 integrated 450 lm", "fans": "extract 15 l/s 18 W", "water": "tray, cistern"}[path.Base(q.Path)], true
		if text == "" {
			text, more = q.Now, q.Now != "" && q.Chapter == Here
		}
		if !more {
			continue
		}
		next, err := Answer(d, q, text)
		if err != nil {
			t.Fatalf("%s: %q: %v", q.Path, text, err)
		}
		d = next
	}
	r := d.Project().Rooms[0]
	if len(r.Circuits) != 2 || len(r.Water) != 2 || r.Fans[0].Airflow.Value != 15 {
		t.Errorf("not all answers were taken: %+v", r)
	}
	if len(r.Circuits) == 0 || r.Circuits[0].Position != model.Know(model.Point{X: 1, Y: 1}) || r.Switches[0].Position != model.Know(model.Point{X: 2}) ||
		r.Fans[0].Position.Value.X != 0.3 || r.Water[0].Position.Value.X != 0.5 || r.Outlets[0].Position.Value.Y != 1 {
		t.Errorf("positions are lost: %+v", r)
	}
}
