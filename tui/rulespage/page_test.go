package rulespage

import (
	"strings"
	"testing"
	"time"

	q "example.org/roombrief/model/quantity"
	"example.org/roombrief/planner"
	"example.org/roombrief/planner/rules"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/page"
)

// stairs is a room with three rules that use everything a rule can say.
func stairs(t testing.TB) page.Snapshot {
	s := trial.Home(t, "alder-row.yaml", "stairs")
	s.Plan = &planner.Plan{Sheet: rules.Sheet{
		Things: []rules.Thing{
			{ID: "stairs/flight", Room: "stairs", Kind: rules.Lamp, Name: "flight light"},
			{ID: "stairs/motion", Room: "stairs", Kind: rules.Motion, Name: "motion in the stairs"},
			{ID: "stairs/extract", Room: "stairs", Kind: rules.Fan, Name: "extract fan"},
		},
		Rules: []rules.Rule{
			{
				ID: "stairs/light-1", Room: "stairs", Goal: "lighting", Purpose: "Whoever comes has light.",
				Cause: rules.Cause{Kind: rules.Reports, Thing: "stairs/motion", On: true},
				Guard: []rules.Literal{{Kind: rules.Between, From: q.DayTime{Offset: 22 * time.Hour}, To: q.DayTime{Offset: 6 * time.Hour}}},
				Effects: []rules.Effect{
					{Kind: rules.Set, Thing: "stairs/flight", Value: rules.Value{On: true, Level: 25, Colour: 2200}},
					{Kind: rules.Start, Wait: "stairs/empty", For: q.Span(5 * time.Minute)},
				},
			},
			{
				ID: "stairs/light-2", Room: "stairs", Goal: "lighting", Purpose: "Nobody left, no light.",
				Cause:   rules.Cause{Kind: rules.Ended, Wait: "stairs/empty"},
				Effects: []rules.Effect{{Kind: rules.Set, Thing: "stairs/flight"}},
				Hold:    []rules.Literal{{Kind: rules.Is, Thing: "stairs/extract"}}, HoldFor: q.Span(time.Minute),
			},
			{
				ID: "stairs/fan-1", Room: "stairs", Goal: "ventilation", Purpose: "The fan runs after a power cut.",
				Cause:   rules.Cause{Kind: rules.PowerBack},
				Effects: []rules.Effect{{Kind: rules.Set, Thing: "stairs/extract", Value: rules.Value{On: true}}},
			},
			{ID: "hall/other", Room: "hall", Goal: "lighting", Purpose: "Another room's rule."},
		},
	}}
	return s
}

func TestRulesInWords(t *testing.T) {
	d := trial.Sit(t, New(), stairs(t), 76, 30).Press("down")
	got := d.Seen()
	for _, want := range []string{
		"Lighting ────", "Ventilation ────",
		"    1  Whoever comes has light.\n", "       Cause   Motion is seen", "       Guard   Between 22:00 and 06:00\n",
		"       Effect  Flight light to 25 %", "▸   2  Nobody left, no light.\n", "       Hold    Held while",
		`They said: "Otto stops halfway to get his breath.`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing from:\n%s", want, got)
		}
	}
	if strings.Contains(got, "Another room's") {
		t.Error("the page shows a rule of another room")
	}
	if !strings.HasPrefix(got, "  3 rules\n") {
		t.Errorf("the page does not begin with their number:\n%s", got)
	}
	if d.Press("tab"); d.Page.(*Page).leaf.At() != 2 {
		t.Error("Tab does not go on to the next goal")
	}
}

