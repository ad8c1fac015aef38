package interview

import (
	"strings"
	"testing"
	"time"

	"example.org/roombrief/model"
	"example.org/roombrief/model/projectfile"
)

func TestWhatMustStayOnIsNeverOffered(t *testing.T) {
	for _, text := range []string{
		"freezer", "fridge", "chest freezer", "CPAP", "oxygen concentrator", "sump pump", "smoke alarm", "alarm", "router", "network switch", "medical device",
		"boiler", "aquarium", "baby monitor", "stairlift", "garage door opener", "heat pump",
	} {
		t.Run(text, func(t *testing.T) {
			d, id, err := AddRoom(empty(), "utility room", "Room")
			if err != nil {
				t.Fatal(err)
			}
			if d, err = Answer(d, question(t, d, id, "appliances"), "clothes iron, "+text); err != nil {
				t.Fatal(err)
			}
			which := question(t, d, id, "brief/shutoff")
			if len(which.Choices) != 1 || which.Choices[0].Value != "iron" {
				t.Errorf("offered: %+v", which.Choices)
			}
			if out, err := Answer(d, which, text); err == nil {
				t.Errorf("accepted:\n%s", out.Source())
			}
			a := d.Project().Rooms[0].Appliances[1]
			if !a.MustStayOn {
				t.Errorf("%+v is not marked", a)
			}
		})
	}
}

func TestAMarkInTheFileIsEnough(t *testing.T) {
	d := projectfile.Parse([]byte("roombrief: 1\nrooms:\n  - id: r\n    kind: study\n    appliances: [{id: lamp, kind: lamp, must_stay_on: true}]\n"))
	for _, qn := range All(d, "r") {
		if qn.Chapter == Appliances {
			t.Errorf("%s is asked of what must stay on", qn.ID)
		}
	}
}

func TestAnUnlistedApplianceIsAskedAbout(t *testing.T) {
	d, id, err := AddRoom(empty(), "study", "Room")
	if err != nil {
		t.Fatal(err)
	}
	if d, err = Answer(d, question(t, d, id, "appliances"), "telescope 40 W"); err != nil {
		t.Fatal(err)
	}
	qn := question(t, d, id, "appliances/telescope/must_stay_on")
	if d, err = Answer(d, qn, "yes"); err != nil {
		t.Fatal(err)
	}
	for _, x := range All(d, id) {
		if x.ID == "brief/shutoff" {
			t.Error("a shut-off is offered for what must stay on")
		}
	}
}

func TestCautionsStandInPlace(t *testing.T) {
	d, id := finished(t, "l", "utility room")
	for _, c := range []struct{ id, want string }{
		{"brief/leak/points", "no certified"}, {"brief/shutoff", "Heating appliances only ever go off"}, {"shutoff/iron/when", "only ever goes off"},
		{"switches/box-1/neutral", "licensed electrician"},
	} {
		if got := question(t, d, id, c.id).Caution; !strings.Contains(got, c.want) {
			t.Errorf("%s: caution is %q", c.id, got)
		}
	}
	d, id = finished(t, "l", "bathroom")
	if got := question(t, d, id, "circuits").Caution; !strings.Contains(got, "local wiring code") {
		t.Errorf("wet room: caution is %q", got)
	}
}

func TestDeclinedGoals(t *testing.T) {
	d, id := finished(t, "l", "utility room")
	for _, c := range []struct{ id, answer, path string }{
		{"brief/lighting/start", "n", "lighting"}, {"brief/ventilation", "n", "ventilation"}, {"brief/leak/points", "none", "leak"},
		{"brief/shutoff", "none", "shutoff"}, {"brief/buttons", "none", "buttons"},
	} {
		// A button may only speak of what is there, so buttons go first when something else is declined.
		base, err := Answer(d, question(t, d, id, "brief/buttons"), "none")
		if err != nil {
			t.Fatal(err)
		}
		out, err := Answer(base, question(t, base, id, c.id), c.answer)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := out.Text("rooms/room/brief/" + c.path); got != "none" {
			t.Errorf("%s: the file says %q", c.path, got)
		}
		if qn := question(t, out, id, c.id); !qn.Answered {
			t.Errorf("%s: asked again after it was declined", c.id)
		}
		for _, qn := range All(out, id) {
			if qn.ID != c.id && strings.HasPrefix(qn.ID, strings.TrimSuffix(c.id, "/start")+"/") {
				t.Errorf("%s is still asked", qn.ID)
			}
		}
		if _, ok := Next(out, id); ok {
			t.Errorf("%s: declining it opens another question", c.path)
		}
		again, err := Answer(out, question(t, out, id, c.id), question(t, empty2(t), "room", c.id).Default)
		if err != nil || !again.OK() {
			t.Errorf("%s cannot be wanted after all: %v", c.path, err)
		}
	}
}

