package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// TestHelpExamples runs the examples of every command that need neither a screen nor an answer.
func TestHelpExamples(t *testing.T) {
	dir := t.TempDir()
	if err := copyHomes(dir); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	ran := 0
	var each func(c *cobra.Command)
	each = func(c *cobra.Command) {
		if c.Example == "" && c.Name() != "completion" && !(c.HasParent() && c.Parent().Name() == "completion") {
			t.Errorf("%s has no example", c.CommandPath())
		}
		for _, l := range strings.Split(c.Example, "\n") {
			l, _, _ = strings.Cut(strings.TrimSpace(l), "   ")
			words := shellWords(l)
			if len(words) < 3 || words[0] != "roombrief" || words[1] == "interview" || strings.ContainsAny(l, "<>") || c.Name() == "completion" {
				continue
			}
			var out, fault bytes.Buffer
			code := run(context.Background(), process{args: words[1:], in: strings.NewReader(""), out: &out, err: &fault, env: func(string) string { return "" }})
			if code == badCall || out.Len() == 0 {
				t.Errorf("%s: status %d, says %q", l, code, fault.String())
			}
			ran++
		}
		for _, x := range c.Commands() {
			if x.IsAvailableCommand() && x.Name() != "help" {
				each(x)
			}
		}
	}
	each(rootCommand(process{out: &bytes.Buffer{}, err: &bytes.Buffer{}, env: func(string) string { return "" }}))
	if ran < 10 {
		t.Errorf("only %d examples were tried", ran)
	}
}

// shellWords splits a line as a shell does, for single quotes.
func shellWords(l string) []string {
	var out []string
	quoted, open := false, false
	var w strings.Builder
	for _, r := range l + " " {
		switch {
		case r == '\'':
			quoted, open = !quoted, true
		case r == ' ' && !quoted:
			if open {
				out = append(out, w.String())
			}
			open = false
			w.Reset()
		default:
			w.WriteRune(r)
			open = true
		}
	}
	return out
}
