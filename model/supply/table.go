package supply

import (
	"strings"
)

// record is one row of a list.
type record struct {
	line   int // where it starts, counted from 1
	fields []string
}

// Delimiters that lists have, in the order in which ties are broken.
var delimiters = []rune{';', '\t', ',', '|'}

// split reads rows as RFC 4180 has them, with any delimiter: a field in quotes may hold delimiters, line ends, and quotes
// written twice. Quotes within a field stand for themselves. Where a quote is never closed, its line is read
// as if it were an ordinary sign, so that one slip doesn't swallow the rest.
func split(text string, delimiter rune, wrong *Problems) (rows []record) {
	line := 1
	for len(text) > 0 {
		fields, rest, lines, open := row(text, delimiter, true)
		if open {
			wrong.add(line, "a quotation mark is opened and never closed")
			fields, rest, lines, _ = row(text, delimiter, false)
		}
		if len(fields) > 1 || strings.TrimSpace(fields[0]) != "" {
			rows = append(rows, record{line, fields})
		}
		line += lines
		text = rest
	}
	return rows
}

// row reads one row. open says that a quote is still open at the end of the text, or longer than any field is.
func row(text string, delimiter rune, quotes bool) (fields []string, rest string, lines int, open bool) {
	const longest = 1 << 16
	for {
		var field string
		if quotes && strings.HasPrefix(text, `"`) {
			var b strings.Builder
			text = text[1:]
			for {
				end := strings.IndexByte(text, '"')
				if end < 0 || b.Len()+end > longest {
					return nil, "", 0, true
				}
				lines += strings.Count(text[:end], "\n")
				b.WriteString(text[:end])
				text = text[end+1:]
				if !strings.HasPrefix(text, `"`) {
					break
				}
				b.WriteByte('"')
				text = text[1:]
			}
			tail, after, ended := upTo(text, delimiter)
			field, text = b.String()+tail, after
			fields = append(fields, clean(field))
			if ended {
				return fields, text, lines + 1, false
			}
			continue
		}
		field, after, ended := upTo(text, delimiter)
		text = after
		fields = append(fields, clean(field))
		if ended {
			return fields, text, lines + 1, false
		}
	}
}

// upTo cuts text at the delimiter or the end of its line.
func upTo(text string, delimiter rune) (field, rest string, ended bool) {
	for i, r := range text {
		switch r {
		case delimiter:
			return text[:i], text[i+len(string(r)):], false
		case '\n':
			return text[:i], text[i+1:], true
		case '\r':
			if strings.HasPrefix(text[i+1:], "\n") {
				return text[:i], text[i+2:], true
			}
			return text[:i], text[i+1:], true
		}
	}
	return text, "", true
}

// clean takes away the blanks around a field, and those that only look like some.
func clean(s string) string { return strings.TrimSpace(blanks.Replace(s)) }

var blanks = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\ufeff", "", "\u200b", "")

// sample is how many rows are looked at to guess the form of a list.
const sample = 300

// guessDelimiter takes the sign that gives the heads that are known best, and then rows of the most even length.
func guessDelimiter(text string) rune {
	head := text
	for i, n := 0, 0; i < len(text); i++ {
		if text[i] == '\n' {
			if n++; n == sample {
				head = text[:i+1]
				break
			}
		}
	}
	best, most := delimiters[0], -1.0
	for _, d := range delimiters {
		var ignored Problems
		rows := split(head, d, &ignored)
		counts := map[int]int{}
		for _, r := range rows {
			if len(r.fields) > 1 {
				counts[len(r.fields)]++
			}
		}
		even, width := 0, 0
		for n, times := range counts {
			if times > even || times == even && n > width {
				even, width = times, n
			}
		}
		known := 0
		for _, r := range rows[:min(len(rows), headWithin)] {
			known = max(known, len(columnsOf(r.fields)))
		}
		score := float64(known)*10 + float64(even)/float64(max(len(rows), 1))
		if width > 1 && score > most {
			best, most = d, score
		}
	}
	return best
}
