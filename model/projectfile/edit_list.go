package projectfile

import (
	"errors"
	"fmt"
	"slices"

	"gopkg.in/yaml.v3"
)

// add appends to a list; the list is made when it is missing or says nothing.
func (s *source) add(steps []string, sn snippet) (*source, error) {
	if sn.node.Kind == yaml.SequenceNode && sn.isBlock() {
		return s.addEach(steps, sn)
	}
	trail, end := follow(s.root, steps)
	if err := refuseAlias(trail, end, true); err != nil {
		return nil, err
	}
	if list := s.seen(steps); list != nil && len(trail) < len(steps) && !(named(list) && member(sn.node, "id") != nil) {
		if list.Kind == yaml.SequenceNode {
			out, _, err := s.copyList(steps, list)
			if err != nil {
				return nil, err
			}
			return out.add(steps, sn)
		}
	}
	if len(trail) < len(steps) || isVoid(end) {
		list, err := listOf(sn)
		if err != nil {
			return nil, err
		}
		return s.set(steps, list)
	}
	if end.Kind != yaml.SequenceNode {
		return nil, errors.New("it is not a list")
	}
	var pieces []piece
	var err error
	last := entries(end) - 1
	switch {
	case sn.node.Kind != yaml.ScalarNode && s.mayOpen(steps, trail, end):
		var list snippet
		if list, err = listOf(sn); err == nil {
			pieces, err = s.replace(trail, list)
		}
	case end.Style&yaml.FlowStyle != 0:
		pieces, err = s.insertFlow(end, last, sn.flow())
	default:
		pieces, err = s.insertBlock(end, last, sn.dashed(), under(trail))
	}
	want := graft(s.root, trail, func(n *yaml.Node) *yaml.Node { return with(n, last+1, 0, sn.node) })
	return s.finishIn(pieces, err, want, trail, end)
}

// addEach appends the items of a block list, one by one.
func (s *source) addEach(steps []string, sn snippet) (*source, error) {
	out := s
	for _, item := range sn.node.Content {
		text, err := sn.valueText(item)
		if err != nil {
			return nil, err
		}
		part, err := readSnippet(text)
		if err != nil {
			return nil, err
		}
		if out, err = out.add(steps, part); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// listOf is a list of one item: scalars in flow, maps under a dash.
func listOf(sn snippet) (snippet, error) {
	if sn.node.Kind == yaml.ScalarNode && !sn.isText() {
		return readSnippet("[" + sn.flow() + "]")
	}
	return readSnippet(sn.dashed())
}

func (s *source) remove(steps []string) (*source, error) {
	trail, end := follow(s.root, steps)
	if err := refuseAlias(trail, end, len(trail) < len(steps)); err != nil {
		return nil, err
	}
	if len(trail) < len(steps) {
		if s.seen(steps) == nil {
			return s, nil
		}
		if out, done, err := s.ownWhole(steps[:len(steps)-1]); err != nil {
			return nil, err
		} else if done {
			return out.remove(steps)
		}
		return nil, s.notHere(steps, "remove")
	}
	p := trail[len(trail)-1]
	outer := trail[:len(trail)-1]
	if entries(p.node) == 1 {
		return s.removeOnly(p, outer)
	}
	var pieces []piece
	var err error
	if p.node.Style&yaml.FlowStyle != 0 {
		pieces, err = s.removeFlow(p.node, p.at)
	} else {
		pieces, err = s.removeBlock(p.node, p.at)
	}
	want := graft(s.root, outer, func(n *yaml.Node) *yaml.Node { return with(n, p.at, 1) })
	if err == nil {
		if out, ok := s.proved(pieces, want); ok {
			return out, nil
		}
		// Empty lines that would fall to a `|+` text above go as well.
		for to := &pieces[len(pieces)-1].to; *to < len(s.src) && s.foldAt(*to); {
			*to = s.nextLine(*to)
		}
	}
	return s.finish(pieces, err, want, trail)
}

// removeOnly empties a collection by taking its last entry.
func (s *source) removeOnly(p spot, outer []spot) (*source, error) {
	if len(outer) == 0 {
		return nil, errors.New("it is all that the file holds")
	}
	text := "[]"
	if p.node.Kind == yaml.MappingNode {
		text = "{}"
	}
	sn, err := readSnippet(text)
	if err != nil {
		return nil, err
	}
	sn.node.Anchor = p.node.Anchor
	pieces, err := s.emptied(p, outer, sn)
	return s.finish(pieces, err, graft(s.root, outer, func(*yaml.Node) *yaml.Node { return sn.node }), outer)
}

// emptied leaves the comments of a block in place that aren't those of its last entry.
func (s *source) emptied(p spot, outer []spot, empty snippet) ([]piece, error) {
	if isBlockNode(p.node) {
		holder := outer[len(outer)-1]
		k, err := s.chunk(p.node, p.at)
		if err != nil || !k.own {
			return s.replace(outer, empty)
		}
		mark, err := s.afterMark(holder.node, holder.at)
		if err != nil {
			return nil, err
		}
		pieces, err := s.removeBlock(p.node, p.at)
		return append([]piece{{mark, mark, " " + empty.text}}, pieces...), err
	}
	if !s.isBare(p.node, outer) {
		return s.removeFlow(p.node, p.at)
	}
	return s.replace(outer, empty)
}

func (s *source) move(steps []string, to int) (*source, error) {
	trail, end := follow(s.root, steps)
	if err := refuseAlias(trail, end, len(trail) < len(steps)); err != nil {
		return nil, err
	}
	if len(trail) < len(steps) {
		if s.seen(steps) == nil {
			return nil, errors.New("there is nothing here to move")
		}
		if out, done, err := s.ownWhole(steps[:len(steps)-1]); err != nil {
			return nil, err
		} else if done {
			return out.move(steps, to)
		}
		return nil, s.notHere(steps, "move")
	}
	p := trail[len(trail)-1]
	if p.node.Kind != yaml.SequenceNode {
		return nil, errors.New("only the items of a list can be moved")
	}
	if to < 0 || to >= entries(p.node) {
		return nil, fmt.Errorf("place %d is outside the list; it has places 0 to %d", to, entries(p.node)-1)
	}
	if to == p.at {
		return s, nil
	}
	if list := s.seen(steps[:len(steps)-1]); list != nil && len(list.Content) != entries(p.node) {
		return nil, s.notHere(steps, "move")
	}
	order := make([]int, entries(p.node))
	for i := range order {
		order[i] = i
	}
	order = slices.Insert(slices.Delete(order, p.at, p.at+1), to, p.at)
	var pieces []piece
	var err error
	if p.node.Style&yaml.FlowStyle != 0 {
		pieces, err = s.moveFlow(p.node, order)
	} else {
		pieces, err = s.moveBlock(p.node, order)
	}
	want := graft(s.root, trail[:len(trail)-1], func(n *yaml.Node) *yaml.Node {
		out := *n
		out.Content = make([]*yaml.Node, len(order))
		for i, j := range order {
			out.Content[i] = n.Content[j]
		}
		return &out
	})
	return s.finishIn(pieces, err, want, trail[:len(trail)-1], p.node)
}
