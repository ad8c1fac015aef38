package interview

import (
	"encoding"
	"fmt"
	"strconv"
	"strings"
	"unicode"

	q "example.org/roombrief/model/quantity"
)

// isNone reads every way to say that there is none of it.
func isNone(text string) bool {
	switch fold(text) {
	case "no", "none", "n", "nothing", "no one", "nobody", "-", "never", "nowhere", "no thanks", "not needed":
		return true
	}
	return false
}

func isUnknown(text string) bool {
	switch fold(text) {
	case "unknown", "u", "not known", "don't know", "dont know", "do not know", "not sure", "no idea", "unsure":
		return true
	}
	return false
}

// fold makes small letters and single spaces, and takes the full stop off the end.
func fold(text string) string {
	return strings.TrimSuffix(strings.ToLower(strings.Join(strings.Fields(text), " ")), ".")
}

// yesNo reads a plain answer.
func yesNo(text string) (bool, error) {
	switch fold(text) {
	case "y", "yes", "yes please", "yep", "yeah", "true", "ok", "sure":
		return true, nil
	case "n", "no", "no thanks", "nope", "false", "never", "none":
		return false, nil
	}
	return false, fmt.Errorf("%q is neither yes nor no; press y or n", text)
}

// choose finds the one choice that a text means: its key, its value, its label, or the start of just one.
func choose(choices []Choice, text string) (Choice, bool) {
	want := fold(text)
	for _, c := range choices {
		if want == c.Key || want == fold(c.Value) || want == fold(c.Label) {
			return c, true
		}
	}
	var found []Choice
	for _, c := range choices {
		if len(want) > 1 && (strings.HasPrefix(fold(c.Label), want) || strings.HasPrefix(fold(c.Value), want)) {
			found = append(found, c)
		}
	}
	if len(found) == 1 {
		return found[0], true
	}
	return Choice{}, false
}

// offer names the choices for an error.
func offer(choices []Choice) string {
	parts := make([]string, 0, len(choices))
	for _, c := range choices {
		parts = append(parts, c.Key+" "+c.Label)
	}
	return strings.Join(parts, ", ")
}

// pick is choose with a sentence when nothing fits.
func pick(choices []Choice, text string) (Choice, error) {
	if c, ok := choose(choices, text); ok {
		return c, nil
	}
	return Choice{}, fmt.Errorf("%q is not one of the answers here: %s", text, offer(choices))
}

// pickSeveral reads a list of keys, values or labels; more are what matches nothing.
func pickSeveral(choices []Choice, text string) (picked []Choice, more []string) {
	if isNone(text) {
		return nil, nil
	}
	if w := fold(text); w == "all" || w == "every one" || w == "everything" {
		return choices, nil
	}
	taken := map[string]bool{}
	take := func(c Choice) {
		if !taken[c.Value] {
			taken[c.Value] = true
			picked = append(picked, c)
		}
	}
	for _, item := range items(text, ";,", " and ") {
		if c, ok := choose(choices, item); ok {
			take(c)
			continue
		}
		if all, ok := byKeys(choices, item); ok && !isThing(item) {
			for _, c := range all {
				take(c)
			}
			continue
		}
		more = append(more, item)
	}
	return picked, more
}

// byKeys reads a run of single keys, each once: "ct" or "c t".
func byKeys(choices []Choice, item string) ([]Choice, bool) {
	var out []Choice
	seen := map[rune]bool{}
	for _, r := range strings.ToLower(strings.ReplaceAll(item, " ", "")) {
		found := false
		for _, c := range choices {
			if c.Key == string(r) && !seen[r] {
				out, found = append(out, c), true
			}
		}
		if seen[r] = true; !found {
			return nil, false
		}
	}
	return out, len(out) > 0
}

// isThing guards words that are things of their own from being read as a run of keys.
func isThing(item string) bool {
	_, appliance := applianceOf(item)
	_, water := waterKinds[fold(item)]
	return appliance || water || MustStayOn(item)
}

// items cuts a line at any of the marks or words, and drops what is empty.
func items(text, marks string, words ...string) []string {
	for _, w := range words {
		text = strings.ReplaceAll(text, w, string(marks[0]))
	}
	var out []string
	for _, p := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(marks+"\n·", r) }) {
		if p = strings.Join(strings.Fields(p), " "); p != "" {
			out = append(out, p)
		}
	}
	return out
}

// figure reads a quantity as people type it: a bare number takes the unit, commas are decimals between
// digits, and units may be spelt out. What it returns for the file is the text as typed where that can be
// read as it stands.
func figure[T fmt.Stringer, P interface {
	*T
	encoding.TextUnmarshaler
}](text, unit string) (value T, written string, err error) {
	text = strings.Join(strings.Fields(text), " ")
	if _, bad := strconv.ParseFloat(decimal(text), 64); bad == nil && unit != "" && !strings.ContainsAny(text, "eExXnNiI_+") {
		text = strings.TrimSpace(decimal(text) + " " + unit)
	}
	if err = P(&value).UnmarshalText([]byte(text)); err == nil {
		return value, text, nil
	}
	var again T
	if P(&again).UnmarshalText([]byte(spelt(text))) == nil {
		return again, again.String(), nil
	}
	return value, "", err
}

