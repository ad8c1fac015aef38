package tui

import (
	"fmt"
	"strings"

	"example.org/roombrief/tui/theme"
)

// mostCompared bounds the table of the comparison; beyond it the middle is shown as replaced whole.
const mostCompared = 4 << 20

// diff lists the lines that differ: what goes with a minus, what comes with a plus, each stretch under
// the number of the line where it begins.
func diff(t theme.Theme, old, new string) []string {
	a, b := strings.Split(old, "\n"), strings.Split(new, "\n")
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	a, b = a[head:len(a)-tail], b[head:len(b)-tail]
	if len(a) == 0 && len(b) == 0 {
		return []string{t.Faint.Render("The two are the same.")}
	}
	var out []string
	open := false
	line := head + 1
	for _, c := range compare(a, b) {
		if c.mark == ' ' {
			open = false
			line++
			continue
		}
		if !open {
			if len(out) > 0 {
				out = append(out, "")
			}
			out = append(out, t.Faint.Render(fmt.Sprintf("line %d", line)))
			open = true
		}
		style := t.Faint
		if c.mark == '+' {
			style = t.Strong
			line++
		}
		out = append(out, style.Render(string(c.mark)+" "+c.text))
	}
	return out
}

type compared struct {
	mark rune // ' ' same, '-' only in the old one, '+' only in the new one
	text string
}

// compare finds a longest common subsequence of lines.
func compare(a, b []string) []compared {
	var out []compared
	if len(a)*len(b) > mostCompared {
		for _, l := range a {
			out = append(out, compared{'-', l})
		}
		for _, l := range b {
			out = append(out, compared{'+', l})
		}
		return out
	}
	long := make([][]int32, len(a)+1)
	for i := range long {
		long[i] = make([]int32, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				long[i][j] = long[i+1][j+1] + 1
			} else {
				long[i][j] = max(long[i+1][j], long[i][j+1])
			}
		}
	}
	i, j := 0, 0
	for i < len(a) || j < len(b) {
		switch {
		case i < len(a) && j < len(b) && a[i] == b[j]:
			out = append(out, compared{' ', a[i]})
			i, j = i+1, j+1
		case i < len(a) && (j == len(b) || long[i+1][j] >= long[i][j+1]):
			out = append(out, compared{'-', a[i]})
			i++
		default:
			out = append(out, compared{'+', b[j]})
			j++
		}
	}
	return out
}
