package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
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
	for name, list := range map[string]string{ // that the examples import
		"huber.csv":      "article;name;price GBP\n4711-01;Motion sensor for the ceiling, battery, Zigbee;15,60\n4711-02;Contact;8,30\n",
		"list.csv":       "1,Door contact battery,x,9.10\n",
		"suisse.csv":     "article;name;prix CHF\nL1;Leak probe, one point, battery, Zigbee;24.50\n",
		"own-prices.csv": "part,supplier,price,currency,dated\ndoor-thread,Ash,9.00,GBP,2026-11-01\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(list), 0o600); err != nil {
			t.Fatal(err)
		}
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
