package reading

import (
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"
)

func (d *Decoder) str(n *yaml.Node, v reflect.Value, f *Field, path *step) bool {
	if r, bad := unseen(n.Value); bad {
		d.At(n, path.String(), "the text holds a character that cannot be seen ("+strconv.QuoteRuneToASCII(r)+")", "remove it")
		return false
	}
	if f != nil && len(f.Enum) > 0 && !contains(f.Enum, n.Value) {
		d.At(n, path.String(), Quote(n.Value)+" is none of the values that can stand here", "accepted: "+listed(f.Enum)+didYouMean(n.Value, f.Enum))
		return false
	}
	v.SetString(n.Value)
	if f != nil && f.Ref != "" && n.Value != "" {
		d.Refs = append(d.Refs, Ref{Kind: f.Ref, Name: n.Value, Path: path.String(), Node: n})
	}
	return true
}

// unseen finds what would upset a terminal or deceive a reader: control characters and those that turn
// the direction of text.
func unseen(s string) (rune, bool) {
	for _, r := range s {
		if unicode.IsControl(r) && r != '\n' && r != '\t' || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			return r, true
		}
	}
	return 0, false
}

func didYouMean(got string, names []string) string {
	if near := NearestName(got, names); near != "" {
		return " (did you mean " + near + "?)"
	}
	return ""
}

func (d *Decoder) boolean(n *yaml.Node, v reflect.Value, path *step) bool {
	switch strings.ToLower(n.Value) {
	case "yes", "true":
		v.SetBool(true)
	case "no", "false":
		v.SetBool(false)
	default:
		d.At(n, path.String(), Quote(n.Value)+" is neither yes nor no", "accepted: yes or no")
		return false
	}
	return true
}

func (d *Decoder) number(n *yaml.Node, v reflect.Value, s *shape, f *Field, path *step) bool {
	if s.kind == kindInt {
		i, err := strconv.ParseInt(n.Value, 10, 64)
		if err != nil || i > 1e9 || i < -1e9 {
			d.At(n, path.String(), Quote(n.Value)+" is not a whole number that can be used", "accepted: a whole number such as 3")
			return false
		}
		v.SetInt(i)
		return d.within(n, v, f, path)
	}
	x, err := strconv.ParseFloat(n.Value, 64)
	if err != nil || strings.Trim(n.Value, "+-.0123456789") != "" || math.Abs(x) > 1e12 {
		d.At(n, path.String(), Quote(n.Value)+" is not a number that can be used", "accepted: a number such as 2.5")
		return false
	}
	v.SetFloat(x)
	return d.within(n, v, f, path)
}

// within holds a number or quantity against the bounds of its field.
func (d *Decoder) within(n *yaml.Node, v reflect.Value, f *Field, path *step) bool {
	if f == nil || f.Min == nil && f.Max == nil {
		return true
	}
	x := number(v)
	if f.Min != nil && x < f.Min.Value {
		d.At(n, path.String(), Quote(n.Value)+" is too little here", boundHint(f))
		v.SetZero()
		return false
	}
	if f.Max != nil && x > f.Max.Value {
		d.At(n, path.String(), Quote(n.Value)+" is too much here", boundHint(f))
		v.SetZero()
		return false
	}
	return true
}

func boundHint(f *Field) string {
	switch {
	case f.Max == nil:
		return "accepted: " + f.Min.Text + " or more"
	case f.Min == nil:
		return "accepted: " + f.Max.Text + " or less"
	}
	return "accepted: from " + f.Min.Text + " to " + f.Max.Text
}

func contains(names []string, s string) bool {
	for _, n := range names {
		if n == s {
			return true
		}
	}
	return false
}

// lower takes the capital and the full stop from a sentence, to go on from a colon.
func lower(s string) string {
	s = strings.TrimSuffix(s, ".")
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' || strings.HasPrefix(s, "A ") {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
