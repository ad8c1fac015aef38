package sheet

import (
	"strings"
	"testing"

	"example.org/roombrief/model/projectfile"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

// beside is the margin of a wide page with its line breaks taken for blanks.
func beside(d *trial.Desk) string {
	var right []string
	for _, l := range strings.Split(d.Seen(), "\n") {
		_, note, _ := strings.Cut(l, d.Snap.Theme.Glyphs.Bar)
		right = append(right, note)
	}
	return strings.Join(strings.Fields(strings.Join(right, " ")), " ")
}

func at(t testing.TB, file, room, path string, w, h int) *trial.Desk {
	return to(trial.Sit(t, New(), trial.Home(t, file, room), w, h), path)
}

func TestNatureStandsBesideItsLines(t *testing.T) {
	for _, c := range []struct {
		file, room, path string
		want             []string
	}{
		{"alder-row.yaml", "shower-room", "ventilation/ceiling", []string{"After a shower of 8 min, in summer", "A ceiling of 65 % is too damp", "lower it to 62 %", "With 21 l/s the shower room is back under 67 % 20 min to 36 min", "67 % ", "asked"}},
		{"alder-row.yaml", "kitchen", "ventilation/ceiling", []string{"Winter: house 45 %, coldest surface 15.2 °C bears 63 %, fan gets under 50 %; it starts and stops at 70 %.", "Summer: house 62 %"}},
		{"larkspur-lane.yaml", "kitchen", "ventilation/ceiling", []string{"53 % suits the kitchen", "so there the fan starts and stops at 63 %"}},
		{"alder-row.yaml", "shower-room", "/fans", []string{"21 l/s meets the 15 l/s that UK Approved Document F 2021 asks of a bathroom; local code decides."}},
		{"alder-row.yaml", "utility", "/fans", []string{"fit a fan of that size at least", "! Fan rules do not replace", "Taken for granted: nobody knows what the fan of the utility room moves, 6 l/s is taken."}},
		{"alder-row.yaml", "utility", "ventilation/within", []string{"you asked for 1 h: a 9 l/s fan does it"}},
		{"alder-row.yaml", "shower-room", "leak/points", []string{"5 l are out when somebody is told and 150 l when it is shut by hand", "a motor valve would make that 9 l", "replaces no certified smoke"}},
		{"alder-row.yaml", "shower-room", "leak/within", []string{"If the tray of the shower room lets go", "230 l when it is shut by hand"}},
		{"alder-row.yaml", "hall", "/circuits", []string{"30 to 75 lx is usual: 1 more lamp like those there does it."}},
		{"larkspur-lane.yaml", "laundry", "/appliances", []string{"plug in nothing else on its circuit"}},
	} {
		got := beside(at(t, c.file, c.room, c.path, 116, 45))
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%s %s lacks %q: %s", c.room, c.path, want, got)
			}
		}
	}
}

func TestAirFollowsWhatIsWritten(t *testing.T) {
	d := at(t, "alder-row.yaml", "shower-room", "ventilation/within", 116, 40).Press("enter")
	if got := beside(d); !strings.Contains(got, "you asked for 45 min;") {
		t.Errorf("before writing: %s", got)
	}
	d.Press("ctrl+u", "=30 min")
	if got := beside(d); !strings.Contains(got, "you asked for 30 min: a") || !strings.Contains(got, "l/s fan does it;") || !strings.Contains(got, "! Fan rules") {
		t.Errorf("30 min in the field: %s", got)
	}
	d.Press("=x")
	if got := beside(d); !strings.Contains(got, "you asked for 30 min: a") {
		t.Errorf("what can't be read takes the sentence away: %s", got)
	}
	if d.Press("esc"); !strings.Contains(beside(d), "you asked for 45 min;") {
		t.Errorf("Esc leaves what was only tried: %s", beside(d))
	}
	if got := shower(d).Brief.Ventilation.Want.Within.String(); got != "45m" {
		t.Errorf("writing changed the brief to %s", got)
	}
	d = at(t, "alder-row.yaml", "shower-room", "/fans", 116, 40).Press("enter", "ctrl+u", "=extract 12 l/s 18 W")
	if got := beside(d); !strings.Contains(got, "12 l/s is less than the 15 l/s") || !strings.Contains(got, "With 12 l/s the shower room") {
		t.Errorf("12 l/s in the field: %s", got)
	}
}

