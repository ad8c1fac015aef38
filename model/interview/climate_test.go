package interview

import (
	"strings"
	"testing"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
	q "example.org/roombrief/model/quantity"
)

const dampBath = `roombrief: 1
home:
  place: {latitude: 53.96, longitude: -1.08, timezone: Europe/London}
  indoor: {winter: {temperature: 19 C, humidity: 45 %}, summer: {temperature: 24 C, humidity: 62 %}}
rooms:
  - id: bath
    kind: bathroom
    fans: [{id: extract, airflow: 21 l/s}]
    brief:
      ventilation: VENT
`

// asks finds the question of a path, "" is the home.
func asks(d *projectfile.Document, room, path string) (Question, bool) {
	for _, qn := range All(d, room) {
		if qn.Path == path {
			return qn, true
		}
	}
	return Question{}, false
}

func TestAirIsAskedWhereItMatters(t *testing.T) {
	for _, c := range []struct {
		vent             string
		outdoor, coldest bool
	}{
		{"{ceiling: reckoned}", true, true},
		{"{ceiling: 60 %}", true, false},
		{"{on_request: [{run: 20m}]}", false, false},
		{"none", false, false},
	} {
		d := projectfile.Parse([]byte(strings.Replace(dampBath, "VENT", c.vent, 1)))
		_, outdoor := asks(d, "", "home/outdoor")
		_, coldest := asks(d, "bath", "rooms/bath/coldest")
		if outdoor != c.outdoor || coldest != c.coldest {
			t.Errorf("%s: outdoor %v, coldest %v", c.vent, outdoor, coldest)
		}
	}
}

func TestAnswersAboutTheAir(t *testing.T) {
	d := projectfile.Parse([]byte(strings.Replace(dampBath, "VENT", "{ceiling: reckoned}", 1)))
	answer := func(room, path, text string) error {
		t.Helper()
		qn, ok := asks(d, room, path)
		if !ok {
			t.Fatalf("%s isn't asked", path)
		}
		next, err := Answer(d, qn, text)
		d = next
		return err
	}
	const out, cold = "home/outdoor", "rooms/bath/coldest"
	for _, c := range []struct{ room, path, text, refused string }{
		{"", out, "u", ""}, {"", out, "warm", "is not the air"}, {"", out, "4 C 87 %, 17 C 75 %", ""}, {"", out, "39 F 80, 66 F 70", ""}, {"", out, "unknown", ""},
		{"", out, "4 87 17 75", ""}, {"bath", cold, "", ""}, {"bath", cold, "21", "as it is in the house"}, {"bath", cold, "3", "as it is outside"},
		{"bath", cold, "warm", "is not a temperature"}, {"bath", cold, "58 F", ""}, {"bath", cold, "14.5 °C", ""},
	} {
		err := answer(c.room, c.path, c.text)
		if (c.refused == "") != (err == nil) || err != nil && !strings.Contains(err.Error(), c.refused) {
			t.Errorf("%s %q: %v", c.path, c.text, err)
		}
	}
	p := d.Project()
	if got, ok := p.Home.Outdoor.Get(); !ok || got != (model.Indoor{Winter: model.Air{Temperature: 4, Humidity: 87}, Summer: model.Air{Temperature: 17, Humidity: 75}}) {
		t.Errorf("%+v", p.Home.Outdoor)
	}
	if p.Rooms[0].Coldest != model.Know(q.Temperature(14.5)) {
		t.Errorf("%+v", p.Rooms[0].Coldest)
	}
	// What has been measured may stay when the air that bounds it is noted otherwise.
	if err := answer("", out, "15 C 80 %, 20 C 60 %"); err != nil {
		t.Error(err)
	}
	qn, _ := asks(d, "bath", cold)
	if err := answer("bath", cold, qn.Now); err != nil {
		t.Error(err)
	}
}
