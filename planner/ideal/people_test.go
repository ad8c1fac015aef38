package ideal

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/roombrief/model"
	"example.org/roombrief/planner/rules"
)

// household moves people in and out of the shower room in any way, within what the closed-room hold leans on: walking is seen unless the
// sensor is blind; whoever is in when the door shuts moves once more between the sensor's blind time and its end plus the stop time; with the
// door open nobody keeps still for longer than the kind of room says.
type household struct {
	*stage
	patient bool // nobody need move once more: the room waits as if the door were open
	in      int
	open    bool
	shutAt  int  // second in which the door last shut
	proved  bool // somebody moved behind the shut door, late enough to be seen
	stirAt  int  // last move with the door open, or the moment it opened
	leftAt  int  // last moment at which somebody was in, or moved the door
}

const (
	blind     = 60
	stopAfter = 6 * 60
	patience  = 15 * 60
)

func (h *household) moves() {
	h.move(motion)
	h.stirAt = h.day
	if !h.open && h.day >= h.shutAt+blind {
		h.proved = true
	}
}

func (h *household) setDoor(open bool) {
	if h.open == open {
		return
	}
	h.open = open
	h.report(door, open)
	h.stirAt, h.leftAt = h.day, h.day
	if !open {
		h.shutAt, h.proved = h.day, false
	}
}

// goes in or out by the door, and may shut it behind.
func (h *household) goes(by int, shut bool) {
	h.setDoor(true)
	h.moves()
	h.pass(1)
	h.in += by
	h.pass(1)
	if shut {
		h.setDoor(false)
	}
}

// second passes, with the move that the assumptions ask for when it is due.
func (h *household) second() {
	due := h.in > 0 && (h.open && h.day >= h.stirAt+patience || !h.open && !h.proved && h.day >= h.shutAt+h.stillAtMost())
	if due {
		h.moves()
	}
	h.pass(1)
	if h.in > 0 {
		h.leftAt = h.day
	}
}

// stillAtMost is how long after the door shut somebody has to move, by the assumptions.
func (h *household) stillAtMost() int {
	if h.patient {
		return patience
	}
	return blind + stopAfter - 1
}

func (h *household) check(t *rapid.T) {
	if h.in > 0 && !h.on(mirror) {
		h.tellAll(t)
		t.Fatalf("%s dark on %d people, door open %v", h.now(), h.in, h.open)
	}
	bound := 75 + stopAfter + 1
	if h.open || h.patient {
		bound = blind + patience + 75 + 1
	}
	if h.in == 0 && h.on(mirror) && h.day > h.leftAt+bound {
		h.tellAll(t)
		t.Fatalf("%s left burning since %d s, door open %v", h.now(), h.day-h.leftAt, h.open)
	}
}

func (h *household) tellAll(t *rapid.T) {
	for _, l := range h.log[max(0, len(h.log)-40):] {
		t.Log(l)
	}
}

func TestAnyHouseholdIsLitAndNothingIsLeftBurning(t *testing.T) {
	anyHousehold(t, false)
}

func TestAnyHouseholdWithPatientDoors(t *testing.T) { anyHousehold(t, true) }

func anyHousehold(t *testing.T, patient bool) {
	p := alderRow(t)
	o := Usual()
	o.Year = yearOf(p)
	if patient {
		p.Choices = model.Choices{} // as the brief needs it
	}
	d := DraftWith(p, o)
	program, err := rules.Compile(d.Sheet)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		g := &stage{t: t, p: program, s: program.Start(rapid.IntRange(0, rules.DaySeconds-1).Draw(rt, "clock")), moves: map[string]int{},
			style: sensorStyle(rapid.IntRange(0, 1).Draw(rt, "sensor"))}
		h := &household{stage: g, patient: patient}
		for range rapid.IntRange(1, 12).Draw(rt, "acts") {
			shut := rapid.Bool().Draw(rt, "shut")
			switch rapid.IntRange(0, 4).Draw(rt, "act") {
			case 0:
				if h.in < 2 {
					h.goes(+1, shut)
				}
			case 1:
				if h.in > 0 {
					h.goes(-1, shut)
				}
			case 2:
				if h.in > 0 {
					h.setDoor(!h.open)
				}
			case 3:
				if h.in > 0 {
					h.moves()
				}
			}
			for range rapid.SampledFrom([]int{1, 5, 30, 59, 60, 61, 75, 120, 359, 360, 361, 420, 1000, 4000}).Draw(rt, "seconds") {
				h.second()
				h.check(rt)
			}
		}
	})
}