func TestChart(t *testing.T) {
	d := trial.Sit(t, New(), stairs(t), 76, 30).Press("down", "c")
	want := `  3 rules

   A  flight light   B  wait "empty"   C  extract fan
                                                                    A   B  C
  ──────────────────────────────────────────────────────────────────────────
    1  Motion is seen in the stairs                                25  5m  ·
▸   2  The wait "empty" runs out                                    -   ·  ·
    3  The power comes back                                         ·   ·  +
`
	if got := d.Seen(); !strings.HasPrefix(got, want) {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	if d.Press("c"); !strings.Contains(d.Seen(), "▸   2  Nobody left") {
		t.Errorf("turning back loses the rule:\n%s", d.Seen())
	}
}

func TestChartColumnsScroll(t *testing.T) {
	d := trial.Sit(t, New(), trial.Home(t, "alder-row.yaml", "shower-room"), 76, 19).Press("c")
	p := d.Page.(*Page)
	if p.seen >= p.cols {
		t.Fatalf("all %d columns fit; the test needs a wider chart", p.cols)
	}
	if got := d.Seen(); !strings.Contains(got, ", columns A to ") {
		t.Errorf("the page does not say which columns it shows:\n%s", got)
	}
	for range p.cols + 3 {
		d.Press("right")
	}
	if p.col+p.seen != p.cols || !strings.Contains(d.Seen(), letters(p.cols-1)+"  ") {
		t.Errorf("the last column is not in sight: from %d, %d of %d", p.col, p.seen, p.cols)
	}
	for range p.cols + 3 {
		d.Press("left")
	}
	if p.col != 0 {
		t.Errorf("back at column %d", p.col)
	}
}

// modest is a long hall whose only controller doesn't know the sun.
const modest = `roombrief: 1
home: {name: A hall, place: {latitude: 53.48, longitude: 7.11, timezone: Europe/Berlin}, currency: EUR}
controllers: [{id: linen-cupboard, room: hall, limits: modest}]
rooms:
  - id: hall
    name: Long hall
    kind: hall
    circuits:
      - {id: west, lamps: 4, flux: 470 lm, power: 5 W, base: GU10, dimmable: yes}
      - {id: skirting, lamps: 6, flux: 120 lm, power: 2 W, base: integrated, dimmable: no}
    brief:
      lighting:
        start: on entry
        periods:
          - {from: 06:00, level: 60 %, colour: 3000 K, circuits: [west]}
          - {from: dusk, level: 45 %, colour: 2700 K, circuits: [west]}
          - {from: 23:00, level: 100 %, circuits: [skirting]}
        stop: {after: 5m, never_while: moving}
        keep_manual: false
`

// What the controller runs stands first, with what to type; one key shows the rules as without limits.
func TestWhatToEnter(t *testing.T) {
	d := trial.Sit(t, New(), trial.Of(t, []byte(modest), "hall"), 90, 40)
	got := d.Seen()
	for _, want := range []string{
		"17 rules on linen-cupboard", "They are up to 38 minutes from the sun. The limit is sun_times.",
		"     Cause   Motion is seen in the long hall\n", "     Guard   Between 06:00 and 17:25, the last included\n",
		"     Effect  West light to 60 %, 3000 K\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing from:\n%s", want, got)
		}
	}
	d.Press("i")
	if got := d.Seen(); !strings.Contains(got, "rules as without limits") || !strings.Contains(got, "Between 06:00 and dusk") || strings.Contains(got, "17:25") {
		t.Errorf("without limits the page shows:\n%s", got)
	}
	d.Press("i", "c")
	if got := d.Seen(); !strings.Contains(got, "17 rules on linen-cupboard") || !strings.Contains(got, "It is 17:30") {
		t.Errorf("the chart is not of what runs:\n%s", got)
	}
	if d := trial.Sit(t, New(), stairs(t), 76, 30).Press("i"); !strings.Contains(d.Said(), "No controller") {
		t.Errorf("without a controller the key says %q", d.Said())
	}
}

func TestOtherRooms(t *testing.T) {
	d := trial.Sit(t, New(), stairs(t), 76, 30).Press("[")
	if d.Last != page.Action(page.Goto{Page: page.Rules, Room: "hall"}) {
		t.Errorf("the room before is %v", d.Last)
	}
	s := stairs(t)
	s.Room = "hall"
	if d := trial.Sit(t, New(), s, 76, 30).Press("["); d.Said() == "" {
		t.Errorf("before the first room: %v", d.Last)
	}
}

func TestNothingToShow(t *testing.T) {
	s := stairs(t)
	s.Room = "kitchen"
	d := trial.Sit(t, New(), s, 76, 30).Press("c")
	if !strings.Contains(d.Seen(), "no rules") || d.Said() != "There are no rules to chart." {
		t.Errorf("a room without rules shows %q and says %q", d.Seen(), d.Said())
	}
	s.Plan = nil
	if got := trial.Sit(t, New(), s, 76, 30).Seen(); !strings.Contains(got, "being planned") {
		t.Errorf("without a plan: %s", got)
	}
}

func TestFits(t *testing.T) {
	s := trial.Home(t, "alder-row.yaml", "shower-room")
	trial.Fits(t, New, s, "down", "pgdown")
	trial.Fits(t, New, s, "c", "down", "end")
}

func BenchmarkShow(b *testing.B) {
	s := trial.Home(b, "alder-row.yaml", "shower-room")
	d := trial.Sit(b, New(), s, 116, 35)
	for b.Loop() {
		plan := *s.Plan
		s.Plan = &plan
		d.Page.Show(s)
	}
}

func BenchmarkView(b *testing.B) {
	d := trial.Sit(b, New(), trial.Home(b, "alder-row.yaml", "shower-room"), 116, 35)
	for b.Loop() {
		d.Press("down")
		d.Page.View()
	}
}
