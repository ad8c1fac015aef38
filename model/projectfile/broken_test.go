package projectfile

import (
	"strings"
	"testing"
)

// good is a small home in which every kind of reference holds; the cases below break it one by one.
const good = `roombrief: 1
home:
  name: Test
  currency: GBP
  place: {latitude: 50, longitude: 1, timezone: Europe/London}
  mains: {voltage: 230 V, outlet: 13 A}
  terms: {labour: 48 GBP/h}
people:
  - {id: rosa, role: owner, alerts: yes}
  - {id: otto, role: resident}
controllers:
  - {id: main, room: bath, limits: able}
rooms:
  - id: bath
    outline: {width: 2 m, depth: 3 m}
    circuits:
      - {id: ceiling, lamps: 2, switch: box-1, dimmable: unknown}
      - {id: mirror, switch: box-1}
    switches: [{id: box-1, gangs: 2}]
    fans: [{id: extract, airflow: 21 l/s, switch: box-1}]
    water:
      - {id: tray, kind: waste}
      - {id: main, kind: stopcock, pipe: 15 mm}
    appliances:
      - {id: heater, kind: towel heater, power: 400 W}
      - {id: cooler, kind: freezer}
      - {id: pump, kind: pump, must_stay_on: yes}
    brief:
      lighting:
        start: on entry
        periods:
          - {from: 06:00, level: 80 %}
          - {from: sunset, level: 40 %, circuits: [mirror]}
      ventilation:
        ceiling: 65 %
        quiet: {from: 23:00, to: 06:00}
      leak: {points: [tray], tell: [rosa], shut: bath/main}
      shutoff:
        - {appliance: heater, after: 2h, warn: 3m}
      buttons:
        - {id: door, press: lights full, hold: extend heater}
  - {id: attic}
promises:
  - {id: dark, room: attic, never: lamp above 5 %, between: ["23:30", "06:00"]}
open:
  - {at: bath/switches/box-1/neutral, since: 2026-03-02}
choices:
  use: {bath/extract: relay-1}
records:
  agreed: [{room: bath, by: rosa, on: 2026-03-02, brief: 5f1c}]
`

func TestGoodIsGood(t *testing.T) { parse(t, good) }

