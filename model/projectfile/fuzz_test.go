package projectfile

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sound fails unless whatever Parse made of src can be used by the rest of the program.
func sound(t interface {
	Fatalf(string, ...any)
}, src []byte,
) {
	d := Parse(src)
	lines := bytes.Count(src, []byte("\n")) + 1
	for _, p := range d.Problems() {
		if p.Line < 1 || p.Line > lines || p.Column < 1 || p.Message == "" || strings.Contains(p.Error(), "yaml:") || strings.Contains(p.Error(), "\n") {
			t.Fatalf("a file of %d lines has the problem %+v", lines, p)
		}
	}
	if d.Project() == nil || !bytes.Equal(d.Source(), src) {
		t.Fatalf("the project is %v, the source %q", d.Project(), d.Source())
	}
	for _, key := range d.Keys("rooms") {
		d.Has("rooms/" + key + "/brief")
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte(guestHouse))
	for _, c := range brokenFiles {
		f.Add([]byte(strings.Replace(good, c.old, c.new, 1)))
	}
	f.Fuzz(func(t *testing.T, src []byte) { sound(t, src) })
}

// Any line of a good file may be lost, doubled, cut or moved.
func TestDamagedFiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := strings.Split(rapid.SampledFrom([]string{good, guestHouse}).Draw(t, "file"), "\n")
		for range rapid.IntRange(1, 4).Draw(t, "damages") {
			i := rapid.IntRange(0, len(lines)-1).Draw(t, "line")
			switch rapid.IntRange(0, 4).Draw(t, "damage") {
			case 0:
				lines = append(lines[:i:i], lines[i+1:]...)
			case 1:
				lines = append(lines[:i+1:i+1], lines[i:]...)
			case 2:
				lines[i] = lines[i][:rapid.IntRange(0, len(lines[i])).Draw(t, "cut")]
			case 3:
				lines[i] = strings.Repeat(" ", rapid.IntRange(0, 5).Draw(t, "indent")) + strings.TrimSpace(lines[i])
			case 4:
				lines[i] += rapid.SampledFrom([]string{"]", "}", "[", "{", `"`, ": x", " &a", " *a", " !t", "\t", "- ", " |", "#"}).Draw(t, "tail")
			}
			if len(lines) == 0 {
				return
			}
		}
		sound(t, []byte(strings.Join(lines, "\n")))
	})
}

// home is a file of so many full rooms.
func home(rooms int, like bool) []byte {
	var b strings.Builder
	b.WriteString("roombrief: 1\nhome: {name: Bench, units: metric, currency: GBP}\npeople: [{id: rosa, role: owner, alerts: yes}]\nrooms:\n")
	for i := range rooms {
		if like && i > 0 {
			fmt.Fprintf(&b, "  - {id: room-%d, like: room-0, outline: {x: %d m}}\n", i, 4*i)
			continue
		}
		fmt.Fprintf(&b, `  - id: room-%d
    name: Room %d
    kind: shower room
    floor: 1
    outline: {x: %d m, y: 3.1 m, width: 2.1 m, depth: 2.4 m, ceiling: 2.35 m}
    doors: [{id: door, to: landing, usually: closed}]
    windows: [{id: street, faces: SW, area: 1.2 m2}]
    circuits:
      - {id: ceiling, lamps: 3, flux: 470 lm, base: GU10, dimmable: unknown, switch: box-1}
      - {id: mirror, lamps: 1, flux: 450 lm, base: integrated, dimmable: no, switch: box-1}
    switches:
      - {id: box-1, gangs: 2, neutral: unknown, depth: 35 mm, by: door}
    fans:
      - {id: extract, airflow: 21 l/s, power: 18 W, switch: box-1}
    water:
      - {id: cistern, kind: supply}
      - {id: tray, kind: waste}
    appliances:
      - {id: iron, kind: clothes iron, power: 2400 W, outlet: left}
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
        within: 45m
        at_most: 2h a day
        on_request: [{run: 20m}]
        quiet: {from: "23:00", to: "06:00", except: humidity}
      leak:
        points: [cistern, tray]
        tell: [rosa]
        within: 30s
      shutoff:
        - {appliance: iron, after: 25m, idle: {below: 20 W, for: 8m}, warn: 3m, extend: button}
      buttons:
        - {id: by-basin, where: basin, press: lights full, double: fan 20m, hold: everything off}
      said:
        - {goal: lighting, words: "If I get up at night I don't want to be blinded."}
`, i, i, 4*i)
	}
	return []byte(b.String())
}

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		name  string
		rooms int
		like  bool
	}{{"40 rooms", 40, false}, {"1000 rooms", 1000, false}, {"40 like rooms", 40, true}, {"1000 like rooms", 1000, true}} {
		src := home(c.rooms, c.like)
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(int64(len(src)))
			for b.Loop() {
				if d := Parse(src); len(d.problems) > 0 {
					b.Fatal(said(d.problems))
				}
			}
		})
	}
}

func BenchmarkHas(b *testing.B) {
	d := Parse(home(1000, true))
	for b.Loop() {
		if !d.Has("rooms/room-900/circuits/mirror/dimmable") {
			b.Fatal("it isn't there")
		}
	}
}