// empty2 is the same kind of room, finished, for its proposals.
func empty2(t *testing.T) *projectfile.Document {
	d, _ := finished(t, "l", "utility room")
	return d
}

func TestParkAndTakeUpAgain(t *testing.T) {
	d, id := finished(t, "l", "shower room")
	qn := question(t, d, id, "switches/box-1/neutral")
	d, err := Park(d, qn, "electrician", day)
	if err != nil {
		t.Fatal(err)
	}
	d, err = Park(d, qn, "plumber", day.Add(48*time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	open := d.Project().Open
	if len(open) != 1 || open[0].At != "room/switches/box-1/neutral" || open[0].Ask != "plumber" || open[0].Since.Day() != 4 {
		t.Errorf("open: %+v", open)
	}
	if qn = question(t, d, id, qn.ID); !qn.Parked || qn.AskWho != "plumber" {
		t.Errorf("%+v", qn)
	}
	up, err := Unpark(d, qn)
	if err != nil || len(up.Project().Open) != 0 {
		t.Errorf("still open: %v %v", up.Project().Open, err)
	}
	answered, err := Answer(d, qn, "y")
	if err != nil || len(answered.Project().Open) != 0 {
		t.Errorf("an answered question is still open: %v %v", answered.Project().Open, err)
	}
}

func TestParkedQuestionsArePassedOver(t *testing.T) {
	d, id, err := AddRoom(empty(), "hall", "")
	if err != nil {
		t.Fatal(err)
	}
	first, _ := Next(d, id)
	if d, err = Park(d, first, "", day); err != nil {
		t.Fatal(err)
	}
	if next, _ := Next(d, id); next.ID == first.ID {
		t.Error("a parked question is asked again")
	}
	if before, ok := Before(d, question(t, d, id, "outline")); !ok || before.ID != "floor" {
		t.Errorf("before the size comes %q", before.ID)
	}
}

func TestQuestionsOfThingsThatAreGone(t *testing.T) {
	d, id := finished(t, "l", "shower room")
	qn := question(t, d, id, "fans")
	gone, err := d.Apply(projectfile.Remove("rooms/room"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Answer(gone, qn, ""); err == nil || !strings.Contains(err.Error(), `no room "room"`) {
		t.Errorf("got %v", err)
	}
	if All(gone, id) != nil {
		t.Error("a room that is gone is asked about")
	}
}

func TestWordsAreKept(t *testing.T) {
	d, id, err := AddRoom(empty(), "hall", "")
	if err != nil {
		t.Fatal(err)
	}
	for _, words := range []string{`"quoted": yes, {a} # no comment`, "two\nlines", "- not a list", "naïve ☂"} {
		if d, err = Say(d, id, "lighting", words); err != nil {
			t.Fatal(err)
		}
		said := d.Project().Rooms[0].Brief.Said
		if last := said[len(said)-1]; last.Words != words || last.Goal != "lighting" {
			t.Errorf("kept %+v of %q", last, words)
		}
	}
	if _, err := Say(d, id, "weather", "x"); err == nil {
		t.Error("words for a goal that does not exist")
	}
	if _, err := Say(d, id, "", " "); err == nil {
		t.Error("no words")
	}
	if _, err := Say(d, "attic", "", "x"); err == nil {
		t.Error("words for no room")
	}
}

func TestAddRoom(t *testing.T) {
	d := empty()
	var ids []string
	for _, c := range [][2]string{{"bedroom", ""}, {"Bedroom", ""}, {"sauna hut", ""}, {"hall", "Entrée & Flur"}, {"hall", "7"}} {
		next, id, err := AddRoom(d, c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		d, ids = next, append(ids, id)
	}
	if got := strings.Join(ids, " "); got != "bedroom bedroom-2 sauna-hut entree-flur n7" {
		t.Errorf("ids: %s", got)
	}
	if got := d.Project().Rooms; got[1].Name != "Bedroom 2" || got[1].Kind != "bedroom" || got[2].Name != "Sauna hut" {
		t.Errorf("rooms: %+v", got[:3])
	}
	if _, _, err := AddRoom(d, " ", "x"); err == nil {
		t.Error("a room without a kind")
	}
}

func TestKindsHaveWhatTheyNeed(t *testing.T) {
	keys := map[string]string{}
	for _, k := range kindTable {
		if old := keys[k.Key]; old != "" || len(k.Key) != 1 {
			t.Errorf("%s: key %q is taken by %q or no single key", k.ID, k.Key, old)
		}
		keys[k.Key] = k.ID
		if model.LongestStill(k.ID) <= 0 || k.Note == "" || k.Width <= 0 || k.Day == "" || k.Stop == "" {
			t.Errorf("%s lacks something", k.ID)
		}
		for _, o := range items(k.Appliances+","+k.Offer, ",") {
			if _, ok := applianceOf(o); !ok {
				t.Errorf("%s offers %q, of which nothing is known", k.ID, o)
			}
		}
		for _, o := range items(k.Water+","+k.WaterOffer, ",") {
			if waterKinds[o] == "" {
				t.Errorf("%s offers %q, whose kind nobody knows", k.ID, o)
			}
		}
	}
	if len(kindTable) < 14 {
		t.Errorf("%d kinds", len(kindTable))
	}
}

func TestChoicesHaveKeysOfTheirOwn(t *testing.T) {
	for _, k := range Kinds() {
		d, id := finished(t, "l", k.ID)
		for _, qn := range append(All(d, ""), All(d, id)...) {
			seen := map[string]bool{}
			for _, c := range qn.Choices {
				if len(c.Key) != 1 || seen[c.Key] || c.Label == "" || c.Value == "" {
					t.Errorf("%s %s: %+v", k.ID, qn.ID, c)
				}
				seen[c.Key] = true
			}
			if qn.Ask == "" || qn.Why == "" || qn.DefaultAs == "" || qn.Chapter == "" || !strings.HasSuffix(qn.Why, ".") {
				t.Errorf("%s %s lacks words: %+v", k.ID, qn.ID, qn)
			}
		}
	}
}

func TestLaterAnswersKeepWhatIsKnown(t *testing.T) {
	d, id := finished(t, "l", "shower room")
	d, err := Answer(d, question(t, d, id, "circuits/mirror/dimmable"), "n")
	if err != nil {
		t.Fatal(err)
	}
	d, err = Answer(d, question(t, d, id, "circuits"), "ceiling 4 GU10; mirror; shelf 1 integrated 200 lm zone 2")
	if err != nil {
		t.Fatal(err)
	}
	cs := d.Project().Rooms[0].Circuits
	if v, known := cs[1].Dimmable.Get(); !known || v || cs[1].Flux != 450 {
		t.Errorf("the mirror lost something: %+v", cs[1])
	}
	if cs[0].Lamps != 4 || cs[2].ID != "shelf" || cs[2].Switch.Value != "box-1" {
		t.Errorf("circuits: %+v", cs)
	}
	if next, ok := Next(d, id); !ok || next.ID != "circuits/shelf/dimmable" {
		t.Errorf("next is %q", next.ID)
	}
}

func TestAcceptChapter(t *testing.T) {
	d, id, err := AddRoom(empty(), "kitchen", "")
	if err != nil {
		t.Fatal(err)
	}
	if d, err = AcceptChapter(d, id, Here); err != nil {
		t.Fatal(err)
	}
	for _, qn := range All(d, id) {
		if qn.Answered != (qn.Chapter == Here) {
			t.Errorf("%s in %s: answered %v", qn.ID, qn.Chapter, qn.Answered)
		}
	}
}
