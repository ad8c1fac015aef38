package projectfile

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Edit is one change of a project file. Build it with Set, Remove, Append or Move.
type Edit struct {
	verb verb
	path string
	yaml string
	to   int
}

type verb int

const (
	setVerb verb = iota
	removeVerb
	appendVerb
	moveVerb
)

// Set writes a value: a scalar, or a piece of YAML in flow or block style. Missing parents are made.
// A value that the file already says is left exactly as it is written.
func Set(path, yaml string) Edit { return Edit{verb: setVerb, path: path, yaml: yaml} }

// Remove takes a key or an item away, with the comments that belong to it. What isn't there stays away.
func Remove(path string) Edit { return Edit{verb: removeVerb, path: path} }

// Append adds an item to a list, which is made when it is missing. A block list adds each of its items.
func Append(listPath, yaml string) Edit { return Edit{verb: appendVerb, path: listPath, yaml: yaml} }

// Move puts a list item at another place of its list, counted from 0.
func Move(path string, to int) Edit { return Edit{verb: moveVerb, path: path, to: to} }

// Path is the path that the edit was given.
func (e Edit) Path() string { return e.path }

// Does is what the edit does at its path, one word: set, remove, append or move.
func (e Edit) Does() string { return [...]string{"set", "remove", "append", "move"}[e.verb] }

// Value is the YAML that it writes; "" where it writes none.
func (e Edit) Value() string { return e.yaml }

// applyEdit changes a file's bytes by one edit and nothing else.
func applyEdit(src []byte, e Edit) ([]byte, error) {
	s, err := readSource(src)
	if err != nil {
		return nil, err
	}
	if s, err = s.apply(e); err != nil {
		return nil, err
	}
	return s.src, nil
}

