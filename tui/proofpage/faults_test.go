package proofpage

import (
	"strings"
	"testing"

	"example.org/roombrief/planner"
	"example.org/roombrief/planner/promises"
	"example.org/roombrief/planner/proof"
	"example.org/roombrief/planner/remedy"
	"example.org/roombrief/tui/draw/trial"
	"example.org/roombrief/tui/keys"
	"example.org/roombrief/tui/page"
)

const left = "den/not-left-burning"

// failing is the den with what faults do to one of its promises: one breaks it, two don't.
func failing(t testing.TB) page.Snapshot {
	s := proved(t, "den")
	x, _ := s.Proofs.Of("den")
	v, _ := x.Verdict(left)
	for _, f := range []promises.Fault{
		{Kind: promises.BatteryDead, Thing: "den/motion", Name: "motion in the den"}, {Kind: promises.PowerCut}, {Kind: promises.Restart},
	} {
		w := v
		w.Fault, w.State = f, proof.Kept
		w.Promise.ID += "/" + strings.ReplaceAll(string(f.Kind), " ", "-")
		if f.Thing != "" {
			w.Promise.ID += "/" + f.Thing
			w.State, w.Story = proof.Breaks, x.Verdicts[0].Story
		}
		x.Faults = append(x.Faults, w)
	}
	x.Failed = true
	s.Proofs, s.Faults = s.Proofs.With("den", x), true
	return s
}

// flat is what the page says beside its margin, as one line of words.
func flat(d *trial.Desk) string {
	var out []string
	for _, l := range strings.Split(d.Seen(), "\n") {
		l, _, _ = strings.Cut(l, "│")
		out = append(out, strings.Fields(l)...)
	}
	return strings.Join(out, " ")
}

func TestFaultsStandUnderTheirPromise(t *testing.T) {
	for _, size := range [][2]int{{76, 24}, {116, 36}} {
		d := trial.Sit(t, New(), failing(t), size[0], size[1])
		got := d.Seen()
		for _, want := range []string{"✗ With the sensor for motion in the den dead or off the", "with a fault 2 kept, 1 broken"} {
			if !strings.Contains(got, want) {
				t.Errorf("%q is missing from:\n%s", want, got)
			}
		}
		if !strings.Contains(flat(d), "Kept through a power cut and through a restart of the controller.") {
			t.Errorf("what it survives is missing from:\n%s", got)
		}
		if p := d.Page.(*Page); at(got, "With the sensor for motion in the den dead") < at(got, "after the last person has") || p.lines[2].verdict.Fault.Kind != promises.BatteryDead {
			t.Errorf("the fault doesn't stand under its promise:\n%s", got)
		}
		d.Press("home", "down", "down", "enter")
		if want := (page.Goto{Page: page.Story, At: left + "/battery-dead/den/motion"}); d.Last != want {
			t.Errorf("Enter does %v", d.Last)
		}
	}
}

// A dead motion sensor leaves whoever walks through the hall of Alder Row in the dark.
func TestTheStoryOfAFaultIsTold(t *testing.T) {
	s := trial.Home(t, "alder-row.yaml", "hall")
	all, err := proof.Room(t.Context(), s.Project, s.Plan.Sheet, "hall", proof.Options{Faults: true})
	if err != nil {
		t.Fatal(err)
	}
	x := page.Proved{Sheet: s.Plan.Sheet, Failed: true}
	for _, v := range all {
		if v.Fault.Kind != promises.NoFault {
			x.Faults = append(x.Faults, v)
		} else {
			x.Verdicts = append(x.Verdicts, v)
		}
	}
	s.Faults, s.Proofs = true, s.Proofs.With("hall", x)
	s.At = "hall/never-dark-on-someone/battery-dead/hall/motion"
	d := trial.Sit(t, NewStory(), s, 76, 24)
	if got := flat(d); !strings.Contains(got, "With the sensor for motion in the hall dead or off the radio: The light in the hall") || !strings.Contains(got, "people inside") {
		t.Errorf("its story isn't told:\n%s", d.Seen())
	}
	s.At, s.Proofs = "", s.Proofs.With("hall", page.Proved{Verdicts: x.Verdicts})
	d.Page.Show(s)
	if at(d.Seen(), "comes in a moment") < 0 {
		t.Errorf("while it is looked for:\n%s", d.Seen())
	}
}

func TestFaultsAreAskedForWithOneKey(t *testing.T) {
	s := proved(t, "den")
	d := trial.Sit(t, New(), s, 76, 24)
	if at(d.Seen(), "dead or off the radio") >= 0 {
		t.Errorf("faults are shown unasked:\n%s", d.Seen())
	}
	d.Press("f")
	if d.Last != (page.Faults{}) {
		t.Errorf("f does %v", d.Last)
	}
	s.Faults = true
	if d := trial.Sit(t, New(), s, 76, 24); at(d.Seen(), "proving") != 0 {
		t.Errorf("while they are looked at:\n%s", d.Seen())
	}
}

func TestTheLimitThatBreaksAPromiseIsNamed(t *testing.T) {
	const text = "Rules without limits keep it. What breaks it is a limit of linen-cupboard: longest_wait (Longest wait). Put these rules on a controller without this limit."
	s := proved(t, "den")
	x, _ := s.Proofs.Of("den")
	x.Blames = []planner.Blame{{Promise: "den/never-dark-on-someone", Host: "linen-cupboard", Limits: []string{"longest_wait"}, Text: text}}
	s.Proofs = s.Proofs.With("den", x)
	for _, size := range [][2]int{{76, 24}, {116, 36}} {
		d := trial.Sit(t, New(), s, size[0], size[1])
		if got := flat(d); !strings.Contains(got, text) {
			t.Errorf("at %v the limit isn't named:\n%s", size, d.Seen())
		}
	}
	s.At = "den/never-dark-on-someone"
	if d := trial.Sit(t, NewStory(), s, 76, 40); !strings.Contains(flat(d), text) {
		t.Errorf("the story doesn't name it:\n%s", d.Seen())
	}
}

func TestOnlyABrokenPromiseOpens(t *testing.T) {
	d := trial.Sit(t, New(), failing(t), 76, 24)
	for _, b := range d.Page.Help() {
		if b.Do == keys.Take && b.Off != "" {
			t.Errorf("the first promise is broken, and Enter is off: %s", b.Off)
		}
	}
	d.Press("down")
	if d.Press("enter"); d.Said() != "Only a broken promise has a story." {
		t.Errorf("on a kept one Enter does %v", d.Last)
	}
}

func TestThePageSaysWhatThePlanHasForTheSakeOfItsPromises(t *testing.T) {
	s := proved(t, "den")
	x, _ := s.Proofs.Of("den")
	x.Applied = []remedy.Applied{{Room: "den", Words: "Each door has a contact.", Why: "People here may keep still for 1h.", Price: 1250, Currency: "GBP", Priced: true}}
	s.Proofs = s.Proofs.With("den", x)
	d := trial.Sit(t, New(), s, 76, 44)
	if got := flat(d); !strings.Contains(got, "Each door has a contact. People here may keep still for 1h. That is 12.50 GBP of the bill.") ||
		at(d.Seen(), "For their sake the plan has already") > at(d.Seen(), "It is assumed that") {
		t.Errorf("it doesn't:\n%s", d.Seen())
	}
}
