package projectfile

import (
	"fmt"
	"reflect"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Rejected says that edits were not made because the file would have had new errors.
type Rejected struct{ Problems []Problem }

func (r *Rejected) Error() string {
	var b strings.Builder
	for i, p := range r.Problems {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(p.Message)
		if p.Hint != "" {
			b.WriteString("; " + p.Hint)
		}
	}
	return b.String()
}

// Apply makes edits, one after the other, and parses the result. When one of them can't be made, or the
// result has errors that this document hasn't, nothing changes and the error says why; a *Rejected holds
// the new errors. Edits that change nothing return the document itself; any other make a file of an older
// version one of today.
func (d *Document) Apply(edits ...Edit) (*Document, error) {
	s, err := d.source()
	if err != nil {
		return nil, err
	}
	before := s
	for _, e := range edits {
		if s, err = s.apply(e); err != nil {
			return nil, err
		}
	}
	if s == before {
		return d, nil
	}
	for _, e := range d.Upgrade() {
		if s, err = s.apply(e); err != nil {
			return nil, err
		}
	}
	out := d.after(s, edits)
	if fresh := newErrors(d.problems, out.problems); len(fresh) > 0 {
		return nil, &Rejected{fresh}
	}
	return out, nil
}

// after is the document that edits lead to. Their proof has parsed the file already; where there may be
// something that only a full reading finds, it is read again.
func (d *Document) after(s *source, edits []Edit) *Document {
	again := !d.OK() || s.root == nil || len(s.src) > MostBytes
	for _, e := range edits {
		again = again || strings.ContainsFunc(e.path+e.yaml, unseen)
	}
	if again {
		return Parse(s.src)
	}
	return judge(s.src, s.root, nil)
}

// unseen reports what no file may hold as it is.
func unseen(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' && r != '\r' || r == 0xfeff || r == 0xfffe || r == 0xffff || r == utf8.RuneError
}

// source is the document as its bytes with their tree.
func (d *Document) source() (*source, error) {
	if d.root == nil && !d.OK() {
		for _, p := range d.problems {
			if !p.Warning {
				return nil, fmt.Errorf("the file can't be changed while it can't be read: %w", p)
			}
		}
	}
	if d.root == nil {
		return readSource(d.src)
	}
	return newSource(d.src, &yaml.Node{Kind: yaml.DocumentNode, Content: []*yaml.Node{d.root}}), nil
}

// newErrors are the errors of after that before hasn't. An edit moves lines and indexes, so that errors are
// told apart by what they say, not by where they stand.
func newErrors(before, after []Problem) []Problem {
	known := map[string]int{}
	for _, p := range before {
		if !p.Warning {
			known[p.Message]++
		}
	}
	var fresh []Problem
	for _, p := range after {
		if p.Warning {
			continue
		}
		if known[p.Message]--; known[p.Message] < 0 {
			fresh = append(fresh, p)
		}
	}
	return fresh
}

// InWrittenUnit is a quantity in the unit that the file uses at a path: an airflow that the file gives in
// cfm comes back in cfm. A quantity for a place that holds none comes back as it is.
func (d *Document) InWrittenUnit(path, quantity string) string {
	steps, err := splitPath(path)
	if err != nil {
		return quantity
	}
	written, ok := d.Text(path)
	t := typeAt(steps)
	if !ok || t == nil {
		return quantity
	}
	v := reflect.New(t)
	reader, reads := v.Interface().(interface{ UnmarshalText([]byte) error })
	shower, shows := v.Interface().(interface{ InUnitOf(string) string })
	if !reads || !shows || reader.UnmarshalText([]byte(written)) != nil || reader.UnmarshalText([]byte(quantity)) != nil {
		return quantity
	}
	return shower.InUnitOf(written)
}

// SetKeepingUnit is Set for a quantity that the program worked out: it is written in the unit of the
// old one. What a person typed goes through Set, as typed.
func (d *Document) SetKeepingUnit(path, quantity string) Edit {
	return Set(path, d.InWrittenUnit(path, quantity))
}
