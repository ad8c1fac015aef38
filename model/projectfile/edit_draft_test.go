package projectfile

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// draft builds a random project-like file. Every comment in it is unlike any other, so that a lost one is noticed.
type draft struct {
	t        *rapid.T
	out      strings.Builder
	comments int
	keys     int
}

func (d *draft) pick(of ...string) string { return rapid.SampledFrom(of).Draw(d.t, "pick") }
func (d *draft) chance(percent int) bool  { return rapid.IntRange(0, 99).Draw(d.t, "chance") < percent }
func (d *draft) comment() string          { d.comments++; return fmt.Sprintf("# c%d.", d.comments) }
func (d *draft) key() string {
	d.keys++
	return d.pick("k", "name", "\u00e9", "\u6f22", "x-y") + fmt.Sprint(d.keys)
}

func (d *draft) above(col int) {
	if d.chance(10) {
		d.out.WriteString("\n")
	}
	if d.chance(20) {
		d.out.WriteString(strings.Repeat(" ", col) + d.comment() + "\n")
	}
	if d.chance(5) {
		d.out.WriteString("\n")
	}
}

func (d *draft) endLine() {
	if d.chance(20) {
		d.out.WriteString(d.pick(" ", "    ", "\t") + d.comment())
	}
	d.out.WriteString("\n")
}

// noteLine ends a line that has no value on it, where a tab is not allowed.
func (d *draft) noteLine() {
	if d.chance(20) {
		d.out.WriteString(d.pick(" ", "    ") + d.comment())
	}
	d.out.WriteString("\n")
}

func (d *draft) scalar() string {
	return d.pick("21 l/s", "on entry", "unknown", "5", "true", "no", `"22:45"`, "'it''s'", "06:20", "it's", "\u00e9t\u00e9 \u6f22", "65 %", "a#b", `"a # b"`, "x:y", `"\"q\\ \u00e9"`, "''")
}

func (d *draft) flow(depth int) string {
	if depth == 0 || d.chance(50) {
		return d.scalar()
	}
	pad := d.pick("", " ")
	var parts []string
	n := rapid.IntRange(0, 3).Draw(d.t, "n")
	isMap := d.chance(50)
	for i := 0; i < n; i++ {
		v := d.flow(depth - 1)
		if isMap {
			v = d.key() + ": " + v
		}
		parts = append(parts, v)
	}
	tail := ""
	if n > 0 {
		tail = d.pick("", "", "", ",", " ,")
	}
	in := pad + strings.Join(parts, d.pick(", ", ",  ")) + tail + pad
	if isMap {
		return "{" + in + "}"
	}
	return "[" + in + "]"
}

// value writes what follows a key or a dash at a column.
func (d *draft) value(col, depth int, dash bool) {
	kind := rapid.IntRange(0, 9).Draw(d.t, "kind")
	switch {
	case depth > 0 && kind < 3:
		d.blockMap(col, depth, dash)
	case depth > 0 && kind < 6:
		if dash {
			d.out.WriteString(" ")
			d.blockList(col+2, depth-1, true)
			return
		}
		d.noteLine()
		d.blockList(col+d.pickInt(0, 2, 2), depth-1, false)
	case kind == 6:
		d.out.WriteString(" " + d.pick("|", ">", "|-", ">-", "|+"))
		d.out.WriteString("\n")
		d.out.WriteString(strings.Repeat(" ", col+2) + "first\n")
		for i := 0; i < 2; i++ {
			d.out.WriteString(strings.Repeat(" ", col+2) + d.pick("text", "# not a comment", "  more", "k: v") + "\n")
		}
	case kind == 7:
		d.manyLines(col)
	case kind == 8 && d.chance(30):
		d.out.WriteString("\n") // null
	default:
		d.out.WriteString(" " + d.flow(2))
		d.endLine()
	}
}

func (d *draft) pickInt(of ...int) int { return rapid.SampledFrom(of).Draw(d.t, "int") }

// manyLines writes a flow map over several lines.
func (d *draft) manyLines(col int) {
	pad := strings.Repeat(" ", col+4)
	d.out.WriteString(" {")
	d.endLine()
	n := rapid.IntRange(1, 3).Draw(d.t, "n")
	for i := 0; i < n; i++ {
		if d.chance(20) {
			d.out.WriteString(pad + d.comment() + "\n")
		}
		d.out.WriteString(pad + d.key() + ": " + d.flow(1))
		if i < n-1 || d.chance(30) {
			d.out.WriteString(",")
		}
		d.endLine()
	}
	d.out.WriteString(strings.Repeat(" ", col+2) + "}")
	d.endLine()
}

func (d *draft) blockMap(col, depth int, dash bool) {
	inner := col + 2
	if dash {
		d.out.WriteString(" ")
	} else {
		d.noteLine()
	}
	for i, n := 0, rapid.IntRange(1, 4).Draw(d.t, "n"); i < n; i++ {
		if !dash || i > 0 {
			d.above(inner)
			d.out.WriteString(strings.Repeat(" ", inner))
		}
		d.out.WriteString(d.key() + ":")
		d.value(inner, depth-1, false)
	}
}

func (d *draft) blockList(col, depth int, dash bool) {
	for i, n := 0, rapid.IntRange(1, 4).Draw(d.t, "n"); i < n; i++ {
		if !dash || i > 0 {
			d.above(col)
			d.out.WriteString(strings.Repeat(" ", col))
		}
		d.out.WriteString("-")
		d.value(col, depth-1, true)
	}
}

func drawFile(t *rapid.T) []byte {
	d := &draft{t: t}
	for i, n := 0, rapid.IntRange(1, 4).Draw(t, "top"); i < n; i++ {
		d.above(0)
		d.out.WriteString(d.key() + ":")
		d.value(0, 4, false)
	}
	text := d.out.String()
	if d.chance(20) {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if d.chance(20) {
		text = strings.TrimRight(text, "\r\n")
	}
	return []byte(text)
}