// Each case changes one thing in the good file. The problem's line and column are those in the changed file.
var brokenFiles = []struct{ name, old, new, want string }{
	{
		"room of a controller", "room: bath, limits", "room: bat, limits",
		`12:22: controllers/main/room: "bat" is no room of this home; did you mean bath? there are: bath, attic`,
	},
	{
		"room of a promise", "room: attic", "room: atic",
		`44:22: promises/dark/room: "atic" is no room of this home; did you mean attic? there are: bath, attic`,
	},
	{
		"room of an agreement", "agreed: [{room: bath", "agreed: [{room: cellar",
		`50:19: records/agreed/0/room: "cellar" is no room of this home; there are: bath, attic`,
	},
	{
		"switch of a circuit", "lamps: 2, switch: box-1", "lamps: 2, switch: box-2",
		`17:41: rooms/bath/circuits/ceiling/switch: "box-2" is no switch box of this room; did you mean box-1? there is only box-1`,
	},
	{
		"switch of a fan", "21 l/s, switch: box-1", "21 l/s, switch: 7",
		`20:51: rooms/bath/fans/extract/switch: "7" is no switch box of this room; there is only box-1`,
	},
	{
		"circuit of a period", "[mirror]", "[mirrow]",
		`33:52: rooms/bath/brief/lighting/periods/1/circuits/0: "mirrow" is no circuit of this room; did you mean mirror? there are: ceiling, mirror`,
	},
	{
		"water point", "points: [tray]", "points: [tray, cistern]",
		`37:29: rooms/bath/brief/leak/points/1: "cistern" is no water point of this room; there are: tray, main`,
	},
	{
		"person", "tell: [rosa]", "tell: [roza]",
		`37:37: rooms/bath/brief/leak/tell/0: "roza" is no person of this home; did you mean rosa? there are: rosa, otto`,
	},
	{
		"person who may not be told", "tell: [rosa]", "tell: [rosa, otto]",
		"37:43: rooms/bath/brief/leak/tell/1: \"otto\" is to be told, but may not be alerted; write `alerts: yes` for them among the people, or tell somebody else [warning]",
	},
	{
		"stopcock", "shut: bath/main", "shut: bath/mian",
		`37:50: rooms/bath/brief/leak/shut: "bath/mian" is no stopcock of this home; did you mean bath/main? there is only bath/main`,
	},
	{
		"stopcock without room", "shut: bath/main", "shut: main",
		`37:50: rooms/bath/brief/leak/shut: "main" is no stopcock of this home; did you mean bath/main? there is only bath/main`,
	},
	{
		"stopcock of another kind", "shut: bath/main", "shut: bath/tray",
		`37:50: rooms/bath/brief/leak/shut: "bath/tray" is a water point, but not a stopcock; name one of kind stopcock, as room/water-point`,
	},
	{
		"appliance", "appliance: heater", "appliance: heatre",
		`39:23: rooms/bath/brief/shutoff/0/appliance: "heatre" is no appliance of this room; did you mean heater? there are: heater, cooler, pump`,
	},
	{
		"freezer cut off", "appliance: heater", "appliance: cooler",
		`39:23: rooms/bath/brief/shutoff/0/appliance: "cooler" may never be switched off by a rule: its kind (freezer) must stay on; remove this entry`,
	},
	{
		"marked to stay on", "appliance: heater", "appliance: pump",
		`39:23: rooms/bath/brief/shutoff/0/appliance: "pump" may never be switched off by a rule: it is marked must_stay_on; remove this entry`,
	},
	{
		"cut off twice", "warn: 3m}\n", "warn: 3m}\n        - {appliance: heater, after: 1h}\n",
		`40:23: rooms/bath/brief/shutoff/1/appliance: a second entry switches off "heater"; the other stands in line 39; keep one of them`,
	},
	{
		"warned too early", "warn: 3m", "warn: 2h",
		`39:48: rooms/bath/brief/shutoff/0/warn: the warning would come 2h before the end of 2h; let it come later [warning]`,
	},
	{
		"button that extends nothing", "extend heater", "extend heating",
		`41:48: rooms/bath/brief/buttons/door/hold: "heating" is no appliance of this room; did you mean heater? there are: heater, cooler, pump`,
	},
	{
		"button that does nothing known", "press: lights full", "press: lights on",
		`41:29: rooms/bath/brief/buttons/door/press: "lights on" is not something a button can do; accepted: lights full, lights off, lights 30 %, lights auto, fan 20m, fan off, everything off, extend APPLIANCE, acknowledge`,
	},
	{
		"two periods at once", "from: sunset", "from: 6:00",
		`33:20: rooms/bath/brief/lighting/periods/1/from: two periods start at 06:00; the other stands in line 32; let one start later, or remove it`,
	},
	{
		"quiet of no length", "to: 06:00", "to: \"23:00\"",
		"36:34: rooms/bath/brief/ventilation/quiet/to: the quiet hours start and end at 23:00; a quiet time needs two different times; to have none, remove `quiet`",
	},
	{
		"promise with one time", `["23:30", "06:00"]`, `["23:30"]`,
		`44:61: promises/dark/between: two times belong here, and there are 1; write the start and the end: ["23:30", "06:00"]`,
	},
	{
		"promise of no length", `["23:30", "06:00"]`, `["23:30", "23:30"]`,
		"44:71: promises/dark/between/1: the promise starts and ends at 23:30; write two different times, or remove `between` for the whole day",
	},
	{
		"open point without thing", "box-1/neutral", "box-9/neutral",
		`46:10: open/0/at: "bath/switches/box-9/neutral" leads nowhere: there is no "box-9"; did you mean box-1? there is only box-1`,
	},
	{
		"open point without fact", "box-1/neutral", "box-1/neutrl",
		`46:10: open/0/at: "bath/switches/box-1/neutrl" leads nowhere: there is no "neutrl"; did you mean neutral? there are: id, gangs, neutral, depth, by, position`,
	},
	{
		"open point without room", "at: bath/", "at: bahth/",
		`46:10: open/0/at: "bahth/switches/box-1/neutral" leads nowhere: there is no "bahth"; did you mean bath? there are: bath, attic`,
	},
	{
		"choice without room", "{bath/extract", "{bth/extract",
		`48:9: choices/use/{bth/extract}: "bth/extract" leads nowhere: there is no room "bth"; did you mean bath? there are: bath, attic`,
	},
	{
		"choice of a whole room", "{bath/extract", "{bath",
		`48:9: choices/use/bath: "bath" names a room, but nothing in it; write room/thing, as in shower-room/extract`,
	},
	{
		"choice with a slip", "{bath/extract", "{bath/extrakt",
		`48:9: choices/use/{bath/extrakt}: nothing in this room is called "extrakt", unless the plan makes it; did you mean extract? [warning]`,
	},
	{
		"id twice", "{id: mirror,", "{id: ceiling,",
		`18:14: rooms/bath/circuits/1/id: the id "ceiling" is taken by another circuit of this list; it stands in line 17; give this one another` +
			"\n" + `33:52: rooms/bath/brief/lighting/periods/1/circuits/0: "mirror" is no circuit of this room; there are: ceiling, ceiling`,
	},
	{
		"id with capitals", "{id: attic}", "{id: Attic}",
		`42:10: rooms/1/id: "Attic" is not an id; an id has small letters, digits and single dashes, 64 at most: attic` +
			"\n" + `44:22: promises/dark/room: "attic" is no room of this home; did you mean Attic? there are: bath, Attic`,
	},
	{
		"no id", "{id: attic}", "{name: Attic}",
		"42:5: rooms/1: this room has no `id`; id: short name used elsewhere in the file" +
			"\n" + `44:22: promises/dark/room: "attic" is no room of this home; there is only bath`,
	},
	{
		"value of no kind", "start: on entry", "start: on entering",
		`30:16: rooms/bath/brief/lighting/start: "on entering" is none of the values that can stand here; accepted: on entry, on request (did you mean on entry?)`,
	},
	{
		"unit forgotten", "width: 2 m", "width: 2",
		`15:22: rooms/bath/outline/width: "2" has no unit; accepted: a length such as 2.4 m, 35 mm or 7 ft 10 in`,
	},
	{
		"unit of something else", "power: 400 W", "power: 400 V",
		`25:49: rooms/bath/appliances/heater/power: "V" is not a unit of power; accepted: a power such as 18 W or 2.4 kW`,
	},
	{
		"too small", "width: 2 m", "width: 2 mm",
		`15:22: rooms/bath/outline/width: "2 mm" is too little here; accepted: from 0.3 m to 200 m`,
	},
	{
		"level over the top", "level: 80 %", "level: 180 %",
		`32:34: rooms/bath/brief/lighting/periods/0/level: "180 %" is too much here; accepted: from 0 % to 100 %`,
	},
	{
		"not a day", "since: 2026-03-02", "since: 2026-02-30",
		`46:46: open/0/since: "2026-02-30" is not a day of the calendar; accepted: a day such as 2026-03-02`,
	},
	{
		"not a zone", "Europe/London", "London time",
		`5:49: home/place/timezone: "London time" is not the name of a time zone; accepted: an IANA name such as Europe/London or America/New_York`,
	},
	{
		"off the globe", "latitude: 50", "latitude: 95",
		`5:21: home/place/latitude: "95" is too much here; accepted: from -90 to 90`,
	},
	{
		"two currencies", "48 GBP/h", "48 EUR/h",
		`7:19: home/terms/labour: labour is priced in EUR and parts in GBP; write both in one currency [warning]`,
	},
	{
		"unknown where it can't be", "lamps: 2", "lamps: unknown",
		`17:30: rooms/bath/circuits/ceiling/lamps: "unknown" is not a whole number that can be used; accepted: a whole number such as 3`,
	},
	{
		"a goal misspelt", "leak: {points: [tray], tell: [rosa], shut: bath/main}", "leak: nonw",
		"37:13: rooms/bath/brief/leak: \"nonw\" stands where keys belong; write them below, or `none` (did you mean none?)",
	},
	{
		"a key misspelt", "dimmable: unknown", "dimable: unknown",
		"17:48: rooms/bath/circuits/ceiling/dimable: \"dimable\" is not a key of a circuit, and is left alone; did you mean `dimmable`? a key of your own begins with x- [warning]",
	},
	{
		"no version", "roombrief: 1\n", "",
		"1:1: this project has no `roombrief`; write `roombrief: 1` as the first line",
	},
	{
		"version in words", "roombrief: 1", "roombrief: one",
		`1:12: roombrief: "one" is not a whole number that can be used; accepted: a whole number such as 3`,
	},
	{
		"version below nothing", "roombrief: 1", "roombrief: -1",
		"1:12: roombrief: \"-1\" is no version; write `roombrief: 1`",
	},
	{
		"newer version", "roombrief: 1", "roombrief: 2",
		"1:12: roombrief: the file is of version 2, which this program is too old for; it reads version 1: use a newer program; the file is left untouched",
	},
	{
		"older version", "roombrief: 1", "roombrief: 0",
		"1:12: roombrief: the file is of version 0 and is read as version 1: the keys are the same; it stays as it is until it is saved [warning]",
	},
	{
		"repeats nothing", "{id: attic}", "{id: attic, like: bathh}",
		`42:23: rooms/attic/like: "bathh" is no room of this home; did you mean bath? there is only bath`,
	},
	{
		"repeats itself", "{id: attic}", "{id: attic, like: attic}",
		"42:23: rooms/attic/like: rooms repeat each other in a ring: attic like attic; one of them has to be written out, without `like`",
	},
	{
		"two repeat each other", "  - {id: attic}", "  - {id: attic, like: loft}\n  - {id: loft, like: attic}",
		"43:22: rooms/loft/like: rooms repeat each other in a ring: attic like loft like attic; one of them has to be written out, without `like`",
	},
	{
		"repeats with a broken name", "{id: attic}", "{id: attic, like: bath, circuits: [{id: mirror, switch: box-3}]}",
		`42:61: rooms/attic/circuits/mirror/switch: "box-3" is no switch box of this room; did you mean box-1? there is only box-1`,
	},
	{
		"an alias", "[mirror]", "&m [mirror]}\n          - {from: 23:00, level: 4 %, circuits: *m",
		`33:51: rooms/bath/brief/lighting/periods/1/circuits: an anchor (&m) stands here; remove it: anchors and aliases are not used in this file` +
			"\n" + `34:49: rooms/bath/brief/lighting/periods/2/circuits: an alias (*m) stands here; write the value out: aliases are not followed`,
	},
	{
		"rooms twice", "promises:\n", "rooms: []\npromises:\n",
		`43:1: rooms: the key "rooms" is here for the second time; it already stands in line 13; keep one of them`,
	},
}