// apply makes one edit. The result is parsed and proved to differ by that edit only.
func (s *source) apply(e Edit) (*source, error) {
	steps, err := splitPath(e.path)
	if err != nil {
		return nil, err
	}
	if s.root != nil && s.root.Kind != yaml.MappingNode {
		return nil, fmt.Errorf("%s: the file doesn't begin with keys", e.path)
	}
	out, err := s.perform(e, steps)
	if errors.Is(err, errPlace) {
		if closed := s.closed(); closed != nil {
			out, err = closed.perform(e, steps)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", e.path, err)
	}
	return out, nil
}

func (s *source) perform(e Edit, steps []string) (*source, error) {
	steps = s.byID(steps)
	switch e.verb {
	case removeVerb:
		return s.remove(steps)
	case moveVerb:
		return s.move(steps, e.to)
	}
	sn, err := readSnippet(e.yaml)
	if err != nil {
		return nil, err
	}
	if hasAnchor(sn.node) {
		return nil, fmt.Errorf("%q has a mark (&) for repeating it elsewhere, which this file doesn't use; leave it out", clip(sn.text))
	}
	if hasTag(sn.node) {
		return nil, fmt.Errorf("%q names a type (!), which this file doesn't use; leave it out", clip(sn.text))
	}
	if e.verb == appendVerb {
		return s.add(steps, sn)
	}
	out, err := s.set(steps, sn)
	if err == nil {
		err = out.provedSet(steps, sn)
	}
	return out, err
}

// closed is the same file with a `|` text at its very end, which lacks a newline, made `|-`, so that
// lines can follow without giving it one. It is nil for any other file.
func (s *source) closed() *source {
	last, within := s.root, -1
	for last != nil && last.Kind != yaml.ScalarNode && len(last.Content) > 0 {
		last, within = last.Content[len(last.Content)-1], last.Column-1
	}
	if last == nil || last.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 || strings.HasSuffix(last.Value, "\n") {
		return nil
	}
	start, end, err := s.span(last, within)
	if err != nil || end != len(s.src) {
		return nil
	}
	at := s.skipProps(start) + 1
	to := at
	if to < len(s.src) && s.src[to] == '+' {
		to++
	}
	out, ok := s.proved([]piece{{at, to, "-"}}, s.root)
	if !ok {
		return nil
	}
	return out
}

func (s *source) set(steps []string, sn snippet) (*source, error) {
	trail, end := follow(s.root, steps)
	if err := refuseAlias(trail, end, len(trail) < len(steps)); err != nil {
		return nil, err
	}
	if len(trail) < len(steps) {
		return s.setMissing(steps, trail, end, sn)
	}
	if sameMeaning(end, sn.node) {
		return s, nil
	}
	if end.Kind == yaml.MappingNode && sn.node.Kind == yaml.MappingNode && len(sn.node.Content) > 0 && s.worthKeeping(end, trail) {
		return s.merge(steps, end, sn)
	}
	pieces, err := s.replace(trail, sn)
	want := graft(s.root, trail, func(*yaml.Node) *yaml.Node { return sn.node })
	return s.finish(pieces, err, want, trail)
}

// worthKeeping reports a map with lines or comments of its own, which is changed key by key.
func (s *source) worthKeeping(n *yaml.Node, trail []spot) bool {
	if isBlockNode(n) {
		return true
	}
	start, end, err := s.span(n, trail[len(trail)-1].node.Column-1)
	return err == nil && s.lineStart(start) != s.lineStart(end)
}

// merge makes a map say what another says, touching only the keys that differ.
func (s *source) merge(steps []string, old *yaml.Node, sn snippet) (*source, error) {
	out := s
	var err error
	for i := 0; i+1 < len(sn.node.Content); i += 2 {
		key, value := sn.node.Content[i], sn.node.Content[i+1]
		text, terr := sn.valueText(value)
		if terr != nil {
			return nil, terr
		}
		part, perr := readSnippet(text)
		if perr != nil {
			return nil, perr
		}
		if out, err = out.set(append(slices.Clone(steps), key.Value), part); err != nil {
			return nil, err
		}
	}
	for i := 0; i+1 < len(old.Content); i += 2 {
		if member(sn.node, old.Content[i].Value) == nil {
			if out, err = out.remove(append(slices.Clone(steps), old.Content[i].Value)); err != nil {
				return nil, err
			}
		}
	}
	if _, end := follow(out.root, steps); !sameMeaning(end, sn.node) {
		return nil, errPlace
	}
	return out, nil
}

// valueText is the text of one value inside a snippet.
func (sn snippet) valueText(v *yaml.Node) (string, error) {
	start, end, err := sn.src.span(v, v.Column-1)
	if err != nil {
		return "", err
	}
	if v.Kind == yaml.ScalarNode && start == end {
		return "null", nil
	}
	if v.Kind == yaml.ScalarNode || v.Style&yaml.FlowStyle != 0 || v.Kind == yaml.AliasNode {
		return sn.text[start:end], nil
	}
	return strings.Repeat(" ", sn.src.column(start)) + sn.text[start:end], nil
}

// setMissing writes a key that isn't there, and whatever parents it lacks.
func (s *source) setMissing(steps []string, trail []spot, end *yaml.Node, sn snippet) (*source, error) {
	if out, done, err := s.ownItem(steps, trail, end); err != nil {
		return nil, err
	} else if done {
		return out.set(steps, sn)
	}
	if err := s.canAdd(steps, trail, end); err != nil {
		return nil, err
	}
	opens := s.mayOpen(steps[:len(trail)], trail, end)
	nested, err := s.nest(steps, len(trail), sn, end != nil && !opens && (inFlow(trail) || end.Style&yaml.FlowStyle != 0))
	if err != nil {
		return nil, err
	}
	if end == nil {
		pieces := []piece{s.linesAt(len(s.src), nested.text)}
		return s.finish(pieces, nil, nested.node, nil)
	}
	if end.Kind == yaml.ScalarNode {
		pieces, err := s.replace(trail, nested)
		return s.finish(pieces, err, graft(s.root, trail, func(*yaml.Node) *yaml.Node { return nested.node }), trail)
	}
	at := s.placeFor(steps[:len(trail)], steps[len(trail)], end)
	var pieces []piece
	switch {
	case opens:
		pieces, err = s.replace(trail, nested)
	case end.Style&yaml.FlowStyle != 0:
		text := nested.flow()
		pieces, err = s.insertFlow(end, at, strings.TrimSuffix(strings.TrimPrefix(text, "{"), "}"))
	default:
		pieces, err = s.insertBlock(end, at, nested.text, under(trail))
	}
	want := graft(s.root, trail, func(n *yaml.Node) *yaml.Node { return with(n, at+1, 0, nested.node.Content...) })
	return s.finishIn(pieces, err, want, trail, end)
}

// canAdd says why a missing step can't be made.
func (s *source) canAdd(steps []string, trail []spot, end *yaml.Node) error {
	for i := len(trail); i < len(steps); i++ {
		if i == len(trail) && end != nil && end.Kind == yaml.SequenceNode || i > len(trail) && isList(steps[:i]) {
			return noItem(steps[:i], steps[i], end)
		}
	}
	if end != nil && end.Kind == yaml.ScalarNode && !isVoid(end) {
		return fmt.Errorf("%s is a single value, %q, with nothing beneath it", joinPath(steps[:len(trail)]), end.Value)
	}
	return nil
}

func noItem(list []string, step string, n *yaml.Node) error {
	var ids []string
	if n != nil && n.Kind == yaml.SequenceNode {
		for i, item := range n.Content {
			if id := member(item, "id"); id != nil {
				ids = append(ids, id.Value)
			} else {
				ids = append(ids, strconv.Itoa(i))
			}
		}
	}
	if len(ids) == 0 {
		return fmt.Errorf("%s has no item %q; it is empty", joinPath(list), step)
	}
	return fmt.Errorf("%s has no item %q; it has %s", joinPath(list), step, clip(strings.Join(ids, ", ")))
}

// refuseAlias keeps edits out of what is written once and repeated by an alias.
func refuseAlias(trail []spot, end *yaml.Node, beneath bool) error {
	if beneath && end != nil && end.Kind == yaml.AliasNode {
		return fmt.Errorf("it is repeated from elsewhere by *%s; write it out by hand first", end.Value)
	}
	for _, p := range trail {
		if p.node.Anchor != "" {
			return fmt.Errorf("it is marked &%s to be repeated elsewhere; a change here would change that too", p.node.Anchor)
		}
	}
	return nil
}

// nest wraps a value in the keys of steps[from:], as one map.
func (s *source) nest(steps []string, from int, sn snippet, flow bool) (snippet, error) {
	sh := s.shape()
	for i := len(steps) - 1; i >= from; i-- {
		var text string
		if flow || i > from && isSmall(steps[:i]) {
			text = "{" + Quote(steps[i]) + ": " + sn.flow() + "}"
		} else {
			text = sn.keyed(steps[i], sh)
		}
		var err error
		if sn, err = readSnippet(text); err != nil {
			return sn, err
		}
	}
	return sn, nil
}

// mayOpen reports an empty `{}` or `[]` that may become a block when something is put in.
func (s *source) mayOpen(steps []string, trail []spot, c *yaml.Node) bool {
	return c != nil && len(trail) > 0 && c.Style&yaml.FlowStyle != 0 && entries(c) == 0 && !inFlow(trail) &&
		!isSmall(steps) && s.isBare(c, trail)
}

// isBare reports an empty flow collection without a comment inside.
func (s *source) isBare(c *yaml.Node, trail []spot) bool {
	start, end, err := s.span(c, trail[len(trail)-1].node.Column-1)
	return err == nil && !strings.Contains(string(s.src[start:end]), "#")
}

// under is the column of the collection that holds the one at a trail's end.
func under(trail []spot) int {
	if len(trail) == 0 {
		return -1
	}
	return trail[len(trail)-1].node.Column - 1
}

// placeFor is the entry after which a new key goes: the last one that the file format lists before it, -1
// when it goes before all others.
func (s *source) placeFor(parent []string, key string, c *yaml.Node) int {
	last := entries(c) - 1
	order := keyOrder(parent)
	rank := slices.Index(order, key)
	if rank < 0 {
		return last
	}
	first := last >= 0
	for i := last; i >= 0; i-- {
		r := slices.Index(order, c.Content[2*i].Value)
		if r >= 0 && r < rank {
			return i
		}
		first = first && r >= 0
	}
	if first {
		if at, err := s.entryStart(c, 0); err == nil && (c.Style&yaml.FlowStyle != 0 || s.startsLine(at)) {
			return -1
		}
	}
	return last
}
