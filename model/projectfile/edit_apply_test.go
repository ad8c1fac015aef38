package projectfile

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
)

const smallHome = `# 14 Alder Row
roombrief: 1
home: {name: 14 Alder Row, units: metric}
x-ours: kept     # not the program's

people:
  - {id: rosa, role: owner, alerts: true}

rooms:
  - id: hall
    kind: hall
    fans:
      - {id: extract, airflow: 45 cfm, power: 18 W}   # noisy
    circuits:
      - {id: ceiling, lamps: 3, switch: unknown}
`

func TestApply(t *testing.T) {
	d := Parse([]byte(smallHome))
	if !d.OK() {
		t.Fatal(d.Problems())
	}
	out, err := d.Apply(
		Set("rooms/hall/circuits/ceiling/lamps", "4"),
		Set("rooms/hall/brief/lighting/stop/after", "6m"),
		Append("rooms/hall/brief/lighting/periods", "{from: sunset, level: 35 %}"),
		d.SetKeepingUnit("rooms/hall/fans/extract/airflow", "10 l/s"),
	)
	if err != nil {
		t.Fatal(err)
	}
	if got := out.Project().Rooms[0].Circuits[0].Lamps; got != 4 {
		t.Errorf("lamps = %d", got)
	}
	if text, _ := out.Text("rooms/hall/fans/extract/airflow"); !strings.HasSuffix(text, "cfm") {
		t.Errorf("airflow is written %q", text)
	}
	want := strings.Replace(smallHome, "lamps: 3", "lamps: 4", 1)
	want = strings.Replace(want, "45 cfm", d.InWrittenUnit("rooms/hall/fans/extract/airflow", "10 l/s"), 1)
	want += lines("    brief:", "      lighting:", "        periods:", "          - {from: sunset, level: 35 %}", "        stop: {after: 6m}")
	// The comment after the fan keeps its column.
	if got := string(out.Source()); strings.Join(strings.Fields(got), " ") != strings.Join(strings.Fields(want), " ") {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	if string(d.Source()) != smallHome {
		t.Error("the old document changed")
	}
	if same, err := out.Apply(Set("rooms/hall/circuits/ceiling/lamps", "4"), Remove("rooms/hall/water")); err != nil || same != out {
		t.Errorf("edits that change nothing: %v", err)
	}
}

func TestApplyRefusesNewErrors(t *testing.T) {
	d := Parse([]byte(smallHome))
	for _, e := range []Edit{
		Set("rooms/hall/fans/extract/airflow", "many"),
		Set("rooms/hall/circuits/ceiling/switch", "box-9"),
		Append("rooms", "{id: hall}"),
		Remove("rooms/hall/id"),
	} {
		out, err := d.Apply(Set("home/name", "Changed"), e)
		var rejected *Rejected
		if !errors.As(err, &rejected) || out != nil || len(rejected.Problems) == 0 || !strings.Contains(err.Error(), rejected.Problems[0].Message) {
			t.Errorf("%+v: %v, %v", e, out, err)
		}
	}
	// An error that is there already stands in nobody's way, and may be put right.
	bad := Parse([]byte(strings.Replace(smallHome, "45 cfm", "many", 1)))
	if bad.OK() {
		t.Fatal("many is no airflow")
	}
	out, err := bad.Apply(Set("home/name", "Changed"))
	if err != nil || out.OK() {
		t.Fatalf("%v", err)
	}
	if out, err = out.Apply(Set("rooms/hall/fans/extract/airflow", "21 l/s")); err != nil || !out.OK() {
		t.Fatalf("%v", err)
	}
	if _, err := Parse([]byte("a: [")).Apply(Set("home/name", "x")); err == nil || !strings.Contains(err.Error(), "can't be read") {
		t.Errorf("broken file: %v", err)
	}
}

// An edited document is the one that its bytes parse to.
func TestApplyIsParse(t *testing.T) {
	for _, edits := range [][]Edit{
		{Set("rooms/room-1/name", "A")},
		{Set("rooms/room-0/name", "A"), Remove("rooms/room-1"), Append("rooms", "{id: x, kind: study}")},
		{Set("home/walls", "brick"), Append("people", "id: otto\nrole: resident"), Remove("rooms/room-2/brief/ventilation/within")},
		{Move("rooms/room-2", 0), Set("open", "- {at: room-0/brief/leak}")},
		{Set("rooms/room-1/circuits/mirror/x-note", `"\e"`)},
	} {
		d := Parse(manyRooms(3))
		out, err := d.Apply(edits...)
		if err != nil {
			t.Errorf("%+v: %v", edits, err)
			continue
		}
		want := Parse(out.Source())
		if !samePlaces(out.root, want.root) || !reflect.DeepEqual(out.Project(), want.Project()) || !reflect.DeepEqual(out.Problems(), want.Problems()) {
			t.Errorf("%+v: the document isn't that of its bytes:\n%s\n%v", edits, out.Source(), want.Problems())
		}
	}
}

func TestApplyRefusesTheUnseen(t *testing.T) {
	d := Parse([]byte(smallHome))
	for _, text := range []string{"a\u0085b", "y\ufeff", "\x1b[31m", "a\x00b", "\"\x7f\"", "\xff"} {
		for _, e := range []Edit{Set("x-odd", text), Append("x-list", text), Set("x-map/{"+text+"}", "1")} {
			if out, err := d.Apply(e); err == nil && (!out.OK() || strings.ContainsFunc(string(out.Source()), unseen)) {
				t.Errorf("%+v: %q", e, out.Source())
			}
		}
	}
}

func TestApplyBringsAFileUpToDate(t *testing.T) {
	old := strings.Replace(smallHome, "roombrief: 1", "roombrief: 0   # first", 1)
	out, err := Parse([]byte(old)).Apply(Set("home/name", "A"))
	want := strings.Replace(smallHome, "roombrief: 1", "roombrief: 1   # first", 1)
	if err != nil || string(out.Source()) != strings.Replace(want, "name: 14 Alder Row", "name: A", 1) {
		t.Fatalf("%v\n%s", err, out.Source())
	}
	if same, err := Parse([]byte(old)).Apply(Set("home/name", "14 Alder Row")); err != nil || string(same.Source()) != old {
		t.Errorf("%v: a file that nobody edits stays what it is", err)
	}
}

func TestApplyToNothing(t *testing.T) {
	out, err := Parse(nil).Apply(Set("roombrief", "1"), Set("home/name", "A"))
	if err != nil || string(out.Source()) != "roombrief: 1\nhome: {name: A}\n" && string(out.Source()) != "roombrief: 1\nhome:\n  name: A\n" {
		t.Fatalf("%v\n%s", err, out.Source())
	}
}

// manyRooms is a home of n rooms as the interview leaves them, with comments.
func manyRooms(n int) []byte {
	var b strings.Builder
	b.WriteString("roombrief: 1\nhome: {name: Long house, units: metric}\npeople:\n  - {id: rosa, role: owner, alerts: true}\nrooms:\n")
	for i := range n {
		fmt.Fprintf(&b, `  - id: room-%d
    name: Shower room %[1]d
    kind: shower room
    outline: {x: 0 m, y: 3.1 m, width: 2.1 m, depth: 2.4 m, ceiling: 2.35 m}
    windows: []
    circuits:
      - {id: ceiling, lamps: 3, flux: 470 lm, base: GU10, dimmable: unknown, switch: box-1}
      - {id: mirror, lamps: 1, flux: 450 lm, base: integrated, dimmable: no, switch: box-1}
    switches:
      - {id: box-1, gangs: 2, neutral: unknown, depth: 35 mm, by: door}
    fans:
      - {id: extract, airflow: 21 l/s, power: 18 W, switch: box-1}   # noisy
    brief:
      lighting:
        start: on entry            # on entry | on request
        periods:
          - {from: 06:20, level: 90 %%, colour: 4000 K}
          - {from: sunset, level: 35 %%, colour: 2700 K}
          - {from: "22:45", level: 4 %%, colour: 2200 K, circuits: [mirror]}
        stop: {after: 6m, never_while: occupied}
        keep_manual: true
      ventilation:
        ceiling: 65 %%
        within: 45m                # of the end of the shower
        on_request: [{run: 20m}]
        quiet: {from: "23:00", to: "06:00", except: humidity}

`, i)
	}
	return []byte(b.String())
}

func BenchmarkEdit40Rooms(b *testing.B) {
	d := Parse(manyRooms(40))
	if !d.OK() {
		b.Fatal(d.Problems())
	}
	for _, c := range []struct {
		name string
		edit func(i int) Edit
	}{
		{"scalar", func(i int) Edit { return Set("rooms/room-20/brief/lighting/stop/after", fmt.Sprintf("%dm", 7+i%9)) }},
		{"insert", func(int) Edit { return Set("rooms/room-20/floor", "2") }},
		{"append", func(int) Edit { return Append("rooms/room-39/circuits", "{id: extra, lamps: 1}") }},
		{"remove", func(int) Edit { return Remove("rooms/room-0/circuits/mirror/base") }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for i := 0; i < b.N; i++ {
				if _, err := d.Apply(c.edit(i)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// FuzzEdit looks for panics and for edits that aren't what they say, in files that nobody would write.
func FuzzEdit(f *testing.F) {
	for _, src := range []string{smallHome, "a: |+\n  x\n\nb: [1, {c: d}]\n", "? a\n: b\n", "- - a\n  -\n", "a: &x !t\n  b: *x\n", "{a: [b: c, ], \"d\":e}", "a: x\r\nb:\r\n- c\r\n", "a: 'x\n\n  y'\n"} {
		f.Add([]byte(src), "a/b", "{c: d}", 0)
		f.Add([]byte(src), "rooms/hall/circuits", "- x", 1)
	}
	f.Fuzz(func(t *testing.T, src []byte, path, value string, to int) {
		if len(src) > 4096 || len(value) > 256 || len(path) > 64 {
			return
		}
		before, err := readSource(src)
		if err != nil {
			return
		}
		for _, e := range []Edit{Set(path, value), Append(path, value), Remove(path), Move(path, to)} {
			out, err := before.apply(e)
			if err != nil || out == before {
				continue
			}
			again, err := readSource(out.src)
			if err != nil || !samePlaces(again.root, out.root) {
				t.Fatalf("%+v: %v\n%q\n%q", e, err, src, out.src)
			}
			if e.verb != setVerb {
				continue
			}
			rest, err := out.apply(e)
			if err == nil && string(rest.src) != string(out.src) {
				t.Fatalf("%+v again is no rest\n%q\n%q", e, out.src, rest.src)
			}
		}
	})
}