func TestBrokenFiles(t *testing.T) {
	for _, c := range brokenFiles {
		t.Run(c.name, func(t *testing.T) {
			if strings.Count(good, c.old) != 1 {
				t.Fatalf("%q stands %d times in the good file", c.old, strings.Count(good, c.old))
			}
			d := Parse([]byte(strings.Replace(good, c.old, c.new, 1)))
			if got := strings.TrimPrefix(said(d.Problems()), "\n"); got != c.want {
				t.Errorf("got:\n%s\nwant:\n%s", got, c.want)
			}
			for _, p := range d.Problems() {
				if p.Hint == "" {
					t.Errorf("only complains: %s", p.Error())
				}
			}
			if warned := strings.HasSuffix(c.want, "[warning]"); d.OK() != warned {
				t.Errorf("OK is %v", d.OK())
			}
		})
	}
}

func TestAllProblemsAtOnce(t *testing.T) {
	src := good
	for _, change := range [][2]string{
		{"width: 2 m", "width: wide"}, {"lamps: 2", "lamps: two"}, {"[rosa]", "[nobody]"}, {"to: 06:00", "to: 23:00"}, {"bath/extract", "x/extract"},
	} {
		src = strings.Replace(src, change[0], change[1], 1)
	}
	ps := Parse([]byte(src)).Problems()
	if len(ps) != 5 {
		t.Fatalf("%d problems:%s", len(ps), said(ps))
	}
	for i := range ps[1:] {
		if ps[i+1].Line < ps[i].Line {
			t.Errorf("not in the order of the file:%s", said(ps))
		}
	}
}

