package projectfile

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// snippet is a piece of YAML that an edit brings: its text starts at column 0 and ends lines with LF.
type snippet struct {
	text string
	node *yaml.Node
	src  *source
}

// readSnippet parses what an edit brings: one value, as a scalar, in flow or as a block.
func readSnippet(text string) (snippet, error) {
	text = dedent(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text))
	if text == "" {
		return snippet{}, errors.New("there is nothing to write; remove the key instead")
	}
	src, err := readSource([]byte(text + "\n"))
	if err != nil {
		return snippet{}, fmt.Errorf("%q is not YAML: %v", clip(text), err)
	}
	if src.root == nil {
		return snippet{}, fmt.Errorf("%q holds no value", clip(text))
	}
	if bare, _, err := src.span(src.root, -1); err == nil && src.root.Kind != yaml.MappingNode &&
		strings.HasPrefix(text[:bare], "---") {
		return snippet{}, fmt.Errorf("%q is a whole document, not a value", clip(text))
	}
	return snippet{text: text, node: src.root, src: src}, nil
}

func clip(text string) string {
	if r := []rune(text); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return text
}

// dedent drops empty lines around a text, trailing spaces, and the indent that all lines share.
func dedent(text string) string {
	lines := strings.Split(text, "\n")
	for len(lines) > 0 && strings.TrimSpace(lines[0]) == "" {
		lines = lines[1:]
	}
	for len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1]) == "" {
		lines = lines[:len(lines)-1]
	}
	shiftLeft(lines)
	if len(lines) > 0 {
		lines[len(lines)-1] = strings.TrimRight(lines[len(lines)-1], " \t")
	}
	return strings.Join(lines, "\n")
}

// shiftLeft takes away the indent that all lines share; empty lines don't count.
func shiftLeft(lines []string) {
	common := -1
	for _, l := range lines {
		if strings.TrimSpace(l) == "" {
			continue
		}
		if n := len(l) - len(strings.TrimLeft(l, " ")); common < 0 || n < common {
			common = n
		}
	}
	for i, l := range lines {
		lines[i] = l[min(max(common, 0), len(l)):]
	}
}

// indent puts spaces before every line of a text that isn't empty, the first one excepted on request.
func indent(text string, by int, first bool) string {
	pad := strings.Repeat(" ", by)
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if l != "" && (i > 0 || first) {
			lines[i] = pad + l
		}
	}
	return strings.Join(lines, "\n")
}

// isBlock reports a collection that is written over lines.
func (sn snippet) isBlock() bool {
	return sn.node.Kind != yaml.ScalarNode && sn.node.Kind != yaml.AliasNode && sn.node.Style&yaml.FlowStyle == 0
}

// isText reports a `|` or `>` text.
func (sn snippet) isText() bool {
	return sn.node.Kind == yaml.ScalarNode && sn.node.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0
}

// inline is the value alone, without comments around it. Only for what isn't a block.
func (sn snippet) inline() string {
	start, end, err := sn.src.span(sn.node, -1)
	if err != nil {
		return sn.text
	}
	text := sn.text[start:end]
	if head, body, ok := strings.Cut(text, "\n"); ok && sn.isText() && !strings.ContainsAny(head, "123456789") {
		lines := strings.Split(body, "\n")
		shiftLeft(lines)
		return head + "\n" + strings.Join(lines, "\n")
	}
	return text
}

// shape is how a file indents.
type shape struct{ inMap, inList int }

// keyed is the text of `key: value` in a block.
func (sn snippet) keyed(key string, sh shape) string {
	key = Quote(key)
	switch {
	case !sn.isBlock():
		return key + ": " + indent(sn.inline(), sh.inMap, false)
	case sn.node.Kind == yaml.SequenceNode:
		return key + ":\n" + indent(sn.text, sh.inList, true)
	}
	return key + ":\n" + indent(sn.text, sh.inMap, true)
}

// dashed is the text of `- value` in a block.
func (sn snippet) dashed() string {
	if !sn.isBlock() {
		return "- " + indent(sn.inline(), 2, false)
	}
	return "- " + indent(sn.text, 2, false)
}

// flow is the value on one line, fit for the inside of a flow collection.
func (sn snippet) flow() string {
	if sn.node.Kind == yaml.ScalarNode && !sn.isText() || sn.node.Style&yaml.FlowStyle != 0 {
		if in := sn.inline(); !strings.Contains(in, "\n") && fitsFlow(in, sn.node) {
			return in
		}
	}
	return flowText(sn.node)
}

// fitsFlow reports whether text reads as node inside a flow list.
func fitsFlow(text string, node *yaml.Node) bool {
	src, err := readSource([]byte("[" + text + "]"))
	return err == nil && src.root != nil && len(src.root.Content) == 1 && sameTree(src.root.Content[0], node)
}

// flowText writes a tree on one line.
func flowText(n *yaml.Node) string {
	switch n.Kind {
	case yaml.AliasNode:
		return "*" + n.Value
	case yaml.ScalarNode:
		return scalarText(n)
	}
	var parts []string
	for i := 0; i < len(n.Content); i++ {
		if n.Kind == yaml.MappingNode {
			parts = append(parts, flowText(n.Content[i])+": "+flowText(n.Content[i+1]))
			i++
			continue
		}
		parts = append(parts, flowText(n.Content[i]))
	}
	if n.Kind == yaml.MappingNode {
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

func scalarText(n *yaml.Node) string {
	const quoted = yaml.DoubleQuotedStyle | yaml.SingleQuotedStyle
	if n.Style&quoted == 0 && n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		if n.Value == "" {
			return "null"
		}
		if fitsFlow(n.Value, n) {
			return n.Value
		}
	}
	if n.ShortTag() != "!!str" {
		return n.ShortTag() + " " + strconv.Quote(n.Value)
	}
	return strconv.Quote(n.Value)
}

// Quote writes text as one YAML scalar on one line that reads back as exactly that text: plain where
// that can't be misread, in double quotes otherwise.
func Quote(text string) string {
	plain := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
	if text != "" && !strings.ContainsAny(text, "\n\r") && !isMarker(text) && fitsFlow(text, plain) && fitsBlock(text) {
		return text
	}
	return strconv.Quote(text)
}

// isMarker reports what would end a document at the start of a line.
func isMarker(text string) bool {
	return strings.HasPrefix(text, "---") || strings.HasPrefix(text, "...")
}

// fitsBlock guards against what is plain in flow but means something at the start of a line.
func fitsBlock(text string) bool {
	src, err := readSource([]byte(text + ": 1"))
	return err == nil && src.root != nil && src.root.Kind == yaml.MappingNode &&
		len(src.root.Content) == 2 && src.root.Content[0].Value == text && src.root.Content[0].ShortTag() == "!!str"
}
