package supply

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"example.org/roombrief/model/catalogue"
	"example.org/roombrief/model/english"
	"example.org/roombrief/model/reading"
)

// Says are what a person can say of a list, by name, each with what it takes. They are flags of the command and words of the page.
var Says = [][2]string{
	{"column", "price=4 or name=Article text: what a column is, by its number or its head; a column is " + english.Join(Roles, "or")},
	{"delimiter", "comma, semicolon, tab or bar: what sets fields apart"},
	{"decimal", "point or comma: the decimal mark"},
	{"encoding", english.Join(Encodings, "or")},
	{"currency", "EUR: the currency of prices that don't say theirs"},
	{"rate", "CHF=0.89: one CHF is 0.89 of yours"},
	{"with-tax", "20: percent of tax that is in the prices, to be taken out"},
	{"supplier", "whose list it is"},
	{"dated", "2026-03-02: the day of the prices"},
	{"map", "4711-02=door-zigbee: which part an article is"},
}

var (
	delimiterWords = map[string]rune{"comma": ',', ",": ',', "semicolon": ';', ";": ';', "tab": '\t', "\t": '\t', "bar": '|', "|": '|'}
	decimalWords   = map[string]rune{"point": '.', ".": '.', "comma": ',', ",": ','}
)

// Say takes one thing that a person says of a list; name is one of Says. The error is a sentence that names it.
func (o *Options) Say(name, value string) (err error) {
	switch name {
	case "column":
		role, column, ok := strings.Cut(value, "=")
		if !ok || !slices.Contains(Roles, role) || column == "" {
			return fmt.Errorf("column %q is not role=head; roles are %s", value, strings.Join(Roles, ", "))
		}
		o.Columns = with(o.Columns, role, column)
	case "map":
		at := strings.LastIndexByte(value, '=')
		if at < 1 || at == len(value)-1 {
			return fmt.Errorf("map %q is not article=part, as in map 4711-02=door-zigbee", value)
		}
		o.Map = with(o.Map, value[:at], value[at+1:])
	case "delimiter":
		o.Delimiter, err = sign(name, value, delimiterWords)
	case "decimal":
		o.Decimal, err = sign(name, value, decimalWords)
	case "encoding":
		i := slices.IndexFunc(Encodings, func(e string) bool { return strings.EqualFold(e, value) })
		if i < 0 {
			return fmt.Errorf("no encoding %q; there are %s", value, strings.Join(Encodings, ", "))
		}
		o.Encoding = Encodings[i]
	case "currency":
		if o.Currency = strings.ToUpper(value); !catalogue.IsCurrency(o.Currency) {
			return fmt.Errorf("currency %q is no currency; it is three capitals, as in GBP", o.Currency)
		}
	case "rate":
		r, err := ParseRate(value)
		if err != nil {
			return err
		}
		o.Rates = append(slices.DeleteFunc(slices.Clone(o.Rates), func(x Rate) bool { return x.From == r.From }), r)
	case "with-tax":
		o.Tax, err = tax(value)
	case "supplier":
		o.Supplier = value
	case "dated":
		if o.Dated, err = Day(value); err != nil {
			return fmt.Errorf("dated: %w", err)
		}
	default:
		near := ""
		if n := reading.NearestName(name, names()); n != "" {
			near = fmt.Sprintf("; did you mean %q?", n)
		}
		return fmt.Errorf("%q is nothing that can be said of a list%s", name, near)
	}
	return err
}

func names() (out []string) {
	for _, s := range Says {
		out = append(out, s[0])
	}
	return out
}

// with is a map with one entry more; the map itself stays as it is.
func with(m map[string]string, key, value string) map[string]string {
	out := map[string]string{key: value}
	for k, v := range m {
		if k != key {
			out[k] = v
		}
	}
	return out
}

func sign(name, value string, known map[string]rune) (rune, error) {
	r, ok := known[strings.ToLower(value)]
	if !ok {
		accepts := map[string]string{"delimiter": "comma, semicolon, tab or bar", "decimal": "point or comma"}[name]
		return 0, fmt.Errorf("%s %q is not one of %s", name, value, accepts)
	}
	return r, nil
}

// tax reads a percentage, and gives it as a fraction.
func tax(text string) (*big.Rat, error) {
	bad := fmt.Errorf("with-tax %q is no percentage above 0 and up to 100", text)
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if len(text) > 8 || strings.Trim(text, "0123456789.") != "" {
		return nil, bad // no fraction, and no exponent that would be worked out before it is refused
	}
	t, ok := new(big.Rat).SetString(text)
	if !ok || t.Sign() <= 0 || t.Cmp(big.NewRat(100, 1)) > 0 {
		return nil, bad
	}
	return t.Mul(t, big.NewRat(1, 100)), nil
}

// Said parts a line that somebody types, "price=4; with-tax 20", into what is said: a name and a value each. A role stands for its
// column, and a name after two dashes begins anew, as the flags of the command are written. The error is a sentence.
func Said(line string) (all [][2]string, err error) {
	for _, one := range strings.Split(strings.ReplaceAll(" "+line, " --", ";"), ";") {
		if one = strings.TrimSpace(one); one == "" {
			continue
		}
		name, value, _ := strings.Cut(one, " ")
		if at := strings.IndexByte(name, '='); at > 0 && slices.Contains(Roles, name[:at]) {
			name, value = "column", one
		}
		name, value = strings.ToLower(name), strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(value), "="))
		if value != "" && slices.Contains([]string{rolePrice, roleName, roleArticle, rolePart, rolePack}, name) {
			name, value = "column", name+"="+strings.TrimSpace(strings.TrimPrefix(value, "column "))
		}
		if value == "" {
			return nil, fmt.Errorf("what is it about %s? Write it as in price=4, or with-tax 20", name)
		}
		all = append(all, [2]string{name, value})
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("nothing is said yet; write it as in price=4, or with-tax 20")
	}
	var try Options
	for _, s := range all {
		if err := try.Say(s[0], s[1]); err != nil {
			return nil, err
		}
	}
	return all, nil
}