func TestTooLarge(t *testing.T) {
	d := Parse(make([]byte, MostBytes+1))
	if got := said(d.Problems()); !strings.HasPrefix(got, "\n1:1: the file has 4194305 bytes, and 4 MiB are the most that is read;") {
		t.Error(got)
	}
}

func TestNewerVersionIsLeftAlone(t *testing.T) {
	d := Parse([]byte("roombrief: 99\nhome: [what, is, this]\n"))
	if len(d.Problems()) != 1 || d.OK() || d.Has("home") || string(d.Source()) != "roombrief: 99\nhome: [what, is, this]\n" {
		t.Errorf("%v", d.Problems())
	}
}

func TestUpgrade(t *testing.T) {
	if n := len(parse(t, good).Upgrade()); n != 0 {
		t.Errorf("a file of today needs %d edits", n)
	}
	edits := Parse([]byte("roombrief: 0\n")).Upgrade()
	if len(edits) != 1 || edits[0].Path() != "roombrief" {
		t.Errorf("%+v", edits)
	}
}

// A kind of room is free; one that is a slip away from a known one, or holds its name, is asked about.
func TestKindsOfRoomThatAreNearlyKnown(t *testing.T) {
	for kind, want := range map[string]string{
		"bathrom": "did you mean bathroom?", "Showerroom": "did you mean shower room?", "guest bedroom": "did you mean bedroom?", "kichen": "did you mean kitchen?",
		"WC": "", "Kitchen": "", "sunroom": "", "sauna": "", "atelier": "", "utility": "",
	} {
		d := Parse([]byte("roombrief: 1\nrooms:\n  - {id: r, kind: " + kind + "}\n"))
		got := ""
		for _, p := range d.Problems() {
			if p.Path != "rooms/r/kind" || !p.Warning {
				t.Errorf("%s: %v", kind, p.Error())
			}
			got += p.Hint
		}
		if got != want || !d.OK() {
			t.Errorf("%s: %q, want %q; the file can be used: %v", kind, got, want, d.OK())
		}
	}
}

// A room that is to be like one that isn't there is never told to be like itself.
func TestNoRoomIsOfferedItself(t *testing.T) {
	for src, want := range map[string]string{
		"  - {id: zza, like: zz}\n":               "there is none; add it, or remove this",
		"  - {id: zza, like: zz}\n  - {id: zy}\n": "did you mean zy? there is only zy",
		"  - {id: a, like: c}\n  - {id: b}\n":     "did you mean b? there is only b",
	} {
		got := ""
		for _, p := range Parse([]byte("roombrief: 1\nrooms:\n" + src)).Problems() {
			if strings.HasSuffix(p.Path, "/like") {
				got = p.Hint
			}
		}
		if got != want {
			t.Errorf("%s: %q, want %q", src, got, want)
		}
	}
}
