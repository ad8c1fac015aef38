package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/creack/pty"
)

// A terminal that has plain letters only is written to in those; JSON, pipes and other terminals get every letter.
func TestPlainTerminalsGetPlainLetters(t *testing.T) {
	file := filepath.Join(t.TempDir(), "home.yaml")
	if err := os.WriteFile(file, []byte("roombrief: 1\nrooms: [{id: den, name: Größe, kind: study, brief: {said: [{words: nicht so grell}]}}]\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	screen, far, err := pty.Open()
	if err != nil {
		t.Skip("NOT CHECKED: no pseudo-terminal here: ", err)
	}
	defer screen.Close()
	defer far.Close()
	for _, c := range []struct {
		lang, json string
		to         *os.File
		want       string
	}{
		{"C", "", far, "\"nicht so grell\""}, {"C.UTF-8", "", far, "“nicht so grell”"}, {"C", "", nil, "“nicht so grell”"}, {"C", "--json", far, "“nicht so grell”"},
	} {
		var out, fault bytes.Buffer
		args := []string{"readback", file}
		if c.json != "" {
			args = append(args, c.json)
		}
		code := run(context.Background(), process{args: args, in: strings.NewReader(""), out: &out, err: &fault, outFile: c.to, env: func(name string) string {
			return map[string]string{"LANG": c.lang, "TERM": "xterm"}[name]
		}})
		if code != fine || !strings.Contains(out.String(), c.want) || strings.Contains(out.String(), "Größe") == (c.want[0] == '"') {
			t.Errorf("%s %s: status %d, %q, says %q", c.lang, c.json, code, out.String(), fault.String())
		}
	}
}