// decimal turns a decimal comma into a point.
func decimal(text string) string {
	b := []byte(text)
	for i := 1; i+1 < len(b); i++ {
		if b[i] == ',' && unicode.IsDigit(rune(b[i-1])) && unicode.IsDigit(rune(b[i+1])) {
			b[i] = '.'
		}
	}
	return string(b)
}

var spellings = strings.NewReplacer(
	"mins", "min", "hrs", "h", "secs", "s", "half an hour", "30m", "an hour", "1h", "litres a second", "l/s", "litres per second", "l/s",
	"percent", "%", "per cent", "%", "watts", "W", "watt", "W", "kelvin", "K", "kw", "kW", "centimetres", "cm", "millimetres", "mm", "inches", "in",
	"lumens", "lm", "lumen", "lm", " and ", " ",
)

// spelt writes units as the file knows them.
func spelt(text string) string {
	text = spellings.Replace(strings.ToLower(decimal(text)))
	for _, u := range [][2]string{{"w", "W"}, {"k", "K"}, {"c", "C"}, {"f", "F"}, {"v", "V"}, {"a", "A"}} {
		if head, ok := strings.CutSuffix(text, u[0]); ok && head != "" && (unicode.IsDigit(rune(head[len(head)-1])) || head[len(head)-1] == ' ') {
			text = head + u[1]
		}
	}
	return text
}

// span reads a time between two bounds.
func span(text, unit string, least, most q.Span) (q.Span, string, error) {
	v, written, err := figure[q.Span](text, unit)
	if err != nil {
		return 0, "", fmt.Errorf("%q is not a time that can be read; write it as in 30s, 10m or 1h30m", text)
	}
	if v < least || v > most {
		return 0, "", fmt.Errorf("%s is out of range; accepted: from %s to %s", v.Show(q.Metric), least.Show(q.Metric), most.Show(q.Metric))
	}
	return v, written, nil
}

// percent reads a share between two bounds.
func percent(text string, least, most q.Percent) (q.Percent, string, error) {
	v, written, err := figure[q.Percent](text, "%")
	if err != nil {
		return 0, "", fmt.Errorf("%q is not a percentage; write it as in 65 or 65 %%", text)
	}
	if v < least || v > most {
		return 0, "", fmt.Errorf("%s is out of range; accepted: from %s to %s", v, least, most)
	}
	return v, written, nil
}

// keyed gives each label a key of its own: its first free letter, else any of its letters, else a digit.
func keyed(choices []Choice, reserved string) []Choice {
	used := map[string]bool{}
	for _, r := range reserved {
		used[string(r)] = true
	}
	for _, c := range choices {
		used[c.Key] = true
	}
	const spare = "123456789abcdefghijklmnopqrstuvwxyz0"
	for i := range choices {
		if choices[i].Key != "" {
			continue
		}
		for _, r := range strings.ToLower(choices[i].Label) + spare {
			if k := string(r); r < 128 && (unicode.IsLetter(r) || unicode.IsDigit(r)) && !used[k] {
				used[k], choices[i].Key = true, k
				break
			}
		}
	}
	return choices
}

// slug makes a short name of words, unlike any of those taken.
func slug(words string, taken map[string]bool) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(words) {
		if f, ok := plainLetters[r]; ok {
			r = f
		}
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
			continue
		}
		gap = r != '\'' && r != '’'
	}
	id := strings.Trim(b.String(), "-")
	if len(id) > 40 {
		id = strings.Trim(id[:40], "-")
	}
	if id == "" {
		id = "item"
	}
	if id[0] >= '0' && id[0] <= '9' {
		id = "n" + id // a bare number would be read as a place in the list
	}
	if !taken[id] {
		return id
	}
	for n := 2; ; n++ {
		if next := id + "-" + strconv.Itoa(n); !taken[next] {
			return next
		}
	}
}

var plainLetters = map[rune]rune{
	'á': 'a', 'à': 'a', 'â': 'a', 'ä': 'a', 'ã': 'a', 'å': 'a', 'ç': 'c', 'é': 'e', 'è': 'e', 'ê': 'e', 'ë': 'e', 'í': 'i', 'ì': 'i', 'î': 'i', 'ï': 'i',
	'ñ': 'n', 'ó': 'o', 'ò': 'o', 'ô': 'o', 'ö': 'o', 'õ': 'o', 'ø': 'o', 'ú': 'u', 'ù': 'u', 'û': 'u', 'ü': 'u', 'ý': 'y', 'ß': 's',
}