func TestValveFollowsWhatIsMarked(t *testing.T) {
	d := at(t, "alder-row.yaml", "shower-room", "leak/shut", 116, 40).Press("enter")
	q, _ := d.Page.(*Page).here()
	seen := map[bool]bool{}
	for range q.Choices {
		got := beside(d)
		seen[strings.Contains(got, "when the valve has shut")] = true
		d.Press("down")
	}
	if !seen[true] || !seen[false] {
		t.Errorf("the choices of a valve say the same: %v\n%s", seen, d.Seen())
	}
}

func TestCurveInTheFold(t *testing.T) {
	for _, ascii := range []bool{false, true} {
		s := trial.Home(t, "alder-row.yaml", "shower-room")
		s.Theme = trial.Look(false, ascii)
		d := to(trial.Sit(t, New(), s, 76, 19), "ventilation/ceiling")
		if got := d.Seen(); strings.Contains(got, "100 % ") || !strings.Contains(got, "A ceiling of 65 % is too damp") {
			t.Errorf("the fold has no sentence, or a curve:\n%s", got)
		}
		d.Press("enter")
		got := d.Seen()
		for _, want := range []string{"100 % ", "67 % ", "0 min", "asked", "stops"} {
			if !strings.Contains(got, want) {
				t.Errorf("ASCII %v: the curve lacks %q:\n%s", ascii, want, got)
			}
		}
	}
}

// At 80 by 24 the caution of a fan that is too weak, the curve and the sentence are on the screen together.
func TestCautionStaysWithTheCurve(t *testing.T) {
	d := at(t, "alder-row.yaml", "shower-room", "ventilation/within", 76, 19).Press("enter", "ctrl+u", "=20 min")
	for _, want := range []string{"! Fan rules do not replace", "fumes into the room.", " 67 % ", "asked", "l/s fan does it"} {
		if !strings.Contains(d.Seen(), want) {
			t.Errorf("%q is out of sight:\n%s", want, d.Seen())
		}
	}
}

func TestDeclinedGoalsSayNothing(t *testing.T) {
	s := trial.Home(t, "alder-row.yaml", "shower-room")
	doc, err := s.Doc.Apply(projectfile.Set("rooms/shower-room/brief/leak", "none"), projectfile.Set("rooms/shower-room/brief/ventilation", "none"))
	if err != nil {
		t.Fatal(err)
	}
	d := to(trial.Sit(t, New(), trial.Changed(t, s, doc), 116, 40), "leak/points")
	if got := beside(d); strings.Contains(got, "lets go") {
		t.Errorf("a declined goal still speaks of water: %s", got)
	}
	if got := beside(to(d, "brief/ventilation")); strings.Contains(got, "back under") {
		t.Errorf("a declined goal still speaks of air: %s", got)
	}
}

func TestNatureFits(t *testing.T) {
	for _, path := range []string{"ventilation/ceiling", "leak/points", "/fans", "/circuits"} {
		s := trial.Home(t, "alder-row.yaml", "utility")
		trial.Fits(t, func() page.Page { return &stood{Page: New().(*Page), path: path} }, s)
		trial.Fits(t, func() page.Page { return &stood{Page: New().(*Page), path: path} }, s, "enter")
	}
}

// stood is a sheet with its cursor on the line of a path.
type stood struct {
	*Page
	path string
}

func (s *stood) Show(snap page.Snapshot) {
	s.Page.Show(snap)
	for i, q := range s.asks {
		if strings.HasSuffix(q.Path, s.path) {
			s.leaf.Go(i)
		}
	}
}

// BenchmarkWriting is a key in the field of a goal of the air, and its frame.
func BenchmarkWriting(b *testing.B) {
	d := at(b, "alder-row.yaml", "shower-room", "ventilation/within", 116, 35).Press("enter", "ctrl+u", "=3")
	for b.Loop() {
		d.Press("=0", "backspace")
		d.Page.View()
	}
}
